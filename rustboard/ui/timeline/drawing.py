"""The drawing of a timeline, made ready once per content so that a frame only moves it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PySide6.QtGui import QPainterPath

from rustboard.board.exposure_clock import ExposureClock, day_clock
from rustboard.board.series import BandSeries, StepSeries
from rustboard.ui.clock_words import decimals_of
from rustboard.ui.theme import Scheme
from rustboard.ui.timeline.content import Content, Track
from rustboard.ui.timeline.day_range import SHORTEST, DayRange
from rustboard.ui.timeline.geometry import Floats, Integers, Strokes, shifted, side_by_side, strokes
from rustboard.ui.timeline.line_styles import LineStyle, line_style

MOST_SYMBOLS: Final = 1_000
"""With more points than this in view they are left out; the steps still show every one that changed."""

SAME_PLACE: Final = 1e-9
"""Inspections nearer to each other than this lie at one place of the axis."""


@dataclass(frozen=True, slots=True)
class Band:
    """Lowest to highest grade of the replicates of one track.

    Attributes:
        ground: closed boxes between neighbouring inspections, in days and grades.
        rims: (n, 4) lines along lowest and highest; upright at an inspection that stands alone.
    """

    row: int
    ground: QPainterPath
    rims: Floats


@dataclass(frozen=True, slots=True)
class Drawing:
    """A content as strokes.

    Attributes:
        clock: what the axis counts.
        days: (inspections,) where they lie on the axis: days of exposure, or what the clock shows.
        values: (tracks, inspections) grades or medians, NaN for none.
        hollow: (points,) whether a point of ``strokes`` stands for fewer coupons than its track has.
        styles: look of each track. looks: the different ones. look_of_row: (tracks,) number of each track's look.
        from_start: whether the time from the start of exposure to the first inspection is shown too.
    """

    content: Content
    clock: ExposureClock
    days: Floats
    values: Floats
    strokes: Strokes
    hollow: NDArray[np.bool_]
    bands: tuple[Band, ...]
    styles: tuple[LineStyle, ...]
    looks: tuple[LineStyle, ...]
    look_of_row: Integers
    from_start: bool = False

    def whole_range(self) -> DayRange:
        """Return the range that shows every inspection; there must be one."""
        first = float(self.days[0])
        shortest = SHORTEST * 10.0 ** -decimals_of(self.clock.kind)
        return DayRange.over(min(first, 0.0) if self.from_start else first, float(self.days[-1]), shortest)

    def offsets(self, grade_px: float) -> Floats:
        """Return how many grades above its own each track is drawn; bands lie exactly on theirs."""
        if self.bands:
            return np.zeros(len(self.content.tracks))
        return side_by_side(len(self.content.tracks), grade_px)

    def heights(self, grades: Floats, grade_px: float) -> Floats:
        """Return where one grade of each track is drawn, in grades."""
        return shifted(grades, self.offsets(grade_px))

    def nearest(self, day: float) -> list[int]:
        """Return the numbers of the inspections nearest to a place; several where the clock stood still."""
        away = np.abs(self.days - day)
        return np.flatnonzero(away <= away.min() + SAME_PLACE).tolist() if len(away) else []


def make_drawing(
    content: Content, scheme: Scheme, clock: ExposureClock | None = None, *, from_start: bool = False
) -> Drawing:
    """Return the strokes of a content in the looks of a scheme, over the days or what a clock counts."""
    clock = day_clock(content.days) if clock is None else clock
    days = np.array(clock.places, dtype=np.float64)
    values = np.full((len(content.tracks), len(days)), np.nan)
    partial = np.zeros(values.shape, dtype=np.bool_)
    for row, track in enumerate(content.tracks):
        points = track.series.points
        if points:
            orders, _, heights = _columns(track.series)
            values[row, orders] = heights
        if isinstance(track.series, BandSeries):
            partial[row, [point.order for point in track.series.points if track.is_partial(point)]] = True
    bands = tuple(_band(row, track, clock.places) for row, track in enumerate(content.tracks) if track.with_band)
    styles = tuple(line_style(each.style, content.styles, scheme) for each in content.tracks)
    looks = tuple(dict.fromkeys(styles))
    look_of_row = np.array([looks.index(each) for each in styles], dtype=np.intp)
    hollow = partial[np.isfinite(values)]
    return Drawing(
        content, clock, days, values, strokes(days, values), hollow, bands, styles, looks, look_of_row, from_start
    )


def _columns(series: StepSeries | BandSeries) -> tuple[Sequence[int], Sequence[float], Sequence[float]]:
    """Return numbers, days and heights of the points; by `zip`, because a board may have 35,000 of them."""
    if isinstance(series, BandSeries):
        orders, days, _, heights, _, _ = zip(*series.points, strict=True)
        return orders, days, heights
    orders, days, grades = zip(*series.points, strict=True)
    return orders, days, grades


def _band(row: int, track: Track, places: Sequence[float]) -> Band:
    series = track.series
    if not isinstance(series, BandSeries):
        return Band(row, QPainterPath(), np.empty((0, 4)))
    ground, rims = QPainterPath(), []
    for first, last in series.runs:
        points = [each._replace(day=places[each.order]) for each in series.points[first : last + 1]]
        if len(points) == 1:
            rims.append((points[0].day, points[0].low, points[0].day, points[0].high))
        for held, following in pairwise(points):
            ground.addRect(held.day, held.low, following.day - held.day, held.high - held.low)
            rims += [
                (held.day, held.low, following.day, held.low),
                (held.day, held.high, following.day, held.high),
                (following.day, held.low, following.day, following.low),
                (following.day, held.high, following.day, following.high),
            ]
        # The last inspection of a run has no step after it; its spread is shown as an upright line.
        rims.append((points[-1].day, points[-1].low, points[-1].day, points[-1].high))
    return Band(row, ground, np.array(rims, dtype=np.float64).reshape(-1, 4))
