"""Choices between two coupons shown side by side, and their counts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]


class Pair(NamedTuple):
    """Two coupons to be shown."""

    left: int
    right: int


class Choice(NamedTuple):
    """What somebody said of two coupons shown side by side.

    Attributes:
        left, right: keys of the coupons.
        rustier: key of the more rusted one; None = cannot tell.
    """

    left: int
    right: int
    rustier: int | None


def unordered(a: int, b: int) -> tuple[int, int]:
    """Return the same for a pair whichever side each was on."""
    return (a, b) if a < b else (b, a)


def among(items: Iterable[int], choices: Iterable[Choice]) -> list[Choice]:
    """Return the choices whose coupons are both among ``items``.

    Raises:
        ValueError: a coupon is set against itself, or ``rustier`` is neither of the two.
    """
    wanted, found = set(items), []
    for choice in choices:
        if choice.left == choice.right or choice.rustier not in (choice.left, choice.right, None):
            raise ValueError(f"not a choice between two coupons: {choice}")
        if choice.left in wanted and choice.right in wanted:
            found.append(choice)
    return found


def times_asked(choices: Iterable[Choice]) -> Mapping[tuple[int, int], int]:
    """Return how often each pair was asked, whichever sides."""
    found: dict[tuple[int, int], int] = {}
    for choice in choices:
        pair = unordered(choice.left, choice.right)
        found[pair] = found.get(pair, 0) + 1
    return found


def preferences(items: Sequence[int], choices: Iterable[Choice]) -> Numbers:
    """Return how often each item was called the less rusted, shape (items, items): of the row against the column.

    “Cannot tell” counts half to each of the two. Choices of other coupons do not count.
    """
    place = {item: number for number, item in enumerate(items)}
    counts = np.zeros((len(items), len(items)))
    for choice in among(items, choices):
        left, right = place[choice.left], place[choice.right]
        to_left = 0.5 if choice.rustier is None else float(choice.rustier == choice.right)
        counts[left, right] += to_left
        counts[right, left] += 1 - to_left
    return counts
