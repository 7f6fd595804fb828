"""A month of days, each with the signs of its weather and marks of what happened."""

from __future__ import annotations

from calendar import monthrange
from datetime import date, timedelta
from typing import Final

from PySide6.QtCore import QDate, QEvent, QLocale, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QColor,
    QFontMetricsF,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QToolTip, QWidget

from rustboard.ui.daylog.calendar_days import CalendarDays
from rustboard.ui.daylog.weather_signs import paint_disturbance, paint_inspection, paint_sign
from rustboard.ui.daylog.weather_words import day_name, note_words
from rustboard.ui.wording import number, tool_tip

_WEEKS: Final = 6
_DAYS: Final = 7
_FIRST: Final = date(1900, 1, 1)
_LAST: Final = date(2200, 12, 31)
_KEYS: Final = {
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_Up: -_DAYS,
    Qt.Key.Key_Down: _DAYS,
}


class MonthView(QWidget):
    """Shows one month; one of its days is chosen.

    Signals:
        chosen(): another day is.
        opened(): the weather of the chosen day is to be noted (Enter, double click).
    """

    chosen = Signal()
    opened = Signal()

    def __init__(self, today: date, parent: QWidget | None = None) -> None:
        """Show the month of a day."""
        super().__init__(parent)
        self._today = self._day = today
        self._days = CalendarDays({}, {}, frozenset())
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(False)
        self._speak()

    def day(self) -> date:
        """Return the chosen day."""
        return self._day

    def show_days(self, days: CalendarDays) -> None:
        """Show what is known of days."""
        self._days = days
        self._speak()
        self.update()

    def choose(self, day: date) -> None:
        """Choose a day, and bring its month into view."""
        day = min(max(day, _FIRST), _LAST)
        if day != self._day:
            self._day = day
            self._speak()
            self.update()
            self.chosen.emit()

    def turn(self, months: int) -> None:
        """Bring another month into view; the day of the month stays where it can."""
        count = self._day.year * 12 + self._day.month - 1 + months
        year, month = divmod(count, 12)
        if _FIRST.year <= year <= _LAST.year:
            last = monthrange(year, month + 1)[1]
            self.choose(date(year, month + 1, min(self._day.day, last)))

    def month_name(self) -> str:
        """Return the month in view in the user's language."""
        return QLocale().toString(QDate(self._day.year, self._day.month, 1), "MMMM yyyy")

    def words_of(self, day: date) -> str:
        """Return a day and what is known of it in words."""
        words = [day_name(day), note_words(self._days.notes.get(day))]
        if day in self._days.inspected:
            words.append(self.tr("Inspection."))
        if day in self._days.disturbed:
            words.append(self.tr("Disturbances: {0}.").format(self._days.disturbed[day]))
        return "\n".join(words)

    def sizeHint(self) -> QSize:
        """Return a size in which day, signs and a number fit each cell; Qt calls this."""
        return self._size(8, 2.3)

    def minimumSizeHint(self) -> QSize:
        """Return a size in which the signs are still seen; Qt calls this."""
        return self._size(5, 1.8)

    def _size(self, letters: int, lines: float) -> QSize:
        """Return the size of the month where a cell has so many letters and lines."""
        metrics = self.fontMetrics()
        width = metrics.averageCharWidth() * letters * _DAYS
        return QSize(width, metrics.height() + round(metrics.height() * lines) * _WEEKS)

    # ---- gestures

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk by arrows, turn months by PgUp and PgDn, open by Enter; Qt calls this."""
        key = event.key()
        if key in _KEYS:
            self.choose(self._day + timedelta(days=_KEYS[Qt.Key(key)]))
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self.turn(-1 if key == Qt.Key.Key_PageUp else 1)
        elif key == Qt.Key.Key_Home:
            self.choose(self._today)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.opened.emit()
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the day under the pointer; Qt calls this."""
        day = self._day_at(event.position())
        if day is not None:
            self.choose(day)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Open the day under the pointer; Qt calls this."""
        if self._day_at(event.position()) == self._day:
            self.opened.emit()

    def event(self, event: QEvent) -> bool:
        """Say what is known of the day under the pointer; Qt calls this."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            day = self._day_at(QPointF(event.pos()))
            QToolTip.showText(event.globalPos(), "" if day is None else tool_tip(self.words_of(day)), self)
            return True
        return super().event(event)

    # ---- places

    def _first_shown(self) -> date:
        first = self._day.replace(day=1)
        return first - timedelta(days=(first.isoweekday() - QLocale().firstDayOfWeek().value) % _DAYS)

    def _cell(self, place: int) -> QRectF:
        head = float(self.fontMetrics().height())
        width, height = self.width() / _DAYS, (self.height() - head) / _WEEKS
        return QRectF(place % _DAYS * width, head + place // _DAYS * height, width, height)

    def place_of(self, day: date) -> QPointF:
        """Return the middle of a day's cell, px."""
        return self._cell((day - self._first_shown()).days).center()

    def _day_at(self, point: QPointF) -> date | None:
        first = self._first_shown()
        inside = next((each for each in range(_WEEKS * _DAYS) if self._cell(each).contains(point)), None)
        return None if inside is None else first + timedelta(days=inside)

    # ---- painting

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the month; Qt calls this."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        first = self._first_shown()
        painter.setPen(self._ink("muted"))
        for column in range(_DAYS):
            cell = self._cell(column)
            head = QRectF(cell.left(), 0, cell.width(), cell.top())
            name = QLocale().dayName((first + timedelta(days=column)).isoweekday(), QLocale.FormatType.ShortFormat)
            painter.drawText(head, Qt.AlignmentFlag.AlignCenter, name)
        for place in range(_WEEKS * _DAYS):
            self._paint_day(painter, self._cell(place).adjusted(1, 1, -1, -1), first + timedelta(days=place))
        painter.end()

    def _paint_day(self, painter: QPainter, cell: QRectF, day: date) -> None:
        palette = self.palette()
        here = day == self._day
        painter.setPen(QPen(palette.highlight().color() if here else palette.mid().color(), 2.5 if here else 1))
        painter.setBrush(palette.base())
        painter.drawRoundedRect(cell, 4, 4)
        if here and self.hasFocus():
            painter.setPen(QPen(palette.text().color(), 1, Qt.PenStyle.DotLine))
            painter.drawRect(cell.adjusted(3, 3, -3, -3))
        inner = cell.adjusted(5, 2, -5, -3)
        font = painter.font()
        font.setBold(day == self._today)
        painter.setFont(font)
        painter.setPen(self._ink("text" if day.month == self._day.month else "muted"))
        painter.drawText(inner, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop, str(day.day))
        font.setBold(False)
        painter.setFont(font)
        self._paint_marks(painter, inner, day)
        self._paint_weather(painter, inner, day)

    def _paint_marks(self, painter: QPainter, inner: QRectF, day: date) -> None:
        """Paint the marks of an inspection and a disturbance at the right, one under the other."""
        size = self.fontMetrics().height() * 0.5
        place = QRectF(inner.right() - size, inner.top() + 3, size, size)
        if day in self._days.inspected:
            paint_inspection(painter, place, self._ink("text"))
            place.translate(0, size + 3)
        if day in self._days.disturbed:
            paint_disturbance(painter, place, self._ink("text"))

    def _paint_weather(self, painter: QPainter, inner: QRectF, day: date) -> None:
        note = self._days.notes.get(day)
        if note is None:
            return
        marked = day in self._days.inspected or day in self._days.disturbed
        room = inner.width() - (self.fontMetrics().height() * 0.5 + 2 if marked else 0)
        size = min(self.fontMetrics().height() * 0.8, inner.height() * 0.46, room / max(1, len(note.conditions)) - 2)
        left = inner.left()
        for condition in note.conditions:
            paint_sign(painter, QRectF(left, inner.bottom() - size, size, size), condition, self._ink("text"))
            left += size + 2
        if not note.rain_mm:
            return
        words = number(note.rain_mm, 1 if note.rain_mm < 10 else 0)
        beside = QRectF(left + 2, inner.bottom() - size, inner.left() + room - left - 2, size)
        if QFontMetricsF(painter.font()).horizontalAdvance(words) <= beside.width():
            painter.setPen(self._ink("text"))
            painter.drawText(beside, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, words)

    def _ink(self, name: str) -> QColor:
        palette = self.palette()
        return palette.placeholderText().color() if name == "muted" else palette.text().color()

    def _speak(self) -> None:
        self.setAccessibleName(self.words_of(self._day))
        if self.hasFocus():
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.NameChanged))
