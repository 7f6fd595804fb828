"""Time to the failing grade on paper: the share of coupons still above it, as steps."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rustboard.report.choice import Writing
from rustboard.report.drawings.plot import Scale, draw_across, draw_end_names, draw_up, names_room
from rustboard.report.drawings.svg import Drawing, Paper
from rustboard.report.findings_content import FailingLine, FindingsContent
from rustboard.scales import inks

MOST_LINES: Final = 8
_HEIGHT: Final = 190.0
_LEFT: Final = 36.0


def failing_drawings(findings: FindingsContent, writing: Writing, *, width: float = 480.0) -> list[Drawing]:
    """Draw the curves, at most `MOST_LINES` together; nothing where nothing was graded."""
    lines = [each for each in findings.failing if each.coupons]
    parts = -(-len(lines) // MOST_LINES)
    if not parts:
        return []
    size = -(-len(lines) // parts)
    furthest = max(_end(each) for each in lines)
    return [
        _draw(findings, lines[number * size : (number + 1) * size], furthest, writing, width, number, parts)
        for number in range(parts)
    ]


def _end(line: FailingLine) -> float:
    return max([line.followed, *(each.before for each in line.steps), 1.0])


def _draw(
    findings: FindingsContent, lines: Sequence[FailingLine], furthest: float, writing: Writing, width: float,
    number: int, parts: int,
) -> Drawing:  # fmt: skip
    height = max(_HEIGHT, len(lines) * 11.0 + 50)
    paper = Paper(width, height)
    right = width - names_room([each.treatment for each in lines], width * 0.34) - 14
    across = Scale(0.0, furthest, _LEFT, right)
    up = Scale(0.0, 1.0, height - 30, 12)
    draw_up(paper, up, _LEFT, right, [(each / 4, f"{each * 25} %") for each in range(5)])
    draw_across(paper, across, 12, height - 30, findings.unit, writing)
    ended = []
    for at, line in enumerate(lines):
        ink = inks.MUTED if line.control else inks.SERIES[at % 8]
        lift = (at - (len(lines) - 1) / 2) * 0.9  # curves on one another would hide each other
        _curve(paper, line, across, up, ink, inks.DASHES[at % len(inks.DASHES)], lift)
        last = line.steps[-1].above if line.steps else 1.0
        ended.append((across.at(max(line.followed, _last(line))), up.at(last) + lift, line.treatment, ink))
    draw_end_names(paper, ended, right + 14, width - 1, 12, height - 26)
    words = f"Share of the coupons still above grade {findings.failing_grade}, along {findings.unit}. " + " ".join(
        each.words for each in lines
    )
    title = "Above the failing grade"
    return paper.drawing(title if parts == 1 else f"{title}, part {number + 1} of {parts}", words)


def _last(line: FailingLine) -> float:
    return line.steps[-1].before if line.steps else 0.0


def _curve(
    paper: Paper, line: FailingLine, across: Scale, up: Scale, ink: str, dash: tuple[float, ...], lift: float
) -> None:
    place, above = 0.0, 1.0
    points = [(across.at(0.0), up.at(1.0) + lift)]
    for step in line.steps:
        if step.before > step.after:  # nobody saw where between the two it fell
            top, bottom = up.at(above) + lift, up.at(step.above) + lift
            left, right = across.at(step.after), across.at(step.before)
            paper.area([(left, top), (right, top), (right, bottom), (left, bottom)], ink, opacity=0.13)
        points += [(across.at(step.before), up.at(above) + lift), (across.at(step.before), up.at(step.above) + lift)]
        place, above = step.before, step.above
    if line.followed > place:
        points.append((across.at(line.followed), up.at(above) + lift))
    paper.line(points, ink, width=1.5, dash=dash)
