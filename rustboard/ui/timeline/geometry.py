"""From grades to strokes: the level and upright lines of step histories, made once per content, not per frame.

A timeline is a table: one row a track, one column an inspection, NaN where there is no grade. Two cells side by side
that both have a grade are joined; see `rustboard.board.series` for why nothing else is.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Integers = NDArray[np.intp]

MOST_SHIFT: Final = 0.12
"""Furthest that a line is drawn from its own grade, in grades; half of it where it would leave the scale."""

STEP_PX: Final = 2.5
LEAST_STEP_PX: Final = 0.5
BEST, WORST = 10.0, 0.0


@dataclass(frozen=True, slots=True)
class Strokes:
    """Every line and point of a timeline, in days and grades, sorted by row.

    Attributes:
        lines: (n, 4) x0, y0, x1, y1; level ones first within a row.
        line_rows: (n,) row of each line.
        points: (m, 2) x, y.
        point_rows: (m,) row of each point.
        alone: (m,) whether the point has no line on either side.
        aside: (m,) how many symbols right of its day a point is drawn: points alone with one grade stand in a row.
    """

    lines: Floats
    line_rows: Integers
    points: Floats
    point_rows: Integers
    alone: NDArray[np.bool_]
    aside: Floats


def strokes(days: Floats, values: Floats) -> Strokes:
    """Return the strokes of ``values`` (rows x inspections) over ``days`` (inspections).

    Neighbouring level lines of one grade are one line: nothing is lost, and most boards change little.
    """
    here = np.isfinite(values)
    joined = here[:, :-1] & here[:, 1:]
    same = joined & (values[:, :-1] == values[:, 1:])
    # A level line over cell j goes on in cell j + 1 when both are joined and the grade did not change between them.
    goes_on = same[:, :-1] & joined[:, 1:]
    starts, ends = joined.copy(), joined.copy()
    starts[:, 1:] &= ~goes_on
    ends[:, :-1] &= ~goes_on
    rows, first = np.nonzero(starts)
    _, last = np.nonzero(ends)
    height = values[rows, first]
    level = np.column_stack([days[first], height, days[last + 1], height])
    drop_rows, at = np.nonzero(joined & ~same)
    drops = np.column_stack([days[at + 1], values[drop_rows, at], days[at + 1], values[drop_rows, at + 1]])
    lines = np.concatenate([level, drops])
    line_rows = np.concatenate([rows, drop_rows])
    order = np.argsort(line_rows, kind="stable")
    point_rows, column = np.nonzero(here)
    alone = _alone(here, joined)
    return Strokes(
        lines=lines[order],
        line_rows=line_rows[order],
        points=np.column_stack([days[column], values[point_rows, column]]),
        point_rows=point_rows,
        alone=alone[point_rows, column],
        aside=_aside(values, alone)[point_rows, column],
    )


def _alone(here: NDArray[np.bool_], joined: NDArray[np.bool_]) -> NDArray[np.bool_]:
    has_neighbour = np.zeros_like(here)
    has_neighbour[:, :-1] |= joined
    has_neighbour[:, 1:] |= joined
    return here & ~has_neighbour


def _aside(values: Floats, alone: NDArray[np.bool_]) -> Floats:
    """Return places in the rows of points alone; others are corners of lines, which must not leave their day."""
    aside = np.zeros(values.shape)
    for column in np.flatnonzero(alone.sum(axis=0) > 1):
        for grade in np.unique(values[alone[:, column], column]):
            rows = np.flatnonzero(alone[:, column] & (values[:, column] == grade))
            aside[rows, column] = np.arange(len(rows)) - (len(rows) - 1) / 2
    return aside


def side_by_side(count: int, grade_px: float) -> Floats:
    """Return how many grades above its own each track is drawn, so that equal grades do not hide each other.

    Together they take at most a quarter of the room between two grades, so that no line can be read as another
    grade; when there are too many for that to be seen, all lie on their grade.
    """
    if count < 2:
        return np.zeros(count)
    step = min(STEP_PX / grade_px, 2 * MOST_SHIFT / (count - 1))
    if step * grade_px < LEAST_STEP_PX:
        return np.zeros(count)
    return ((count - 1) / 2 - np.arange(count, dtype=np.float64)) * step


def shifted(grades: Floats, offsets: Floats) -> Floats:
    """Return where grades are drawn with the offsets of their tracks; at the ends of the scale hardly beyond it."""
    outward = ((grades >= BEST) & (offsets > 0)) | ((grades <= WORST) & (offsets < 0))
    return grades + np.where(outward, offsets / 2, offsets)


def value_at_right_edge(days: Floats, values: Floats, low: float, high: float) -> Floats:
    """Return for each row the grade its line has at the right end of the days in view; NaN where no line is in view.

    That is the last grade in view, or the one held all through it.
    """
    result = np.full(values.shape[0], np.nan)
    until = int(np.searchsorted(days, high, side="right"))
    if until == 0:
        return result
    here = np.isfinite(values[:, :until])
    last = until - 1 - np.argmax(here[:, ::-1], axis=1)
    rows = np.arange(values.shape[0])
    in_view = days[last] >= low
    following = np.minimum(last + 1, len(days) - 1)
    held_through = (following > last) & np.isfinite(values[rows, following])
    shown = here.any(axis=1) & (in_view | held_through)
    result[shown] = values[rows, last][shown]
    return result
