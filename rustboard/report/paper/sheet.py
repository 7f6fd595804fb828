"""The frame of every page: margins, footer, and the bar that proves the scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, TypeVar

from rustboard.report.paper import sentences
from rustboard.report.paper.paper_sizes import Paper
from rustboard.report.paper.shapes import FAINT, PALE, Area, Line, Page, Shape, Words
from rustboard.support.text import one_line

FOOTER_MM: Final = 6.0
SCALE_STRIP_MM: Final = 9.0
SCALE_BAR_MM: Final = 50.0
_TICK_MM: Final = 10.0
_GAP_MM: Final = 2.0

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Sheet:
    """A page that does not know yet how many there are.

    Attributes:
        shapes: all but footer and scale bar; they lie in `room`.
        true_scale: whether a millimetre on it is a millimetre: then it gets a scale bar.
    """

    paper: Paper
    title: str
    shapes: tuple[Shape, ...]
    true_scale: bool = False


def dealt(items: Sequence[T], most: int) -> list[Sequence[T]]:
    """Return the items page by page, at most so many on one."""
    return [items[start : start + most] for start in range(0, len(items), most)]


def room(paper: Paper, *, true_scale: bool) -> Area:
    """Return the part of the paper that a sheet may fill."""
    inside = paper.printable
    taken = FOOTER_MM + _GAP_MM + (SCALE_STRIP_MM if true_scale else 0.0)
    return Area(inside.left, inside.top, inside.width, inside.height - taken)


def finished(sheets: Sequence[Sheet], board_name: str, made_on: str) -> tuple[Page, ...]:
    """Return the pages: every sheet with its footer."""
    total = len(sheets)
    return tuple(
        Page(
            sheet.paper.width_mm,
            sheet.paper.height_mm,
            (*sheet.shapes, *_foot(sheet, board_name, sentences.page_of(number, total, made_on))),
            sheet.title,
        )
        for number, sheet in enumerate(sheets, start=1)
    )


def _foot(sheet: Sheet, board_name: str, right: str) -> list[Shape]:
    inside = sheet.paper.printable
    line = Area(inside.left, inside.bottom - FOOTER_MM, inside.width, FOOTER_MM)
    name, title, number = (
        Area(line.left + start * line.width, line.top + 1, share * line.width, 4.5)
        for start, share in ((0.0, 0.39), (0.4, 0.2), (0.61, 0.39))
    )
    shapes: list[Shape] = [
        Line(line.left, line.top, line.right, line.top, 0.15, FAINT),
        Words(one_line(board_name), name, 3.0, ink=PALE),
        Words(sheet.title, title, 3.0, side="middle", ink=PALE),
        Words(right, number, 3.0, side="right", ink=PALE),
    ]
    if sheet.true_scale:
        top = line.top - SCALE_STRIP_MM
        shapes += scale_bar(inside.left + 0.2, top + 4.0, SCALE_BAR_MM)
        left = inside.left + SCALE_BAR_MM + 4
        caption = Area(left, top, inside.right - left, SCALE_STRIP_MM - 1)
        shapes.append(Words(sentences.must_measure(SCALE_BAR_MM), caption, 3.0))
    return shapes


def scale_bar(left: float, middle: float, length_mm: float) -> list[Shape]:
    """Return a bar to be measured: the outer edges of its end ticks are exactly ``length_mm`` apart."""
    line_mm = 0.3
    shapes: list[Shape] = [Line(left, middle, left + length_mm, middle, line_mm)]
    for number in range(round(length_mm / _TICK_MM) + 1):
        at = left + number * _TICK_MM
        last = number * _TICK_MM == length_mm
        # The end ticks lie inside the length, so that calipers find it.
        at += line_mm / 2 if number == 0 else -line_mm / 2 if last else 0.0
        reach = 2.5 if number == 0 or last else 1.5
        shapes.append(Line(at, middle - reach, at, middle + reach, line_mm))
    return shapes


def upright_scale_bar(left: float, top: float, length_mm: float) -> list[Shape]:
    """Return the same bar standing; ``left`` is its middle line."""
    return [
        Line(left + line.y, top + line.x, left + line.to_y, top + line.to_x, line.line_mm)
        for line in scale_bar(0.0, 0.0, length_mm)
        if isinstance(line, Line)
    ]
