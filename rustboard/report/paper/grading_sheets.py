"""Blank sheets to grade on at the board: one row a coupon, without its treatment."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from rustboard.board.model import Coupon
from rustboard.board.record import BoardRecord
from rustboard.report.paper import sentences
from rustboard.report.paper.choice import PaperChoice
from rustboard.report.paper.paper_sizes import Paper
from rustboard.report.paper.shapes import FAINT, PALE, Area, Box, Line, Shape, Words
from rustboard.report.paper.sheet import Sheet, dealt, room
from rustboard.scales.rust_grade import UPPER_LIMITS
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

ROW_MM: Final = 9.0
LEAST_ROW_MM: Final = 8.0
"""Of rows that are made lower, but only when that saves a page."""

_HEAD_LINE_MM: Final = 8.0
_HEAD_LINES: Final = 4
_NAMES_MM: Final = 6.0
_GUIDE_MM: Final = 20.0
_TITLE_MM: Final = 9.0
_BODY_MM: Final = _TITLE_MM + _HEAD_LINES * _HEAD_LINE_MM + 2.0 + _NAMES_MM
"""From the top of a sheet to its first row."""

_POSITION_MM: Final = 15.0
_COUPON_MM: Final = 27.0
_APART_MM: Final = 3.0
_FIELDS: Final = ((sentences.GRADE, 13.0), (sentences.LETTER, 13.0), (sentences.PERCENT, 14.0))
_LEAST_NOTE_MM: Final = 12.0
_ROUNDING: Final = 1e-9


class _Group(NamedTuple):
    """The columns of one inspection.

    Attributes:
        columns: their names, left edges and widths.
    """

    left: float
    width: float
    columns: tuple[tuple[str, float, float], ...]


class _Table(NamedTuple):
    """What the rows of a sheet have in common."""

    groups: list[_Group]
    row_mm: float


def grading_sheets(record: BoardRecord, choice: PaperChoice) -> list[Sheet]:
    """Return blank sheets for the coupons that hang on the board, in reading order.

    Raises:
        InputError: the paper has no room for the columns.
    """
    paper = choice.paper if choice.visits <= 2 else choice.paper.turned()
    inside = room(paper, true_scale=False)
    groups = _groups(inside, choice.visits)
    height = inside.height - _BODY_MM - _GUIDE_MM
    if height < ROW_MM:
        raise InputError(sentences.NO_ROOM_TO_GRADE)
    coupons = [each for each in record.coupons_in_order() if each.position is not None]
    row_mm = _row_height(height, len(coupons))
    pages = dealt(coupons, int(height / row_mm + _ROUNDING)) or [[]]
    return [_sheet(record, page, paper, _Table(groups, row_mm), choice) for page in pages]


def _row_height(height: float, rows: int) -> float:
    """Return the usual height of a row, or the greatest with which so many rows take a page less, if there is one."""
    usual = math.ceil(rows / (height // ROW_MM))
    fewest = math.ceil(rows / (height // LEAST_ROW_MM))
    return ROW_MM if fewest == usual else height / math.ceil(rows / fewest)


def _groups(inside: Area, visits: int) -> list[_Group]:
    left = inside.left + _POSITION_MM + _COUPON_MM
    width = (inside.right - left) / visits - _APART_MM
    return [_group(left + _APART_MM + number * (width + _APART_MM), width) for number in range(visits)]


def _group(left: float, width: float) -> _Group:
    columns = []
    at = left
    for name, wide in _FIELDS:
        columns.append((name, at, wide))
        at += wide
    rest = left + width - at
    if rest < _LEAST_NOTE_MM:
        raise InputError(sentences.NO_ROOM_TO_GRADE)
    columns.append((sentences.NOTE, at, rest))
    return _Group(left, width, tuple(columns))


def _sheet(record: BoardRecord, coupons: Sequence[Coupon], paper: Paper, table: _Table, choice: PaperChoice) -> Sheet:
    inside = room(paper, true_scale=False)
    body_top = inside.top + _BODY_MM
    title = f"{sentences.BOARD}: {one_line(record.board.name)}"
    shapes: list[Shape] = [Words(title, inside._replace(height=_TITLE_MM - 1), 5.0, bold=True)]
    for group in table.groups:
        shapes += _head(group, inside.top + _TITLE_MM)
    shapes += _names(inside.left, table.groups, body_top - _NAMES_MM)
    for number, coupon in enumerate(coupons):
        shapes += _row(
            coupon, Area(inside.left, body_top + number * table.row_mm, inside.width, table.row_mm), table.groups
        )
    if not coupons:
        shapes.append(Words(sentences.NO_COUPONS, Area(inside.left, body_top, inside.width, ROW_MM), 4.0))
    guide = Area(inside.left, inside.bottom - _GUIDE_MM + 2, inside.width, _GUIDE_MM - 2)
    return Sheet(paper, sentences.GRADING_SHEET, tuple(shapes + _guide(guide, choice.decimal_mark)))


def _head(group: _Group, top: float) -> list[Shape]:
    """Return the blanks for one inspection: when, by whom, in which light, on which surface."""
    shapes: list[Shape] = []
    for number, name in enumerate((sentences.DATE_AND_HOUR, sentences.GRADED_BY, sentences.LIGHT)):
        line = Area(group.left, top + number * _HEAD_LINE_MM, group.width, _HEAD_LINE_MM)
        shapes.append(Words(name, Area(line.left, line.bottom - 5, 20.0, 4.6), 3.2, ink=PALE))
        shapes.append(Line(line.left + 21, line.bottom - 0.6, line.right, line.bottom - 0.6, 0.2))
    last = top + (_HEAD_LINES - 1) * _HEAD_LINE_MM
    shapes.append(Words(sentences.SURFACE, Area(group.left, last + 2.6, 20.0, 4.6), 3.2, ink=PALE))
    for number, name in enumerate((sentences.DRY, sentences.WET)):
        left = group.left + 21 + number * 16
        shapes.append(Box(Area(left, last + 2.8, 4.2, 4.2), 0.25))
        shapes.append(Words(name, Area(left + 5.2, last + 2.6, 10.0, 4.6), 3.2))
    return shapes


def _names(left: float, groups: list[_Group], top: float) -> list[Shape]:
    wanted = [(sentences.POSITION, left, _POSITION_MM), (sentences.COUPON, left + _POSITION_MM, _COUPON_MM)]
    for group in groups:
        wanted += group.columns
    return [
        Words(name, Area(at + 0.6, top, wide - 1.2, _NAMES_MM - 0.6), 3.2, bold=True) for name, at, wide in wanted
    ]


def _row(coupon: Coupon, area: Area, groups: list[_Group]) -> list[Shape]:
    assert coupon.position is not None
    id_area = Area(area.left + _POSITION_MM, area.top, _COUPON_MM, area.height).shrunk(0.8)
    shapes: list[Shape] = [
        Line(area.left, area.bottom, area.left + _POSITION_MM + _COUPON_MM, area.bottom, 0.15, FAINT),
        Words(
            coupon.position.label, Area(area.left, area.top, _POSITION_MM, area.height).shrunk(0.8), 4.6, bold=True
        ),
        Words(one_line(coupon.id), id_area, 4.2),
    ]
    for group in groups:
        shapes += [Box(Area(at, area.top, wide, area.height), 0.2, PALE) for _, at, wide in group.columns]
    return shapes


def _guide(area: Area, decimal_mark: str) -> list[Shape]:
    """Return the limits of the grades as a table of two lines."""
    names_mm = 22.0
    wide = (area.width - names_mm) / len(UPPER_LIMITS)
    top = area.top + 5.0
    shapes: list[Shape] = [Words(sentences.GRADE_LIMITS, area._replace(height=4.4), 3.0)]
    for row, name in enumerate((sentences.GRADE, sentences.PERCENT_RUSTED)):
        shapes.append(Words(name, Area(area.left, top + row * 4.4, names_mm - 1, 4.4), 2.8))
    for place, limit in enumerate(UPPER_LIMITS):
        cell = Area(area.left + names_mm + place * wide, top, wide, 4.4)
        last = place == len(UPPER_LIMITS) - 1
        words = sentences.over(UPPER_LIMITS[place - 1]) if last else sentences.up_to(limit, decimal_mark)
        below = cell._replace(top=cell.bottom)
        shapes += [
            Box(cell, 0.15, PALE),
            Box(below, 0.15, PALE),
            Words(str(10 - place), cell.shrunk(0.3), 3.2, side="middle", bold=True),
            Words(words, below.shrunk(0.3), 2.8, side="middle"),
        ]
    return [*shapes, Words(sentences.LETTERS, Area(area.left, top + 9.2, area.width, 4.0), 2.8)]
