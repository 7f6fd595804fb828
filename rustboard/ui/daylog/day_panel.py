"""The calendar of the day log, and what is noted of the day chosen in it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from typing import Final

from PySide6.QtCore import QCoreApplication, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QToolButton, QVBoxLayout, QWidget

from rustboard.board.record import BoardRecord
from rustboard.board.weather import CONDITIONS, Condition
from rustboard.ui.daylog.calendar_days import CalendarDays, calendar_days, empty_days_before
from rustboard.ui.daylog.month_view import MonthView
from rustboard.ui.daylog.weather_signs import paint_disturbance, paint_inspection, paint_sign
from rustboard.ui.daylog.weather_words import condition_name, day_name, note_words
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.labels import words_label

_WORTH_FILLING: Final = 2


class CalendarColumn(QWidget):
    """A month with its name, buttons to turn it, and what the signs mean.

    Attributes:
        month: the month.
    """

    def __init__(self, today: date, parent: QWidget | None = None) -> None:
        """Show the month of a day."""
        super().__init__(parent)
        self._today = today
        self.month = MonthView(today)
        self._back = _turner("◀", self.tr("Month before (PgUp)"))
        self._on = _turner("▶", self.tr("Month after (PgDn)"))
        self._now = QPushButton(self.tr("&Today"))
        self._now.setAutoDefault(False)
        self._name = QLabel()
        head = QHBoxLayout()
        head.addWidget(self._back)
        head.addWidget(self._name, 1, Qt.AlignmentFlag.AlignCenter)
        head.addWidget(self._on)
        head.addWidget(self._now)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        column.addLayout(head)
        column.addWidget(self.month, 1)
        column.addWidget(flowing(*_legend()))
        self._wire()
        self._follow()

    def _wire(self) -> None:
        self._back.clicked.connect(self._turn_back)
        self._on.clicked.connect(self._turn_on)
        self._now.clicked.connect(self._go_today)
        self.month.chosen.connect(self._follow)

    @Slot()
    def _turn_back(self) -> None:
        self.month.turn(-1)

    @Slot()
    def _turn_on(self) -> None:
        self.month.turn(1)

    @Slot()
    def _go_today(self) -> None:
        self.month.choose(self._today)

    @Slot()
    def _follow(self) -> None:
        self._name.setText(self.month.month_name())


class DayPanel(QWidget):
    """What is noted of one day's weather, with what can be done about it.

    Signals:
        weather_asked(object): the weather of this day is to be noted or put right.
        quiet_asked(object): this day was dry, and nothing happened.
        forget_asked(int): take back the note with this key.
        fill_asked(object): these days were dry, a list of dates.
    """

    weather_asked = Signal(object)
    quiet_asked = Signal(object)
    forget_asked = Signal(int)
    fill_asked = Signal(object)

    def __init__(self, today: date, parent: QWidget | None = None, *, editable: bool) -> None:
        """Show nothing yet."""
        super().__init__(parent)
        self._today, self._day = today, today
        self._days = CalendarDays({}, {}, frozenset())
        self._empty: list[date] = []
        self._heading, self._words = words_label(narrow=True), words_label(narrow=True)
        font = self._heading.font()
        font.setBold(True)
        self._heading.setFont(font)
        self._quiet = QPushButton(self.tr("&Nothing happened: dry"))
        self._weather = QPushButton(self.tr("&Weather of this day…"))
        self._forget = QPushButton(self.tr("Take &back"))
        self._fill = QPushButton()
        for each in self._buttons():
            each.setAutoDefault(False)
            each.setVisible(editable)
        self._editable = editable
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        column.addWidget(self._heading)
        column.addWidget(self._words)
        column.addWidget(flowing(*self._buttons()))
        self._wire()

    def _buttons(self) -> tuple[QPushButton, ...]:
        return (self._quiet, self._weather, self._forget, self._fill)

    def _wire(self) -> None:
        self._quiet.clicked.connect(self._ask_quiet)
        self._weather.clicked.connect(self.ask_weather)
        self._forget.clicked.connect(self._ask_forget)
        self._fill.clicked.connect(self._ask_fill)

    def show_days(self, record: BoardRecord, day: date) -> CalendarDays:
        """Show what is noted of a day; return what is known of all days."""
        self._days, self._day = calendar_days(record), day
        note = self._days.notes.get(day)
        self._heading.setText(day_name(day))
        self._words.setText(note_words(note))
        self._words.setProperty("muted", note is None)
        self._weather.setEnabled(day <= self._today)
        self._quiet.setEnabled(note is None and day <= self._today)
        self._forget.setEnabled(note is not None)
        self._empty = empty_days_before(self._days, self._today)
        self._fill.setVisible(self._editable and len(self._empty) >= _WORTH_FILLING)
        self._fill.setText(self.tr("All {0} days not noted were &dry").format(len(self._empty)))
        return self._days

    def text(self) -> str:
        """Return what is said of the day."""
        return f"{self._heading.text()}\n{self._words.text()}"

    @Slot()
    def _ask_quiet(self) -> None:
        self.quiet_asked.emit(self._day)

    @Slot()
    def ask_weather(self) -> None:
        """Ask for the weather of the day shown; what is still to come cannot be noted."""
        if self._editable and self._day <= self._today:
            self.weather_asked.emit(self._day)

    @Slot()
    def _ask_forget(self) -> None:
        note = self._days.notes.get(self._day)
        if note is not None:
            self.forget_asked.emit(note.key)

    @Slot()
    def _ask_fill(self) -> None:
        self.fill_asked.emit(self._empty)


Painting = Callable[[QPainter, QRectF, QColor], None]


def _legend() -> list[LegendSign]:
    """Return the signs of the calendar with their names."""
    words = QCoreApplication.translate
    signs = [LegendSign(condition_name(each), partial(_condition, each)) for each in CONDITIONS]
    signs.append(LegendSign(words("daylog", "inspection"), paint_inspection))
    return [*signs, LegendSign(words("daylog", "something happened"), paint_disturbance)]


def _condition(condition: Condition, painter: QPainter, area: QRectF, ink: QColor) -> None:
    paint_sign(painter, area, condition, ink)


class LegendSign(QWidget):
    """A sign and its name."""

    def __init__(self, words: str, painting: Painting, parent: QWidget | None = None) -> None:
        """Show a sign, painted by ``painting``."""
        super().__init__(parent)
        self._words, self._painting = words, painting
        self.setAccessibleName(words)

    def sizeHint(self) -> QSize:
        """Return the room of sign and name; Qt calls this."""
        metrics = self.fontMetrics()
        return QSize(metrics.horizontalAdvance(self._words) + metrics.height() + 6, metrics.height() + 2)

    def minimumSizeHint(self) -> QSize:
        """Return the same; Qt calls this."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint both; Qt calls this."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        area = self.rect().toRectF()
        side = area.height() * 0.7
        sign = QRectF(1, (area.height() - side) / 2, side, side)
        self._painting(painter, sign, self.palette().text().color())
        painter.setPen(self.palette().placeholderText().color())
        painter.drawText(area.adjusted(side + 5, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter, self._words)
        painter.end()


def _turner(text: str, name: str) -> QToolButton:
    button = QToolButton()
    button.setText(text)
    button.setToolTip(name)
    button.setAccessibleName(name)
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    return button
