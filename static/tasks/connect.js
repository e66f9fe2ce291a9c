// Connect: a conditional and its relatives. The page is that of an exercise.

export { mount } from "./solve.js";
