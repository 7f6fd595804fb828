"""Every blind grade that counts, as it was given: by whom, in which order, at which look, how shown."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.blind import BlindInspection, BlindRound
from rustboard.board.blind_result import RULE
from rustboard.board.model import Inspection
from rustboard.board.record import BoardRecord
from rustboard.report.cells import style_number
from rustboard.report.long_rows import LongRows
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import QUIET_UNWRAPPED, UNWRAPPED, WHEN
from rustboard.report.tables import Column, add_table, put_headings
from rustboard.report.tidy import guarded

SHEET: Final = "Blind grades"
STILL_HIDDEN: Final = "Hidden: this inspection is being graded blind, and its blind grades are not in yet."
COLUMNS: Final = (
    Column("inspected", 17),
    Column("grader", 18),
    Column("showing", 9),
    Column("coupon", 14),
    Column("look", 8),
    Column("shown", 19),
    Column("grade", 8),
    Column("distribution", 13),
    Column("percent", 10),
    Column("board grade", 12),
    Column("board source", 14),
    Column("note", 48),
)
_Row = tuple[object, ...]


class BlindVisit(NamedTuple):
    """An inspection that was or is being graded blind, with the rounds in which anything was graded.

    A hidden one has none, whatever was graded so far.
    """

    inspection: Inspection
    blind: BlindInspection
    rounds: tuple[BlindRound, ...]


def blind_visits(record: BoardRecord) -> list[BlindVisit]:
    """Return the blind inspections by time, each with its rounds in the order in which they began.

    One that was revealed without any grade that counts is not among them: it says nothing, and its open grades stand.
    """
    graded: dict[int, list[BlindRound]] = {}
    for _, one in sorted(record.blind_rounds.items()):
        if record.blind_grades.get(one.key):
            graded.setdefault(one.blind, []).append(one)
    found = []
    for each in record.blind_inspections.values():
        rounds = graded.get(each.key, []) if each.revealed is not None else []
        if rounds or each.revealed is None:
            found.append(BlindVisit(record.inspections[each.inspection], each, tuple(rounds)))
    return sorted(found, key=lambda each: (each.inspection.at, each.inspection.key))


def write_blind_grades(sheet: Worksheet, record: BoardRecord, page: PageStyle) -> LongRows:
    """Set the sheet up and return its rows for `package.packed`; the rule stands below the table."""
    put_headings(sheet, COLUMNS)
    rows = [row for visit in blind_visits(record) for row in _rows_of(record, visit)]
    add_table(sheet, "BlindGrades", [each.heading for each in COLUMNS], len(rows))
    set_page(sheet, page, landscape=True, repeat_rows="1:1")
    below: list[_Row] = [_row(), _row(inspected=RULE)]
    sheet.print_area = f"A1:L{len(rows) + len(below) + 1}"
    looks = {"inspected": WHEN, "note": QUIET_UNWRAPPED}
    styles = [style_number(sheet, looks.get(each.heading, UNWRAPPED)) for each in COLUMNS]
    written = [tuple(guarded(each) if isinstance(each, str) else each for each in row) for row in [*rows, *below]]
    return LongRows(first_row=2, rows=written, styles=styles, count=len(written))  # type: ignore[arg-type]


def _rows_of(record: BoardRecord, visit: BlindVisit) -> Iterator[_Row]:
    at = visit.inspection.at.replace(microsecond=0, tzinfo=None)
    if visit.blind.revealed is None:
        yield _row(inspected=at, note=STILL_HIDDEN)
        return
    for each in visit.rounds:
        for number, given in sorted(record.blind_grades[each.key].items()):
            showing = each.showings[number]
            boards = record.grading(given.coupon, visit.inspection.key)
            yield (
                at,
                each.grader,
                number + 1,
                record.coupons[given.coupon].id,
                "second" if showing.again else "first",
                "at the bench" if visit.blind.basis == "bench" else showing.turn or "as taken",
                given.grade,
                given.distribution,
                given.percent,
                None if boards is None else boards.grade,
                None if boards is None else boards.source,
                given.note,
            )


def _row(inspected: object = None, note: object = None) -> _Row:
    return (inspected, *(None,) * (len(COLUMNS) - 2), note)
