"""A coupon large beside the reference pictures of the grades in dispute."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QImage, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from rustboard.session.jobs import Progress
from rustboard.session.pictures import GuideRequest, guide_picture
from rustboard.ui.agreement.grade_chip import chip_width, paint_chip
from rustboard.ui.coupon_pictures import image_of
from rustboard.ui.theme import Scheme

_GAP = 8.0
_LINES = 3
_COUPON_SHARE = 1.5
"""How much wider the coupon is than one reference picture."""


class Shot(NamedTuple):
    """One picture with the lines under it.

    Attributes:
        grade: painted on its colour before the caption; None for the coupon itself.
        who: who gave this grade; empty for the coupon.
    """

    image: QImage | None
    grade: int | None
    caption: str
    who: str


def draw_references(request: GuideRequest, grades: tuple[int, ...], progress: Progress) -> dict[int, QImage]:
    """Draw the reference pictures of some grades; a job."""
    found = {}
    for each in grades:
        picture = guide_picture(request, each, progress)
        found[each] = image_of(picture.rgb, picture.mask)
    return found


class DisputePictures(QWidget):
    """Pictures side by side, the coupon first."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._scheme = scheme
        self.shots: Sequence[Shot] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        """Return a size for a low window; where there is room, the pictures take it."""
        return QSize(480, 150)

    def minimumSizeHint(self) -> QSize:
        """Return the least size."""
        return QSize(180, 130)

    def show_shots(self, shots: Sequence[Shot], words: str) -> None:
        """Show pictures; ``words`` say what is seen."""
        self.shots = shots
        self.setAccessibleName(words)
        self.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the pictures with their lines."""
        if not self.shots:
            return
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        shares = [_COUPON_SHARE if each.grade is None else 1.0 for each in self.shots]
        room = self.width() - _GAP * (len(shares) - 1)
        left = 0.0
        for shot, share in zip(self.shots, shares, strict=True):
            width = room * share / sum(shares)
            self._paint_shot(painter, QRectF(left, 0, width, self.height()), shot)
            left += width + _GAP
        painter.end()

    def _paint_shot(self, painter: QPainter, area: QRectF, shot: Shot) -> None:
        line = QFontMetricsF(self.font()).height() * 1.3
        picture = area.adjusted(0, 0, 0, -line * _LINES)
        if shot.image is not None:
            size = shot.image.size().toSizeF().scaled(picture.size(), Qt.AspectRatioMode.KeepAspectRatio)
            target = QRectF(QPointF(), size)
            target.moveCenter(picture.center())
            painter.drawImage(target, shot.image)
        else:
            painter.setPen(QPen(QColor(self._scheme.muted), 1, Qt.PenStyle.DashLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(picture.adjusted(2, 2, -2, -2))
            text = self.tr("no picture") if shot.grade is None else "…"
            painter.setFont(self.font())
            painter.drawText(picture, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, text)
        under = QRectF(area.left(), picture.bottom(), area.width(), line)
        if shot.grade is not None:
            left = under.center().x() - chip_width(self.font()) / 2
            paint_chip(painter, self.font(), left, under.center().y(), shot.grade)
            under.translate(0, line)
        self._paint_line(painter, under, self._scheme.muted, shot.caption)
        self._paint_line(painter, under.translated(0, line), self._scheme.text, shot.who)

    def _paint_line(self, painter: QPainter, area: QRectF, colour: str, text: str) -> None:
        shown = QFontMetricsF(self.font()).elidedText(text, Qt.TextElideMode.ElideRight, area.width())
        painter.setFont(self.font())
        painter.setPen(QColor(colour))
        painter.drawText(area, Qt.AlignmentFlag.AlignCenter, shown)
