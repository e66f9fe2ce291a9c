"""The core by its addresses: `app.figure.api`, `app.reasoning.api` and so on, whoever asks and in whichever process."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib import import_module

from app.web.errors import Refused


@cache
def core(layer: str, name: str) -> Callable[..., object]:
    """A function of the core by its address, imported when first asked for."""
    try:
        found: Callable[..., object] = getattr(import_module(f"app.{layer}.api"), name)
    except (ModuleNotFoundError, AttributeError):
        raise Refused(404, "web.status_404") from None
    return found
