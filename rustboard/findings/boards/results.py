"""What several boards say together."""

from __future__ import annotations

from dataclasses import dataclass

from rustboard.findings.sentence import Sentence


@dataclass(frozen=True, slots=True)
class BoardEffect:
    """One comparison on one board.

    Attributes:
        board: name.
        units_a, units_b: coupons (or columns) on each side.
        difference, low, high: with its 95 % interval on this board alone; None where one coupon each has no spread.
        standard_error: None where there is none.
        weight: share in the pooled difference, 0 to 1.
    """

    board: str
    units_a: int
    units_b: int
    difference: float
    low: float | None
    high: float | None
    standard_error: float | None
    weight: float


@dataclass(frozen=True, slots=True)
class PooledComparison:
    """One comparison over several boards.

    Attributes:
        name_a, name_b: what is compared. effects: board by board.
        difference, low, high: pooled, with 95 % interval that allows for boards differing; None where too little is
            known.
        tau: standard deviation of the true differences between boards. q, q_p: Cochran's test that they are all one.
        i_squared: share of the scatter that is more than luck, 0 to 1.
        p_exact, p_exact_smallest, sampled: exact test with boards as blocks. p_exact_family: Holm's step-down over
            all pooled comparisons.
    """

    name_a: str
    name_b: str
    effects: tuple[BoardEffect, ...]
    difference: float | None
    low: float | None
    high: float | None
    tau: float | None
    q: float | None
    q_p: float | None
    i_squared: float | None
    p_exact: float | None
    p_exact_smallest: float | None
    sampled: int = 0
    p_exact_family: float | None = None


@dataclass(frozen=True, slots=True)
class BoardsFindings:
    """Several boards together.

    Attributes:
        boards: names, in the order given.
        pooled: comparisons that at least two boards can make.
        verdict, cautions: in sentences.
    """

    boards: tuple[str, ...]
    pooled: tuple[PooledComparison, ...]
    verdict: tuple[Sentence, ...]
    cautions: tuple[Sentence, ...]
