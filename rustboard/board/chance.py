"""Lots from a seed, the same on every platform and under every version of Python.

Of Python's generators only `random.Random.random` is promised to keep its sequence for a seed; shuffling and choosing
may change between versions. So they are done here, from that sequence alone.
"""

from __future__ import annotations

import random
from collections.abc import Iterable
from typing import TypeVar

T = TypeVar("T")


class Chance:
    """A row of lots that a seed fixes."""

    def __init__(self, seed: int) -> None:
        """Start the row of lots of a seed."""
        self._next = random.Random(seed).random

    def share(self) -> float:
        """Return a number from 0 up to, not including, 1."""
        return self._next()

    def below(self, count: int) -> int:
        """Return a number from 0 up to, not including, ``count``; each is as likely (to 1 in 10 to the 13th)."""
        return int(self._next() * count)

    def shuffled(self, things: Iterable[T]) -> list[T]:
        """Return the things in an order of which each is as likely."""
        order = list(things)
        for last in range(len(order) - 1, 0, -1):
            other = self.below(last + 1)
            order[last], order[other] = order[other], order[last]
        return order
