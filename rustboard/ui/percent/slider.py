"""The slider of percents: the grades along it in their colours, with the limits between them."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QWheelEvent,
)
from PySide6.QtWidgets import QAbstractSlider, QSizePolicy, QWidget

from rustboard.scales.percent_scale import MARKS, percent_at, place_of
from rustboard.scales.rust_grade import limits_percent
from rustboard.ui.theme import Scheme, grade_colour, grade_ink, px_of_mm
from rustboard.ui.wording import number

PLACES = 10_000
"""Positions of the slider: fine enough for every percent of two digits."""

_WHEEL_NOTCH = 120


class PercentSlider(QAbstractSlider):
    """A slider from nothing to all rusted; what it stands at is `percent`.

    Signals:
        stepped(int): small steps are wanted, by keys or wheel; negative for less.
    """

    stepped = Signal(int)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Build it at nothing."""
        super().__init__(parent)
        self._scheme = scheme
        self._large = False
        self.setRange(0, PLACES)
        self.setOrientation(Qt.Orientation.Horizontal)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the keyboard with the grades
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(self.tr("Percent rusted"))

    def percent(self) -> float:
        """Return the percent at the handle, in two digits."""
        return percent_at(self.value() / PLACES)

    def show_percent(self, percent: float) -> None:
        """Stand at a percent; nothing is told of it."""
        self.blockSignals(True)
        self.setValue(round(place_of(percent) * PLACES))
        self.blockSignals(False)
        self.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def set_large(self, large: bool) -> None:
        """Be large enough for gloves, or as otherwise."""
        self._large = large
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Return a comfortable size."""
        return QSize(420, self.minimumSizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """Return the least size."""
        return QSize(px_of_mm(self, 60.0), round(self._track() + self._line() + 4))

    # ---- hand

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Bring the handle under the finger."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.setSliderDown(True)
            self._follow(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Take the handle along."""
        if self.isSliderDown():
            self._follow(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let the handle go."""
        self.setSliderDown(False)

    def _follow(self, event: QMouseEvent) -> None:
        left, right = self._ends()
        share = (event.position().x() - left) / (right - left)
        if self.layoutDirection() == Qt.LayoutDirection.RightToLeft:
            share = 1 - share
        self.setValue(round(min(1.0, max(0.0, share)) * PLACES))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Go by small steps."""
        notches = round(event.angleDelta().y() / _WHEEL_NOTCH)
        if notches:
            self.stepped.emit(notches)
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and Right go by small steps; the other keys are the picker's."""
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        if event.key() in steps:
            self.stepped.emit(steps[Qt.Key(event.key())])
        else:
            event.ignore()

    # ---- looks

    def _track(self) -> float:
        return float(px_of_mm(self, 13.0 if self._large else 9.5))

    def _line(self) -> float:
        return QFontMetricsF(self._small()).height()

    def _small(self) -> QFont:
        small = QFont(self.font())
        small.setPointSizeF(self.font().pointSizeF() * 0.85)
        return small

    def _ends(self) -> tuple[float, float]:
        room = max(QFontMetricsF(self._small()).horizontalAdvance("100") / 2, self._half_handle()) + 2
        return (room, max(room + 1, self.width() - room))

    def _half_handle(self) -> float:
        return self._track() * 0.22

    def _x_of(self, percent: float) -> float:
        left, right = self._ends()
        place = place_of(percent)
        if self.layoutDirection() == Qt.LayoutDirection.RightToLeft:
            place = 1 - place
        return left + place * (right - left)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the grades, the marks, the limits and the handle."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setOpacity(1.0 if self.isEnabled() else 0.55)
        self._paint_grades(painter)
        self._paint_limits(painter)
        self._paint_handle(painter)
        painter.end()

    def _band(self) -> QRectF:
        left, right = self._ends()
        return QRectF(left, self._track() * 0.16, right - left, self._track() * 0.68)

    def _paint_grades(self, painter: QPainter) -> None:
        band = self._band()
        digit = QFont(self.font())
        digit.setWeight(QFont.Weight.Bold)
        painter.setFont(digit)
        for grade in range(11):
            lower, upper = (self._x_of(each) for each in limits_percent(grade))
            part = QRectF(QPointF(min(lower, upper), band.top()), QPointF(max(lower, upper), band.bottom()))
            painter.fillRect(part, grade_colour(grade))
            painter.setPen(grade_ink(grade))
            if QFontMetricsF(digit).horizontalAdvance(str(grade)) < part.width():
                painter.drawText(part, Qt.AlignmentFlag.AlignCenter, str(grade))
        painter.setPen(QPen(QColor(self._scheme.text), 1))
        for mark in MARKS:
            x = self._x_of(mark)
            painter.drawLine(QPointF(x, band.bottom() - self._track() * 0.12), QPointF(x, band.bottom()))

    def _paint_limits(self, painter: QPainter) -> None:
        """Write the limits under the band; where they would touch, the one further on gives way."""
        band = self._band()
        painter.setFont(self._small())
        metrics = QFontMetricsF(self._small())
        taken: list[QRectF] = []
        limits = [0.0, 100.0, *(limits_percent(grade)[1] for grade in range(10, 0, -1))]
        for limit in limits:
            x, text = self._x_of(limit), number(limit, 2)
            painter.setPen(QPen(QColor(self._scheme.text), 1))
            painter.drawLine(QPointF(x, band.top()), QPointF(x, self._track()))
            width = metrics.horizontalAdvance(text) + 4
            place = QRectF(x - width / 2, self._track(), width, self._line())
            if not any(place.intersects(each) for each in taken):
                painter.setPen(QColor(self._scheme.muted))
                painter.drawText(place, Qt.AlignmentFlag.AlignCenter, text)
                taken.append(place)

    def _paint_handle(self, painter: QPainter) -> None:
        left, right = self._ends()
        share = self.value() / PLACES
        if self.layoutDirection() == Qt.LayoutDirection.RightToLeft:
            share = 1 - share
        half = self._half_handle()
        handle = QRectF(left + share * (right - left) - half, 1, 2 * half, self._track() - 2)
        painter.setPen(QPen(QColor(self._scheme.base), 2))
        painter.setBrush(QColor(self._scheme.accent))
        painter.drawRoundedRect(handle, 4, 4)
        painter.setPen(QPen(QColor(self._scheme.text if self.hasFocus() else self._scheme.on_accent), 2))
        middle = handle.center().x()
        painter.drawLine(QPointF(middle, handle.top() + 5), QPointF(middle, handle.bottom() - 5))
