// What the linter looks for in static/ and in the tests of it: faults and leftovers. Looks are the formatter's.
import js from "@eslint/js";
import globals from "globals";

const RULES = {
  "array-callback-return": "error",
  "consistent-return": "error",
  "default-case-last": "error",
  "dot-notation": "error",
  eqeqeq: "error",
  "no-constructor-return": "error",
  "no-duplicate-imports": "error",
  "no-else-return": "error",
  "no-extend-native": "error",
  "no-implied-eval": "error",
  "no-lonely-if": "error",
  "no-promise-executor-return": "error",
  "no-self-compare": "error",
  "no-sequences": "error",
  "no-shadow": "error",
  "no-template-curly-in-string": "error",
  "no-throw-literal": "error",
  "no-unneeded-ternary": "error",
  "no-unreachable-loop": "error",
  "no-unused-expressions": "error",
  // A leading underscore: taken apart to be left out.
  "no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_" }],
  "no-use-before-define": ["error", { functions: false, variables: false }],
  "no-useless-computed-key": "error",
  "no-useless-rename": "error",
  "no-useless-return": "error",
  "no-var": "error",
  "object-shorthand": "error",
  "prefer-const": "error",
  "prefer-object-has-own": "error",
  "prefer-rest-params": "error",
  "prefer-spread": "error",
  yoda: "error",
};

export default [
  { linterOptions: { reportUnusedDisableDirectives: "error" } },
  js.configs.recommended,
  { rules: RULES },
  { files: ["static/**"], languageOptions: { ecmaVersion: 2023, globals: globals.browser } },
  // Tests run in Node, and some of them lend it a page.
  {
    files: ["tests/static/**"],
    languageOptions: { ecmaVersion: 2023, globals: { ...globals.node, ...globals.browser } },
  },
];
