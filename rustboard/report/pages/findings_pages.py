"""What the board shows, on pages: verdict and ranking, comparisons, time to the failing grade, value."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rustboard.report.content import ReportContent
from rustboard.report.drawings.failing_drawing import failing_drawings
from rustboard.report.drawings.ranking_drawing import ranking_drawing
from rustboard.report.drawings.value_drawing import value_drawing
from rustboard.report.findings_content import FindingsContent, RankedLine
from rustboard.report.pages.blocks import Book, Cell, Head, named
from rustboard.support.text import counted

MOST_DRAWN: Final = 24
"""Treatments in the ranking's drawing; of more the best and the worst."""
MOST_TOLD: Final = 6
"""Sentences of the verdict that are set apart; the others follow."""
MOST_VERDICT: Final = 40
MOST_COMPARED: Final = 150
_NO_FINDINGS: Final = (
    "Nothing was worked out for this report: there are no grades yet, or an inspection is still hidden."
)
_FIRST_ANSWER: Final = "The exact tests had not been worked out when this was written; the standing may change."


def write_summary(book: Book, content: ReportContent) -> None:
    """Write the verdict, the ranking as a drawing and as a table, and the cautions."""
    book.part("Summary")
    findings = content.findings
    if findings is None:
        book.told([_NO_FINDINGS])
        return
    book.told(findings.verdict[:MOST_TOLD] or ["Nothing can be said yet."])
    book.list(findings.verdict[MOST_TOLD:MOST_VERDICT])
    more = len(findings.verdict) - MOST_VERDICT
    if more > 0:
        book.quiet(f"And {counted(more, 'sentence')} more on so many treatments; the workbook has them all.")
    if not findings.complete:
        book.quiet(_FIRST_ANSWER)
    if findings.ranked:
        book.heading("Ranking")
        shown = best_and_worst(findings.ranked, MOST_DRAWN)
        left = len(findings.ranked) - len(shown)
        rest = f" {left} in between are in the table alone." if left else ""
        book.drawing(
            ranking_drawing(findings, content.choice.writing, width=book.width, shown=shown),
            "Circles: coupons (squares: controls). Diamond and bar: mean with its 95 % interval. Dashed: the failing "
            f"grade. Letters: those that share one cannot be told apart.{rest}",
        )
        _ranked_table(book, findings)
    if findings.cautions:
        book.heading("Cautions")
        book.list(findings.cautions)
    if findings.more_days:
        book.heading("What more exposure could settle")
        book.list(findings.more_days)


def best_and_worst(lines: Sequence[RankedLine], most: int) -> list[RankedLine]:
    """Return at most so many lines: the best half and the worst half, and controls always."""
    drawn = [each for each in lines if each.values or each.mean is not None]
    if len(drawn) <= most:
        return drawn
    controls = [each for each in drawn if each.control][: most // 2]
    others = [each for each in drawn if not each.control]
    room = most - len(controls)
    kept = {id(each) for each in (*others[: -(-room // 2)], *others[len(others) - room // 2 :], *controls)}
    return [each for each in drawn if id(each) in kept]


def _ranked_table(book: Book, findings: FindingsContent) -> None:
    heads = [
        Head("Treatment", 5), Head("Letters", 1.2, "center"), Head("Coupons", 1.4, "right"),
        Head("Mean", 1.3, "right"), Head("95 % interval of the mean", 2.2, "right"), Head("Failed", 1.2, "right"),
        Head("Median days to failure", 2.2, "right"),
    ]  # fmt: skip
    rows: list[list[Cell]] = []
    for each in findings.ranked:
        name = (
            f"{named(each.treatment)} (control)"
            if each.control and "ontrol" not in each.treatment
            else each.treatment
        )
        rows.append(
            [
                named(name), each.letters, str(each.coupons), book.number(each.mean, 2),
                interval(book, each.mean_low, each.mean_high), str(each.failed), book.number(each.median_days, 1),
            ]
        )  # fmt: skip
    book.table(heads, rows)
    book.quiet(
        f"The best first, by {findings.measure}. Treatments that share a letter cannot be told apart. Failed: at "
        f"grade {findings.failing_grade} or below. A dash: cannot be had, or not reached yet."
    )


def interval(book: Book, low: float | None, high: float | None, places: int = 2) -> str:
    """Return both ends of an interval; a dash where there is none."""
    if low is None or high is None:
        return "–"
    return f"{book.number(low, places)} to {book.number(high, places)}"


def write_comparisons(book: Book, content: ReportContent) -> None:
    """Write the comparisons of the question."""
    findings = content.findings
    if findings is None or not findings.compared:
        return
    book.part("Comparisons")
    book.lead(
        f"Differences of {findings.measure}, the first less the second; above 0, the first was better. The 95 % "
        "limits hold for all comparisons together."
    )
    heads = [
        Head("First", 3.2), Head("Second", 2.7), Head("Difference", 1.8, "right"), Head("95 % limits", 2.9, "right"),
        Head("p, exact", 1.6, "right"), Head("Smallest possible", 1.9, "right"), Head("Standing", 3.2),
    ]  # fmt: skip
    lines = findings.compared[:MOST_COMPARED]
    book.table(
        heads,
        [
            [
                named(each.a, 60), named(each.b, 60), book.signed(each.difference),
                "–" if each.low is None else f"{book.signed(each.low)} to {book.signed(each.high)}",
                chance(book, each.p_family if each.p_family is not None else each.p_exact, at_least=each.at_least),
                chance(book, each.p_smallest), each.standing,
            ]
            for each in lines
        ],
        size=8,
    )  # fmt: skip
    more = len(findings.compared) - len(lines)
    if more:
        book.quiet(f"And {more} more, which the workbook lists.")
    book.quiet(
        "p, exact: in what share of the ways in which the lots could have fallen the difference would be as large, "
        "for all comparisons together; smallest possible: what this board could show at best. A dash: cannot be had "
        "here."
    )
    _grid(book, findings)


def chance(book: Book, value: float | None, *, at_least: bool = False) -> str:
    """Return a p as a page shows it."""
    if value is None:
        return "–"
    if value < 0.001:
        return f"< {book.number(0.001, 3)}"
    return f"{book.number(value, 3)}{' or more' if at_least else ''}"


def _grid(book: Book, findings: FindingsContent) -> None:
    grid = findings.grid
    if grid is None:
        return
    book.heading("Finish by protectant")
    book.list(grid.words)
    means = {(each.finish, each.protectant): each for each in grid.cells}
    heads = [Head("Finish", 2), *(Head(named(each, 40), 1.5, "right") for each in grid.protectants[:8])]
    rows: list[list[Cell]] = []
    for finish in grid.finishes:
        row: list[Cell] = [named(finish, 60)]
        for protectant in grid.protectants[:8]:
            found = means.get((finish, protectant))
            row.append("not tried" if found is None or not found.coupons else book.number(found.mean, 2))
        rows.append(row)
    book.table(heads, rows)


def write_failing(book: Book, content: ReportContent) -> None:
    """Write the time to the failing grade."""
    findings = content.findings
    if findings is None or not findings.failing:
        return
    book.part("Time to the failing grade")
    book.lead(
        f"A coupon has failed at grade {findings.failing_grade} or below. Inspections see only between which two "
        "visits it fell; the shaded stretches are those times. Curves that stay up to their end had not failed by "
        "then."
    )
    for drawing in failing_drawings(findings, content.choice.writing, width=book.width):
        book.drawing(drawing, f"Share of the coupons still above the failing grade, along {findings.unit}.")
    heads = [
        Head("Treatment", 4), Head("Coupons", 1.2, "right"), Head("Failed", 1.2, "right"),
        Head(f"Median, {findings.unit}", 1.6, "right"), Head("Between", 2.2, "right"), Head("In words", 6),
    ]  # fmt: skip
    book.table(
        heads,
        [
            [
                named(each.treatment, 60), str(each.coupons), str(each.failed), book.number(each.median, 1),
                _between(book, each.low, each.high), named(each.words, 220),
            ]
            for each in findings.failing
        ],
        size=8, whole=False,
    )  # fmt: skip


def _between(book: Book, low: float | None, high: float | None) -> str:
    if low is None and high is None:
        return "–"
    if high is None:
        return f"over {book.number(low, 1)}"
    return f"up to {book.number(high, 1)}" if low is None else f"{book.number(low, 1)} to {book.number(high, 1)}"


def write_value(book: Book, content: ReportContent) -> None:
    """Write cost against protection."""
    findings = content.findings
    if findings is None or not findings.value:
        return
    book.part("Value")
    book.list(findings.value_words)
    drawing = value_drawing(findings, content.choice.writing, width=book.width)
    if drawing is not None:
        book.drawing(
            drawing,
            "Disc: nothing that came out as well or better costs as little. Square: something does. The line up and "
            "down: lowest to highest coupon.",
        )
    heads = [
        Head("Treatment", 4), Head("Cost per m²", 1.5, "right"), Head("Minutes per m²", 1.5, "right"),
        Head("Mean", 1.2, "right"), Head("Days above failing", 1.8, "right"), Head("Cost of a month", 1.6, "right"),
        Head("Best for", 2),
    ]  # fmt: skip
    rows: list[list[Cell]] = []
    for each in findings.value:
        days = book.number(each.days_above, 0)
        days = f"{days} or more" if each.at_least and each.days_above is not None else days
        best = [name for name, is_best in (("money", each.best_for_money), ("time", each.best_for_time)) if is_best]
        rows.append(
            [
                named(each.treatment, 60), book.number(each.cost_per_m2, 2), book.number(each.minutes_per_m2, 0),
                book.number(each.mean, 2), days,
                book.number(each.cost_of_month, 2), " and ".join(best) or "–",
            ]
        )  # fmt: skip
    book.table(heads, rows, size=8)
    note = "Cost in the shop's own money. Cost of a month: of one m² for each month above the failing grade."
    if findings.unpriced:
        names = ", ".join(named(each, 40) for each in findings.unpriced[:12])
        note += f" Without a price or minutes: {counted(len(findings.unpriced), 'treatment')} ({names})."
    book.quiet(note)
