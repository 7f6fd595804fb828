"""Which treatments nobody can beat: none protects as well or better for as little or less."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

_DIGITS: Final = 9
"""Means that differ beyond this digit differ by rounding alone."""


class Offer(NamedTuple):
    """What a treatment takes, in money or minutes, and what it gives.

    Attributes:
        price: None where it is not known; then nothing is beaten by it, nor is it on the frontier.
        protection: higher is better.
    """

    price: float | None
    protection: float


def on_frontier(offers: Sequence[Offer]) -> list[bool]:
    """Return for each offer whether no other gives as much for less, or more for as little.

    Two that take and give the same are both on the frontier, or neither is.
    """
    return [each.price is not None and not any(beats(other, each) for other in offers) for each in offers]


def beats(one: Offer, other: Offer) -> bool:
    """Return whether one offer gives as much as the other for less, or more for as little."""
    if one.price is None or other.price is None:
        return False
    cheaper, dearer = _order(one.price, other.price)
    worse, better = _order(one.protection, other.protection)
    return not dearer and not worse and (cheaper or better)


def _order(one: float, other: float) -> tuple[bool, bool]:
    """Return whether one is clearly less than the other, and whether it is clearly more."""
    near = 10**-_DIGITS * max(1.0, abs(one), abs(other))
    return one < other - near, one > other + near
