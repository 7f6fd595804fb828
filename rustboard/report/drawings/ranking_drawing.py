"""The ranking on paper: the best on top, every coupon a dot, the mean with its 95 % interval."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Final

from rustboard.report.choice import Writing
from rustboard.report.drawings.plot import SMALL, Scale, draw_across, names_room
from rustboard.report.drawings.svg import Drawing, Paper
from rustboard.report.drawings.text_width import BOLDER
from rustboard.report.findings_content import FindingsContent, RankedLine
from rustboard.scales import inks

_ROW: Final = 19.0
_FOOT: Final = 28.0
_MOST_NAMES: Final = 0.38
TITLE: Final = "Ranking"
NOTHING: Final = "No treatment can be ranked yet."


def ranking_drawing(
    findings: FindingsContent,
    writing: Writing,
    *,
    width: float = 480.0,
    shown: Sequence[RankedLine] | None = None,
    row: float = _ROW,
) -> Drawing:
    """Draw the treatments that have a mean or values; ``shown`` are those to draw, None = all."""
    lines = [each for each in (findings.ranked if shown is None else shown) if each.values or each.mean is not None]
    if not lines:
        paper = Paper(width, 30)
        paper.text(width / 2, 15, NOTHING, anchor="middle", ink=inks.MUTED, room=width)
        return paper.drawing(TITLE, NOTHING)
    paper = Paper(width, len(lines) * row + _FOOT + 6)
    names = names_room([each.treatment for each in lines], width * _MOST_NAMES, 8.5 * BOLDER)
    letters = names_room([each.letters for each in lines], 60, 8.5)
    low, high = _ends(findings, lines)
    scale = Scale(low, high, names + 8, width - letters - 12)
    bottom = 4 + len(lines) * row
    draw_across(paper, scale, 4, bottom, findings.measure, writing)
    if findings.in_grades:
        x = scale.at(findings.failing_grade)
        paper.line([(x, 4), (x, bottom)], inks.TEXT, width=0.8, dash=(5, 3))
    for number, each in enumerate(lines):
        _row(paper, each, scale, 4 + (number + 0.5) * row, number, width)
    return paper.drawing(TITLE, ranking_words(findings, lines, writing))


def _ends(findings: FindingsContent, lines: Sequence[RankedLine]) -> tuple[float, float]:
    if findings.in_grades:
        return 0.0, 10.0
    found = [value for each in lines for value in (*each.values, each.mean_high or 0.0, each.mean or 0.0)]
    return 0.0, max([1.0, *found]) * 1.03


def _row(paper: Paper, line: RankedLine, scale: Scale, y: float, number: int, width: float) -> None:
    ink = inks.MUTED if line.control else inks.ACCENT
    if number % 2:
        paper.line([(scale.start, y), (scale.end, y)], inks.FAINT, width=0.4)
    paper.text(scale.start - 6, y, line.treatment, anchor="end", room=scale.start - 8, bold=not line.control)
    for value, level in _stacked(line.values):
        paper.mark(scale.at(value), y - 3.4 * level, 1 if line.control else 0, 2.2, ink, hollow=True)
    if line.mean is not None:
        low, high = line.mean_low, line.mean_high
        if low is not None and high is not None:
            paper.line([(scale.at(low), y), (scale.at(high), y)], inks.TEXT, width=1.3)
            for end in (each for each in (low, high) if scale.low <= each <= scale.high):
                paper.line([(scale.at(end), y - 2.5), (scale.at(end), y + 2.5)], inks.TEXT, width=1.0)
        paper.mark(scale.at(line.mean), y, 2, 2.7, inks.TEXT)
    paper.text(width - 2, y, line.letters, anchor="end", ink=inks.MUTED, size=SMALL)


def _stacked(values: Sequence[float]) -> list[tuple[float, float]]:
    """Return values with how far each is lifted, so that equal ones do not hide each other."""
    seen: Counter[float] = Counter()
    counts = Counter(round(each, 2) for each in values)
    found = []
    for each in values:
        key = round(each, 2)
        squeeze = min(1.0, 4.0 / counts[key])
        found.append((each, (seen[key] - (counts[key] - 1) / 2) * squeeze))
        seen[key] += 1
    return found


def ranking_words(findings: FindingsContent, lines: Sequence[RankedLine], writing: Writing) -> str:
    """Return what the ranking shows, in sentences."""
    said = []
    for each in lines:
        if each.mean is None:
            said.append(f"{each.treatment}: no mean")
            continue
        between = ""
        if each.mean_low is not None and each.mean_high is not None:
            ends = f"{writing.number(each.mean_low, 1)} to {writing.number(each.mean_high, 1)}"
            between = f", 95 % interval {ends}"
        coupons = "1 coupon" if each.coupons == 1 else f"{each.coupons} coupons"
        said.append(f"{each.treatment}: mean {writing.number(each.mean, 1)} of {coupons}{between}")
    return f"Ranking, the best first, by {findings.measure}. {'; '.join(said)}."
