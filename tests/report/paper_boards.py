"""Boards for the tests of what is printed."""

from __future__ import annotations

from dataclasses import replace

from report_boards import BoardBuilder

from rustboard.board.layout import Layout
from rustboard.board.model import Board, Marker
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.report.paper.choice import PaperChoice
from rustboard.report.paper.shapes import Page, Shape, Window, Words

MADE_ON = "2026-03-02"
SECRETS = ("hot beeswax blend", "baked linseed oil")
"""Treatment names that must not be where grading is to be blind; the ids are T1 and T2."""


def paper_board(
    rows: int = 2,
    columns: int = 3,
    pitch_mm: float = 100.0,
    size_mm: tuple[float, float] = (60.0, 80.0),
    name: str = "Harbour wall spring",
    **layout: object,
) -> BoardRecord:
    """A board with an outlined coupon in the middle of every position, two treatments and four markers."""
    made = BoardBuilder(
        Board(name, rows=rows, columns=columns, width_mm=columns * pitch_mm, height_mm=rows * pitch_mm)
    )
    treatments = [made.treatment("T1", name=SECRETS[0]), made.treatment("T2", name=SECRETS[1])]
    wide, high = size_mm
    for number in range(rows * columns):
        row, column = divmod(number, columns)
        left = column * pitch_mm + (pitch_mm - wide) / 2
        top = row * pitch_mm + (pitch_mm - high) / 2
        outline = ((left, top), (left + wide, top), (left + wide, top + high), (left, top + high))
        made.coupon(f"C{number + 1:02}", Position(row, column).label, treatments[number % 2], outline_mm=outline)
    record = made.record
    right, bottom = columns * pitch_mm - 15, rows * pitch_mm - 15
    record.markers = tuple(
        Marker(number, centre, 20.0)
        for number, centre in enumerate(((15.0, 15.0), (right, 15.0), (right, bottom), (15.0, bottom)))
    )
    record.layouts[1] = replace(Layout(key=1), **layout)  # type: ignore[arg-type]
    return record


def choice(*kinds: str, **fields: object) -> PaperChoice:
    """A choice of these kinds of sheets alone."""
    return PaperChoice(kinds=frozenset(kinds), made_on=MADE_ON, **fields)  # type: ignore[arg-type]


def all_words(page: Page) -> list[Words]:
    """Every text of a page."""
    return [each for each in flat(page.shapes) if isinstance(each, Words)]


def texts(page: Page) -> list[str]:
    """What a page says."""
    return [each.text for each in all_words(page)]


def flat(shapes: tuple[Shape, ...]) -> list[Shape]:
    """All shapes, those behind windows too."""
    found: list[Shape] = []
    for each in shapes:
        found += flat(each.shapes) if isinstance(each, Window) else [each]
    return found
