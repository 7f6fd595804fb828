"""The plan: the question and its changes, the lots and where coupons hang now, the planned inspections."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from datetime import datetime
from itertools import pairwise
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.comparisons import comparisons_of
from rustboard.board.drain import DrainBreak
from rustboard.board.inspection_calendar import PlannedLook, day_number, planned_looks
from rustboard.board.lot_changes import drawn_positions, moved_since_drawn
from rustboard.board.model import Coupon
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.question_time import written_after_start
from rustboard.board.record import BoardRecord
from rustboard.report.cells import Value, put, row_height, set_widths, short
from rustboard.report.groups import treatment_title
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.plan_words import (
    breaks_of,
    care_words,
    compared_words,
    drip_words,
    lots_words,
    measure_words,
    method_words,
    place_words,
    question_changes,
    spread_words,
    worthwhile_words,
    written_words,
)
from rustboard.report.styles import (
    CELL,
    CELL_DAY,
    CELL_MARK,
    CELL_WHEN,
    COLUMN_HEAD,
    HEADING,
    LABEL,
    PLAIN,
    QUIET,
    SHEET_TITLE,
    Look,
)
from rustboard.support.text import counted

SHEET: Final = "Plan"
_WIDTHS: Final = {1: 22, 2: 28, 3: 9, 4: 10, 5: 12, 6: 26}
_LAST: Final = 6
_FACT_WIDTH: Final = 85
_COUPON_HEADS: Final = ("Coupon", "Treatment", "Role", "Lot drawn", "Hangs now", "Mark")
_COMPARISONS_SHOWN: Final = 40
_LINES: Final = 42

NO_QUESTION: Final = "No question was written down for this board."
LATE: Final = (
    "The question that counts was written or changed after the exposure had begun. Whoever had seen grades by then "
    "may have been led by them; read the results with that in mind."
)
COUNTS_FOR: Final = (
    "An inspection counts for the planned day nearest to it; just between two it counts for the earlier one."
)


def was_planned(record: BoardRecord) -> bool:
    """Return whether there is anything for this sheet to tell."""
    return bool(record.questions or record.layouts or record.lots or record.calendar.days)


def write_plan(sheet: Worksheet, record: BoardRecord, page: PageStyle, *, generated: datetime) -> None:
    """Write the plan of a board; ``generated`` says which planned inspections are still to come."""
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, _WIDTHS)
    set_page(sheet, page)
    writer = _Writer(sheet)
    put(sheet, 1, 1, "Plan", SHEET_TITLE)
    writer.across("What was planned for this board, when it was written down, and what was changed since.", QUIET)
    _question(writer, record)
    _calendar(writer, record, generated)
    _layout(writer, record)
    sheet.print_area = f"A1:F{writer.row}"


class _Writer:
    """Writes down a sheet, row by row."""

    def __init__(self, sheet: Worksheet) -> None:
        self.sheet = sheet
        self.row = 1

    def heading(self, text: str) -> None:
        self.row += 2
        put(self.sheet, self.row, 1, text, HEADING)
        self.sheet.row_dimensions[self.row].height = 22

    def across(self, text: str, look: Look = PLAIN) -> None:
        self.row += 1
        self._merge(1, _LAST)
        put(self.sheet, self.row, 1, text, look)
        self.sheet.row_dimensions[self.row].height = row_height([(text, sum(_WIDTHS.values()))]) + 2

    def fact(self, label: str, text: str) -> None:
        self.row += 1
        put(self.sheet, self.row, 1, label, LABEL)
        self._merge(2, _LAST)
        put(self.sheet, self.row, 2, text, PLAIN)
        height = row_height([(text, _FACT_WIDTH), (label, _WIDTHS[1])], most_lines=_LINES)
        self.sheet.row_dimensions[self.row].height = height

    def _merge(self, first: int, last: int) -> None:
        self.sheet.merge_cells(start_row=self.row, end_row=self.row, start_column=first, end_column=last)

    def cells(self, values: Sequence[tuple[int, int, Value, Look]], height: float | None = None) -> None:
        """Write (first column, last column, value, look) into the next row."""
        self.row += 1
        for first, last, value, look in values:
            for column in range(first, last + 1):
                put(self.sheet, self.row, column, value if column == first else None, look)
            if last > first:
                self._merge(first, last)
        if height is not None:
            self.sheet.row_dimensions[self.row].height = height


# ---- the question


def _question(writer: _Writer, record: BoardRecord) -> None:
    writer.heading("The question")
    question = record.question
    if question is None:
        writer.across(NO_QUESTION)
        return
    writer.fact("In the user's words", question.words or "not put into words")
    writer.fact("Compared", compared_words(question))
    writer.fact("On this board", _comparisons(question, record))
    writer.fact("Main measure", measure_words(question))
    writer.fact("Failing grade", f"{question.failing_grade}: at this grade or below a coupon has failed")
    writer.fact("Difference that matters", f"{worthwhile_words(question)} or more")
    writer.fact("Spread reckoned with", spread_words(question))
    writer.fact("Written down", written_words(question, record))
    if written_after_start(question, record):
        writer.across(LATE)
    _changes(writer, record)


def _comparisons(question: Question, record: BoardRecord) -> str:
    found = comparisons_of(question, record)
    if not found:
        return "nothing: one side or the other has no coupon on the board"
    lines = [
        f"{short(each.a, 60)} with {short(each.b, 60)} ({len(each.coupons_a)} and {len(each.coupons_b)} coupons)"
        for each in found[:_COMPARISONS_SHOWN]
    ]
    left = len(found) - len(lines)
    return "\n".join([*lines, f"and {left} more"] if left else lines)


def _changes(writer: _Writer, record: BoardRecord) -> None:
    questions = [record.questions[key] for key in sorted(record.questions)]
    if len(questions) < 2:
        return
    writer.heading("Changes of the question")
    writer.fact("First written", written_words(questions[0], record))
    for before, after in pairwise(questions):
        writer.fact("Changed", f"{written_words(after, record)}: {question_changes(before, after)}")


# ---- the inspections


def _calendar(writer: _Writer, record: BoardRecord, generated: datetime) -> None:
    if not record.calendar.days:
        return
    started = record.day_zero()
    looks = planned_looks(record.calendar, started, (each.at for each in record.inspections.values()))
    done = sum(each.done is not None for each in looks)
    writer.heading("Planned inspections")
    writer.across(
        f"Planned looks done: {done} of {len(looks)}. Inspections in all: {len(record.inspections)}. {COUNTS_FOR}",
        QUIET,
    )
    heads = ((1, 1, "Day", COLUMN_HEAD), (2, 2, "Planned for", COLUMN_HEAD), (3, 5, "Done", COLUMN_HEAD))
    writer.cells([*heads, (_LAST, _LAST, "Mark", COLUMN_HEAD)], 20)
    for look in looks:
        due: Value = look.due if look.due is not None else "no start noted"
        writer.cells(
            [
                (1, 1, look.day, CELL_DAY),
                (2, 2, due, CELL_WHEN),
                (3, 5, look.done, CELL_WHEN),
                (_LAST, _LAST, _look_mark(look, started, generated), CELL_MARK),
            ]
        )


def _look_mark(look: PlannedLook, started: datetime | None, generated: datetime) -> str:
    if look.due is None or started is None:
        return ""
    if look.done is None:
        return "to come" if look.due > generated else "not done"
    late = day_number(started, look.done) - look.day
    if late == 0:
        return "on the day"
    return f"{counted(abs(late), 'day')} {'late' if late > 0 else 'early'}"


# ---- the layout


def _layout(writer: _Writer, record: BoardRecord) -> None:
    if not record.layouts and not record.lots:
        return
    layout, breaks = record.layout, breaks_of(record)
    drawn = drawn_positions(record)
    writer.heading("Layout")
    writer.fact("Positions", method_words(layout))
    writer.fact("Lots", lots_words(record))
    if drawn:
        writer.fact("Since then", _moves(record))
    writer.fact("Care against drips", care_words(layout))
    writer.fact("Drip rule", drip_words(record, breaks))
    if layout.coupon_width_mm and layout.coupon_height_mm:
        writer.fact("Size of a coupon", f"{layout.coupon_width_mm:g} × {layout.coupon_height_mm:g} mm")
    _coupons(writer, record, drawn, breaks)


def _moves(record: BoardRecord) -> str:
    moved = len(moved_since_drawn(record))
    if not moved:
        return "every coupon hangs where the lots put it"
    return f"{moved} of {counted(len(record.lots), 'coupon')} hang elsewhere than drawn; they are marked below"


def _coupons(writer: _Writer, record: BoardRecord, drawn: dict[int, Position], breaks: Sequence[DrainBreak]) -> None:
    if not record.coupons:
        return
    writer.row += 1
    writer.cells([(column, column, head, COLUMN_HEAD) for column, head in enumerate(_COUPON_HEADS, start=1)], 20)
    moved = {key for key, _, _ in moved_since_drawn(record)}
    below = {each.above: record.coupons[each.below] for each in breaks}
    for coupon in record.coupons_in_order():
        treatment = record.treatment_of(coupon)
        title = "none noted" if treatment is None else treatment_title(treatment)
        put_at = drawn[coupon.key].label if coupon.key in drawn else "–"
        mark = "; ".join(_marks(coupon, drawn, moved, below))
        texts = (coupon.id, title, coupon.role, put_at, place_words(coupon), mark)
        widths: list[tuple[Value, float]] = [(text, _WIDTHS[column]) for column, text in enumerate(texts, start=1)]
        cells = [(column, column, text, CELL) for column, text in enumerate(texts[:-1], start=1)]
        writer.cells([*cells, (_LAST, _LAST, mark, CELL_MARK)], row_height(widths, most_lines=4))


def _marks(coupon: Coupon, drawn: dict[int, Position], moved: Set[int], below: dict[int, Coupon]) -> Iterator[str]:
    if coupon.key in moved:
        yield "moved"
    elif drawn and coupon.key not in drawn:
        yield "added after the lots"
    if coupon.key in below:
        yield f"drips on {short(below[coupon.key].id, 24)} ({place_words(below[coupon.key])})"
