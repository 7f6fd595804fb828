"""The histories on paper: a panel for each family, its treatments as steps with their names at the ends."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rustboard.report.choice import Writing
from rustboard.report.content import ReportContent
from rustboard.report.drawings.histories import Line, Panel, clock_title, ends_of, graded_points, panels, runs
from rustboard.report.drawings.plot import Scale, draw_across, draw_end_names, draw_up, names_room
from rustboard.report.drawings.svg import Drawing, Paper
from rustboard.scales import inks
from rustboard.support.text import counted

PANEL_HEIGHT: Final = 168.0
MOST_PANELS: Final = 12
"""Of one picture; a page would be too long otherwise."""
NOTHING: Final = "No grade has been given yet, so there is nothing to draw."

_TITLE: Final = 16.0
_FOOT: Final = 30.0
_LEFT: Final = 24.0
_MOST_NAMES: Final = 0.34


def panel_drawing(content: ReportContent, panel: Panel, ends: tuple[float, float], width: float = 480.0) -> Drawing:
    """Draw one panel; ``ends`` are of the clock, the same for all."""
    paper = Paper(width, PANEL_HEIGHT)
    _panel(paper, content, panel, ends, 0.0)
    return paper.drawing(f"History, {panel.title}", panel_words(content, panel))


def timeline_drawing(content: ReportContent, width: float = 480.0) -> Drawing:
    """Draw all panels below each other, at most `MOST_PANELS`."""
    found = panels(content)
    title = "History of grades"
    if not found:
        paper = Paper(width, 40.0)
        paper.text(width / 2, 20, NOTHING, anchor="middle", ink=inks.MUTED, room=width)
        return paper.drawing(title, NOTHING)
    shown = found[:MOST_PANELS]
    more = sum(len(each.lines) for each in found[MOST_PANELS:])
    ends = all_ends(found)
    paper = Paper(width, len(shown) * (PANEL_HEIGHT + 6) + (14 if more else 0))
    for number, panel in enumerate(shown):
        _panel(paper, content, panel, ends, number * (PANEL_HEIGHT + 6))
    words = " ".join(panel_words(content, each) for each in shown)
    if more:
        text = f"And {counted(more, 'treatment')} more, not drawn here."
        paper.text(2, paper.height - 7, text, ink=inks.MUTED)
        words = f"{words} {text}"
    return paper.drawing(title, words)


def all_ends(found: Sequence[Panel]) -> tuple[float, float]:
    """Return the ends of the clock over all panels."""
    lines = [line for panel in found for line in (*panel.lines, *((panel.reference,) if panel.reference else ()))]
    return ends_of(lines)


def _panel(paper: Paper, content: ReportContent, panel: Panel, ends: tuple[float, float], top: float) -> None:
    writing = content.choice.writing
    lines = [*panel.lines, *((panel.reference,) if panel.reference else ())]
    names = names_room([each.name for each in lines], paper.width * _MOST_NAMES)
    right = paper.width - names - 14
    across = Scale(*ends, _LEFT, right)
    up = Scale(0.0, 10.0, top + PANEL_HEIGHT - _FOOT, top + _TITLE + 8)
    paper.text(2, top + 7, panel.title, bold=True, size=9, room=paper.width - 4)
    draw_up(paper, up, _LEFT, right, [(each, str(each)) for each in range(0, 11, 2)])
    draw_across(paper, across, up.at(10), up.at(0), clock_title(content), writing)
    _failing(paper, content, across, up)
    if panel.reference is not None:
        _steps(paper, panel.reference, across, up, inks.MUTED, (1.5, 2.0), 7, coupons=False)
    ended = []
    for number, line in enumerate(panel.lines):
        ink, dash = inks.SERIES[number % 8], inks.DASHES[number % len(inks.DASHES)]
        _steps(paper, line, across, up, ink, dash, number)
        x, y = graded_points(line.mean)[-1]
        ended.append((across.at(x), up.at(y), line.name, ink))
    if panel.reference is not None:
        x, y = graded_points(panel.reference.mean)[-1]
        ended.append((across.at(x), up.at(y), panel.reference.name, inks.MUTED))
    draw_end_names(paper, ended, right + 14, paper.width - 1, top + _TITLE, top + PANEL_HEIGHT - _FOOT + 6)


def _failing(paper: Paper, content: ReportContent, across: Scale, up: Scale) -> None:
    question = content.record.question
    if content.findings is None and question is None:
        return
    grade = content.findings.failing_grade if content.findings is not None else question.failing_grade  # type: ignore[union-attr]
    y = up.at(grade)
    paper.line([(across.start, y), (across.end, y)], inks.TEXT, width=0.8, dash=(5, 3))
    paper.text(across.start + 2, y - 5, f"fails at {grade}", size=6.5, ink=inks.TEXT)


def _steps(
    paper: Paper, line: Line, across: Scale, up: Scale, ink: str, dash: tuple[float, ...], number: int, *,
    coupons: bool = True,
) -> None:  # fmt: skip
    if coupons and len(line.coupons) > 1:
        for coupon in line.coupons:
            for run in runs(coupon):
                paper.line([(across.at(x), up.at(y)) for x, y in run], ink, width=0.35)
    for run in runs(line.mean):
        paper.line([(across.at(x), up.at(y)) for x, y in run], ink, width=1.6, dash=dash)
    points = graded_points(line.mean)
    every = max(1, len(points) // 14)
    for x, y in [*points[:-1:every], points[-1]]:
        paper.mark(across.at(x), up.at(y), number, 2.1, ink, hollow=number >= 4)


def panel_words(content: ReportContent, panel: Panel) -> str:
    """Return what a panel shows, in sentences."""
    writing = content.choice.writing
    said = []
    for line in (*panel.lines, *((panel.reference,) if panel.reference else ())):
        points = graded_points(line.mean)
        said.append(f"{line.name} {_course(points, writing)}")
    what = "means of the coupons graded, thin lines are single coupons"
    return f"Steps of rust grade along {clock_title(content)}, {panel.title}; {what}: {'; '.join(said)}."


def _course(points: list[tuple[float, float]], writing: Writing) -> str:
    (first_at, first), (last_at, last) = points[0], points[-1]
    if len(points) == 1:
        return f"{writing.number(first, 1)} at {writing.number(first_at, 0)}"
    return (
        f"from {writing.number(first, 1)} at {writing.number(first_at, 0)} to {writing.number(last, 1)} at "
        f"{writing.number(last_at, 0)}"
    )
