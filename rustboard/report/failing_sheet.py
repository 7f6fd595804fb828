"""Time to the failing grade: when half of each treatment's coupons had fallen, and how the others stood meanwhile."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.across import put_heading
from rustboard.report.cells import Value, short
from rustboard.report.charts import HEIGHT_CM, shared_out
from rustboard.report.findings_content import FailingLine, FindingsContent
from rustboard.report.findings_looks import (
    CENTRED,
    LAST_LETTER,
    NAME_LIMIT,
    ONE_DECIMAL,
    across,
    begin,
    break_before,
    columns,
)
from rustboard.report.more_charts import Line, falling_chart
from rustboard.report.page_setup import PageStyle
from rustboard.report.styles import PLAIN, QUIET, TABLE_PERCENT
from rustboard.report.tables import write_table_at
from rustboard.report.written import ChartText, Written

SHEET: Final = "Time to failing"

_ROWS_A_CHART: Final = ceil(HEIGHT_CM * 28.3465 / 15) + 1
_LABEL_LIMIT: Final = 30
FAILING: Final = columns(
    ("Treatment", PLAIN),
    ("In words", PLAIN),
    ("Coupons", CENTRED),
    ("Failed", CENTRED),
    ("Half failed by", ONE_DECIMAL),
    ("From", ONE_DECIMAL),
    ("To", ONE_DECIMAL),
    ("Sure to", TABLE_PERCENT),
)
STEPS: Final = columns(("Treatment", PLAIN), ("Point", PLAIN), ("Place", ONE_DECIMAL), ("Above", TABLE_PERCENT))
_WORDS: Final = (
    "In {0}. A coupon has failed when it first fell to grade {1} or below; between which inspections is known, not "
    "when. From and to hold the true middle with the sureness given, by order statistics; empty: no end is known. A "
    "treatment of which half have not failed has no middle yet."
)
_CHART_WORDS: Final = (
    "The share of the coupons still above the failing grade (Turnbull's estimate). Where a line slants, coupons "
    "failed somewhere in between and nobody saw when. A line ends where the last coupon was followed to."
)


def write_failing(sheet: Worksheet, content: FindingsContent, page: PageStyle) -> Written:
    """Write the sheet."""
    row = begin(sheet, "Time to the failing grade", page)
    row = put_heading(sheet, row, f"When coupons fell to grade {content.failing_grade} or below")
    rows: list[tuple[Value, ...]] = [
        (
            short(each.treatment, NAME_LIMIT),
            each.words,
            each.coupons,
            each.failed,
            each.median,
            each.low,
            each.high,
            each.confidence if each.median is not None else None,
        )
        for each in content.failing
    ]
    row = write_table_at(sheet, row, "TimeToFailing", FAILING, rows)
    row = across(sheet, row, _WORDS.format(content.unit, content.failing_grade), QUIET)
    break_before(sheet, row + 1)
    row = put_heading(sheet, row, "How many stood above it")
    row = across(sheet, row, _CHART_WORDS, QUIET)
    parts = shared_out(content.failing)
    steps_row = row + len(parts) * _ROWS_A_CHART
    lines, end = _steps(sheet, steps_row, content.failing)
    texts = _charts(sheet, row, content, [lines[each.id, each.control] for each in content.failing])
    sheet.print_area = f"A1:{LAST_LETTER}{end}"
    return Written(charts=texts)


def points_of(line: FailingLine) -> list[tuple[float, float]]:
    """Return the corners of a curve: place and share above; it slants where nobody saw when a coupon failed."""
    points, above = [(0.0, 1.0)], 1.0
    for step in line.steps:
        points += [(step.after, above), (step.before, step.above)]
        above = step.above
    end = max(line.followed, points[-1][0])
    points.append((end, above))
    return [each for at, each in enumerate(points) if at == 0 or each != points[at - 1]]


def _steps(sheet: Worksheet, row: int, failing: Sequence[FailingLine]) -> tuple[dict[tuple[str, bool], Line], int]:
    """Write the points of the curves; return where each stands, and the row after them."""
    row = put_heading(sheet, row, "The points of these lines")
    rows: list[tuple[Value, ...]] = []
    lines: dict[tuple[str, bool], Line] = {}
    for each in failing:
        first = row + 1 + len(rows)
        points = points_of(each)
        last = first + len(points) - 1
        rows += [
            (short(each.treatment, NAME_LIMIT), f"{number} of {len(points)}", place, above)
            for number, (place, above) in enumerate(points, start=1)
        ]
        lines[each.id, each.control] = Line(
            short(each.treatment, _LABEL_LIMIT),
            f"'{SHEET}'!$A${first}",
            f"'{SHEET}'!$C${first}:$C${last}",
            f"'{SHEET}'!$D${first}:$D${last}",
        )
    return lines, write_table_at(sheet, row, "FailingSteps", STEPS, rows)


def _charts(sheet: Worksheet, row: int, content: FindingsContent, lines: Sequence[Line]) -> list[ChartText]:
    until = max(points_of(each)[-1][0] for each in content.failing)
    words = {each.treatment: each.words for each in content.failing}
    texts: list[ChartText] = []
    parts, said = shared_out(lines), shared_out(content.failing)
    for number, (part, told) in enumerate(zip(parts, said, strict=True), start=1):
        share = f" ({number} of {len(parts)})" if len(parts) > 1 else ""
        title = f"Coupons above grade {content.failing_grade}{share}"
        sheet.add_chart(falling_chart(title, _first_large(content.unit), until, part), f"A{row}")
        sentences = " ".join(words[each.treatment] for each in told)
        texts.append(ChartText(f"Time to failing {number}", f"Line chart. {title}. {sentences}"))
        row += _ROWS_A_CHART
    return texts


def _first_large(text: str) -> str:
    return text[:1].upper() + text[1:]
