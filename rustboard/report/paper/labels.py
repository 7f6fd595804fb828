"""Labels for coupons: position, id and a code to scan, in a grid to be cut apart."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from rustboard.board.model import Coupon
from rustboard.board.record import BoardRecord
from rustboard.report.paper import sentences
from rustboard.report.paper.choice import PaperChoice
from rustboard.report.paper.coupon_drawing import stacked
from rustboard.report.paper.label_code import label_text
from rustboard.report.paper.paper_sizes import Paper
from rustboard.report.paper.shapes import PALE, Area, Code, Line, Shape, Words
from rustboard.report.paper.sheet import Sheet, dealt, room
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

_RIM_MM: Final = 1.0
_MOST_WORDS_MM: Final = 3.4
_WIDEST_CODE: Final = 0.55
"""Of a label's width."""

_CUT_MM: Final = 3.0
"""Cut lines reach this far beyond the labels."""


class _Grid(NamedTuple):
    """How labels lie on a page."""

    paper: Paper
    columns: int
    rows: int
    left: float
    top: float


def label_sheets(record: BoardRecord, choice: PaperChoice) -> list[Sheet]:
    """Return pages of labels for all coupons, those off the board last.

    Raises:
        InputError: not even one label fits on the paper.
    """
    grid = _best_grid(choice)
    coupons = record.coupons_in_order()
    pages = dealt(coupons, grid.columns * grid.rows) or [[]]
    return [_sheet(record, page, grid, choice) for page in pages]


def _best_grid(choice: PaperChoice) -> _Grid:
    grids = [_grid(paper, choice) for paper in (choice.paper, choice.paper.turned())]
    best = max(grids, key=lambda grid: grid.columns * grid.rows)
    if best.columns * best.rows == 0:
        raise InputError(
            sentences.label_does_not_fit(choice.label_width_mm, choice.label_height_mm, choice.paper.name)
        )
    return best


def _grid(paper: Paper, choice: PaperChoice) -> _Grid:
    inside = room(paper, true_scale=True).shrunk(_CUT_MM)
    columns, rows = int(inside.width // choice.label_width_mm), int(inside.height // choice.label_height_mm)
    spare = inside.width - columns * choice.label_width_mm
    return _Grid(paper, columns, rows, inside.left + spare / 2, inside.top)


def _sheet(record: BoardRecord, coupons: Sequence[Coupon], grid: _Grid, choice: PaperChoice) -> Sheet:
    wide, high = choice.label_width_mm, choice.label_height_mm
    shapes = _cut_lines(grid, len(coupons), wide, high)
    for number, coupon in enumerate(coupons):
        row, column = divmod(number, grid.columns)
        area = Area(grid.left + column * wide, grid.top + row * high, wide, high)
        shapes += _label(record, coupon, area, named=choice.label_treatments)
    if not coupons:
        inside = room(grid.paper, true_scale=True)
        shapes.append(Words(sentences.NO_COUPONS, inside._replace(height=10.0), 4.0))
    return Sheet(grid.paper, sentences.LABELS, tuple(shapes), true_scale=True)


def _cut_lines(grid: _Grid, count: int, wide: float, high: float) -> list[Shape]:
    """Return lines along all labels of a page, a little beyond them, so that a knife finds its way."""
    if not count:
        return []
    columns, rows = min(count, grid.columns), -(-count // grid.columns)
    right, bottom = grid.left + columns * wide, grid.top + rows * high
    shapes: list[Shape] = []
    for column in range(columns + 1):
        x = grid.left + column * wide
        shapes.append(Line(x, grid.top - _CUT_MM, x, bottom + _CUT_MM, 0.1, PALE, dashed=True))
    for row in range(rows + 1):
        y = grid.top + row * high
        shapes.append(Line(grid.left - _CUT_MM, y, right + _CUT_MM, y, 0.1, PALE, dashed=True))
    return shapes


def _label(record: BoardRecord, coupon: Coupon, area: Area, *, named: bool) -> list[Shape]:
    side = min(area.height - 0.6, area.width * _WIDEST_CODE)
    square = Area(area.left + 0.3, area.top + (area.height - side) / 2, side, side)
    code = Code(square, label_text(record.board.name, coupon.id))
    left = square.right
    words = Area(left, area.top + _RIM_MM, area.right - _RIM_MM - left, area.height - 2 * _RIM_MM)
    treatment = record.treatment_of(coupon) if named else None
    lines = [(one_line(coupon.id), 2.0, True)]
    if coupon.position is not None:
        lines.append((coupon.position.label, 1.6, True))
    names = (treatment.title if treatment else "", record.board.name)
    lines += [(one_line(each), 1.0, False) for each in names if each]
    return [code, *stacked(lines, words, _MOST_WORDS_MM, side="left", halfway=True)]
