"""Cost against protection on paper: every priced treatment a mark with its name."""

from __future__ import annotations

from typing import Final

from rustboard.report.choice import Writing
from rustboard.report.drawings.plot import SMALL, Scale, draw_across, draw_up, tick_text, ticks
from rustboard.report.drawings.svg import Drawing, Paper
from rustboard.report.drawings.text_width import spread_apart, text_width
from rustboard.report.findings_content import FindingsContent, ValueLine
from rustboard.scales import inks

_HEIGHT: Final = 220.0
_LEFT: Final = 34.0
MOST_NAMED: Final = 16


def value_drawing(findings: FindingsContent, writing: Writing, *, width: float = 480.0) -> Drawing | None:
    """Draw cost per m² against the measure; by minutes of work where no cost is known, None where neither is."""
    by_cost = [(each.cost_per_m2, each) for each in findings.value if each.cost_per_m2 is not None]
    by_time = [(each.minutes_per_m2, each) for each in findings.value if each.minutes_per_m2 is not None]
    points = by_cost or by_time
    if not points:
        return None
    title = "cost per m², in the shop's own money" if by_cost else "minutes of work per m²"
    paper = Paper(width, _HEIGHT)
    across = Scale(0.0, max(1e-6, *(each[0] for each in points)) * 1.05, _LEFT, width - 130)
    top = 10.0 if findings.in_grades else max([1.0, *(each.high for _, each in points)]) * 1.05
    up = Scale(0.0, top, _HEIGHT - 30, 14)
    marks = ticks(0.0, top, 5)
    step = marks[1] - marks[0] if len(marks) > 1 else 1.0
    draw_up(paper, up, _LEFT, across.end, [(each, tick_text(each, step, writing)) for each in marks])
    draw_across(paper, across, 14, _HEIGHT - 30, title, writing)
    _best_line(paper, points, across, up, by_cost=bool(by_cost))
    for amount, each in points:
        x, y = across.at(amount), up.at(each.mean)
        ink = inks.MUTED if each.control else inks.ACCENT
        paper.line([(x, up.at(each.low)), (x, up.at(each.high))], ink, width=0.8)
        best = each.best_for_money if by_cost else each.best_for_time
        paper.mark(x, y, 0 if best else 1, 3.0, ink, hollow=not best)
    _names(paper, points, across, up, width)
    return paper.drawing("Cost and protection", value_words(findings, writing, by_cost=bool(by_cost)))


def _best_line(
    paper: Paper, points: list[tuple[float, ValueLine]], across: Scale, up: Scale, *, by_cost: bool
) -> None:
    best = sorted(
        (amount, each.mean) for amount, each in points if (each.best_for_money if by_cost else each.best_for_time)
    )
    paper.line([(across.at(x), up.at(y)) for x, y in best], inks.LINE, width=1.2, dash=(3, 2))


def _names(paper: Paper, points: list[tuple[float, ValueLine]], across: Scale, up: Scale, width: float) -> None:
    """Write the names at the right, each with a faint line to its mark; of many only the best for the money."""
    named = points
    if len(points) > MOST_NAMED:
        best = [each for each in points if each[1].best_for_money or each[1].best_for_time]
        others = [each for each in points if each not in best]
        named = (best + others)[:MOST_NAMED]
    left = across.end + 14
    middles = spread_apart([up.at(each.mean) for _, each in named], 9.5, 12, _HEIGHT - 24)
    for (amount, each), middle in zip(named, middles, strict=True):
        ink = inks.MUTED if each.control else inks.ACCENT
        paper.line([(across.at(amount) + 4, up.at(each.mean)), (left - 2, middle)], inks.LINE, width=0.4)
        paper.text(left, middle, each.treatment, ink=ink, size=SMALL, room=width - left - 1)
    more = len(points) - len(named)
    if more:
        text = f"{more} more, not named"
        paper.text(width - 1 - text_width(text, 6.5), 5, text, size=6.5, ink=inks.MUTED)


def value_words(findings: FindingsContent, writing: Writing, *, by_cost: bool) -> str:
    """Return what the drawing shows, in sentences."""
    said = []
    for each in findings.value:
        amount = each.cost_per_m2 if by_cost else each.minutes_per_m2
        if amount is None:
            continue
        best = each.best_for_money if by_cost else each.best_for_time
        note = ", nothing cheaper came out as well" if best and by_cost else ", nothing quicker did" if best else ""
        said.append(f"{each.treatment}: {writing.number(amount, 2)}, mean {writing.number(each.mean, 1)}{note}")
    what = "Cost per m²" if by_cost else "Minutes of work per m²"
    return f"{what} against {findings.measure}. {'; '.join(said)}."
