"""A picture in a widget: where each place of it is, from how near it is seen, and how it is painted.

The picture has units of its own (pixels of a photo, millimetres of a board); its top left corner is (0, 0).
"""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt, Signal, Slot
from PySide6.QtGui import (
    QColor,
    QImage,
    QPainter,
    QPixmap,
    QResizeEvent,
    QTransform,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from rustboard.ui.theme import Scheme

STEP: Final = 1.25
_RIM_PX: Final = 10
_MOST_ZOOM: Final = 60.0
_LEAST_ZOOM: Final = 0.5
_SEEN_PX: Final = 40  # of the picture, so that it cannot be pushed out of sight


class PictureFrame(QWidget):
    """Shows a picture, nearer or farther, turned by quarters.

    Signals:
        view_changed(): zoomed, moved or turned.

    Attributes:
        scheme: its colours.
    """

    view_changed = Signal()

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without a picture."""
        super().__init__(parent)
        self.scheme = scheme
        self._image = QImage()
        self._extent = QSizeF(100, 100)
        self._turns = 0
        self._zoom = 1.0
        self._middle = QPointF(50, 50)
        self._backdrop: QPixmap | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        """Ask for little: the view takes what is left."""
        return QSize(320, 240)

    def minimumSizeHint(self) -> QSize:
        """Return a size in which a picture is still of use."""
        return QSize(160, 120)

    # ---- the picture

    def show_image(self, image: QImage, extent: QSizeF) -> None:
        """Show a picture of this extent in its own units; the first one is shown whole, later ones as before."""
        anew = self._image.isNull() or extent != self._extent
        self._image, self._extent = image, extent
        if anew:
            self.fit()
        self._repaint_all()

    def has_image(self) -> bool:
        """Return whether there is a picture."""
        return not self._image.isNull()

    def image(self) -> QImage:
        """Return the picture."""
        return self._image

    def extent(self) -> QSizeF:
        """Return the picture's size in its units."""
        return self._extent

    # ---- where everything is

    def transform(self) -> QTransform:
        """Return the way from the picture's units to this widget."""
        scale = self._fit_scale() * self._zoom
        turned = QTransform().translate(self.width() / 2, self.height() / 2)
        return turned.rotate(90 * self._turns).scale(scale, scale).translate(-self._middle.x(), -self._middle.y())

    def to_widget(self, x: float, y: float) -> QPointF:
        """Return where a place of the picture is on this widget."""
        return self.transform().map(QPointF(x, y))

    def to_picture(self, point: QPointF) -> QPointF:
        """Return which place of the picture is at a point of this widget."""
        back, _ = self.transform().inverted()
        return back.map(point)

    def px_per_unit(self) -> float:
        """Return how many px of this widget one unit of the picture takes."""
        return self._fit_scale() * self._zoom

    def turned(self) -> int:
        """Return by how many quarter turns clockwise the picture is shown."""
        return self._turns

    def _fit_scale(self) -> float:
        across, down = self._extent.width(), self._extent.height()
        if self._turns % 2:
            across, down = down, across
        room = max(40.0, self.width() - 2.0 * _RIM_PX), max(40.0, self.height() - 2.0 * _RIM_PX)
        return float(min(room[0] / max(across, 1e-6), room[1] / max(down, 1e-6)))

    # ---- looking

    @Slot()
    def fit(self) -> None:
        """Show the whole picture."""
        self._zoom = 1.0
        self._middle = QPointF(self._extent.width() / 2, self._extent.height() / 2)
        self._repaint_all()

    @Slot()
    def zoom_in(self) -> None:
        """Show more closely."""
        self.zoom_by(STEP)

    @Slot()
    def zoom_out(self) -> None:
        """Show from farther."""
        self.zoom_by(1 / STEP)

    @Slot()
    def turn_left(self) -> None:
        """Turn what is seen, not the photo."""
        self._turns = (self._turns - 1) % 4
        self.fit()

    @Slot()
    def turn_right(self) -> None:
        """Turn what is seen, not the photo."""
        self._turns = (self._turns + 1) % 4
        self.fit()

    def zoom_by(self, factor: float, about: QPointF | None = None) -> None:
        """Zoom; the place under ``about`` (widget) stays where it is."""
        about = about or QPointF(self.width() / 2, self.height() / 2)
        before = self.to_picture(about)
        self._zoom = max(_LEAST_ZOOM, min(_MOST_ZOOM, self._zoom * factor))
        after = self.to_picture(about)
        self._look_at(self._middle + before - after)

    def see(self, x: float, y: float) -> None:
        """Move the picture as little as needed for a place of it to be in view."""
        at, rim = self.to_widget(x, y), 30.0
        left = min(max(at.x(), min(rim, self.width() / 2)), max(self.width() - rim, self.width() / 2))
        top = min(max(at.y(), min(rim, self.height() / 2)), max(self.height() - rim, self.height() / 2))
        if (left, top) != (at.x(), at.y()):
            self._look_at(self._middle + self.to_picture(at) - self.to_picture(QPointF(left, top)))

    def _look_at(self, middle: QPointF) -> None:
        slack = _SEEN_PX / max(self.px_per_unit(), 1e-9)
        wide, high = self._extent.width(), self._extent.height()
        x = min(max(middle.x(), min(slack, wide / 2)), max(wide - slack, wide / 2))
        y = min(max(middle.y(), min(slack, high / 2)), max(high - slack, high / 2))
        self._middle = QPointF(x, y)
        self._repaint_all()

    def _repaint_all(self) -> None:
        self._backdrop = None
        self.update()
        self.view_changed.emit()

    # ---- painting

    def _painted_backdrop(self) -> QPixmap:
        ratio = self.devicePixelRatioF()
        backdrop = QPixmap(self.size() * ratio)
        backdrop.setDevicePixelRatio(ratio)
        backdrop.fill(QColor(self.scheme.tile))
        if not self._image.isNull():
            painter = QPainter(backdrop)
            # Many screen px to one of the picture are shown as they are: that is what is being tapped.
            fine = self.px_per_unit() * self._extent.width() / max(1, self._image.width()) < 4
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, fine)
            painter.setTransform(self.transform())
            painter.drawImage(QRectF(QPointF(0, 0), self._extent), self._image)
            painter.end()
        return backdrop

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Paint anew for the new room."""
        super().resizeEvent(event)
        self._repaint_all()
