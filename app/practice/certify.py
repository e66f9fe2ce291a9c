"""The reasoner's word on an item: its answer follows from its givens, and nothing else does.

An item is made, then certified; one that fails is a mistake of ours, never shown (NotCertified).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from app.figure.model import Figure
from app.reasoning.follows import follows

__all__ = ["NotCertified", "conflicting", "forced", "free", "verdict"]


class NotCertified(Exception):
    """The reasoner does not agree with the stated answer."""


def verdict(fig: Figure, given: Sequence[str], claim: str) -> str:
    return str(follows(fig, list(given), claim).verdict)


def forced(fig: Figure, given: Sequence[str], claims: Iterable[str]) -> None:
    """Raise NotCertified unless every claim follows from the givens."""
    for claim in claims:
        found = verdict(fig, given, claim)
        if found != "follows":
            raise NotCertified(f"{list(given)} ⊢ {claim}: {found}")


def free(fig: Figure, given: Sequence[str], claim: str) -> None:
    """Raise NotCertified unless the claim is open: true in one figure with the givens, false in another."""
    found = verdict(fig, given, claim)
    if found != "not forced":
        raise NotCertified(f"{list(given)} ⊬ {claim}: {found}")


def conflicting(fig: Figure, given: Sequence[str]) -> bool:
    """Whether no figure with this drawn order has all the givens."""
    return verdict(fig, given, given[0]) == "givens conflict"
