"""What an old table says when it is read: coupons, grades, and every cell that cannot be used."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, time
from typing import Final, NamedTuple

from rustboard.board.grade import Source
from rustboard.board.model import Role
from rustboard.board.old_grades.grid import Grid
from rustboard.board.old_grades.guess import Doubt
from rustboard.board.old_grades.layout import OldLayout
from rustboard.board.position import Position
from rustboard.support.problems import Problem

NOON: Final = time(12)
"""The hour of an inspection that is known by its date alone."""


class OldGrade(NamedTuple):
    """One grade.

    Attributes:
        row, column: its cell. when: midnight where no hour is written. photo: name of a picture that the row names.
    """

    row: int
    column: int
    coupon: str
    when: datetime
    has_hour: bool
    grade: int
    distribution: str = ""
    percent: float | None = None
    grader: str = ""
    source: Source = "eye"
    note: str = ""
    photo: str = ""


def inspected(grade: OldGrade) -> datetime:
    """Return the time of the inspection at which a grade was given."""
    return grade.when if grade.has_hour else datetime.combine(grade.when.date(), NOON)


@dataclass(frozen=True, slots=True)
class OldCoupon:
    """A coupon as the table describes it.

    Attributes:
        row: where it is first named. treatment: as written. role: empty where the table does not say.
    """

    row: int
    id: str
    position: Position | None = None
    treatment: str = ""
    family: str = ""
    role: Role | None = None
    substrate: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class OldReading:
    """A table as it is understood.

    Attributes:
        problems: the cells and rows that cannot be used, by row; a bounded number. refused: how many there are.
        faults: what is wrong with a cell, by row number and place.
        understood: what is made of a cell, for the first rows.
        skipped: rows that are no coupons, such as sums and remarks, and why.
        doubts: what the table does not settle.
    """

    grid: Grid
    layout: OldLayout
    coupons: tuple[OldCoupon, ...] = field(repr=False)
    grades: tuple[OldGrade, ...] = field(repr=False)
    problems: tuple[Problem, ...] = field(repr=False)
    refused: int
    faults: Mapping[tuple[int, int], str] = field(repr=False)
    understood: Mapping[tuple[int, int], str] = field(repr=False)
    skipped: tuple[Problem, ...]
    doubts: tuple[Doubt, ...]

    @property
    def is_settled(self) -> bool:
        """Whether nothing is left to ask."""
        return not any(each.blocking for each in self.doubts)

    def days(self) -> list[datetime]:
        """Return the days on which anything was graded, in order."""
        return sorted({datetime(*each.when.timetuple()[:3]) for each in self.grades})
