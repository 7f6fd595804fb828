"""How far every coupon is from what its replicates, and its row where rows are blocks, make one expect."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from rustboard.board.record import reading_order
from rustboard.findings.compare.model import ENDS, BoardModel
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.design_model import Design, Numbers
from rustboard.findings.doubts.results import Residual
from rustboard.findings.units import Cell

_TINY: Final = 1e-9


@dataclass(frozen=True)
class CouponModel:
    """The model of the comparisons, coupon by coupon.

    Attributes:
        coupons: keys of those that hang and have a value, in reading order.
        design: what was done to each, and its row where rows are blocks.
        values: of the coupons.
        least_variance: no estimate of the error variance counts as smaller.
        ends: values beyond which the scale has no more.
    """

    coupons: tuple[int, ...]
    design: Design
    values: Numbers
    least_variance: float
    ends: tuple[float, ...]

    @cached_property
    def expected(self) -> Numbers:
        """What the model fits."""
        basis = self.design.basis
        return np.asarray(basis @ (basis.T @ self.values), dtype=np.float64)

    @cached_property
    def residuals(self) -> Numbers:
        """Values less what the model fits; what is nothing but rounding of the computer is 0."""
        found = self.values - self.expected
        found[np.abs(found) < _TINY * max(float(np.abs(self.values).max(initial=0.0)), 1.0)] = 0.0
        return np.asarray(found, dtype=np.float64)

    @cached_property
    def inside(self) -> Numbers:
        """Which coupons are of a group that is not wholly at one end of the scale; all where no group is inside."""
        at_end = [
            len(mine) == 1 and mine <= set(self.ends)
            for mine in (
                {float(value) for value, other in zip(self.values, self.design.cells, strict=True) if other == cell}
                for cell in self.design.cell_names
            )
        ]
        ended = {cell for cell, end in zip(self.design.cell_names, at_end, strict=True) if end}
        found = np.array([cell not in ended for cell in self.design.cells], dtype=np.bool_)
        return np.asarray(found if found.any() else ~found)

    @cached_property
    def freedom(self) -> int:
        """Degrees of freedom of a studentized residual: those of the error without the coupon itself."""
        return self._scaling.degrees_of_freedom - 1

    @cached_property
    def _scaling(self) -> Design:
        kept = np.flatnonzero(self.inside)
        return Design(
            tuple(self.design.cells[each] for each in kept), tuple(self.design.blocks[each] for each in kept)
        )

    @cached_property
    def studentized(self) -> tuple[float | None, ...]:
        """Externally studentized residual of each coupon, or None where there is none.

        The residual over its standard error, the error variance taken without the coupon itself (Cook and Weisberg
        1982, from memory) and never below what rounding to whole grades makes. Groups wholly at an end of the scale
        do not enter: nothing in them could have differed.
        """
        found: list[float | None] = [None] * len(self.coupons)
        if self.freedom < 1:
            return tuple(found)
        basis, places = self._scaling.basis, np.flatnonzero(self.inside)
        values = self.values[places]
        residuals = values - basis @ (basis.T @ values)
        free = 1.0 - np.square(basis).sum(axis=1)
        whole = float(residuals @ residuals)
        for number, place in enumerate(places):
            if free[number] < _TINY:
                continue
            own = float(residuals[number]) ** 2 / float(free[number])
            variance = max((whole - own) / self.freedom, self.least_variance)
            if variance > _TINY * max(whole, _TINY):
                found[place] = float(residuals[number]) / (variance * float(free[number])) ** 0.5
        return tuple(found)


def coupon_model(subject: Subject) -> CouponModel:
    """Return the model of a board's coupons."""
    record = subject.record
    hung = {each.coupon: each for each in subject.board.hung}
    keys = [
        each.key
        for each in sorted(record.coupons.values(), key=reading_order)
        if each.key in hung and each.key in subject.values
    ]
    cells: list[Cell] = [(hung[key].treatment, record.coupons[key].role) for key in keys]
    by_row = subject.board.rows_are_blocks
    blocks = [hung[key].position.row if by_row else 0 for key in keys]
    return CouponModel(
        tuple(keys),
        Design(tuple(cells), tuple(blocks)),
        np.array([subject.values[key] for key in keys], dtype=np.float64),
        BoardModel(subject).least_variance if keys else 0.0,
        ENDS if subject.in_grades else (),
    )


def residuals_of(subject: Subject, model: CouponModel) -> tuple[Residual, ...]:
    """Return the residual of every coupon that counts, in reading order."""
    positions = {each.coupon: each.position for each in subject.board.hung}
    return tuple(
        Residual(key, positions[key], float(value), float(value - residual), float(residual), _plain(scaled))
        for key, value, residual, scaled in zip(
            model.coupons, model.values, model.residuals, model.studentized, strict=True
        )
    )


def _plain(scaled: float | None) -> float | None:
    return None if scaled is None else scaled + 0.0
