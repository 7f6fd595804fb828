"""What a board can prove, as values: a row for each comparison, and what is to be said about the whole layout."""

from __future__ import annotations

from dataclasses import dataclass

from rustboard.board.comparisons import Comparison
from rustboard.board.layout import Method
from rustboard.findings.sentence import Sentence
from rustboard.findings.spread import Spread


@dataclass(frozen=True, slots=True)
class LayoutState:
    """How a layout stands.

    Attributes:
        method: of the layout. drawn: whether its lots were drawn.
        moved: coupons that hang elsewhere than the lots put them.
        without_lot: coupons that were added or given another treatment since.
        drips: coupons that drip on one of another treatment.
        by_column: whether whole columns were drawn.
        without_treatment: test coupons that nothing was done to.
        grid_changed: whether the lots were drawn for another number of rows or columns.
        beside_board: coupons that hang nowhere.
    """

    method: Method
    drawn: bool
    moved: int
    without_lot: int
    drips: int
    by_column: bool
    without_treatment: int
    grid_changed: bool = False
    beside_board: int = 0


@dataclass(frozen=True, slots=True)
class Simulated:
    """What simulation found for one comparison.

    Attributes:
        detectable: smallest difference in grades found 8 times in 10; None = not even the whole scale, or no test.
        needed: units of every treatment that find the worthwhile difference 8 times in 10; None = more than ``most``.
        most: how far was looked.
        no_test: why there is no test: ``replicates``: nothing on the board says how much luck there is. ``rows``: the
            groups share no row. Else empty.
    """

    detectable: float | None
    needed: int | None
    most: int
    no_test: str = ""


@dataclass(frozen=True, slots=True)
class Proof:
    """What one comparison can prove.

    Attributes:
        comparison: the groups.
        units_a, units_b: what their test rests on: coupons, or columns.
        by_column: whether these are columns.
        within_rows: whether the lots kept to rows.
        arrangements: in how many ways the lots could have fallen. smallest_p: of an exact test.
        simulated: what simulation found, or None while it has not been done.
        sentences: all of it in words.
    """

    comparison: Comparison
    units_a: int
    units_b: int
    by_column: bool
    within_rows: bool
    arrangements: int
    smallest_p: float
    simulated: Simulated | None
    sentences: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class ProofTable:
    """What a board can prove.

    Attributes:
        proofs: in the order of the comparisons.
        cautions: about the whole layout.
        spread: that the simulation leans on.
        worthwhile: difference in grades that matters to the user.
        asked: how many comparisons the question has; those not worked out count in what luck may do.
    """

    proofs: tuple[Proof, ...]
    cautions: tuple[Sentence, ...]
    spread: Spread
    worthwhile: float
    asked: int
