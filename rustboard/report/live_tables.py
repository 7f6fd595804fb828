"""The part of the summary that works itself out again: another failing grade, or without a coupon.

The formulas need no array entry and use nothing that only some programs have; groups are told apart by numbers, so
that no name of a user stands in a formula.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from openpyxl.formatting.rule import Rule
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.grade import GRADES
from rustboard.report.across import put_heading
from rustboard.report.cells import Value, put, short
from rustboard.report.findings_looks import CENTRED, NAME_LIMIT, ONE_DECIMAL, across, columns
from rustboard.report.formulas import Formulas
from rustboard.report.live_figures import LiveBoard, LiveCoupon, LiveFigures, figures_of
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import (
    EMPTY_FILL,
    INPUT,
    LABEL,
    PLAIN,
    QUIET,
    TABLE_AMOUNT,
    TABLE_INPUT,
    TABLE_NUMBER,
    fills,
)
from rustboard.report.tables import Column, write_table, write_table_at

DATA: Final = "Summary data"
NOTHING: Final = "–"
"""Shown where a figure cannot be had."""
NOT_YET: Final = "not yet"
_YES: Final = "yes"
_NO: Final = "no"

_EXPLAINED: Final = (
    "Change a yellow cell and everything in these two tables, and the picture above, is worked out again by your "
    "program: the failing grade (0 to 10), and below whether a coupon counts (yes or no). Means and ranks are of the "
    "last grade of each coupon. Sentences, letters and comparisons stay as they were found; they do not follow."
)
TREATMENTS: Final = columns(
    ("Treatment", PLAIN),
    ("Family", PLAIN),
    ("No.", CENTRED),
    ("Coupons", CENTRED),
    ("Mean last grade", TABLE_AMOUNT),
    ("Standard deviation", TABLE_AMOUNT),
    ("Lowest", CENTRED),
    ("Failed", CENTRED),
    ("Rank", CENTRED),
)
COUPONS: Final = columns(
    ("Coupon", PLAIN),
    ("Treatment", PLAIN),
    ("No.", CENTRED),
    ("Position", CENTRED),
    ("Last grade", CENTRED),
    ("Counts", TABLE_INPUT),
    ("First fell on day", ONE_DECIMAL),
    ("Failed", CENTRED),
)
_FIRST_DAYS: Final = 7
"""Column of the data sheet with the first day at grade 0; those of the other grades follow."""


@dataclass(frozen=True, slots=True)
class LiveTables:
    """Where the live part stands: the row of its failing grade, first and last rows of its two tables."""

    failing: int
    treatments: tuple[int, int]
    coupons: tuple[int, int]
    end: int

    def range(self, letter: str, rows: tuple[int, int]) -> str:
        """Return a column of one of the tables, as a formula on this sheet names it."""
        return f"${letter}${rows[0]}:${letter}${rows[1]}"


def places_of(board: LiveBoard, row: int) -> LiveTables:
    """Return where the live part stands when it begins in this row, so that a picture above it can refer to it."""
    failing = row + 3
    first = failing + 3
    last = first + len(board.groups) - 1
    coupon = last + 4
    return LiveTables(failing, (first, last), (coupon, coupon + len(board.coupons) - 1), coupon + len(board.coupons))


def write_live(sheet: Worksheet, board: LiveBoard, places: LiveTables, formulas: Formulas) -> int:
    """Write both tables at their places; return the row after them."""
    row = put_heading(sheet, places.failing - 3, "Try it: another failing grade, or without a coupon")
    across(sheet, row, _EXPLAINED, QUIET)
    put(sheet, places.failing, 1, "Failing grade (a coupon at or below it has failed)", LABEL)
    put(sheet, places.failing, 2, board.failing_grade, INPUT)
    sheet.row_dimensions[places.failing].height = 30
    figures = figures_of(board, board.failing_grade, {each.coupon.key for each in board.coupons if each.counts})
    _treatments(sheet, board, places, figures, formulas)
    put_heading(sheet, places.treatments[1], "")
    _coupons(sheet, board, places, formulas)
    _checked(sheet, places)
    return places.end


def _treatments(
    sheet: Worksheet, board: LiveBoard, places: LiveTables, figures: Sequence[LiveFigures], formulas: Formulas
) -> None:
    first, last = places.treatments
    rows: list[tuple[Value, ...]] = [
        (short(each.name, NAME_LIMIT), short(each.family, NAME_LIMIT), number, *[None] * 6)
        for number, each in enumerate(board.groups, start=1)
    ]
    write_table_at(sheet, first - 1, "LiveTreatments", TREATMENTS, rows)
    groups, counts = places.range("C", places.coupons), places.range("F", places.coupons)
    grades, failed = places.range("E", places.coupons), places.range("H", places.coupons)
    means = places.range("E", places.treatments)
    for row, each in zip(range(first, last + 1), figures, strict=True):
        mine = f'{groups},C{row},{counts},"{_YES}"'
        chosen = f'({groups}=C{row})*({counts}="{_YES}")'
        made: tuple[tuple[str, str | float | None], ...] = (
            (f"COUNTIFS({mine})", each.coupons),
            (f'IF(D{row}=0,"{NOTHING}",AVERAGEIFS({grades},{mine}))', each.mean),
            (f'IF(D{row}<2,"{NOTHING}",SQRT(SUMPRODUCT({chosen}*({grades}-E{row})^2)/(D{row}-1)))', each.sd),
            (f'IF(D{row}=0,"{NOTHING}",10-SUMPRODUCT(MAX({chosen}*(10-{grades}))))', each.lowest),
            (f'COUNTIFS({mine},{failed},"{_YES}")', each.failed),
            (f'IF(D{row}=0,"{NOTHING}",1+SUMPRODUCT(ISNUMBER({means})*({means}>E{row})))', each.rank),
        )
        for column, (formula, value) in enumerate(made, start=4):
            formulas.put(row, column, formula, NOTHING if value is None else value, TREATMENTS[column - 1].look)


def _coupons(sheet: Worksheet, board: LiveBoard, places: LiveTables, formulas: Formulas) -> None:
    first = places.coupons[0]
    names = [short(each.name, NAME_LIMIT) for each in board.groups]
    rows: list[tuple[Value, ...]] = [
        (
            short(each.coupon.id, NAME_LIMIT),
            names[each.group - 1],
            each.group,
            _position(each),
            each.last_grade,
            _YES if each.counts else _NO,
            None,
            None,
        )
        for each in board.coupons
    ]
    write_table_at(sheet, first - 1, "LiveCoupons", COUPONS, rows)
    begin, end = (get_column_letter(_FIRST_DAYS + grade) for grade in (GRADES[0], GRADES[-1]))
    for number, each in enumerate(board.coupons):
        row, line = first + number, number + 2
        day = f"INDEX('{DATA}'!${begin}${line}:${end}${line},1,$B${places.failing}+1)"
        fell = each.first_days[board.failing_grade]
        formulas.put(row, 7, f'IF(ISNUMBER({day}),{day},"{NOT_YET}")', NOT_YET if fell is None else fell, ONE_DECIMAL)
        formulas.put(row, 8, f'IF(ISNUMBER(G{row}),"{_YES}","{_NO}")', _NO if fell is None else _YES, CENTRED)


def _position(each: LiveCoupon) -> str:
    return "" if each.coupon.position is None else each.coupon.position.label


def _checked(sheet: Worksheet, places: LiveTables) -> None:
    """Let the yellow cells take nothing but what the formulas understand, and show what does not count."""
    grade = DataValidation("whole", formula1=str(GRADES[0]), formula2=str(GRADES[-1]), allow_blank=False)
    grade.operator = "between"
    grade.errorTitle, grade.error = "Failing grade", "A grade is a whole number from 0 to 10."
    grade.promptTitle, grade.prompt = "Failing grade", "A whole number from 0 to 10."
    counts = DataValidation("list", formula1=f'"{_YES},{_NO}"', allow_blank=False)
    counts.errorTitle, counts.error = "Counts", "Choose yes or no."
    for each in (grade, counts):
        each.showErrorMessage = True
        sheet.add_data_validation(each)
    grade.showInputMessage = True
    grade.add(f"B{places.failing}")
    first, last = places.coupons
    counts.add(f"F{first}:F{last}")
    left_out = Rule("expression", dxf=fills(EMPTY_FILL), formula=[f'$F{first}<>"{_YES}"'])
    sheet.conditional_formatting.add(f"A{first}:E{last}", left_out)
    sheet.conditional_formatting.add(f"G{first}:H{last}", left_out)


def write_live_data(sheet: Worksheet, board: LiveBoard, page: PageStyle) -> None:
    """Write what the formulas start from: each graded coupon's last grade, and when it first fell to each grade."""
    heads = [Column(each, 12, look) for each, look in (("coupon", PLAIN), ("position", PLAIN), ("treatment", PLAIN))]
    heads += [Column("group", 9, TABLE_NUMBER), Column("last_grade", 14, TABLE_NUMBER)]
    heads += [Column("last_day", 12, ONE_DECIMAL)]
    heads += [Column(f"first_at_{grade}", 13, ONE_DECIMAL) for grade in GRADES]
    rows: list[tuple[Value, ...]] = [
        (
            each.coupon.id,
            _position(each),
            board.groups[each.group - 1].name,
            each.group,
            each.last_grade,
            each.last_day,
            *each.first_days,
        )
        for each in board.coupons
    ]
    write_table(sheet, "SummaryData", heads, rows, most_lines=3)
    set_page(sheet, page, landscape=True, repeat_rows="1:1", repeat_columns="A:A")
    sheet.print_area = f"A1:{get_column_letter(len(heads))}{len(rows) + 1}"
