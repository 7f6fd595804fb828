"""One comparison on one board: its coupons, the difference, and the spread of that board."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable
from dataclasses import dataclass
from math import sqrt
from statistics import fmean

import numpy as np

from rustboard.board.comparisons import Comparison, Kind, Level
from rustboard.findings.boards.matching import Common
from rustboard.findings.boards.random_effects import OneEffect
from rustboard.findings.compare.model import BoardModel as ComparedModel
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.design_model import Design
from rustboard.findings.units import Cell, HungUnit


@dataclass(frozen=True, slots=True)
class Sides:
    """The coupons of both sides of a comparison on one board.

    Attributes:
        board: number of the board.
        comparison: of coupons that hang and have a value; neither side is empty.
    """

    board: int
    comparison: Comparison


@dataclass(frozen=True, slots=True)
class Seen:
    """What one board shows of a comparison.

    Attributes:
        board: number of the board.
        units_a, units_b: coupons, or columns where lots moved whole columns.
        difference: first less second, in the measure's unit.
        effect: with its standard error; None where the board has none: one coupon each, no replicates at all, or
            sides that share no row.
    """

    board: int
    units_a: int
    units_b: int
    difference: float
    effect: OneEffect | None


def coupons_of(subject: Subject, common: Common, board: int) -> frozenset[int]:
    """Return the coupons of a matched treatment (or of the controls) on a board that hang and have a value."""
    wanted, role = common.treatments[board], "control" if common.controls else "test"
    hanging = {each.coupon for each in subject.board.hung}
    found = {
        key
        for group in subject.groups
        if wanted and group.role == role and group.id == wanted
        for key in group.coupons
        if key in hanging and key in subject.values
    }
    return frozenset(found)


def sides_on(subject: Subject, a: Common, b: Common, board: int) -> Sides | None:
    """Return the two sides of a comparison on one board; None where one of them has no value there."""
    of_a, of_b = coupons_of(subject, a, board), coupons_of(subject, b, board)
    if not of_a or not of_b:
        return None
    kind: Kind = "control" if a.controls or b.controls else "pair"
    return Sides(board, Comparison(kind, a.name, b.name, of_a, of_b, (Level("", of_a, of_b),)))


class BoardModel:
    """A board's means with rows as blocks and one error for all its treatments."""

    def __init__(self, subject: Subject) -> None:
        """Fit the board's units, those of treatments no other board has among them: they too show the spread."""
        self._units = subject.units
        self._values = np.array([subject.unit_value(each) for each in self._units], dtype=np.float64)
        self._design = Design(tuple(each.cell for each in self._units), tuple(each.block for each in self._units))
        # The very spread that the board is judged by alone: groups wholly at an end of the scale do not lessen it.
        spread = ComparedModel(subject).error if self._units else None
        self._sd = 0.0 if spread is None else spread.sd
        self._freedom = 0 if spread is None else int(spread.degrees_of_freedom)

    def seen(self, sides: Sides) -> Seen:
        """Return what this board shows of a comparison."""
        a, b = (self._of(each) for each in (sides.comparison.coupons_a, sides.comparison.coupons_b))
        weights = self._design.weights(self._contrast(a, b))
        if weights is None:  # no row has both: the plain difference, which says nothing of how sure it is
            means = (fmean(float(self._values[each]) for each in side) for side in (a, b))
            return Seen(sides.board, len(a), len(b), next(means) - next(means), None)
        difference = float(weights @ self._values)
        error = self._sd * sqrt(float(weights @ weights))
        alone = len(a) == len(b) == 1
        effect = None if alone or error <= 0 else OneEffect(difference, error, self._freedom)
        return Seen(sides.board, len(a), len(b), difference, effect)

    def _of(self, coupons: frozenset[int]) -> list[int]:
        return [number for number, each in enumerate(self._units) if not each.coupons.isdisjoint(coupons)]

    def _contrast(self, a: Iterable[int], b: Iterable[int]) -> dict[Hashable, float]:
        """Return how the cells count: those of one side by their number of units."""
        found: dict[Hashable, float] = {}
        for sign, side in ((1.0, list(a)), (-1.0, list(b))):
            for cell, count in Counter(self._cell(each) for each in side).items():
                found[cell] = found.get(cell, 0.0) + sign * count / len(side)
        return found

    def _cell(self, number: int) -> Cell:
        unit: HungUnit = self._units[number]
        return unit.cell
