"""The layers hold: each folder of `app/` imports only from those before it (DEVELOPERS.md, "Layers")."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
APP = ROOT / "app"
ORDER = ["words", "figure", "reasoning", "construction", "practice", "lessons", "classroom", "store", "sheets", "web"]
# The core is pure: it knows no clock, network, files or chance of its own.
CORE = ["figure", "reasoning", "construction", "practice", "classroom"]
IMPURE = {"time", "datetime", "socket", "urllib", "http", "requests", "sqlite3", "subprocess", "threading", "os",
          "pathlib", "secrets", "asyncio", "tempfile", "shutil", "io"}
# A generator made from a seed is allowed; the module's own hidden generator is not (checked below).
PYTHON = sorted(APP.rglob("*.py"))


def imports(path: Path) -> list[str]:
    """Every module that the file imports, anywhere in it, as dotted names."""
    package = path.relative_to(ROOT).with_suffix("").parts
    found: list[str] = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                parent = package[: len(package) - node.level + (path.name == "__init__.py" and 0)]
                base = ".".join([*parent, base]).rstrip(".")
            found.append(base)
            found += [f"{base}.{alias.name}" for alias in node.names]
    return found


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
