"""The coupon being graded: now, at the inspection before, and on day zero."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QImage, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from rustboard.board.model import Outline
from rustboard.ui.outline import outline_path
from rustboard.ui.theme import Scheme

_SHARES = (0.44, 0.28, 0.28)
_GAP = 8.0


@dataclass(frozen=True, slots=True)
class Shot:
    """One picture and the line under it."""

    image: QImage | None
    caption: str


class CouponViews(QWidget):
    """Three pictures side by side, the newest the largest."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._scheme = scheme
        self._shots: tuple[Shot, ...] = ()
        self._outline: Outline = ()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        """Return a comfortable size."""
        return QSize(360, 240)

    def minimumSizeHint(self) -> QSize:
        """Return the least size."""
        return QSize(200, 60)

    def show_shots(self, shots: tuple[Shot, ...], outline: Outline) -> None:
        """Show pictures; where one is missing, the outline stands for it."""
        self._shots = shots
        self._outline = outline
        self.setAccessibleName(", ".join(each.caption for each in shots))
        self.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the pictures with their lines."""
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        line = QFontMetricsF(self.font()).height()
        left = 0.0
        room = self.width() - _GAP * (len(self._shots) - 1)
        shares = _SHARES[: len(self._shots)]
        for shot, share in zip(self._shots, shares, strict=True):
            width = room * share / sum(shares)
            self._paint_shot(painter, QRectF(left, 0, width, self.height()), shot, line)
            left += width + _GAP
        painter.end()

    def _paint_shot(self, painter: QPainter, area: QRectF, shot: Shot, line: float) -> None:
        picture = QRectF(area.left(), area.top(), area.width(), area.height() - line * 1.3)
        if shot.image is not None:
            size = shot.image.size().toSizeF().scaled(picture.size(), Qt.AspectRatioMode.KeepAspectRatio)
            target = QRectF(QPointF(), size)
            target.moveCenter(picture.center())
            painter.drawImage(target, shot.image)
        elif picture.height() > 10:
            painter.setPen(QPen(QColor(self._scheme.muted), 1, Qt.PenStyle.DashLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawPath(outline_path(self._outline, picture.adjusted(2, 2, -2, -2)))
            painter.drawText(picture, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, self.tr("no picture"))
        painter.setPen(QColor(self._scheme.muted))
        caption = QFontMetricsF(self.font()).elidedText(shot.caption, Qt.TextElideMode.ElideRight, area.width())
        painter.drawText(
            QRectF(area.left(), picture.bottom(), area.width(), line * 1.3), Qt.AlignmentFlag.AlignCenter, caption
        )
