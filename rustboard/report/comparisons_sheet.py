"""The comparisons of treatments, and finish by protectant where treatments form a grid."""

from __future__ import annotations

from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.across import put_heading
from rustboard.report.cells import Value, put, short
from rustboard.report.findings_content import FindingsContent, GridContent
from rustboard.report.findings_looks import (
    LAST,
    LAST_LETTER,
    NAME_LIMIT,
    P_OR_MORE,
    SIGNED,
    P,
    across,
    begin,
    columns,
)
from rustboard.report.page_setup import PageStyle
from rustboard.report.styles import COLUMN_HEAD, COLUMN_HEAD_CENTRED, PLAIN, QUIET, TABLE_AMOUNT
from rustboard.report.tables import write_table_at

SHEET: Final = "Comparisons"
FIRST_ANSWER: Final = "The exact tests had not been worked out when this was written; the standing may change."

_MOST_COMPARED: Final = 2_000
COMPARED: Final = columns(
    ("First", PLAIN),
    ("Second", PLAIN),
    ("First less second", SIGNED),
    ("95 % from", SIGNED),
    ("to", SIGNED),
    ("p by the model", P),
    ("p, exact test", P),
    ("Smallest p possible", P),
    ("p, all together", P),
    ("Standing", PLAIN),
)
_FAMILY: Final = 9
EFFECTS: Final = columns(
    ("Difference", PLAIN), ("Kind", PLAIN), ("In the mean", SIGNED), ("95 % from", SIGNED), ("to", SIGNED), ("p", P)
)
_COMPARED_WORDS: Final = (
    "In {0}; above 0, the first was better. The 95 % limits hold for all comparisons together, by a model of means "
    "with the rows of the board as blocks. The exact test asks in how many of the ways in which the lots could have "
    "fallen the difference would be as large; the smallest p possible is what this board could show at best; all "
    "together: after closed testing, so that the chance of any false difference among them stays within it. An empty "
    "cell: this cannot be had here, or was not worked out."
)
_EFFECT_WORDS: Final = (
    "Alone: one level less another, over the levels of the other that both were tried with. Together: how much the "
    "difference between two protectants depends on the finish. Limits and p hold for all of a kind together."
)


def has_comparisons(content: FindingsContent | None) -> bool:
    """Return whether the sheet would say anything."""
    return content is not None and bool(content.compared or content.grid)


def write_comparisons(sheet: Worksheet, content: FindingsContent, page: PageStyle) -> None:
    """Write the sheet."""
    row = begin(sheet, "Comparisons", page)
    if not content.complete:
        row = across(sheet, row, FIRST_ANSWER, QUIET)
    row = _compared(sheet, row, content)
    if content.grid is not None:
        row = _grid(sheet, row, content.grid)
        row = _effects(sheet, row, content.grid)
    sheet.print_area = f"A1:{LAST_LETTER}{row}"


def _compared(sheet: Worksheet, row: int, content: FindingsContent) -> int:
    if not content.compared:
        return row
    row = put_heading(sheet, row, "Which did better than which")
    lines = content.compared[:_MOST_COMPARED]
    first = row + 1
    rows: list[tuple[Value, ...]] = [
        (short(each.a, NAME_LIMIT), short(each.b, NAME_LIMIT), *each[2:9], each.standing) for each in lines
    ]
    row = write_table_at(sheet, row, "FindingsCompared", COMPARED, rows)
    for at, each in enumerate(lines, start=first):
        if each.at_least and each.p_family is not None:
            put(sheet, at, _FAMILY, each.p_family, P_OR_MORE)
    more = len(content.compared) - len(lines)
    if more:
        row = across(sheet, row, f"And {more} more.", QUIET)
    return across(sheet, row, _COMPARED_WORDS.format(content.measure), QUIET)


def _grid(sheet: Worksheet, row: int, grid: GridContent) -> int:
    row = put_heading(sheet, row, "Finish by protectant: means")
    across_the_page = grid.protectants[: LAST - 1]
    put(sheet, row, 1, "Finish", COLUMN_HEAD)
    for column, each in enumerate(across_the_page, start=2):
        put(sheet, row, column, short(each, NAME_LIMIT), COLUMN_HEAD_CENTRED)
    sheet.row_dimensions[row].height = 44
    means = {(each.finish, each.protectant): each for each in grid.cells}
    for finish in grid.finishes:
        row += 1
        cells = [means.get((finish, each)) for each in across_the_page]
        put(sheet, row, 1, short(finish, NAME_LIMIT), PLAIN)
        for column, cell in enumerate(cells, start=2):
            put(sheet, row, column, "not tried" if cell is None or cell.mean is None else cell.mean, TABLE_AMOUNT)
    hidden = len(grid.protectants) - len(across_the_page)
    return across(sheet, row + 1, f"And {hidden} more protectants.", QUIET) if hidden > 0 else row + 1


def _effects(sheet: Worksheet, row: int, grid: GridContent) -> int:
    if grid.words:
        row = put_heading(sheet, row, "What finish and protectant do")
        for each in grid.words:
            row = across(sheet, row, each)
    if not grid.effects:
        return row
    row = put_heading(sheet, row, "Finish and protectant, alone and together")
    rows: list[tuple[Value, ...]] = [
        (short(each.name, NAME_LIMIT), "together" if each.together else "alone", *each[2:])
        for each in grid.effects[:_MOST_COMPARED]
    ]
    row = write_table_at(sheet, row, "FinishAndProtectant", EFFECTS, rows)
    return across(sheet, row, _EFFECT_WORDS, QUIET)
