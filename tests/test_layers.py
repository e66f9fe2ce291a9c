"""The layers hold: each folder of `app/` imports only from those before it (DEVELOPERS.md, "Layers")."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
APP = ROOT / "app"
ORDER = ["words", "figure", "reasoning", "construction", "practice", "lessons", "classroom", "store", "sheets", "web"]
# The core is pure: it knows no clock, network, files or chance of its own.
CORE = ["figure", "reasoning", "construction", "practice", "classroom"]
IMPURE = {
    "time",
    "datetime",
    "socket",
    "urllib",
    "http",
    "requests",
    "sqlite3",
    "subprocess",
    "threading",
    "os",
    "pathlib",
    "secrets",
    "asyncio",
    "tempfile",
    "shutil",
    "io",
}
# A generator made from a seed is allowed; the module's own hidden generator is not (checked below).
PYTHON = sorted(APP.rglob("*.py"))


def imported(path: Path) -> Iterator[tuple[str, list[str]]]:
    """(module, names taken from it) for every import of the file, anywhere in it."""
    package = path.relative_to(ROOT).with_suffix("").parts
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((alias.name, []) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                parent = package[: len(package) - node.level + (path.name == "__init__.py" and 0)]
                base = ".".join([*parent, base]).rstrip(".")
            yield base, [alias.name for alias in node.names]


def imports(path: Path) -> list[str]:
    """Every module that the file imports, anywhere in it, as dotted names."""
    return [one for base, names in imported(path) for one in (base, *(f"{base}.{name}" for name in names))]


def dotted(path: Path) -> str:
    """A module's own name."""
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


def circle(of: dict[str, set[str]]) -> list[str]:
    """Modules each of which imports the one after it, the first also last; none where there is no such circle."""
    try:
        TopologicalSorter(of).prepare()
    except CycleError as found:
        return list(reversed(found.args[1]))
    return []


def test_a_circle_is_found() -> None:
    assert circle({"a": {"b"}, "b": {"c"}, "c": set()}) == []
    assert circle({"a": {"b"}, "b": {"c"}, "c": {"b"}}) in (["b", "c", "b"], ["c", "b", "c"])


def test_imports_run_in_no_circle() -> None:
    """Wherever they stand: in a function, or for the types alone, an import says that one module needs the other."""
    modules = {dotted(path) for path in PYTHON}
    of: dict[str, set[str]] = {}
    for path in PYTHON:
        needed: set[str] = set()
        for base, names in imported(path):
            # `from app.web import desk` needs the desk, whose package only holds it.
            parts = {f"{base}.{name}" for name in names} & modules
            needed |= parts
            if len(parts) < len(names) or not names:
                needed.add(base)
        of[dotted(path)] = needed & modules - {dotted(path)}
    assert circle(of) == []


def hidden(text: str) -> Iterator[tuple[int, str]]:
    """(line, what) of each import inside a function with no measured reason: "Measured: …" in a comment over it, or over
    those imports that stand right above it.
    """
    lines = text.splitlines()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            for one in ast.walk(node):
                if isinstance(one, ast.Import | ast.ImportFrom):
                    above = one.lineno - 2
                    while re.match(r"\s*(from|import)\b", lines[above]):
                        above -= 1
                    said = ""
                    while lines[above].lstrip().startswith("#"):
                        said, above = lines[above] + said, above - 1
                    if not re.search(r"Measured: .*\d+ ms", said):
                        yield one.lineno, ast.unparse(one)


def test_a_hidden_import_is_found() -> None:
    bare = "def f():\n    import sympy\n"
    assert list(hidden(bare)) == [(2, "import sympy")]
    assert list(hidden(bare.replace("    import", "    # because\n    import"))) == [(3, "import sympy")]
    assert list(hidden(bare.replace("    import", "    # Measured: 254 ms.\n    import mpmath\n    import"))) == []


@pytest.mark.parametrize("path", PYTHON, ids=lambda p: str(p.relative_to(APP)))
def test_an_import_inside_a_function_has_a_measured_reason(path: Path) -> None:
    assert list(hidden(path.read_text(encoding="utf-8"))) == []


def layer(path: Path) -> str | None:
    parts = path.relative_to(APP).parts
    return parts[0] if len(parts) > 1 else None


@pytest.mark.parametrize("path", PYTHON, ids=lambda p: str(p.relative_to(APP)))
def test_imports_point_upwards(path: Path) -> None:
    mine = layer(path)
    if mine is None or mine not in ORDER:
        assert mine is None, f"app/{mine} is not one of the layers"
        return
    for name in imports(path):
        parts = name.split(".")
        if parts[0] == "app" and len(parts) > 1 and parts[1] in ORDER:
            assert ORDER.index(parts[1]) <= ORDER.index(mine), f"{mine} must not import {name}"
        if parts[0] in {"flask", "werkzeug", "jinja2", "flask_compress"}:
            assert mine == "web", f"{mine} must not know {parts[0]}"
        if parts[0] in {"sqlalchemy", "alembic", "sqlite3", "psycopg"}:
            assert mine == "store", f"{mine} must not know SQL"


@pytest.mark.parametrize("path", [p for p in PYTHON if layer(p) in CORE], ids=lambda p: str(p.relative_to(APP)))
def test_core_is_pure(path: Path) -> None:
    roots = {name.split(".")[0] for name in imports(path)}

    assert not roots & IMPURE
    text = path.read_text(encoding="utf-8")
    assert not re.search(r"\brandom\.(random|randint|choice|shuffle|seed|sample|uniform)\(", text)
    assert not re.search(r"\bopen\(", text)


@pytest.mark.parametrize("path", PYTHON, ids=lambda p: str(p.relative_to(APP)))
def test_nothing_evaluates_text(path: Path) -> None:
    """V-15, T-04: no eval, exec, pickle, nor the parsers of a computer algebra system."""
    banned = {"eval", "exec", "compile", "sympify", "parse_expr", "S", "loads_pickle"}
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
            where = f"{path.name}:{node.lineno}"
            if name == "compile" and isinstance(node.func, ast.Attribute):
                continue  # re.compile
            assert name not in banned, where
    assert not {"pickle", "marshal", "yaml", "sympy.parsing"} & set(imports(path))


def test_scripts_write_text_not_markup() -> None:
    """V-14: textContent only."""
    for path in sorted((ROOT / "static").rglob("*.js")):
        text = path.read_text(encoding="utf-8")
        for word in ("innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "eval(", "new Function"):
            assert word not in text, f"{path.relative_to(ROOT)} uses {word}"


def test_templates_hold_no_inline_code() -> None:
    """V-06: a strict content policy needs no inline style, script or handler."""
    for path in sorted((ROOT / "templates").rglob("*.html")):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"\sstyle=", text), path
        assert not re.search(r"\son[a-z]+=", text), path
        assert not re.search(r"<style\b", text) or "sheets" in path.parts, path
        for script in re.findall(r"<script\b[^>]*>", text):
            assert "src=" in script or 'type="application/json"' in script, (path, script)


def test_judging_needs_no_compiled_model() -> None:
    """The core goes where pydantic doesn't (DEVELOPERS.md, "Layers"): only packs and bodies are read with it, and a
    process that has loaded every judge, every family and the whole core hasn't loaded it.
    """
    names = [dotted(path) for path in PYTHON if layer(path) in {*CORE, "words"}] + ["app.lessons.tasks"]
    told = "import sys, importlib; [importlib.import_module(n) for n in sys.argv[1:]]; print(*sorted(sys.modules))"
    loaded = subprocess.run(
        [sys.executable, "-c", told, *names], capture_output=True, text=True, check=True, cwd=ROOT
    ).stdout.split()

    assert "app.classroom.kinds.prove" in loaded
    assert not {"pydantic", "pydantic_core", "sqlalchemy", "flask"} & set(loaded)
    for path in PYTHON:
        if layer(path) in {*CORE, "words"} or path.name == "tasks.py":
            assert not any(name.split(".")[0] == "pydantic" for name in imports(path)), path
