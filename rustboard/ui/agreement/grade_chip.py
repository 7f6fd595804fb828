"""A grade as a digit on its colour: painted in rows and pictures, or as a small key to press."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QWidget

from rustboard.ui.guide.strip import limits_text
from rustboard.ui.theme import Scheme, grade_colour, grade_ink, px_of_mm

KEY_MM = 9.0
_RIM_ALPHA = 90


def chip_width(font: QFont) -> float:
    """Return how wide a painted grade is."""
    return QFontMetricsF(font).horizontalAdvance("10") + 10


def paint_chip(painter: QPainter, font: QFont, left: float, middle: float, grade: int) -> float:
    """Paint a grade on its colour, its left edge at ``left``; return where it ends."""
    bold = QFont(font)
    bold.setBold(True)
    height = QFontMetricsF(bold).height() + 2
    box = QRectF(left, middle - height / 2, chip_width(font), height)
    rim = grade_ink(grade)
    rim.setAlpha(_RIM_ALPHA)  # a grey grade would be lost on a grey ground
    painter.setPen(QPen(rim, 1))
    painter.setBrush(grade_colour(grade))
    painter.drawRoundedRect(box.adjusted(0.5, 0.5, -0.5, -0.5), 3, 3)
    painter.setFont(bold)
    painter.setPen(grade_ink(grade))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(grade))
    return box.right()


class DigitKey(QAbstractButton):
    """A small key that gives a grade.

    Attributes:
        grade: 0-10.
    """

    def __init__(self, grade: int, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Build the key of a grade."""
        super().__init__(parent)
        self.grade = grade
        self._scheme = scheme
        self._counts = False
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setText(str(grade))
        self.setAccessibleName(self.tr("Agree on grade {0}").format(grade))
        shortcut = "T" if grade == 10 else str(grade)
        self.setToolTip(
            self.tr("Agree on grade {0}: {1} rusted. Key: {2}").format(grade, limits_text(grade), shortcut)
        )

    def sizeHint(self) -> QSize:
        """Return a size that a finger finds."""
        side = px_of_mm(self, KEY_MM)
        return QSize(side, side)

    def minimumSizeHint(self) -> QSize:
        """Return the same."""
        return self.sizeHint()

    def set_counts(self, counts: bool) -> None:
        """Mark the grade that counts on the board."""
        if counts != self._counts:
            self._counts = counts
            self.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the digit on its colour, a frame around it where the keyboard is or where it counts."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setOpacity(1.0 if self.isEnabled() else 0.55)
        area = QRectF(self.rect()).adjusted(2, 2, -2, -2)
        painter.setBrush(grade_colour(self.grade))
        if self.hasFocus() or self.isDown():
            painter.setPen(QPen(QColor(self._scheme.accent), 3))
        elif self._counts:
            painter.setPen(QPen(QColor(self._scheme.text), 3))
        else:
            painter.setPen(QPen(QColor(self._scheme.line), 1))
        painter.drawRoundedRect(area, 5, 5)
        font = QFont(self.font())
        font.setBold(True)
        font.setPointSizeF(font.pointSizeF() * 1.15)
        painter.setFont(font)
        painter.setPen(grade_ink(self.grade))
        painter.drawText(area, Qt.AlignmentFlag.AlignCenter, str(self.grade))
        if self._counts:
            painter.setBrush(grade_ink(self.grade))
            painter.setPen(Qt.PenStyle.NoPen)
            painter.drawEllipse(QPointF(area.center().x(), area.bottom() - 4), 2, 2)
        painter.end()
