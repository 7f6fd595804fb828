"""The histories as lines for drawings: means of treatments with their coupons, along the chosen clock."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean
from typing import Final

from rustboard.board.exposure_clock import ClockKind
from rustboard.board.record import BoardRecord
from rustboard.report.content import ReportContent
from rustboard.report.groups import Group, groups

Points = tuple[tuple[float, float] | None, ...]
"""Place and grade at every inspection; None = not graded, or its place on the clock is not known."""

MOST_IN_A_PANEL: Final = 6
NO_FAMILY: Final = "No family noted"
CONTROLS: Final = "Controls"

CLOCK_TITLES: Final[dict[ClockKind, str]] = {
    "days": "days of exposure",
    "wet hours": "wet hours",
    "rain": "mm of rain",
    "controls": "grades lost by the controls",
}


@dataclass(frozen=True, slots=True)
class Line:
    """One treatment.

    Attributes:
        name: of it. mean: over the coupons graded at each inspection. coupons: of each coupon.
        control: whether all its coupons are controls.
    """

    name: str
    mean: Points
    coupons: tuple[Points, ...]
    control: bool


@dataclass(frozen=True, slots=True)
class Panel:
    """Treatments that are drawn together: a family, or a part of one.

    Attributes:
        reference: the controls, drawn behind; None where there are none or they are the panel.
    """

    title: str
    lines: tuple[Line, ...]
    reference: Line | None = None


def panels(content: ReportContent) -> list[Panel]:
    """Return what to draw: a panel for each family, in the order of the treatments, and the controls behind each."""
    record = content.record
    places = places_of(content)
    lines = [(each, _line(record, each, places)) for each in groups(record)]
    drawn = [(group, line) for group, line in lines if any(line.mean)]
    controls = [line for _, line in drawn if line.control]
    families: dict[str, list[Line]] = {}
    for group, line in drawn:
        if not line.control:
            families.setdefault(group.family or NO_FAMILY, []).append(line)
    reference = controls[0] if controls else None
    found: list[Panel] = []
    for family, members in families.items():
        title = "All treatments" if family == NO_FAMILY and len(families) == 1 else family
        parts = -(-len(members) // MOST_IN_A_PANEL)
        size = -(-len(members) // parts)
        for number in range(parts):
            named = title if parts == 1 else f"{title}, part {number + 1} of {parts}"
            found.append(Panel(named, tuple(members[number * size : (number + 1) * size]), reference))
    if controls and (not found or len(controls) > 1):
        found.append(Panel(CONTROLS, tuple(controls[:MOST_IN_A_PANEL])))
    return found


def places_of(content: ReportContent) -> dict[int, float | None]:
    """Return where every inspection lies along the chosen clock; by days where no other places are given."""
    if content.places:
        return content.places
    record = content.record
    return {key: record.day_of(each.at) for key, each in record.inspections.items()}


def clock_title(content: ReportContent) -> str:
    """Return what the clock counts, as an axis says it."""
    return CLOCK_TITLES[content.choice.clock if content.places else "days"]


def _line(record: BoardRecord, group: Group, places: Mapping[int, float | None]) -> Line:
    inspections = [each.key for each in record.inspections_in_order()]
    graded = [record.current.get(each.key, {}) for each in group.coupons]
    mean: list[tuple[float, float] | None] = []
    for key in inspections:
        place = places.get(key)
        grades = [found[key].grade for found in graded if key in found]
        mean.append((place, fmean(grades)) if grades and place is not None else None)
    coupons = tuple(
        tuple(
            (place, float(found[key].grade)) if key in found and (place := places.get(key)) is not None else None
            for key in inspections
        )
        for found in graded
    )
    return Line(group.title, tuple(mean), coupons, group.is_control)


def runs(points: Points) -> list[list[tuple[float, float]]]:
    """Return a history as runs of corners of steps: a grade is held until the next one, and a gap ends the run."""
    found: list[list[tuple[float, float]]] = []
    open_run: list[tuple[float, float]] | None = None
    for each in points:
        if each is None:
            open_run = None
            continue
        if open_run is None:
            open_run = [each]
            found.append(open_run)
        else:
            open_run += [(each[0], open_run[-1][1]), each]
    return found


def graded_points(points: Points) -> list[tuple[float, float]]:
    """Return the points that are there."""
    return [each for each in points if each is not None]


def ends_of(lines: Sequence[Line]) -> tuple[float, float]:
    """Return the first and the last place of several lines; from 0 where they begin later."""
    places = [each[0] for line in lines for each in graded_points(line.mean)]
    low, high = min([0.0, *places]), max([0.0, *places])
    return (low, high) if high > low else (low, low + 1.0)
