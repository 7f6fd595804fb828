"""The board as one sees it facing it: each coupon where it hangs, with its grade and its picture."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.grade import GRADES, written
from rustboard.board.model import Axis, Coupon, Grading
from rustboard.board.position import Position, row_letters
from rustboard.board.record import BoardRecord
from rustboard.board.zones import zones
from rustboard.report.cells import lines_of, put, set_widths
from rustboard.report.last_grades import last_graded
from rustboard.report.map_views import NEWEST_MAP, MapView
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.placed_pictures import put_picture
from rustboard.report.styles import (
    BLOCK_GRADE,
    BLOCK_ID,
    BLOCK_NOTE,
    BLOCK_PICTURE,
    BLOCK_TREATMENT,
    BLOCK_UNGRADED,
    EMPTY_BOTTOM,
    EMPTY_MIDDLE,
    EMPTY_TOP,
    EMPTY_WHOLE,
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
COLUMN_WIDTH: Final = 18
PICTURED_WIDTH: Final = 14
"""Of the words beside or below a picture."""
COLUMNS_ON_A_PAGE: Final = 12
ROWS_ON_A_PAGE: Final = 6
LEGEND_ROWS: Final = 6
"""Grades 10 to 5 stand above each other, 4 to 0 beside them."""

_BLOCK_POINTS: Final = (29, 26, 29, 13)
_BESIDE_POINTS: Final = (36, 34, 40, 16)
_EMPTY_LOOKS: Final = (EMPTY_TOP, EMPTY_MIDDLE, EMPTY_MIDDLE, EMPTY_BOTTOM)
_POINTS_A_CHARACTER: Final = 5.25
"""Width of a column one character wide, in the font of this workbook (seven of 96 px an inch)."""
_ROUND_PICTURE: Final = 3.0
"""Points left free on each side of a picture."""
_NARROWEST, _WIDEST = 6.0, 24.0
_LOWEST, _HIGHEST = 24.0, 120.0
_LONG_POINTS, _SHORT_POINTS = 680.0, 480.0
"""Of a page of either paper within its margins, for telling which way of laying out comes out largest."""
_CLEARLY: Final = 1.3
_SMALLEST: Final = 0.33
"""Share of full size below which a map is cut over several pages: grades could no longer be read."""
_AXIS_POINTS, _LEGEND_POINTS = 75.0, 190.0


@dataclass(frozen=True, slots=True)
class _Plan:
    """Where things stand on the sheet of a map: a picture is to the left of its block's words, or above them.

    Attributes:
        view: what is shown.
        beside: width of the columns of pictures in characters, 0 = there are none.
        above: height of the rows of pictures in points, 0 = there are none.
        landscape: the page's long side across.
    """

    view: MapView
    beside: float = 0.0
    above: float = 0.0
    landscape: bool = True

    @property
    def step(self) -> int:
        """Columns of the sheet for one of the board."""
        return 2 if self.beside else 1

    @property
    def words_width(self) -> float:
        """Characters across the words of a block."""
        return PICTURED_WIDTH if self.beside or self.above else COLUMN_WIDTH

    @property
    def points(self) -> tuple[float, ...]:
        """Heights of the rows of a block."""
        if self.beside:
            return _BESIDE_POINTS
        return (self.above, *_BLOCK_POINTS) if self.above else _BLOCK_POINTS

    @property
    def rows(self) -> int:
        """Rows of the sheet for one of the board."""
        return len(self.points)

    def row(self, row: int) -> int:
        """Return the first row of the sheet for a row of the board."""
        return FIRST_ROW + row * self.rows

    @property
    def share_of_full_size(self) -> float:
        """How large the whole map is on one page, 1 = at full size."""
        board = self.view.record.board
        wide = board.columns * (self.beside + self.words_width) * _POINTS_A_CHARACTER + _AXIS_POINTS
        high = board.rows * sum(self.points) + _LEGEND_POINTS
        across, down = _LONG_POINTS, _SHORT_POINTS
        return min(across / wide, down / high) if self.landscape else min(down / wide, across / high)

    @property
    def pages(self) -> tuple[int, int]:
        """Over how many pages the map goes, across and down: one for any usual board."""
        if (self.beside or self.above) and self.share_of_full_size >= _SMALLEST:
            return 1, 1
        board = self.view.record.board
        return -(-max(board.columns, 1) // COLUMNS_ON_A_PAGE), -(-max(board.rows, 1) // ROWS_ON_A_PAGE)

    def first(self, column: int) -> int:
        """Return the first column of the sheet for a column of the board."""
        return FIRST_COLUMN + column * self.step

    def words(self, column: int) -> int:
        """Return the column of the sheet that has a block's words."""
        return self.first(column) + self.step - 1


def write_board_map(sheet: Worksheet, record: BoardRecord, page: PageStyle, view: MapView | None = None) -> None:
    """Write the map, the coupons that hang nowhere, and the legend of the grades.

    Args:
        sheet: an empty one.
        record: the board.
        page: how it prints.
        view: what to show; without it the newest grades and no pictures.
    """
    board = record.board
    sheet.sheet_view.showGridLines = False
    plan = _plan(view or MapView(record, NEWEST_MAP, "Board map", last_graded(record)))

    put(sheet, 1, 1, plan.view.title, SHEET_TITLE)
    put(sheet, 2, 1, plan.view.subtitle, QUIET_UNWRAPPED)
    _axes(sheet, plan)
    placed = {each.position: each for each in record.coupons.values() if each.position is not None}
    for row in range(board.rows):
        for column in range(board.columns):
            coupon = placed.get(Position(row, column))
            if coupon is None:
                _empty(sheet, plan.row(row), column, plan)
            else:
                _block(sheet, plan.row(row), column, plan, coupon)
    after = _off_the_board(sheet, plan, plan.row(board.rows) + 1)
    _legend(sheet, after + 1, plan)
    sheet.freeze_panes = sheet.cell(FIRST_ROW, FIRST_COLUMN).coordinate
    wide, high = plan.pages
    set_page(
        sheet,
        page,
        landscape=plan.landscape,
        pages_wide=wide,
        pages_high=high,
        repeat_rows=f"{ZONE_ROW}:{NUMBER_ROW}" if high > 1 else None,
        repeat_columns="A:B" if wide > 1 else None,
    )


def _plan(view: MapView) -> _Plan:
    """Return the way of laying a map out in which its words are the larger on paper."""
    shares = [each.width_px / max(1, each.height_px) for each in view.pictures.values()]
    if not shares:
        return _Plan(view)
    around = 2 * _ROUND_PICTURE
    beside = (max(shares) * (sum(_BESIDE_POINTS) - around) + around) / _POINTS_A_CHARACTER
    above = (PICTURED_WIDTH * _POINTS_A_CHARACTER - around) / min(shares) + around
    ways = [
        way
        for landscape in (True, False)
        for way in (
            _Plan(view, beside=min(_WIDEST, max(_NARROWEST, beside)), landscape=landscape),
            _Plan(view, above=min(_HIGHEST, max(_LOWEST, above)), landscape=landscape),
        )
    ]
    usual = ways[0]  # the pictures largest, the page as a board lies: left only for what is clearly larger
    best = max(ways, key=lambda each: min(1.0, each.share_of_full_size))
    return best if min(1.0, best.share_of_full_size) > _CLEARLY * usual.share_of_full_size else usual


def _axes(sheet: Worksheet, plan: _Plan) -> None:
    record = plan.view.record
    board = record.board
    columns = [record.axis_label("column", each) for each in range(board.columns)]
    rows = [record.axis_label("row", each) for each in range(board.rows)]
    widths = {ZONE_COLUMN: 9.0 if any(rows) else 2.0, LETTER_COLUMN: 5.0}
    if plan.beside:
        widths |= {plan.first(each): plan.beside for each in range(board.columns)}
    set_widths(sheet, widths | {plan.words(each): plan.words_width for each in range(board.columns)})
    sheet.row_dimensions[ZONE_ROW].height = 32 if any(columns) else 6
    sheet.row_dimensions[NUMBER_ROW].height = 20
    for column in range(board.columns):
        put(sheet, NUMBER_ROW, plan.first(column), column + 1, GRID_HEAD)
        _merge(sheet, NUMBER_ROW, plan.first(column), NUMBER_ROW, plan.words(column))
    for row in range(board.rows):
        top = plan.row(row)
        for number, points in enumerate(plan.points):
            sheet.row_dimensions[top + number].height = points
        _merge(sheet, top, LETTER_COLUMN, top + plan.rows - 1, LETTER_COLUMN)
        put(sheet, top, LETTER_COLUMN, row_letters(row), GRID_HEAD)
    _zones(sheet, "column", columns, plan)
    _zones(sheet, "row", rows, plan)


def _merge(sheet: Worksheet, top: int, left: int, bottom: int, right: int) -> None:
    if (top, left) != (bottom, right):
        sheet.merge_cells(start_row=top, end_row=bottom, start_column=left, end_column=right)


def _zones(sheet: Worksheet, axis: Axis, labels: Sequence[str], plan: _Plan) -> None:
    for first, last, label in zones(labels):
        if axis == "column":
            top = bottom = ZONE_ROW
            left, right = plan.first(first), plan.words(last)
        else:
            top, bottom = plan.row(first), plan.row(last + 1) - 1
            left = right = ZONE_COLUMN
        put(sheet, top, left, label, ZONE if axis == "column" else ROW_ZONE)
        _merge(sheet, top, left, bottom, right)  # after the value, because merging draws its border around the whole


def _empty(sheet: Worksheet, row: int, column: int, plan: _Plan) -> None:
    if plan.beside or plan.above:
        put(sheet, row, plan.first(column), None, EMPTY_WHOLE)
        _merge(sheet, row, plan.first(column), row + plan.rows - 1, plan.words(column))
        return
    for number, look in enumerate(_EMPTY_LOOKS):
        put(sheet, row + number, plan.first(column), None, look)


def _block(sheet: Worksheet, row: int, column: int, plan: _Plan, coupon: Coupon) -> None:
    treatment = plan.view.record.treatment_of(coupon)
    title = "no treatment noted" if treatment is None else treatment.title
    words, width = plan.words(column), plan.words_width
    if plan.beside or plan.above:
        _picture(sheet, row, plan.first(column), plan, coupon)
    row += 1 if plan.above else 0
    put(sheet, row, words, coupon.id, from_the_top(BLOCK_ID) if _is_long(coupon.id, width) else BLOCK_ID)
    put(sheet, row + 1, words, title, from_the_top(BLOCK_TREATMENT) if _is_long(title, width) else BLOCK_TREATMENT)
    put_grade(sheet, row + 2, words, plan.view.grading(coupon))
    put(sheet, row + 3, words, _remark(plan.view, coupon), BLOCK_NOTE)


def _picture(sheet: Worksheet, row: int, column: int, plan: _Plan, coupon: Coupon) -> None:
    picture = plan.view.pictures.get(coupon.key)
    put(sheet, row, column, "no picture" if picture is None else None, BLOCK_PICTURE)
    if plan.beside:
        _merge(sheet, row, column, row + plan.rows - 1, column)
    if picture is not None:
        put_picture(
            sheet,
            picture,
            row,
            column,
            width=(plan.beside or plan.words_width) * _POINTS_A_CHARACTER,
            height=plan.above or sum(plan.points),
            room=_ROUND_PICTURE,
            name=f"Picture of {coupon.id}",
        )


def _is_long(text: str, width: float) -> bool:
    """Return whether a text fills more than the two lines that its row has room for."""
    return lines_of(text, width) > 2


def put_grade(sheet: Worksheet, row: int, column: int, grading: Grading | None) -> None:
    """Write a coupon's grade as the trade writes it, on its colour."""
    if grading is None:
        put(sheet, row, column, "not graded", BLOCK_UNGRADED)
    else:
        put(sheet, row, column, written(grading.grade, grading.distribution), graded(BLOCK_GRADE, grading.grade))


def _remark(view: MapView, coupon: Coupon) -> str:
    """Say whether a coupon is a control, and when it was graded if that was before the last graded inspection."""
    said = ["control"] if coupon.role == "control" else []
    grading = view.grading(coupon)
    if grading is not None and view.last is not None and grading.inspection != view.last.key:
        said.append(view.writing.day(view.record.inspections[grading.inspection].at))
    return ", ".join(said)


def _off_the_board(sheet: Worksheet, plan: _Plan, row: int) -> int:
    """List the coupons that hang nowhere on the grid and return the row after them."""
    record = plan.view.record
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
        _merge(sheet, row, FIRST_COLUMN, row, FIRST_COLUMN + plan.step - 1)
        put_grade(sheet, row, FIRST_COLUMN + plan.step, plan.view.grading(coupon))
        put(
            sheet,
            row,
            FIRST_COLUMN + plan.step + 1,
            "no treatment noted" if treatment is None else treatment.title,
            UNWRAPPED,
        )
    return row + 1


def _legend(sheet: Worksheet, row: int, plan: _Plan) -> None:
    put(sheet, row, LETTER_COLUMN, "Grades, and the share of the significant surface that is rusted", HEADING)
    sheet.row_dimensions[row].height = 22
    grades = list(reversed(GRADES))
    for number, grade in enumerate(grades):
        block, down = divmod(number, LEGEND_ROWS)
        column = LETTER_COLUMN + block * (plan.step + 1)
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
