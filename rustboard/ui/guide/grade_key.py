"""One of the eleven keys: a reference picture with its grade under it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QEnterEvent, QFont, QFontMetricsF, QImage, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from rustboard.ui.theme import Scheme, grade_colour, grade_ink, px_of_mm

LEAST_MM = 15.0
"""Least width of a key, so that a finger finds it."""

LARGE_MM = 20.0
"""Least width of a large key, for a thumb in a glove."""

_PICTURE_LEAST = 40


class GradeKey(QAbstractButton):
    """A key that gives a grade.

    Attributes:
        grade: 0-10.
    """

    def __init__(self, grade: int, limits: str, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Build the key of a grade; ``limits`` says its percent in words."""
        super().__init__(parent)
        self.grade = grade
        self._limits = limits
        self._scheme = scheme
        self._picture: QImage | None = None
        self._given = False
        self._large = False
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setText(str(grade))
        self.setAccessibleName(self.tr("Grade {0}: {1} rusted").format(grade, limits))
        shortcut = "T" if grade == 10 else str(grade)
        self.setToolTip(self.tr("Grade {0}: {1} rusted. Key: {2}").format(grade, limits, shortcut))

    def sizeHint(self) -> QSize:
        """Return a comfortable size."""
        return QSize(self._least_width() + 12, 190)

    def minimumSizeHint(self) -> QSize:
        """Return the least size: wide enough for a finger, or for a thumb in a glove."""
        return QSize(self._least_width(), self._foot_height() + 8)

    def _least_width(self) -> int:
        return px_of_mm(self, LARGE_MM if self._large else LEAST_MM)

    def set_large(self, large: bool) -> None:
        """Be large enough for a thumb in a glove, or as otherwise."""
        self._large = large
        self.updateGeometry()
        self.update()

    def set_picture(self, picture: QImage | None) -> None:
        """Show a reference picture."""
        self._picture = picture
        self.update()

    def set_given(self, given: bool) -> None:
        """Mark the grade that the coupon has at this inspection."""
        if given != self._given:
            self._given = given
            self.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def _foot_height(self) -> int:
        return max(px_of_mm(self, 12.0 if self._large else 9.0), round(QFontMetricsF(self.font()).height() * 2.3))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint picture, digit and percent."""
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        painter.setOpacity(1.0 if self.isEnabled() else 0.55)
        whole = QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5)
        pressed = self.isDown()
        painter.setPen(self._border(pressed))
        painter.setBrush(QColor(self._scheme.tile if pressed else self._scheme.base))
        painter.drawRoundedRect(whole, 6, 6)
        foot = QRectF(
            whole.left() + 3, whole.bottom() - self._foot_height(), whole.width() - 6, self._foot_height() - 3
        )
        self._paint_picture(
            painter, QRectF(whole.left() + 3, whole.top() + 3, whole.width() - 6, foot.top() - whole.top() - 6)
        )
        self._paint_foot(painter, foot)
        painter.end()

    def _border(self, pressed: bool) -> QPen:
        if self._given:
            return QPen(QColor(self._scheme.text), 3 * self._scheme.line_width)
        if self.hasFocus() or self.underMouse() or pressed:
            return QPen(QColor(self._scheme.accent), 2.0)
        return QPen(QColor(self._scheme.line), self._scheme.line_width)

    def _paint_picture(self, painter: QPainter, area: QRectF) -> None:
        if self._picture is None or area.height() < _PICTURE_LEAST / 2:
            return
        size = self._picture.size().toSizeF().scaled(area.size(), Qt.AspectRatioMode.KeepAspectRatio)
        target = QRectF(QPointF(), size)
        target.moveCenter(area.center())
        painter.drawImage(target, self._picture)

    def _paint_foot(self, painter: QPainter, foot: QRectF) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(grade_colour(self.grade))
        painter.drawRoundedRect(foot, 4, 4)
        painter.setPen(grade_ink(self.grade))
        digit = QFont(self.font())
        digit.setPointSizeF(self.font().pointSizeF() * 1.45)
        digit.setWeight(QFont.Weight.Bold)
        painter.setFont(digit)
        upper = QRectF(foot.left(), foot.top() + 1, foot.width(), foot.height() * 0.58)
        painter.drawText(upper, Qt.AlignmentFlag.AlignCenter, str(self.grade))
        small = QFont(self.font())
        small.setPointSizeF(self.font().pointSizeF() * 0.78)
        wide = QFontMetricsF(small).horizontalAdvance(self._limits)
        if wide > foot.width() - 2:  # a key of 15 mm is narrower than “0.01–0.03 %” in a large font
            small.setPointSizeF(small.pointSizeF() * (foot.width() - 2) / wide)
        painter.setFont(small)
        lower = QRectF(foot.left(), upper.bottom(), foot.width(), foot.bottom() - upper.bottom() - 1)
        painter.drawText(lower, Qt.AlignmentFlag.AlignCenter, self._limits)

    def enterEvent(self, event: QEnterEvent) -> None:
        """Show that the key is under the pointer."""
        super().enterEvent(event)
        self.update()
