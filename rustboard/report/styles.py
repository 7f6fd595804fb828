"""How the workbook looks: fonts, fills, borders and number formats in one place."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Final

from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.styles.differential import DifferentialStyle

from rustboard.scales.grade_colours import GRADE_COLOURS, ink_on

FONT: Final = "Arial"
"""Widths of this face hold everywhere: where it is missing, programs put one of the same widths in its place."""

INK: Final = "101418"
QUIET_INK: Final = "50565C"
HEAD_FILL: Final = "DDE3E9"
EMPTY_FILL: Final = "F3F4F5"
LINE: Final = "9AA3AB"

DATE_TIME: Final = "yyyy-mm-dd hh:mm"

INPUT_FILL: Final = "FFF2C4"
"""Of cells that a customer may change."""

TABLE_STYLE: Final = "TableStyleLight1"
"""Plain bands; the header has a fill of its own, because not every program draws table styles."""

TABLE_HEAD_FILL: Final = "2F4050"

_THIN: Final = Side(style="thin", color=LINE)
_STRONG: Final = Side(style="medium", color=QUIET_INK)


def _font(size: float = 10, *, bold: bool = False, italic: bool = False, colour: str = INK) -> Font:
    return Font(name=FONT, size=size, bold=bold, italic=italic, color=f"FF{colour}")


def _fill(colour: str) -> PatternFill:
    return PatternFill("solid", fgColor=f"FF{colour}", bgColor=f"FF{colour}")


def _placed(horizontal: str = "left", vertical: str = "top", *, wrap: bool = True, turn: int = 0) -> Alignment:
    return Alignment(horizontal=horizontal, vertical=vertical, wrap_text=wrap, text_rotation=turn)


@dataclass(frozen=True)
class Look:
    """How one cell looks."""

    font: Font = field(default_factory=_font)
    fill: PatternFill | None = None
    alignment: Alignment = field(default_factory=_placed)
    border: Border | None = None
    number_format: str = "General"


PLAIN: Final = Look()
UNWRAPPED: Final = Look(alignment=_placed(wrap=False))
QUIET: Final = Look(font=_font(9, colour=QUIET_INK))
QUIET_UNWRAPPED: Final = Look(font=_font(9, colour=QUIET_INK), alignment=_placed(wrap=False))
TITLE: Final = Look(font=_font(20, bold=True), alignment=_placed(vertical="center"))
SHEET_TITLE: Final = Look(font=_font(14, bold=True), alignment=_placed(vertical="center", wrap=False))
HEADING: Final = Look(font=_font(12, bold=True), alignment=_placed(vertical="bottom", wrap=False))
CAPTION: Final = Look(font=_font(10, bold=True), alignment=_placed(vertical="center", wrap=False))
LABEL: Final = Look(font=_font(10, bold=True, colour=QUIET_INK))
WHEN: Final = Look(number_format=DATE_TIME)
WHICH_DAY: Final = Look(number_format="yyyy-mm-dd")
DATA_WHOLE: Final = Look(alignment=_placed("center", wrap=False), number_format="0")
DATA_COARSE: Final = replace(DATA_WHOLE, number_format="0.0")
DATA_FINER: Final = replace(DATA_WHOLE, number_format="0.00##")
DATA_FINE: Final = replace(DATA_WHOLE, number_format="0.0####")
DAYS: Final = Look(number_format="0.0")
WHOLE: Final = Look(number_format="0")

COLUMN_HEAD: Final = Look(
    font=_font(10, bold=True),
    fill=_fill(HEAD_FILL),
    alignment=_placed(vertical="center"),
    border=Border(bottom=_STRONG),
)
COLUMN_HEAD_RIGHT: Final = replace(COLUMN_HEAD, alignment=_placed("right", "center"))
COLUMN_HEAD_CENTRED: Final = replace(COLUMN_HEAD, alignment=_placed("center", "center"))
TABLE_HEAD: Final = Look(
    font=_font(10, bold=True, colour="FFFFFF"), fill=_fill(TABLE_HEAD_FILL), alignment=_placed(vertical="center")
)
TABLE_NUMBER: Final = Look(alignment=_placed("center"), number_format="0")
TABLE_AMOUNT: Final = replace(TABLE_NUMBER, number_format="0.00")
TABLE_PERCENT: Final = replace(TABLE_NUMBER, number_format="0%")
CELL: Final = Look(border=Border(bottom=_THIN))
CELL_NUMBER: Final = Look(alignment=_placed("right"), border=Border(bottom=_THIN), number_format="0")
CELL_WHEN: Final = replace(CELL, number_format=DATE_TIME)
CELL_DAY: Final = replace(CELL, number_format="0")
CELL_MARK: Final = replace(CELL, font=_font(10, bold=True))
CELL_MEAN: Final = replace(CELL_NUMBER, number_format="0.0")
CELL_GRADE: Final = replace(CELL_NUMBER, font=_font(10, bold=True), alignment=_placed("center"))

GRID_HEAD: Final = Look(font=_font(11, bold=True), fill=_fill(HEAD_FILL), alignment=_placed("center", "center"))
ZONE: Final = Look(
    font=_font(10, bold=True),
    fill=_fill(EMPTY_FILL),
    alignment=_placed("center", "center"),
    border=Border(left=_STRONG, right=_STRONG, top=_STRONG, bottom=_STRONG),
)
ROW_ZONE: Final = replace(ZONE, alignment=_placed("center", "center", turn=90))

BLOCK_ID: Final = Look(
    font=_font(11, bold=True),
    alignment=_placed("center", "center"),
    border=Border(left=_STRONG, right=_STRONG, top=_STRONG),
)
BLOCK_TREATMENT: Final = Look(
    font=_font(9), alignment=_placed("center", "center"), border=Border(left=_STRONG, right=_STRONG)
)
BLOCK_GRADE: Final = Look(
    font=_font(20, bold=True), alignment=_placed("center", "center"), border=Border(left=_STRONG, right=_STRONG)
)
BLOCK_UNGRADED: Final = replace(BLOCK_GRADE, font=_font(9, italic=True, colour=QUIET_INK))
BLOCK_NOTE: Final = Look(
    font=_font(8, colour=QUIET_INK),
    alignment=_placed("center", "center"),
    border=Border(left=_STRONG, right=_STRONG, bottom=_STRONG),
)
EMPTY_TOP: Final = Look(fill=_fill(EMPTY_FILL), border=Border(left=_THIN, right=_THIN, top=_THIN))
EMPTY_MIDDLE: Final = Look(fill=_fill(EMPTY_FILL), border=Border(left=_THIN, right=_THIN))
EMPTY_BOTTOM: Final = Look(fill=_fill(EMPTY_FILL), border=Border(left=_THIN, right=_THIN, bottom=_THIN))
EMPTY_WHOLE: Final = Look(fill=_fill(EMPTY_FILL), border=Border(left=_THIN, right=_THIN, top=_THIN, bottom=_THIN))
BLOCK_PICTURE: Final = Look(
    font=_font(8, italic=True, colour=QUIET_INK),
    alignment=_placed("center", "center"),
    border=Border(left=_STRONG, right=_STRONG, top=_STRONG, bottom=_STRONG),
)


def graded(look: Look, grade: int) -> Look:
    """Return a look on the colour of a grade, in the ink that reads best there."""
    ground = GRADE_COLOURS[grade]
    font = look.font
    ink = Font(name=font.name, size=font.size, bold=font.bold, italic=font.italic, color=f"FF{ink_on(ground)[1:]}")
    return replace(look, font=ink, fill=_fill(ground[1:]))


def from_the_top(look: Look) -> Look:
    """Return a look whose text begins at the top of the cell, so that a long one shows its beginning."""
    return replace(look, alignment=_placed(look.alignment.horizontal or "left"))


LEGEND_GRADE: Final = Look(font=_font(11, bold=True), alignment=_placed("center", "center"))
LEGEND_LIMIT: Final = Look(alignment=Alignment(horizontal="left", vertical="center", indent=1))
INPUT: Final = Look(
    font=_font(11, bold=True),
    fill=_fill(INPUT_FILL),
    alignment=_placed("center", "center"),
    border=Border(left=_STRONG, right=_STRONG, top=_STRONG, bottom=_STRONG),
    number_format="0",
)
TABLE_INPUT: Final = Look(fill=_fill(INPUT_FILL), alignment=_placed("center"), border=Border(bottom=_THIN))
LINK: Final = Look(font=Font(name=FONT, size=10, color="FF1F4E9C", underline="single"))
LINK_BACK: Final = Look(
    font=Font(name=FONT, size=9, color="FF1F4E9C", underline="single"), alignment=_placed("right", wrap=False)
)
LINK_AT_EDGE: Final = Look(font=LINK_BACK.font, alignment=_placed("left", wrap=False))


def fills(colour: str) -> DifferentialStyle:
    """Return what a condition does to a cell: a fill, with both colours, because programs read one or the other."""
    return DifferentialStyle(fill=_fill(colour))
