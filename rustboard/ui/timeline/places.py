"""Where days and grades lie in the plot, and what lies where one points."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QTransform

from rustboard.ui.timeline.day_range import DayRange
from rustboard.ui.timeline.drawing import Drawing
from rustboard.ui.timeline.steps_item import HIGHEST, LOWEST

REACH_PX: Final = 40
"""How far from an inspection one can point and still mean it."""

LINE_REACH_PX: Final = 14


@dataclass(frozen=True, slots=True)
class Places:
    """A drawing as it lies in the view.

    Attributes:
        area: the plot, px of the view. days: those in view.
    """

    area: QRectF
    days: DayRange
    drawing: Drawing

    @property
    def grade_px(self) -> float:
        """Height of one grade."""
        return self.area.height() / (HIGHEST - LOWEST)

    @property
    def days_a_px(self) -> float:
        """Days that one px to the right stands for."""
        return (self.days.high - self.days.low) / max(1.0, self.area.width())

    def to_view(self) -> QTransform:
        """Return the transform from days and grades to px of the view."""
        right, up = 1 / self.days_a_px, self.grade_px
        left = self.area.left() - self.days.low * right
        return QTransform(right, 0, 0, -up, left, self.area.top() + HIGHEST * up)

    def of(self, inspection: int, grade: float) -> QPointF:
        """Return where a grade at an inspection (its number by time) lies."""
        return self.to_view().map(QPointF(float(self.drawing.days[inspection]), grade))

    def day_at(self, x: float) -> float:
        """Return the day at a place."""
        return self.days.low + (x - self.area.left()) * self.days_a_px

    def inspection_at(self, x: float, y: float | None = None) -> int:
        """Return the number of the inspection near a place, or -1.

        Where the clock stood still several lie above one another: the one with a grade nearest to the height counts,
        and the latest of those that are as near.
        """
        found = self.drawing.nearest(self.day_at(x))
        if not found or abs(self.of(found[0], 0).x() - x) > REACH_PX:
            return -1
        if len(found) == 1 or y is None:
            return found[-1]
        away = np.array([self._away(each, y) for each in found])
        return found[int(np.flatnonzero(away <= away.min() + 0.5)[-1])]

    def _away(self, inspection: int, y: float) -> float:
        """Return how far the nearest grade at an inspection lies from a height, px; beyond the plot without any."""
        heights = self.drawing.heights(self.drawing.values[:, inspection], self.grade_px)
        away = np.abs(self.area.top() + (HIGHEST - heights) * self.grade_px - y)
        return float(np.nanmin(away)) if np.isfinite(away).any() else self.area.height()

    def track_at(self, inspection: int, y: float) -> int:
        """Return the number of the track whose grade at an inspection lies near a height, or -1."""
        if inspection < 0:
            return -1
        scale = self.grade_px
        heights = self.drawing.heights(self.drawing.values[:, inspection], scale)
        away = np.abs(self.area.top() + (HIGHEST - heights) * scale - y)
        if not np.isfinite(away).any():
            return -1
        nearest = int(np.nanargmin(away))
        return nearest if away[nearest] <= LINE_REACH_PX else -1
