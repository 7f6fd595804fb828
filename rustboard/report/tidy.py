"""The tidy table of grades: one row for every grade that counts, the same in JSON, CSV and workbook."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from typing import Final, NamedTuple

from rustboard.board.model import Coupon
from rustboard.board.record import BoardRecord
from rustboard.support.text import printable, spreadsheet_safe

CELL_LIMIT: Final = 32_767
"""Most characters of one cell (limit published for .xlsx files; longer text makes the file need repair)."""


TidyValue = str | float | date | None
"""What a cell of a tidy table holds; a `datetime.datetime` is a time, a `datetime.date` alone a day."""


class GradeRow(NamedTuple):
    """One grade that counts, with where and on what it was given.

    The field names are the columns of the tidy table, in their order.
    """

    coupon: str
    position: str
    treatment: str
    role: str
    inspected: datetime
    grade: int
    distribution: str
    percent: float | None
    grader: str
    source: str
    note: str


COLUMNS: Final[tuple[str, ...]] = GradeRow._fields


def tidy_grades(record: BoardRecord) -> Iterator[GradeRow]:
    """Yield one row a grade that counts, by time, then as one reads the board.

    ``position`` is empty for a coupon off the board, ``treatment`` is the treatment's id or empty.
    """
    said = {key: said_of(record, coupon) for key, coupon in record.coupons.items()}
    for inspection, coupon, grading in record.current_gradings():
        yield GradeRow(
            *said[coupon.key],
            inspection.at.replace(microsecond=0, tzinfo=None),
            grading.grade,
            grading.distribution,
            grading.percent,
            grading.grader,
            grading.source,
            grading.note,
        )


def said_of(record: BoardRecord, coupon: Coupon) -> tuple[str, str, str, str]:
    """Return id, position, id of the treatment and role of a coupon, the first columns of every tidy table."""
    treatment = record.treatment_of(coupon)
    position = "" if coupon.position is None else coupon.position.label
    return (coupon.id, position, "" if treatment is None else treatment.id, coupon.role)


def grade_rows(record: BoardRecord) -> list[dict[str, object]]:
    """Return the tidy table as plain values for JSON; times are ISO text without a zone, in whole seconds."""
    return [row._asdict() | {"inspected": iso(row.inspected)} for row in tidy_grades(record)]


def grades_csv(record: BoardRecord) -> str:
    r"""Return the tidy table as CSV with a header row.

    Lines end in ``\n``, because the text goes to standard output, which puts the platform's own line end there.
    Text that a spreadsheet would run as a formula is guarded as `support.text.spreadsheet_safe` says; characters
    that cannot be shown are replaced. A percent that was not stated is an empty field.
    """
    return csv_text(COLUMNS, tidy_grades(record))


def csv_text(columns: Sequence[str], rows: Iterable[Sequence[TidyValue]]) -> str:
    """Return a tidy table as CSV with a header row, written as `grades_csv` says."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    for row in rows:
        writer.writerow([_in_csv(each) for each in row])
    return out.getvalue()


def _in_csv(value: TidyValue) -> str | float | None:
    if isinstance(value, datetime):
        return iso(value)
    return value.isoformat() if isinstance(value, date) else guarded(value)


def guarded(value: str | float | None) -> str | float | None:
    """Return a value for a table that others open: text made harmless and short enough for a cell."""
    return spreadsheet_safe(cell_text(value)) if isinstance(value, str) else value


def cell_text(text: str) -> str:
    """Return text that a workbook can hold: printable, line breaks kept, cut to what a cell takes."""
    shown = printable(text, lines=True)
    # One character less than the limit leaves room for the guard's apostrophe.
    return shown if len(shown) < CELL_LIMIT else f"{shown[: CELL_LIMIT - 2]}…"


def iso(when: datetime) -> str:
    """Return a time as ISO text in whole seconds: ``2026-03-02T09:00:00``."""
    return when.isoformat(timespec="seconds")
