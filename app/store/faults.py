"""What can be the matter with the place where things are kept. No library is needed to name it."""

from __future__ import annotations


class StoreFull(RuntimeError):
    """The disk is full: nothing was kept."""
