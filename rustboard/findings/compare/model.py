"""Differences by a linear model: a mean for each group, one for each row where rows are blocks, and pooled error."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import inf, sqrt
from typing import Final

import numpy as np

from rustboard.board.comparisons import Comparison
from rustboard.board.grade import GRADES
from rustboard.findings.compare.results import ModelResult, NoModel
from rustboard.findings.compare.together import Together
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.design_model import Design, Numbers
from rustboard.findings.power import WHOLE_GRADES
from rustboard.findings.simulation import contrast, sides_of
from rustboard.findings.spread import Spread
from rustboard.findings.units import Cell, HungUnit

ENDS: Final = (float(GRADES[0]), float(GRADES[-1]))


@dataclass(frozen=True, slots=True)
class ErrorSpread:
    """How much units treated alike differ.

    Attributes:
        sd: standard deviation in the measure's unit.
        degrees_of_freedom: it rests on; infinite where it is assumed.
        borrowed: from earlier boards or assumed, because this board has none of its own.
    """

    sd: float
    degrees_of_freedom: float
    borrowed: bool = False


@dataclass(frozen=True)
class BoardModel:
    """The model of one board.

    Attributes:
        subject: the board. units: that have a value.
        values: of the units, in their order.
        spread_elsewhere: of earlier boards or assumed, for boards without replicates.
    """

    subject: Subject
    spread_elsewhere: Spread | None = None

    @cached_property
    def units(self) -> tuple[HungUnit, ...]:
        """Coupons, or the coupons of a treatment in a column."""
        return self.subject.units

    @cached_property
    def values(self) -> Numbers:
        """Value of each unit."""
        return np.array([self.subject.unit_value(each) for each in self.units])

    @cached_property
    def design(self) -> Design:
        """Groups and blocks of the units."""
        return _design(self.units)

    @cached_property
    def cells_at_an_end(self) -> frozenset[Cell]:
        """Groups of which every coupon is at the same end of the scale: nothing among them can differ there."""
        if not self.subject.in_grades:
            return frozenset()
        found: dict[Cell, set[float]] = {}
        for unit, value in zip(self.units, self.values, strict=True):
            found.setdefault(unit.cell, set()).add(float(value))
        return frozenset(cell for cell, values in found.items() if len(values) == 1 and values <= set(ENDS))

    @cached_property
    def error(self) -> ErrorSpread | None:
        """The spread within groups; None where nothing says how large it is.

        Groups that are wholly at an end of the scale are left out of it as long as others are not: they would make
        the spread of the others look smaller than it is.
        """
        inside = [number for number, each in enumerate(self.units) if each.cell not in self.cells_at_an_end]
        own = self._own(inside) or self._own(range(len(self.units)))
        if own is not None or self.spread_elsewhere is None or not self.subject.in_grades:
            return own
        borrowed = self.spread_elsewhere
        return ErrorSpread(borrowed.sd, borrowed.degrees_of_freedom or inf, borrowed=True)

    def _own(self, numbers: Sequence[int]) -> ErrorSpread | None:
        if not numbers:
            return None
        design, values = _design([self.units[each] for each in numbers]), self.values[list(numbers)]
        freedom = design.degrees_of_freedom
        if freedom < 1:
            return None
        level = values - values.mean()
        left = float(level @ level) - float(np.square(level @ design.basis).sum())
        variance = max(left / freedom, self.least_variance)
        return ErrorSpread(sqrt(variance), freedom) if variance > 0 else None

    @cached_property
    def least_variance(self) -> float:
        """The variance that rounding alone makes, which no estimate of the error may fall below.

        Whole grades: that of a uniform distribution over one grade. A mean over the exposure: the same, divided among
        the grades that a coupon goes through, each of which is rounded anew. Times known as intervals: of uniform
        distributions over the intervals. (Uniform within is our assumption, common practice.)
        """
        measure = self.subject.question.measure
        if measure == "last grade":
            return WHOLE_GRADES.least_variance
        if measure == "mean grade":
            return WHOLE_GRADES.least_variance / self._grades_gone_through()
        widths = [
            each.failure.before - each.failure.after
            for each in self.subject.measures.values()
            if each.failure.before is not None
        ]
        return sum(width**2 for width in widths) / len(self.subject.measures) / 12 if widths else 0.0

    def _grades_gone_through(self) -> float:
        current = self.subject.record.current
        counts = [len({each.grade for each in current[key].values()}) for key in self.subject.values]
        return sum(counts) / len(counts) if counts else 1.0

    # ---- differences

    def differences(
        self, comparisons: Sequence[Comparison], groups: int = 0
    ) -> list[tuple[ModelResult | None, NoModel]]:
        """Return each difference with an interval that holds together with the others; or why there is none.

        Args:
            comparisons: of one question.
            groups: their number, where the comparisons are all pairs of so many.
        """
        return self.of_weights(
            [self.design.weights(contrast(sides_of(each, self.units))) for each in comparisons], groups
        )

    def of_weights(
        self, weights: Sequence[Numbers | None], groups: int = 0
    ) -> list[tuple[ModelResult | None, NoModel]]:
        """Return differences given by the weight of every unit; None stands for one the layout cannot estimate."""
        known = [each for each in weights if each is not None]
        error = self.error
        if error is None or not known:
            reason: NoModel = "replicates"
            return [(None, "rows" if each is None else reason) for each in weights]
        matrix = np.array(known)
        together = Together(matrix, error.degrees_of_freedom, groups if len(known) == len(weights) else 0)
        errors = error.sd * np.linalg.norm(matrix, axis=1)
        seen = matrix @ self.values
        found = iter(
            ModelResult(
                float(difference),
                float(difference - together.critical_t * of_error),
                float(difference + together.critical_t * of_error),
                float(p),
                float(of_error),
                error.sd,
                0 if error.degrees_of_freedom == inf else int(error.degrees_of_freedom),
                together.method,
            )
            for difference, of_error, p in zip(seen, errors, together.p_of(np.abs(seen) / errors), strict=True)
        )
        return [(None, "rows") if each is None else (next(found), "") for each in weights]


def _design(units: Iterable[HungUnit]) -> Design:
    there = list(units)
    return Design(tuple(each.cell for each in there), tuple(each.block for each in there))


def unit_values(subject: Subject, coupons: frozenset[int], values: Mapping[int, float]) -> tuple[float, ...]:
    """Return the values of the units of one side of a comparison, each the mean of its coupons there."""
    found = []
    for unit in subject.units:
        mine = [values[each] for each in sorted(unit.coupons & coupons) if each in values]
        if mine:
            found.append(sum(mine) / len(mine))
    return tuple(found)
