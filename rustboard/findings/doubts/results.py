"""Doubts: what speaks against the findings, each with the figure it rests on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rustboard.board.position import Position
from rustboard.findings.sentence import Sentence

DoubtKind = Literal[
    "position", "odd coupon", "left out", "disturbance", "controls", "layout", "not blind", "gaps", "question",
    "ceiling", "spread", "recovered", "followed", "photo", "weather",
]  # fmt: skip
Weight = Literal["serious", "caution", "note"]
"""How much a doubt weighs: it may turn the result round; it weakens it; good to know."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """One doubt.

    Attributes:
        sentence: what is the matter, with its figure. why: what that means for the result.
        coupons: keys of those concerned; empty = the board as a whole.
    """

    kind: DoubtKind
    weight: Weight
    sentence: Sentence
    why: Sentence | None = None
    coupons: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Residual:
    """How far one coupon is from the mean of its replicates (and of its row, where rows are blocks).

    Attributes:
        coupon: key. position: where it hangs.
        value, expected: what it came to, and the model's expectation. residual: the difference.
        scaled: residual in standard deviations, None where none are known.
    """

    coupon: int
    position: Position
    value: float
    expected: float
    residual: float
    scaled: float | None


@dataclass(frozen=True, slots=True)
class OddCoupon:
    """A coupon that does not behave like its replicates.

    Attributes:
        coupon: key. group: id.
        statistic: of the test named by ``test``. p: for all coupons of the board together.
    """

    coupon: int
    group: str
    test: str
    statistic: float
    p: float


@dataclass(frozen=True, slots=True)
class PositionEffect:
    """Whether place on the board mattered beside treatment.

    Attributes:
        kind: ``rows``, ``columns``, ``edge`` or ``downstream`` (of an oily or waxy neighbour above).
        difference: mean residual of the one less the other, for ``edge`` and ``downstream``; else the range of means.
        p: of the test by ``test``. coupons: keys of those at the edge or downstream.
    """

    kind: Literal["rows", "columns", "edge", "downstream"]
    difference: float
    p: float
    test: str
    coupons: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Doubts:
    """All doubts of a board.

    Attributes:
        doubts: the weightiest first.
        residuals: of the coupons that count, in reading order. odd: coupons unlike their replicates.
        positions: effects of place, those that could be tested.
    """

    doubts: tuple[Doubt, ...]
    residuals: tuple[Residual, ...]
    odd: tuple[OddCoupon, ...]
    positions: tuple[PositionEffect, ...]
