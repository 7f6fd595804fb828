"""Reads an old table by its layout."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, time
from typing import Final, NamedTuple, TypeVar

from rustboard.board.cells import identity, quoted
from rustboard.board.grade import written
from rustboard.board.model import MOST_COUPONS
from rustboard.board.old_grades.dates import moment, read_day
from rustboard.board.old_grades.grid import Grid
from rustboard.board.old_grades.guess import doubts
from rustboard.board.old_grades.layout import OF_A_DAY, Meaning, OldLayout
from rustboard.board.old_grades.reading import OldCoupon, OldGrade, OldReading, inspected
from rustboard.board.old_grades.values import (
    CellError,
    GradeOfPercent,
    HowRead,
    is_blank,
    is_sum,
    read_old_role,
    read_source,
    read_value,
    with_told,
)
from rustboard.board.position import MOST_COLUMNS, MOST_ROWS, Position, parse_position
from rustboard.board.problem_list import ProblemList
from rustboard.board.typed_dates import Moment
from rustboard.support.problems import InputError, Problem

_Value = TypeVar("_Value")

ROWS_SHOWN: Final = 60
_LONGEST_ID_ALONE: Final = 24
"""A longer text that stands alone in its row is a remark."""
_MOST_SKIPPED: Final = 100


class _DayColumns(NamedTuple):
    """The columns of one day: its kinds and their places."""

    day: Moment
    places: Mapping[str, int]


@dataclass(slots=True)
class _Found:
    """What was read so far."""

    coupons: dict[str, OldCoupon] = field(default_factory=dict)
    grades: dict[tuple[str, datetime], OldGrade] = field(default_factory=dict)
    positions: dict[Position, str] = field(default_factory=dict)
    faults: dict[tuple[int, int], str] = field(default_factory=dict)
    understood: dict[tuple[int, int], str] = field(default_factory=dict)
    skipped: list[Problem] = field(default_factory=list)


def read_table(grid: Grid, layout: OldLayout, grade_of_percent: GradeOfPercent) -> OldReading:
    """Read a table.

    A grade that cannot be used is left out and named; the others of its row are kept. A second grade of a coupon on
    the same day is left out, unless it says the same.

    Args:
        grid: the table.
        layout: how it is laid out.
        grade_of_percent: the rust grade of a percent rusted.

    Raises:
        InputError: more coupons than a board can hold.
    """
    return _Reader(grid, layout, grade_of_percent).read()


class _Reader:
    """Reads one table."""

    def __init__(self, grid: Grid, layout: OldLayout, grade_of_percent: GradeOfPercent) -> None:
        self._grid, self._layout = grid, layout
        self._how = HowRead(layout.halves, layout.scale, grade_of_percent, layout.ours)
        self._problems = ProblemList(grid.where)
        self._found = _Found()
        self._places = {each.meaning: place for place, each in reversed(list(enumerate(layout.columns)))}
        self._notes = [place for place, each in enumerate(layout.columns) if each.meaning == "note"]
        self._moments: dict[tuple[str, str], Moment | InputError] = {}
        self._last_shown = 0

    def read(self) -> OldReading:
        days = self._day_columns() if self._layout.is_wide else []
        rows = [number for number in self._grid.numbers if number > self._layout.header_row]
        self._last_shown = rows[:ROWS_SHOWN][-1] if rows else 0
        for number in rows if "coupon" in self._places else ():
            coupon = self._coupon(number)
            if coupon is None:
                continue
            if self._layout.is_wide:
                for each in days:
                    self._wide_grade(number, coupon, each)
            elif "date" in self._places:
                self._tidy_grade(number, coupon)
        found, listed = self._found, self._problems
        return OldReading(
            self._grid,
            self._layout,
            tuple(found.coupons.values()),
            tuple(found.grades.values()),
            tuple(listed.listed()),
            len(listed),
            found.faults,
            found.understood,
            tuple(found.skipped),
            doubts(self._grid, self._layout),
        )

    # ---- coupons

    def _text(self, row: int, meaning: Meaning) -> str:
        place = self._places.get(meaning)
        return "" if place is None else self._grid.text(row, place)

    def _coupon(self, row: int) -> OldCoupon | None:
        """Return the coupon of a row, or None where the row is none."""
        name = self._text(row, "coupon")
        why = self._no_coupon(row, name)
        if why:
            if len(self._found.skipped) < _MOST_SKIPPED:
                self._found.skipped.append(Problem(why, self._grid.where, row))
            return None
        if not name:
            self._refuse(row, self._places["coupon"], "This row has a grade and names no coupon; write its id.")
            return None
        fresh = self._described(row, name)
        known = self._found.coupons.get(identity(name))
        if known is None:
            if len(self._found.coupons) >= MOST_COUPONS:
                raise self._problems.refusal(
                    f"The table names more than {MOST_COUPONS} coupons, and a board holds at most that many; is it "
                    "the right column that names them?",
                    row=row,
                )
            if fresh.position is not None:
                fresh = self._placed(fresh, row)
        else:
            fresh = self._joined(known, fresh, row)
        self._found.coupons[identity(name)] = fresh
        return fresh

    def _no_coupon(self, row: int, name: str) -> str:
        """Return why a row is no coupon: it sums up, or it only remarks; empty when it is one."""
        if not self._layout.ours and is_sum(name):
            return f"{quoted(name)} sums other rows up and is no coupon; it was left out."
        cells = self._grid.rows[row]
        filled = [place for place, text in enumerate(cells) if text.strip()]
        alone = filled == [self._places["coupon"]]
        if alone and len(name) > _LONGEST_ID_ALONE:
            return f"{quoted(name)} is a remark and no coupon; it was left out."
        if not name and not any(not is_blank(self._grid.text(row, place)) for place in self._graded_places()):
            return "This row has no coupon and no grade; it was left out."
        return ""

    def _graded_places(self) -> list[int]:
        kinds = ("grade", "percent", "grade of a day", "percent of a day")
        return [place for place, each in enumerate(self._layout.columns) if each.meaning in kinds]

    def _described(self, row: int, name: str) -> OldCoupon:
        position = self._read(row, "position", lambda text: self._position(text) if text else None, None)
        role = self._read(row, "role", lambda text: read_old_role(text) if text else None, None)
        note = "\n".join(filter(None, (self._grid.lines(row, place) for place in self._notes)))
        return OldCoupon(
            row,
            name,
            position,
            self._text(row, "treatment"),
            self._text(row, "family"),
            role,
            self._text(row, "substrate"),
            note if self._layout.is_wide else "",
        )

    def _position(self, text: str) -> Position:
        position = parse_position(text)
        if position.row >= MOST_ROWS or position.column >= MOST_COLUMNS:
            raise InputError(f"A board has at most {MOST_ROWS} rows and {MOST_COLUMNS} columns; mend this position.")
        return position

    def _placed(self, coupon: OldCoupon, row: int) -> OldCoupon:
        assert coupon.position is not None  # asked before
        other = self._found.positions.setdefault(coupon.position, coupon.id)
        if identity(other) == identity(coupon.id):
            return coupon
        what = f"Position {coupon.position.label} is taken by coupon {quoted(other)}; give this one another."
        self._refuse(row, self._places["position"], what)
        return replace(coupon, position=None)

    def _joined(self, known: OldCoupon, fresh: OldCoupon, row: int) -> OldCoupon:
        """Return a coupon with what a later row adds; where two rows contradict each other the first counts."""
        for meaning in ("position", "treatment", "family", "role", "substrate"):
            before, now = getattr(known, meaning), getattr(fresh, meaning)
            if now and not before:
                known = replace(known, **{meaning: now})
                if meaning == "position":
                    known = self._placed(known, row)
            elif now and before != now and identity(str(before)) != identity(str(now)):
                what = f"Coupon {quoted(known.id)} has another {meaning} in row {known.row}; the first was kept."
                self._refuse(row, self._places[meaning], what)
        return known

    def _read(self, row: int, meaning: Meaning, read: Callable[[str], _Value], otherwise: _Value) -> _Value:
        """Return what is made of a cell; one that cannot be used is named."""
        try:
            return read(self._text(row, meaning))
        except InputError as error:
            self._refuse(row, self._places[meaning], error.problem.what)
            return otherwise

    # ---- grades

    def _day_columns(self) -> list[_DayColumns]:
        by_day: dict[Moment, dict[str, int]] = {}
        again: list[_DayColumns] = []
        for place, column in enumerate(self._layout.columns):
            if not column.meaning.endswith(OF_A_DAY):
                continue
            kind = column.meaning.removesuffix(OF_A_DAY)
            found = self._moment(column.day, "")
            if isinstance(found, InputError):
                self._refuse(self._layout.header_row, place, found.problem.what)
            elif kind in by_day.setdefault(
                found, {}
            ):  # the same day once more: compared with the first, cell by cell
                again.append(_DayColumns(found, {kind: place}))
            else:
                by_day[found][kind] = place
        return [*(_DayColumns(day, places) for day, places in by_day.items()), *again]

    def _wide_grade(self, row: int, coupon: OldCoupon, columns: _DayColumns) -> None:
        places = columns.places
        note = self._grid.lines(row, places["note"]) if "note" in places else ""
        self._grade(row, coupon, columns.day, places, note)

    def _tidy_grade(self, row: int, coupon: OldCoupon) -> None:
        kinds: tuple[Meaning, ...] = ("grade", "percent", "distribution")
        places = {str(kind): self._places[kind] for kind in kinds if kind in self._places}
        if all(is_blank(self._grid.text(row, places.get(kind, -1))) for kind in ("grade", "percent")):
            return
        found = self._moment(self._text(row, "date"), self._text(row, "time"))
        if isinstance(found, InputError):
            self._refuse(row, self._places["date"], found.problem.what)
            return
        self._show(row, self._places["date"], _shown(found))
        note = "\n".join(filter(None, (self._grid.lines(row, place) for place in self._notes)))
        self._grade(row, coupon, found, places, note)

    def _grade(self, row: int, coupon: OldCoupon, day: Moment, places: Mapping[str, int], note: str) -> None:
        at = next((places[kind] for kind in ("grade", "percent") if kind in places), -1)
        for place in places.values():
            if (row, place) in self._grid.faults:
                self._refuse(row, place, self._grid.faults[row, place])
                return
        grade, percent, letter = (
            self._grid.text(row, places.get(kind, -1)) for kind in ("grade", "percent", "distribution")
        )
        try:
            value = read_value(grade, percent, letter, self._how)
        except CellError as error:
            self._refuse(row, places.get(error.cell, at), error.what)
            return
        source = self._read(row, "source", read_source, None)
        if value is None or source is None:
            return
        fresh = OldGrade(
            row, at, coupon.id, day.when, day.has_hour, value.grade, value.distribution, value.percent,
            self._text(row, "grader"), source, with_told(note, value.told), self._text(row, "photo"),
        )  # fmt: skip
        first = self._found.grades.setdefault((identity(coupon.id), inspected(fresh)), fresh)
        if first[5:8] != fresh[5:8]:
            what = (
                f"Coupon {quoted(coupon.id)} has grade {written(first.grade, first.distribution)} for this day in "
                f"row {first.row}, column {self._grid.place(first.column)}; that one was kept, delete one of the two."
            )
            self._refuse(row, at, what)
            return
        self._show(row, at, written(value.grade, value.distribution))

    def _moment(self, day: str, hour: str) -> Moment | InputError:
        """Return the point in time that two cells name, or why there is none; each is read once."""
        if (day, hour) not in self._moments:
            self._moments[day, hour] = self._new_moment(day, hour)
        return self._moments[day, hour]

    def _new_moment(self, day: str, hour: str) -> Moment | InputError:
        if not day:
            return InputError("The date is missing; write it as year-month-day, such as 2026-03-02.")
        try:
            found = moment(read_day(day), self._layout.date_order, self._layout.day_zero)
            if found.when.time() == time() and not self._layout.ours:
                found = found._replace(has_hour=False)  # many programs write a mere date with a midnight behind it
            if hour and not found.has_hour:
                return moment(read_day(f"{found.when:%Y-%m-%d} {hour}"), None, None)
        except InputError as error:
            return error
        return found

    # ---- telling

    def _refuse(self, row: int, place: int, what: str) -> None:
        title = self._layout.columns[place].title if 0 <= place < len(self._layout.columns) else ""
        self._problems.add(what, row=row, column=self._grid.place(max(place, 0), title))
        self._found.faults.setdefault((row, place), what)

    def _show(self, row: int, place: int, text: str) -> None:
        if row <= self._last_shown:
            self._found.understood[row, place] = text


def _shown(moment: Moment) -> str:
    return moment.when.isoformat(" ", "minutes") if moment.has_hour else moment.when.date().isoformat()
