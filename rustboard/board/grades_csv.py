"""Grades typed elsewhere, as CSV: one row a grade of one coupon.

Needed are the columns ``date`` (or ``inspected``), ``coupon`` and ``grade``; ``distribution``, ``percent``,
``grader`` and ``note`` may follow. The table that the command ``grades --csv`` writes is read as well.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from rustboard.board.cells import (
    identity,
    quoted,
    read_distribution,
    read_grade,
    read_needed,
    read_percent,
)
from rustboard.board.csv_table import open_table
from rustboard.board.grade import check_grade
from rustboard.board.problem_list import ProblemList
from rustboard.board.table_rows import Layout, Row, Table
from rustboard.board.typed_dates import DateOrder, Moment, agreed_order, moment_of, read_iso_moment, read_typed_date
from rustboard.support.problems import InputError, Problem

_LAYOUT: Final = Layout(
    needed=("date", "coupon", "grade"),
    known=("date", "coupon", "grade", "distribution", "percent", "grader", "note"),
    ignored=("position", "treatment", "role", "source"),
    aliases={"inspected": "date", "notes": "note"},
)


@dataclass(frozen=True, slots=True)
class TypedGrade:
    """One grade as a file states it.

    Attributes:
        row: row in the file, as a spreadsheet shows it.
        when: wall-clock time of the inspection; midnight when the file gives no hour.
        has_hour: whether the file gives the hour.
        coupon: id of the coupon as written; whether the board has it is not known here.
        distribution: S, G, P, H or empty.
        percent: % rusted where it was stated, else None.
        note: the note, then the cells of columns without a meaning as ``column: value``.
    """

    row: int
    when: datetime
    has_hour: bool
    coupon: str
    grade: int
    distribution: str
    percent: float | None
    grader: str
    note: str


def read_grades_csv(data: bytes, file: str) -> tuple[list[TypedGrade], list[Problem]]:
    """Read typed grades.

    Dates are ISO dates with or without a time of day. Dates with the year last (``02.03.2026``) count only when some
    date in the file shows which number is the day; else their rows are left out. An offset from UTC behind a time is
    dropped: kept is what the clock on the wall showed. A second grade for the same time, coupon and grader is left
    out.

    Args:
        data: the file's bytes in UTF-8, UTF-16 with its mark, or Windows' Western code page.
        file: the file's name, for the sentences.

    Returns:
        The grades of all rows that can be used, in the file's order, and what was left out and why.

    Raises:
        InputError: not a CSV file, too large, a needed column is missing, or no rows.
    """
    problems = ProblemList(file)
    table = open_table(data, _LAYOUT, problems)
    read_moment = _moment_reader(_date_order(table, file))
    grades: list[TypedGrade] = []
    first_rows: dict[tuple[datetime, str, str], int] = {}
    rows = 0
    for row in table.rows(problems):
        rows += 1
        typed = _read_row(row, read_moment)
        if typed is None:
            continue
        key = (typed.when, identity(typed.coupon), identity(typed.grader))
        first_row = first_rows.setdefault(key, row.number)
        if first_row == row.number:
            grades.append(typed)
        else:
            row.refuse(_repeated(typed, first_row), "coupon")
    if not rows and not problems:
        raise problems.refusal("The file has a header and no grades under it.")
    return grades, problems.listed()


def _date_order(table: Table, file: str) -> DateOrder | None:
    """Return the order of day and month; None when it cannot be known, and only ISO dates can be read."""
    rows_by_text: dict[str, int] = {}
    for row in table.rows(ProblemList(file)):
        rows_by_text.setdefault(row.text("date"), row.number)
    dates = []
    for text, number in rows_by_text.items():
        try:
            dates.append((number, read_typed_date(text)))
        except InputError:
            continue  # named later, in its own row
    try:
        return agreed_order(dates)
    except InputError:
        return None


def _moment_reader(order: DateOrder | None) -> Callable[[str], Moment]:
    """Return a reader of dates that remembers what it has read: a file repeats each date once a coupon."""
    known: dict[str, Moment] = {}

    def read(text: str) -> Moment:
        if text not in known:
            if not text:
                raise InputError("The date is missing; write it as year-month-day, such as 2026-03-02.")
            known[text] = read_iso_moment(text) if order is None else moment_of(read_typed_date(text), order)
        return known[text]

    return read


_NEVER: Final = Moment(datetime.min, False)


def _read_row(row: Row, read_moment: Callable[[str], Moment]) -> TypedGrade | None:
    moment = row.read("date", read_moment, _NEVER)
    coupon = row.read("coupon", read_needed, "")
    grade, letter = row.read("grade", read_grade, (0, ""))
    percent = row.read("percent", read_percent, None)
    distribution = row.read("distribution", read_distribution, "")
    if row.failed:
        return None
    try:
        distribution = _agreed_letter(letter, distribution)
        check_grade(grade, distribution, percent)
    except InputError as error:
        row.refuse(error, "distribution")
        return None
    return TypedGrade(
        row=row.number,
        when=moment.when,
        has_hour=moment.has_hour,
        coupon=coupon,
        grade=grade,
        distribution=distribution,
        percent=percent,
        grader=row.text("grader"),
        note=row.note(),
    )


def _agreed_letter(behind_grade: str, in_column: str) -> str:
    if behind_grade and in_column and behind_grade != in_column:
        raise InputError(f"{in_column} contradicts the letter {behind_grade} behind the grade; keep one of them.")
    return behind_grade or in_column


def _repeated(typed: TypedGrade, first_row: int) -> InputError:
    who = f" by {quoted(typed.grader)}" if typed.grader else ""
    return InputError(
        f"Coupon {quoted(typed.coupon)} has a grade{who} for the same time in row {first_row} already; that one was "
        "kept, delete one of the two rows."
    )
