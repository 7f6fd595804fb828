"""What the timeline shows, in words: values for the list under the plot, and for those who hear the screen."""

from __future__ import annotations

from bisect import bisect_left
from typing import Final

from PySide6.QtCore import QCoreApplication

from rustboard.board.exposure_clock import ExposureClock
from rustboard.board.record import BoardRecord
from rustboard.board.series import BandPoint, BandSeries, StepPoint
from rustboard.ui import wording
from rustboard.ui.clock_words import place_text
from rustboard.ui.timeline.content import Content, Track

SUMMARY_TRACKS: Final = 8
SUMMARY_POINTS: Final = 12


def _say(text: str) -> str:
    return QCoreApplication.translate("timeline", text)


def heading(record: BoardRecord, content: Content, order: int, clock: ExposureClock | None = None) -> str:
    """Return which inspection values are of, by its number by time; it must be on the board still."""
    inspection, day = content.days[order]
    place = wording.day_text(day) if clock is None else place_text(clock, clock.places[order], day)
    when = wording.date_time(record.inspections[inspection].at)
    if not shows_medians(content):
        return _say("{0} · {1}").format(when, place)
    # The date comes last, for the end is what may be cut off in a narrow panel.
    if clock is not None and clock.kind != "days":
        return _say("Medians at {0} · {1}").format(place, when)
    pattern = _say("Median on {0} · {1}") if len(content.tracks) == 1 else _say("Medians on {0} · {1}")
    return pattern.format(place, when)


def point_at(track: Track, order: int) -> StepPoint | BandPoint | None:
    """Return a track's point at an inspection (its number by time), or None when it was not graded."""
    points = track.series.points
    at = bisect_left(points, order, key=_order)
    return points[at] if at < len(points) and points[at].order == order else None


def _order(point: StepPoint | BandPoint) -> int:
    return point.order


def value_text(record: BoardRecord, content: Content, track: Track, order: int) -> str:
    """Return what a track has at an inspection as listed: ``7-S``, ``8 (7–9, n 2 of 3)``, a dash for nothing."""
    found = point_at(track, order)
    if found is None:
        return wording.grade_text(None)
    if isinstance(found, StepPoint):
        return wording.grade_text(record.grading(track.coupons[0], content.days[order].inspection))
    middle, count = wording.number(found.median), _count(track, found)
    if found.low == found.high:
        return _say("{0} (n {1})").format(middle, count)
    return _say("{0} ({1}–{2}, n {3})").format(middle, found.low, found.high, count)


def spoken_value(record: BoardRecord, content: Content, track: Track, order: int) -> str:
    """Return the same in whole words: ``median 8, lowest 7, highest 9, coupons graded: 2 of 3``."""
    found = point_at(track, order)
    if found is None:
        return _say("not graded")
    if isinstance(found, StepPoint):
        return value_text(record, content, track, order)
    middle, count = wording.number(found.median), _count(track, found)
    if found.low == found.high:
        return _say("median {0}, coupons graded: {1}").format(middle, count)
    pattern = _say("median {0}, lowest {1}, highest {2}, coupons graded: {3}")
    return pattern.format(middle, found.low, found.high, count)


def _count(track: Track, point: BandPoint) -> str:
    if track.is_partial(point):
        return _say("{0} of {1}").format(point.graded, len(track.coupons))
    return str(point.graded)


def explanation(content: Content) -> str:
    """Return how the values of treatments are to be read; an empty text when coupons are shown."""
    if not shows_medians(content):
        return ""
    return _say(
        "Each value is the median of the coupons of the treatment graded then. In brackets: lowest to highest grade, "
        "and n, how many coupons were graded. “n 2 of 3” and a hollow point mean that not all of them were, so a "
        "step there may come from the missing coupon alone. Means are in the workbook."
    )


def shows_medians(content: Content) -> bool:
    """Return whether lines are medians of coupons."""
    return any(isinstance(each.series, BandSeries) for each in content.tracks)


def summary(content: Content) -> str:
    """Return what is drawn in words, for those who hear the screen: ``C05: 10 on day 0, 8 on day 14``."""
    if content.empty:
        return content.empty
    lines = [_track_summary(each) for each in content.tracks[:SUMMARY_TRACKS]]
    more = len(content.tracks) - SUMMARY_TRACKS
    if more > 0:
        lines.append(_say("And {0} more.").format(more))
    return " ".join((content.title + ".", *lines))


def _track_summary(track: Track) -> str:
    points = track.series.points
    text = ", ".join(_point_summary(track, each) for each in points[-SUMMARY_POINTS:])
    if len(points) > SUMMARY_POINTS:
        text = _say("{0} earlier inspections, then {1}").format(len(points) - SUMMARY_POINTS, text)
    return _say("{0}: {1}.").format(track.label[:40], text)


def _point_summary(track: Track, point: StepPoint | BandPoint) -> str:
    day = wording.day_text(point.day)
    if isinstance(point, StepPoint):
        return _say("{0} on {1}").format(point.grade, day)
    middle = wording.number(point.median)
    if not track.is_partial(point):
        return _say("{0} on {1}").format(middle, day)
    return _say("{0} on {1} ({2} of {3} coupons)").format(middle, day, point.graded, len(track.coupons))
