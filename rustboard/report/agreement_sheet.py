"""How the graders agree: sentences first, then the figures behind them and the coupons on which they differ."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final, NamedTuple

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.across import put_across, put_heading
from rustboard.report.cells import Value, put, row_height, set_widths, short
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import (
    CELL,
    CELL_GRADE,
    CELL_NUMBER,
    CELL_WHEN,
    COLUMN_HEAD,
    COLUMN_HEAD_RIGHT,
    PLAIN,
    QUIET,
    SHEET_TITLE,
    Look,
    graded,
)

SHEET: Final = "Agreement"

_WIDTHS: Final = {1: 34, **dict.fromkeys(range(2, 17), 8.5)}
_LAST: Final = max(_WIDTHS)
_WHOLE: Final = sum(_WIDTHS.values())
_MOST_DIFFERING: Final = 2_000
_NAME_LIMIT: Final = 120

_FIGURE_HEADS: Final = (
    "Compared", "Coupons", "Same grade", "Within one", "Kappa, linear", "from", "to", "Kappa, squared", "from", "to",
    "ICC(2,1)", "from", "to", "Milder by", "from", "to",
)  # fmt: skip
_EXPLAINED: Final = (
    "Same grade and within one: counts. Kappa: agreement beyond chance, 1 full, 0 none; linear counts two grades "
    "apart twice, squared four times (Cohen 1968; from, to: 95 % intervals after Fleiss, Cohen and Everitt 1969). "
    "ICC(2,1): share of the differences that comes from the coupons (Shrout and Fleiss 1979; McGraw and Wong 1996). "
    "Milder by: mean of the first named less the second, or of second looks less first ones, in grades (Student's "
    "t). An empty cell: this figure cannot be had, as where all grades are one and the same."
)
_DECIMAL: Final = Look(CELL_NUMBER.font, None, CELL_NUMBER.alignment, CELL_NUMBER.border, "0.00")


class FigureLine(NamedTuple):
    """One comparison: a name, counts, and value, low and high of each figure; None where it cannot be had."""

    compared: str
    coupons: int
    exact: int | None
    within_one: int | None
    figures: tuple[float | None, ...]


class DifferingLine(NamedTuple):
    """One coupon on which graders differ.

    Attributes:
        given: who gave what, in words. photo, by_rule, board: grades. how: the board's grade came about.
    """

    coupon: str
    position: str
    inspected: datetime
    given: str
    photo: int | None
    by_rule: int | None
    board: int | None
    how: str


@dataclass(frozen=True, slots=True)
class AgreementContent:
    """What the sheet says: headings with their sentences, figures, and differing coupons, the widest first."""

    sections: Sequence[tuple[str, Sequence[str]]]
    figures: Sequence[FigureLine]
    differing: Sequence[DifferingLine]


def write_agreement(sheet: Worksheet, content: AgreementContent, page: PageStyle) -> None:
    """Write the sheet."""
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, _WIDTHS)
    set_page(sheet, page, landscape=True)
    put(sheet, 1, 1, "Agreement of the graders", SHEET_TITLE)
    text = "From the blind inspections of this board that were revealed; nobody knew which coupon he graded."
    row = _across(sheet, 2, text, QUIET)
    for heading, sentences in content.sections:
        row = put_heading(sheet, row, heading)
        for each in sentences:
            row = _across(sheet, row, each, PLAIN)
    row = _figures(sheet, put_heading(sheet, row, "Figures"), content.figures)
    row = _across(sheet, row, _EXPLAINED, QUIET)
    row = _differing(sheet, put_heading(sheet, row, "Coupons they differ on"), content.differing)
    sheet.print_area = f"A1:P{row}"


def _across(sheet: Worksheet, row: int, text: str, look: Look) -> int:
    return put_across(sheet, row, text, look, columns=_LAST, width=_WHOLE)


def _figures(sheet: Worksheet, row: int, figures: Sequence[FigureLine]) -> int:
    for column, head in enumerate(_FIGURE_HEADS, start=1):
        put(sheet, row, column, head, COLUMN_HEAD if column == 1 else COLUMN_HEAD_RIGHT)
    sheet.row_dimensions[row].height = 32
    for each in figures:
        row += 1
        name = short(each.compared, _NAME_LIMIT)
        put(sheet, row, 1, name, CELL)
        for column, count in enumerate((each.coupons, each.exact, each.within_one), start=2):
            put(sheet, row, column, count, CELL_NUMBER)
        for column, value in enumerate(each.figures, start=5):
            put(sheet, row, column, value, _DECIMAL)
        sheet.row_dimensions[row].height = row_height([(name, _WIDTHS[1])])
    return row + 1


_SPANS: Final = ((1, 1), (2, 3), (4, 5), (6, 10), (11, 11), (12, 12), (13, 13), (14, 16))
_DIFFERING_HEADS: Final = ("Coupon", "Position", "Inspected", "Given", "Photo", "By the rule", "Board", "How")


def _differing(sheet: Worksheet, row: int, differing: Sequence[DifferingLine]) -> int:
    if not differing:
        return _across(sheet, row, "They differ on none.", PLAIN)
    _spanned(sheet, row, [(head, COLUMN_HEAD) for head in _DIFFERING_HEADS], 20)
    for each in differing[:_MOST_DIFFERING]:
        row += 1
        height = row_height([(each.given, 5 * _WIDTHS[2]), (each.how, 3 * _WIDTHS[2]), (each.coupon, _WIDTHS[1])])
        cells: list[tuple[Value, Look]] = [(short(each.coupon, _NAME_LIMIT), CELL), (each.position, CELL)]
        cells += [(each.inspected, CELL_WHEN), (each.given, CELL)]
        cells += [(grade, CELL if grade is None else graded(CELL_GRADE, grade)) for grade in each[4:7]]
        _spanned(sheet, row, [*cells, (each.how, CELL)], height)
    more = len(differing) - _MOST_DIFFERING
    return row + 1 if more <= 0 else _across(sheet, row + 1, f"And {more} more.", QUIET)


def _spanned(sheet: Worksheet, row: int, cells: Sequence[tuple[Value, Look]], height: float) -> None:
    for (first, last), (value, look) in zip(_SPANS, cells, strict=True):
        for column in range(first, last + 1):
            put(sheet, row, column, value if column == first else None, look)
        if last > first:
            sheet.merge_cells(start_row=row, end_row=row, start_column=first, end_column=last)
    sheet.row_dimensions[row].height = height
