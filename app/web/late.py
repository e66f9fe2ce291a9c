"""Pages whose module is loaded when the first of them is asked for, and not at the start.

Printing leans on most of the program; the first page of a lesson shouldn't wait for it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module

from flask import Blueprint, Response

from app.figure.faults import Fault

# endpoint → rule, for each module; a test compares them with the module's own
SHEETS = {
    "form": "/",
    "form_of_pack": "/<pack>",
    "page": "/page",
    "strip": "/strip/<pack>/<task>",
    "ready_set": "/set/<misconception>",
}


def late(name: str, prefix: str, module: str, rules: Mapping[str, str]) -> Blueprint:
    """A blueprint with the module's pages under their own addresses and names."""

    def of(endpoint: str) -> Callable[..., str | Response]:
        def view(**args: str) -> str | Response:
            made: str | Response = getattr(import_module(module), endpoint)(**args)
            return made

        return view

    pages = Blueprint(name, module, url_prefix=prefix)
    for endpoint, rule in rules.items():
        pages.add_url_rule(rule, endpoint, of(endpoint), methods=["GET"])

    @pages.errorhandler(Fault)
    def _fault(fault: Fault) -> str | Response:
        made: str | Response = import_module(module)._fault(fault)
        return made

    return pages


def sheets() -> Blueprint:
    return late("sheets", "/desk/sheets", "app.web.sheets", SHEETS)
