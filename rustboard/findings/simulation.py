"""Simulates every comparison of a board; comparisons alike in design are simulated once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping, Sequence
from math import log
from typing import Final, NamedTuple

import numpy as np

from rustboard.board.comparisons import Comparison
from rustboard.findings.critical import Together
from rustboard.findings.design_model import Design, Numbers, even_design
from rustboard.findings.power import (
    MOST_COUPONS_EACH,
    PowerTest,
    Progress,
    coupons_needed,
    detectable_difference,
)
from rustboard.findings.proof_table import Simulated
from rustboard.findings.units import Cell, HungBoard, HungUnit, hanging_units

_MOST_UNITS: Final = 3_000
_LEAST_SD: Final = 0.05


class Side(NamedTuple):
    """The cells of both groups at one level of the other factor, with how many units of each."""

    a: Mapping[Cell, int]
    b: Mapping[Cell, int]


def simulate(
    board: HungBoard,
    comparisons: Sequence[Comparison],
    worthwhile: float,
    sd: float,
    progress: Progress | None = None,
    *,
    asked: int | None = None,
) -> list[Simulated]:
    """Return what simulation finds for each comparison.

    Args:
        board: the coupons.
        comparisons: of the question; 5 in 100 is the chance of a false difference among all.
        worthwhile: difference in grades that matters to the user.
        sd: standard deviation between units treated alike.
        progress: told how far the work is; may end it by raising.
        asked: how many comparisons the question has, when not all are given here; 5 in 100 is for them all.
    """
    more = 0 if asked is None else asked - len(comparisons)
    return _Simulation(board, comparisons, max(sd, _LEAST_SD), worthwhile, progress, more).all()


class _Simulation:
    """The work, with what is worked out once for several comparisons."""

    def __init__(
        self,
        board: HungBoard,
        comparisons: Sequence[Comparison],
        sd: float,
        worthwhile: float,
        progress: Progress | None,
        more: int,
    ) -> None:
        self._more = more
        self._sd, self._worthwhile, self._progress = sd, worthwhile, progress
        units = hanging_units(board)
        self._design = Design(tuple(each.cell for each in units), tuple(each.block for each in units))
        self._rows = len({each.block for each in units}) if board.rows_are_blocks else None
        self._sides = [sides_of(each, units) for each in comparisons]
        self._weights = [self._design.weights(contrast(sides)) for sides in self._sides]
        self._shifts = [_shift(each, units) for each in comparisons]
        self._even: dict[int, tuple[Design, list[Numbers | None], float]] = {}
        self._together: Together | None = None
        self._done, self._total = 0, 1
        self._most = max(2, min(MOST_COUPONS_EACH, _MOST_UNITS // max(len(self._design.cell_names), 1)))

    def all(self) -> list[Simulated]:
        """Return what was found for each comparison."""
        here = [self._kind_here(number) for number in range(len(self._sides))]
        even = [_kind_of(sides) for sides in self._sides]
        self._total = len(set(here)) + len(set(even))
        detectable: dict[Hashable, tuple[float | None, str]] = {}
        needed: dict[Hashable, int | None] = {}
        critical = self._critical_here()
        for number, kind in enumerate(here):
            if kind not in detectable:
                detectable[kind] = self._detectable(number, critical)
                self._done += 1
        for number, kind in enumerate(even):
            if kind not in needed:
                needed[kind] = self._needed(number)
                self._done += 1
        self._pause()
        return [
            Simulated(detectable[one][0], needed[other], self._most, detectable[one][1])
            for one, other in zip(here, even, strict=True)
        ]

    def _pause(self) -> None:
        if self._progress is not None:
            self._progress.step(self._done, self._total)

    # ---- the board as it is

    def _kind_here(self, number: int) -> Hashable:
        """Return what comparisons have in common whose power differs by next to nothing."""
        weights = self._weights[number]
        if weights is None:
            return None
        variance = float(weights @ weights)
        # To 1 % of the variance, which is half a percent of the difference.
        return (
            round(100 * log(variance)),
            int((self._shifts[number] > 0).sum()),
            int((self._shifts[number] < 0).sum()),
        )

    def _critical_here(self) -> float | None:
        known = [each for each in self._weights if each is not None]
        if not known or self._design.degrees_of_freedom < 1:
            return None
        # Those the board cannot estimate count as well: they are part of what was asked.
        missing = len(self._weights) - len(known)
        return Together(np.array(known), more=missing + self._more).critical_t(self._design.degrees_of_freedom)

    def _detectable(self, number: int, critical: float | None) -> tuple[float | None, str]:
        weights = self._weights[number]
        if weights is None:
            return None, "rows"
        if critical is None:
            return None, "replicates"
        test = PowerTest(self._design, weights, self._shifts[number], critical)
        return detectable_difference(test, self._sd, pause=self._pause), ""

    # ---- as many coupons of every treatment

    def _needed(self, number: int) -> int | None:
        def test_of(each: int) -> PowerTest | None:
            design, weights, critical = self._even_of(each)
            mine = weights[number]
            if mine is None or design.degrees_of_freedom < 1:
                return None
            return PowerTest(design, mine, _shift_of_cells(self._sides[number], design), critical)

        return coupons_needed(test_of, self._worthwhile, self._sd, most=self._most, pause=self._pause)

    def _even_of(self, each: int) -> tuple[Design, list[Numbers | None], float]:
        if each not in self._even:
            self._pause()
            design = even_design(self._design.cell_names, each, self._rows)
            weights = [design.weights(contrast(_evened(sides))) for sides in self._sides]
            if self._together is None:
                # Every row has as many of one cell as of another, so that more units change no correlation.
                known = np.array([found for found in weights if found is not None])
                self._together = Together(known, more=self._more)
            critical = self._together.critical_t(max(design.degrees_of_freedom, 1))
            self._even[each] = design, weights, critical
        return self._even[each]


def contrast(sides: Iterable[Side]) -> dict[Hashable, float]:
    """Return the weight of each cell in the difference between two groups.

    Within a level a unit counts as much as another. Levels count by ``n_a n_b / (n_a + n_b)``, the more the better
    they show the difference.
    """
    levels = [(side, side.a, side.b, sum(side.a.values()), sum(side.b.values())) for side in sides]
    total = sum(of_a * of_b / (of_a + of_b) for _, _, _, of_a, of_b in levels)
    found: dict[Hashable, float] = {}
    for _, cells_a, cells_b, of_a, of_b in levels:
        share = of_a * of_b / (of_a + of_b) / total
        for cells, size, sign in ((cells_a, of_a, 1), (cells_b, of_b, -1)):
            for cell, number in cells.items():
                found[cell] = found.get(cell, 0.0) + sign * share * number / size
    return found


def sides_of(comparison: Comparison, units: Sequence[HungUnit]) -> list[Side]:
    """Return the cells of both groups of a comparison, level by level."""
    return [
        Side(
            Counter(each.cell for each in units if not each.coupons.isdisjoint(level.a)),
            Counter(each.cell for each in units if not each.coupons.isdisjoint(level.b)),
        )
        for level in comparison.levels
    ]


def _evened(sides: Iterable[Side]) -> list[Side]:
    return [Side(dict.fromkeys(side.a, 1), dict.fromkeys(side.b, 1)) for side in sides]


def _kind_of(sides: Iterable[Side]) -> Hashable:
    return tuple(sorted((len(side.a), len(side.b)) for side in sides))


def _shift(comparison: Comparison, units: Sequence[HungUnit]) -> Numbers:
    return np.array(
        [
            0.5 * (not each.coupons.isdisjoint(comparison.coupons_a))
            - 0.5 * (not each.coupons.isdisjoint(comparison.coupons_b))
            for each in units
        ]
    )


def _shift_of_cells(sides: Sequence[Side], design: Design) -> Numbers:
    in_a = {cell for side in sides for cell in side.a}
    in_b = {cell for side in sides for cell in side.b}
    return np.array([0.5 * (cell in in_a) - 0.5 * (cell in in_b) for cell in design.cells])
