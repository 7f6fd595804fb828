"""Eleven plain keys, 10 at the left, each at least 15 mm wide where the screen has room."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QColor, QEnterEvent, QFont, QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QWidget

from rustboard.ui.guide.strip import limits_text
from rustboard.ui.theme import Scheme, grade_colour, grade_ink, px_of_mm

LEAST_MM = 15.0
_HIGH_MM = 12.0


class DigitKey(QAbstractButton):
    """A key with a digit and its percent.

    Attributes:
        grade: 0-10.
    """

    def __init__(self, grade: int, scheme: Scheme) -> None:
        """Build the key of a grade."""
        super().__init__()
        self.grade = grade
        self._scheme = scheme
        self._limits = limits_text(grade)
        self._told = False
        self.setText(str(grade))
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(self.tr("Grade {0}: {1} rusted").format(grade, self._limits))
        shortcut = "T" if grade == 10 else str(grade)
        self.setToolTip(self.tr("Grade {0}: {1} rusted. Key: {2}").format(grade, self._limits, shortcut))

    def sizeHint(self) -> QSize:
        """Return a comfortable size."""
        return QSize(px_of_mm(self, LEAST_MM) + 12, self._height())

    def minimumSizeHint(self) -> QSize:
        """Return the least size: 15 mm wide, so that a finger finds it."""
        return QSize(px_of_mm(self, LEAST_MM), self._height())

    def set_told(self, told: bool) -> None:
        """Let the key stand out while the others are grey, as the true grade of a coupon."""
        self._told = told
        self.update()

    def _height(self) -> int:
        return max(px_of_mm(self, _HIGH_MM), round(QFontMetricsF(self.font()).height() * 2.7))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint digit and percent on the colour of the grade."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        lit = self.isEnabled() or self._told
        painter.setOpacity(1.0 if lit else 0.35)
        whole = QRectF(self.rect()).adjusted(2, 2, -2, -2)
        chosen = self._told or (self.isEnabled() and (self.hasFocus() or self.underMouse() or self.isDown()))
        painter.setPen(QPen(QColor(self._scheme.text if chosen else self._scheme.line), 3 if chosen else 1))
        painter.setBrush(grade_colour(self.grade))
        painter.drawRoundedRect(whole, 5, 5)
        painter.setOpacity(1.0)
        painter.setPen(grade_ink(self.grade) if lit else QColor(self._scheme.muted))
        digit = QFont(self.font())
        digit.setPointSizeF(self.font().pointSizeF() * 1.6)
        digit.setWeight(QFont.Weight.Bold)
        painter.setFont(digit)
        upper = QRectF(whole.left(), whole.top() + 2, whole.width(), whole.height() * 0.6)
        painter.drawText(upper, Qt.AlignmentFlag.AlignCenter, str(self.grade))
        painter.setFont(self._small_font(whole.width() - 6))
        lower = QRectF(whole.left(), upper.bottom(), whole.width(), whole.bottom() - upper.bottom() - 2)
        painter.drawText(lower, Qt.AlignmentFlag.AlignCenter, self._limits)
        painter.end()

    def _small_font(self, room: float) -> QFont:
        small = QFont(self.font())
        small.setPointSizeF(self.font().pointSizeF() * 0.8)
        wide = QFontMetricsF(small).horizontalAdvance(self._limits)
        if wide > room:
            small.setPointSizeF(small.pointSizeF() * room / wide)
        return small

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Take no second press so soon: by then the next coupon is in view, and it would be graded unseen."""
        event.accept()

    def enterEvent(self, event: QEnterEvent) -> None:
        """Show that the key is under the pointer."""
        super().enterEvent(event)
        self.update()


class GradeKeys(QWidget):
    """The row of keys.

    Signals:
        given(int): a key was pressed.

    Attributes:
        keys: by grade.
    """

    given = Signal(int)

    def __init__(self, scheme: Scheme) -> None:
        """Build the keys."""
        super().__init__()
        self.keys = {grade: DigitKey(grade, scheme) for grade in range(10, -1, -1)}
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(1)  # the keys keep a rim of their own
        for each in self.keys.values():
            row.addWidget(each)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._wire()

    def _wire(self) -> None:
        for each in self.keys.values():
            each.clicked.connect(self._give)

    def take(self, on: bool) -> None:
        """Take grades, or be grey; no true grade stands out any more."""
        for each in self.keys.values():
            each.set_told(False)
        self.setEnabled(on)

    def tell(self, true_grade: int) -> None:
        """Let the true grade stand out; the keys take nothing meanwhile."""
        self.take(False)
        self.keys[true_grade].set_told(True)

    @Slot()
    def _give(self) -> None:
        key = self.sender()
        if isinstance(key, DigitKey):
            self.given.emit(key.grade)
