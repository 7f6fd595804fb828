"""The board as one sees it facing it: each coupon where it hangs, with its newest grade."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.grade import GRADES, written
from rustboard.board.model import Axis, Coupon, Inspection
from rustboard.board.position import Position, row_letters
from rustboard.board.record import BoardRecord
from rustboard.board.zones import zones
from rustboard.report.cells import lines_of, put, set_widths
from rustboard.report.last_grades import last_graded
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import (
    BLOCK_GRADE,
    BLOCK_ID,
    BLOCK_NOTE,
    BLOCK_TREATMENT,
    BLOCK_UNGRADED,
    EMPTY_BOTTOM,
    EMPTY_MIDDLE,
    EMPTY_TOP,
    GRID_HEAD,
    HEADING,
    LEGEND_GRADE,
    LEGEND_LIMIT,
    QUIET_UNWRAPPED,
    ROW_ZONE,
    SHEET_TITLE,
    UNWRAPPED,
    ZONE,
    from_the_top,
    graded,
)
from rustboard.scales.rust_grade import percent_text

ZONE_ROW: Final = 4
NUMBER_ROW: Final = 5
FIRST_ROW: Final = 6
ZONE_COLUMN: Final = 1
LETTER_COLUMN: Final = 2
FIRST_COLUMN: Final = 3
BLOCK_ROWS: Final = 4
COLUMN_WIDTH: Final = 18
COLUMNS_ON_A_PAGE: Final = 12
ROWS_ON_A_PAGE: Final = 6
LEGEND_ROWS: Final = 6
"""Grades 10 to 5 stand above each other, 4 to 0 beside them."""

_BLOCK_POINTS: Final = (29, 26, 29, 13)
_EMPTY_LOOKS: Final = (EMPTY_TOP, EMPTY_MIDDLE, EMPTY_MIDDLE, EMPTY_BOTTOM)

NO_GRADES: Final = "No coupon has been graded yet."


def write_board_map(sheet: Worksheet, record: BoardRecord, page: PageStyle) -> None:
    """Write the map, the coupons that hang nowhere, and the legend of the grades."""
    board = record.board
    sheet.sheet_view.showGridLines = False
    last = last_graded(record)

    put(sheet, 1, 1, "Board map", SHEET_TITLE)
    put(sheet, 2, 1, _subtitle(last), QUIET_UNWRAPPED)
    _axes(sheet, record)
    placed = {each.position: each for each in record.coupons.values() if each.position is not None}
    for row in range(board.rows):
        for column in range(board.columns):
            coupon = placed.get(Position(row, column))
            at = FIRST_ROW + row * BLOCK_ROWS
            if coupon is None:
                for number, look in enumerate(_EMPTY_LOOKS):
                    put(sheet, at + number, FIRST_COLUMN + column, None, look)
            else:
                _block(sheet, at, FIRST_COLUMN + column, record, coupon, last)
    after = _off_the_board(sheet, record, FIRST_ROW + board.rows * BLOCK_ROWS + 1)
    _legend(sheet, after + 1)
    sheet.freeze_panes = sheet.cell(FIRST_ROW, FIRST_COLUMN).coordinate
    wide = -(-max(board.columns, 1) // COLUMNS_ON_A_PAGE)
    high = -(-max(board.rows, 1) // ROWS_ON_A_PAGE)
    set_page(
        sheet,
        page,
        landscape=True,
        pages_wide=wide,
        pages_high=high,
        repeat_rows=f"{ZONE_ROW}:{NUMBER_ROW}" if high > 1 else None,
        repeat_columns="A:B" if wide > 1 else None,
    )


def _subtitle(last: Inspection | None) -> str:
    facing = "As seen facing the board; A1 is top left."
    if last is None:
        return f"{facing} {NO_GRADES}"
    return (
        f"{facing} Newest grade of each coupon until {last.at:%Y-%m-%d %H:%M}; a grade from before carries its date."
    )


def _axes(sheet: Worksheet, record: BoardRecord) -> None:
    board = record.board
    columns = [record.axis_label("column", each) for each in range(board.columns)]
    rows = [record.axis_label("row", each) for each in range(board.rows)]
    widths = {ZONE_COLUMN: 9.0 if any(rows) else 2.0, LETTER_COLUMN: 5.0}
    set_widths(sheet, widths | {FIRST_COLUMN + each: COLUMN_WIDTH for each in range(board.columns)})
    sheet.row_dimensions[ZONE_ROW].height = 32 if any(columns) else 6
    sheet.row_dimensions[NUMBER_ROW].height = 20
    for column in range(board.columns):
        put(sheet, NUMBER_ROW, FIRST_COLUMN + column, column + 1, GRID_HEAD)
    for row in range(board.rows):
        top = FIRST_ROW + row * BLOCK_ROWS
        for number, points in enumerate(_BLOCK_POINTS):
            sheet.row_dimensions[top + number].height = points
        sheet.merge_cells(
            start_row=top, end_row=top + BLOCK_ROWS - 1, start_column=LETTER_COLUMN, end_column=LETTER_COLUMN
        )
        put(sheet, top, LETTER_COLUMN, row_letters(row), GRID_HEAD)
    _zones(sheet, "column", columns)
    _zones(sheet, "row", rows)


def _zones(sheet: Worksheet, axis: Axis, labels: Sequence[str]) -> None:
    for first, last, label in zones(labels):
        if axis == "column":
            top = bottom = ZONE_ROW
            left, right = FIRST_COLUMN + first, FIRST_COLUMN + last
        else:
            top, bottom = FIRST_ROW + first * BLOCK_ROWS, FIRST_ROW + (last + 1) * BLOCK_ROWS - 1
            left = right = ZONE_COLUMN
        put(sheet, top, left, label, ZONE if axis == "column" else ROW_ZONE)
        if (top, left) != (bottom, right):  # after the value, because merging draws its border around the whole
            sheet.merge_cells(start_row=top, end_row=bottom, start_column=left, end_column=right)


def _block(
    sheet: Worksheet, row: int, column: int, record: BoardRecord, coupon: Coupon, last: Inspection | None
) -> None:
    treatment = record.treatment_of(coupon)
    title = "no treatment noted" if treatment is None else treatment.title
    put(sheet, row, column, coupon.id, from_the_top(BLOCK_ID) if _is_long(coupon.id) else BLOCK_ID)
    put(sheet, row + 1, column, title, from_the_top(BLOCK_TREATMENT) if _is_long(title) else BLOCK_TREATMENT)
    put_grade(sheet, row + 2, column, record, coupon)
    put(sheet, row + 3, column, _remark(record, coupon, last), BLOCK_NOTE)


def _is_long(text: str) -> bool:
    """Return whether a text fills more than the two lines that its row has room for."""
    return lines_of(text, COLUMN_WIDTH) > 2


def put_grade(sheet: Worksheet, row: int, column: int, record: BoardRecord, coupon: Coupon) -> None:
    """Write a coupon's newest grade as the trade writes it, on its colour."""
    grading = record.latest(coupon.key)
    if grading is None:
        put(sheet, row, column, "not graded", BLOCK_UNGRADED)
    else:
        put(sheet, row, column, written(grading.grade, grading.distribution), graded(BLOCK_GRADE, grading.grade))


def _remark(record: BoardRecord, coupon: Coupon, last: Inspection | None) -> str:
    """Say whether a coupon is a control, and when it was graded if that was before the last graded inspection."""
    said = ["control"] if coupon.role == "control" else []
    grading = record.latest(coupon.key)
    if grading is not None and last is not None and grading.inspection != last.key:
        said.append(f"{record.inspections[grading.inspection].at:%Y-%m-%d}")
    return ", ".join(said)


def _off_the_board(sheet: Worksheet, record: BoardRecord, row: int) -> int:
    """List the coupons that hang nowhere on the grid and return the row after them."""
    board = record.board
    off = [each for each in record.coupons_in_order() if each.position is None or not board.has(each.position)]
    if not off:
        return row
    put(sheet, row, LETTER_COLUMN, "Off the board", HEADING)
    for coupon in off:
        row += 1
        sheet.row_dimensions[row].height = 30
        treatment = record.treatment_of(coupon)
        put(sheet, row, FIRST_COLUMN, coupon.id, BLOCK_ID)
        put_grade(sheet, row, FIRST_COLUMN + 1, record, coupon)
        put(sheet, row, FIRST_COLUMN + 2, "no treatment noted" if treatment is None else treatment.title, UNWRAPPED)
    return row + 1


def _legend(sheet: Worksheet, row: int) -> None:
    put(sheet, row, LETTER_COLUMN, "Grades, and the share of the significant surface that is rusted", HEADING)
    sheet.row_dimensions[row].height = 22
    grades = list(reversed(GRADES))
    for number, grade in enumerate(grades):
        block, down = divmod(number, LEGEND_ROWS)
        column = LETTER_COLUMN + 2 * block
        put(sheet, row + 1 + down, column, grade, graded(LEGEND_GRADE, grade))
        put(sheet, row + 1 + down, column + 1, percent_text(grade), LEGEND_LIMIT)
        sheet.row_dimensions[row + 1 + down].height = 15.5
    put(
        sheet,
        row + 1 + LEGEND_ROWS,
        LETTER_COLUMN,
        "Read the digit; the colour is only a second cue. Letters: S spot, G general, P pinpoint, H hybrid.",
        QUIET_UNWRAPPED,
    )
