"""Two photos over one another, the upper one more or less transparent."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPainterPath, QPen, QTransform
from PySide6.QtWidgets import QWidget

from rustboard.ui.placing.overlay import Overlay
from rustboard.ui.theme import Scheme
from rustboard.ui.zooming.ink import closed_path, stroke
from rustboard.ui.zooming.view import ZoomView

_EDGE_INK: Final = "#ffd23f"
_COUPON_INK: Final = "#7fe3ff"
_FAINT: Final = 0.42
_MARK_SHARE: Final = 0.035


class OnionView(ZoomView):
    """Shows an earlier photo, and over it a new one.

    Attributes:
        overlay: lines of the earlier photo. share: how much is seen of the new one, 0 to 1.
    """

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without photos."""
        super().__init__(scheme, parent)
        self.overlay = Overlay()
        self.share = 0.5
        self._new = QImage()

    def show_new(self, image: QImage) -> None:
        """Lay a new photo over the earlier one; a null one is taken away."""
        self._new = image
        self.update()

    def has_new(self) -> bool:
        """Return whether there is a new photo."""
        return not self._new.isNull()

    def set_share(self, share: float) -> None:
        """Show more or less of the new photo."""
        self.share = share
        self.update()

    def paint_over(self, painter: QPainter) -> None:
        """Paint the new photo over the earlier one, then the earlier one's lines."""
        if not self._new.isNull():
            painter.save()
            painter.setOpacity(self.share)
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.setTransform(self.transform(), True)
            painter.drawImage(_fitted(self._new, self.extent()), self._new)
            painter.restore()
        paint_lines(painter, self.overlay, self.transform())


def _fitted(image: QImage, extent: QSizeF) -> QRectF:
    size = QSizeF(image.size()).scaled(extent, Qt.AspectRatioMode.KeepAspectRatio)
    corner = QPointF((extent.width() - size.width()) / 2, (extent.height() - size.height()) / 2)
    return QRectF(corner, size)


def paint_lines(painter: QPainter, overlay: Overlay, transform: QTransform, width: float = 1.6) -> None:
    """Paint the outlines and the edge of a board."""
    for outline in overlay.coupons:
        stroke(painter, closed_path([transform.map(QPointF(*each)) for each in outline]), _COUPON_INK, width)
    if overlay.edge:
        edge = closed_path([transform.map(QPointF(*each)) for each in overlay.edge])
        stroke(painter, edge, _EDGE_INK, width * 1.5)


def sheet_for_phone(
    photo: QImage, extent: QSizeF, overlay: Overlay, corners: tuple[tuple[float, float], ...]
) -> QImage:
    """Return a faint picture of a photo with the board's edge, the coupons and a cross at each corner of the board.

    Args:
        photo: the photo, reduced.
        extent: its size in its own pixels, in which the lines are.
        overlay: the lines.
        corners: of the board.
    """
    sheet = QImage(photo.size(), QImage.Format.Format_RGB32)
    sheet.fill(QColor("#ffffff"))
    painter = QPainter(sheet)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setOpacity(_FAINT)
    painter.drawImage(QPointF(0, 0), photo)
    painter.setOpacity(1.0)
    scale = QTransform().scale(photo.width() / extent.width(), photo.height() / extent.height())
    line = max(1.5, photo.width() / 700)
    paint_lines(painter, overlay, scale, line)
    reach = _MARK_SHARE * max(photo.width(), photo.height())
    for corner in corners:
        at = scale.map(QPointF(*corner))
        cross = QPainterPath(at - QPointF(reach, 0))
        cross.lineTo(at + QPointF(reach, 0))
        cross.moveTo(at - QPointF(0, reach))
        cross.lineTo(at + QPointF(0, reach))
        painter.setPen(QPen(QColor("#c00020"), line * 2))
        painter.drawPath(cross)
        painter.drawEllipse(at, reach / 2, reach / 2)
    painter.end()
    return sheet
