"""What pages are made of: headings, texts, tables and pictures in order, as plain values for the template."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import Any, Final, Literal, NamedTuple

from rustboard.board.grade import GRADES
from rustboard.report.choice import ReportPicture, Writing
from rustboard.report.drawings.svg import Drawing
from rustboard.report.pages.setting import told
from rustboard.scales.grade_colours import GRADE_COLOURS, ink_on

Side = Literal["left", "right", "center"]
Cell = str | dict[str, str]
Block = dict[str, Any]

NAME_LIMIT: Final = 90
_MOST_WHOLE: Final = 12
"""Rows of a table that is kept on one page."""
_GUTTER: Final = 12.0
"""Points between photos side by side, as the template has it."""
TEXT_LIMIT: Final = 2_000


class Head(NamedTuple):
    """A column of a table: its heading, its share of the width (0 = as wide as its content), and its side."""

    head: str
    width: float = 0.0
    side: Side = "left"


class Book:
    """Blocks in order, with the pictures that they name.

    Attributes:
        blocks: for the template. pictures: by name. writing: of numbers and dates. width: of a text line in points.
    """

    def __init__(self, writing: Writing, width: float) -> None:
        """Begin empty."""
        self.blocks: list[Block] = []
        self.pictures: dict[str, bytes] = {}
        self.writing = writing
        self.width = width

    def part(self, text: str) -> None:
        """Begin a part of the report; it is among the contents."""
        self._add("part", text=told(text))

    def heading(self, text: str, *, listed: bool = True) -> None:
        """Begin a section; where it is not ``listed`` the contents leave it out, as one of very many."""
        self._add("heading", text=named(text), listed=listed)

    def cover_heading(self, text: str) -> None:
        """Begin a section on the cover; it is not among the contents."""
        self._add("cover heading", text=named(text))

    def text(self, text: str) -> None:
        """Add a paragraph."""
        self._add("text", text=prose(text))

    def lead(self, text: str) -> None:
        """Add a paragraph that stays on the page of what it leads to."""
        self._add("lead", text=prose(text))

    def quiet(self, text: str) -> None:
        """Add a paragraph that explains."""
        self._add("quiet", text=prose(text))

    def told(self, sentences: Iterable[str]) -> None:
        """Add what matters most, set apart."""
        items = [prose(each) for each in sentences]
        if items:
            self._add("told", items=items)

    def list(self, sentences: Iterable[str]) -> None:
        """Add sentences, one below the other."""
        items = [prose(each) for each in sentences]
        if items:
            self._add("list", items=items)

    def facts(self, pairs: Iterable[tuple[str, str]], *, label_mm: float = 31) -> None:
        """Add labels with their values."""
        found = [(told(label), prose(value)) for label, value in pairs]
        if found:
            self._add("facts", pairs=found, label=label_mm)

    def table(
        self, heads: Sequence[Head], rows: Iterable[Sequence[Cell]], *, size: float = 8.5, whole: bool = True
    ) -> None:
        """Add a table; texts in it are shortened by whoever gives them. A short one stays whole, where wanted."""
        found = [[each if isinstance(each, dict) else told(each) for each in row] for row in rows]
        if found:
            columns = [{"head": each.head, "width": each.width, "side": each.side} for each in heads]
            self._add("table", columns=columns, rows=found, size=size, whole=whole and len(found) <= _MOST_WHOLE)

    def drawing(self, drawing: Drawing, caption: str = "") -> None:
        """Add a drawing, as wide as it is drawn, at most as wide as the text."""
        name = f"drawing-{len(self.pictures)}.svg"
        self.pictures[name] = drawing.svg
        width = min(drawing.width, self.width)
        self._add("figure", file=name, alt=drawing.words or drawing.title, caption=prose(caption), width=width)

    def picture(self, picture: ReportPicture, *, most_height: float) -> None:
        """Add a photo in its own shape, as wide as the text or so high."""
        scale = min(self.width / max(1, picture.width_px), most_height / max(1, picture.height_px))
        shown = self._photo(picture)
        self._add("figure", width=picture.width_px * scale, **shown)

    def gallery(self, pictures: Sequence[ReportPicture], *, across: int = 2, height: float = 170.0) -> None:
        """Add photos side by side, each in its own shape and at most so high."""
        if pictures:
            wide = (self.width - _GUTTER * (across - 1)) / across
            height = min(height, max(wide * each.height_px / max(1, each.width_px) for each in pictures))
            self._add("gallery", pictures=[self._photo(each) for each in pictures], across=across, height=height)

    def page(self) -> None:
        """Begin a new page."""
        self._add("page")

    def _photo(self, picture: ReportPicture) -> dict[str, str]:
        ending = "png" if picture.image.startswith(b"\x89PNG") else "jpg"
        name = f"picture-{len(self.pictures)}.{ending}"
        self.pictures[name] = picture.image
        words = picture.description or picture.caption or "Photo of the board"
        return {"file": name, "alt": told(words), "caption": prose(picture.caption)}

    def _add(self, kind: str, **values: Any) -> None:
        self.blocks.append({"kind": kind, **values})

    def number(self, value: float | None, places: int = 1) -> str:
        """Return a number; a dash where there is none."""
        return "–" if value is None or not math.isfinite(value) else self.writing.number(value, places)

    def signed(self, value: float | None, places: int = 2) -> str:
        """Return a difference with its sign."""
        shown = self.number(value, places)
        return f"+{shown}" if value is not None and value > 0 and shown[0].isdigit() else shown

    def when(self, value: datetime | date | str) -> str:
        """Return a time, or the text that stands for one."""
        if isinstance(value, datetime):
            return self.writing.moment(value)
        return self.writing.day(value) if isinstance(value, date) else named(value)


def graded_cell(grade: int | None) -> Cell:
    """Return a cell with a grade as a digit on its colour."""
    if grade is None or grade not in GRADES:
        return "–"
    colour = GRADE_COLOURS[grade]
    return {"text": str(grade), "fill": colour, "ink": ink_on(colour)}


def named(text: str, limit: int = NAME_LIMIT) -> str:
    """Return a name on one line, not longer than a page can bear."""
    line = " ".join(told(text, lines=False).split())
    return line if len(line) <= limit else f"{line[: limit - 1].rstrip()}…"


def prose(text: str, limit: int = TEXT_LIMIT) -> str:
    """Return a text with its lines, not longer than a page can bear."""
    shown = told(text).strip()
    return shown if len(shown) <= limit else f"{shown[: limit - 1].rstrip()}…"
