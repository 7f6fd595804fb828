"""Which part of a picture is seen, and how large: shared by all panes that show it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSizeF
from PySide6.QtGui import QTransform

MOST_ZOOM = 24.0


class Viewport:
    """Zoom and place over a picture of a given size.

    Attributes:
        size: of the picture, in its own units. zoom: 1 shows the whole picture.
        centre: the place of the picture in the middle of every pane.
    """

    def __init__(self) -> None:
        """Start on a picture without size."""
        self.size = QSizeF(1, 1)
        self.zoom = 1.0
        self.centre = QPointF(0.5, 0.5)

    def show(self, size: QSizeF) -> None:
        """Look at a picture of this size; zoom and place stay when it is as large as the one before."""
        if size != self.size and not size.isEmpty():
            self.size = size
            self.fit()

    def fit(self) -> None:
        """See the whole picture."""
        self.zoom = 1.0
        self.centre = QPointF(self.size.width() / 2, self.size.height() / 2)

    def scale(self, pane: QRectF) -> float:
        """Return how many px of the window a unit of the picture takes in a pane."""
        fit = min(pane.width() / self.size.width(), pane.height() / self.size.height())
        return max(fit, 1e-6) * self.zoom

    def transform(self, pane: QRectF) -> QTransform:
        """Return the way from the picture to a pane."""
        scale = self.scale(pane)
        middle = pane.center()
        return QTransform(
            scale, 0, 0, scale, middle.x() - self.centre.x() * scale, middle.y() - self.centre.y() * scale
        )

    def at(self, pane: QRectF, point: QPointF) -> QPointF:
        """Return the place of the picture under a point of the window."""
        return self.centre + (point - pane.center()) / self.scale(pane)

    def zoom_at(self, pane: QRectF, point: QPointF, factor: float) -> None:
        """Zoom so that the place under a point stays there."""
        held = self.at(pane, point)
        self.zoom = min(max(self.zoom * factor, 1.0), MOST_ZOOM)
        self.centre = held - (point - pane.center()) / self.scale(pane)
        self._keep_in(pane)

    def pan(self, pane: QRectF, by: QPointF) -> None:
        """Move the picture by px of the window."""
        self.centre = self.centre - by / self.scale(pane)
        self._keep_in(pane)

    def _keep_in(self, pane: QRectF) -> None:
        """Never lose the picture from sight: where it is smaller than the pane it stays in the middle."""
        scale = self.scale(pane)
        self.centre = QPointF(
            _kept(self.centre.x(), self.size.width(), pane.width() / scale),
            _kept(self.centre.y(), self.size.height(), pane.height() / scale),
        )


def _kept(centre: float, length: float, seen: float) -> float:
    if seen >= length:
        return length / 2
    return min(max(centre, seen / 2), length - seen / 2)
