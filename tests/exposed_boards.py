"""Boards of a few lines for findings: treatments hung by hand and graded on days of exposure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

import numpy as np

from rustboard.board.exposure_clock import ExposureClock, day_clock
from rustboard.board.model import Board, Coupon, Grading, Inspection, Treatment
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.record import BoardRecord
from rustboard.board.series import InspectionDay
from rustboard.findings.compare.results import Compared, Comparing, ModelResult
from rustboard.findings.coupons.subject import FindingsRequest, Subject, subject_of
from rustboard.findings.critical import Together
from rustboard.findings.design_model import Design
from rustboard.findings.simulation import Side, contrast
from rustboard.scales.rust_grade import grade_from_percent

START = datetime(2026, 3, 2, 9)
CONTROL = "control"

Look = int | float | None
"""A grade, as int; a percent, as float; None = not graded."""


def exposed_board(
    days: Sequence[float], histories: Mapping[str, Sequence[Sequence[Look]]], *, treatments: Sequence[Treatment] = ()
) -> BoardRecord:
    """A board from what was seen of each coupon at the inspections on these days.

    Args:
        days: of exposure, one for each inspection.
        histories: by id of treatment, or ``control``: for each coupon a look for each inspection.
        treatments: more about them; ids that are missing here are made up.
    """
    known = {each.id: each for each in treatments}
    record = BoardRecord(Board("b", rows=1, columns=max(1, sum(map(len, histories.values()))), started=START))
    for number, day in enumerate(days, 1):
        record.inspections[number] = Inspection(START + timedelta(days=day), key=number)
    for number, name in enumerate(histories, 1):
        if name != CONTROL:
            given = known.get(name, Treatment(name))
            record.treatments[number] = Treatment(
                given.id, given.name, given.family, finish=given.finish, protectant=given.protectant,
                cost_per_m2=given.cost_per_m2, minutes_per_m2=given.minutes_per_m2, key=number,
            )  # fmt: skip
        for looks in histories[name]:
            _hang(record, number if name != CONTROL else None, looks)
    return record


def _hang(record: BoardRecord, treatment: int | None, looks: Sequence[Look]) -> None:
    key = len(record.coupons) + 1
    role: Any = "control" if treatment is None else "test"
    record.coupons[key] = Coupon(f"C{key}", Position(0, key - 1), treatment, role, key=key)
    graded = {}
    for number, look in enumerate(looks, 1):
        if look is not None:
            percent = look if isinstance(look, float) else None
            grade = look if isinstance(look, int) else grade_from_percent(look)
            graded[number] = Grading(1, key, number, grade, "", percent, "", "eye", "", "2026-03-02T09:00:00")
    if graded:
        record.current[key] = graded


def clock_of(record: BoardRecord) -> ExposureClock:
    """The clock of days."""
    return day_clock(tuple(InspectionDay(each.key, record.day_of(each.at)) for each in record.inspections_in_order()))


def subject(record: BoardRecord, clock: ExposureClock | None = None, **question: Any) -> Subject:
    """The board as findings see it, by the clock of days where none is given."""
    return subject_of(FindingsRequest(record, clock or clock_of(record), Question(**question)))


def comparing_of(about: Subject) -> Comparing:
    """The comparisons by the model of means with pooled error, as the contract of the comparisons has it."""
    units = about.units
    design = Design(tuple(each.cell for each in units), tuple(each.block for each in units))
    values = np.array([about.unit_value(each) for each in units])
    weights = []
    for each in about.comparisons:
        sides = [
            Side(
                Counter(unit.cell for unit in units if not unit.coupons.isdisjoint(level.a)),
                Counter(unit.cell for unit in units if not unit.coupons.isdisjoint(level.b)),
            )
            for level in each.levels
        ]
        weights.append(design.weights(contrast(sides)))
    degrees = design.degrees_of_freedom
    found = []
    for each, mine in zip(about.comparisons, weights, strict=True):
        if degrees < 1:
            found.append(Compared(each, each.a, each.b, (), (), None, "replicates"))
            continue
        critical = Together(np.array(weights)).critical_t(degrees)
        left = values @ values - ((design.basis.T @ values) ** 2).sum()
        error = np.sqrt(max(left / degrees, 1 / 12) * (mine @ mine))
        difference, half = float(mine @ values), critical * error
        standing = "better" if difference > half else "worse" if difference < -half else "open"
        model = ModelResult(
            difference, difference - half, difference + half, 0.5, float(error), 1.0, degrees, "simulated"
        )
        found.append(Compared(each, each.a, each.b, (), (), model, standing=standing))
    return Comparing(tuple(found), {})
