"""The weather of one day, noted by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from PySide6.QtCore import QDate, Qt, Signal, Slot
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QCheckBox, QDateEdit, QHBoxLayout, QPushButton, QToolButton, QWidget

from rustboard.board.weather import CONDITIONS, Condition, DayNote, Site
from rustboard.operations.weather import checked_day
from rustboard.support.problems import InputError
from rustboard.support.text import many_lines
from rustboard.ui.daylog.weather_words import assumption_words, condition_name, day_name
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.dates import long_date_format
from rustboard.ui.forms.form import FormDialog, WrongFieldError, note_field
from rustboard.ui.forms.labels import words_label
from rustboard.ui.forms.numbers import number_field, number_in


class DayWeatherDialog(FormDialog):
    """Asks what a day was like; several days may be noted one after the other.

    Signals:
        kept(object): a `DayNote` to keep while the dialog stays; whoever shows it calls `go_on` or `complain`.
    """

    kept = Signal(object)

    def __init__(
        self, notes: dict[date, DayNote], day: date, today: date, site: Site, parent: QWidget | None = None
    ) -> None:
        """Show a day.

        Args:
            notes: of all days, by day.
            day: the first to show.
            today: the last day there is.
            site: for what a day without hours counts as.
            parent: the window it stands over.
        """
        super().__init__("", parent)
        self.setWindowTitle(self.tr("Weather of a day"))
        self._notes, self._today, self._site = dict(notes), today, site
        self._value: list[DayNote] = []
        self._typed_of: dict[date, DayNote] = {}
        self._shown = day
        self._day_field = QDateEdit()
        self._day_field.setDisplayFormat(long_date_format())
        self._day_field.setCalendarPopup(True)
        self._day_field.setDateRange(QDate(1900, 1, 1), _qt(today))
        self._ticks: dict[Condition, QCheckBox] = {each: QCheckBox(condition_name(each)) for each in CONDITIONS}
        self._meaning = words_label(muted=True, narrow=True)
        self._rain, self._high, self._low, self._wet = (number_field(None, letters=8) for _ in range(4))
        self._note = note_field()
        self._next = QPushButton(self.tr("Keep, and the &next day"))
        self._build()
        self._wire()
        self._day_field.setDate(_qt(day))
        self._show_day()
        self._ticks["dry"].setFocus()

    def notes(self) -> list[DayNote]:
        """Return what is to be noted: of the day in view, and of those left behind with something typed."""
        return self._value

    def day(self) -> date:
        """Return the day in view."""
        found = self._day_field.date()
        return date(found.year(), found.month(), found.day())

    def go_on(self, notes: dict[date, DayNote]) -> None:
        """Show the next day, after the one in view was kept."""
        self._notes = dict(notes)
        self._show_day()  # as it was kept, so that nothing of it is left behind
        self._day_field.setDate(_qt(min(self.day() + timedelta(days=1), self._today)))
        self._ticks["dry"].setFocus()

    def complain(self, sentence: str) -> None:
        """Show what was refused."""
        self._complain(sentence)

    def _build(self) -> None:
        self._back, self._on = QToolButton(), QToolButton()
        for button, sign, name in (
            (self._back, "◀", self.tr("Day before (Alt+Left)")),
            (self._on, "▶", self.tr("Day after (Alt+Right)")),
        ):
            button.setText(sign)
            button.setAccessibleName(name)
            button.setToolTip(name)
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self._back)
        line.addWidget(self._day_field, 1)
        line.addWidget(self._on)
        self.add_row(self.tr("D&ay"), row, self._day_field)
        self.add_row(self.tr("What it was like"), flowing(*self._ticks.values()))
        self._meaning.setMinimumHeight(self.fontMetrics().lineSpacing() * 2)
        self.add_text(self._meaning)
        self.add_row(self.tr("&Rain, mm"), self._rain)
        self.add_row(self.tr("&Highest, °C"), self._high)
        self.add_row(self.tr("&Lowest, °C"), self._low)
        self.add_row(self.tr("Wet for, h&ours"), self._wet)
        self._wet.setPlaceholderText(self.tr("if you know how long"))
        self.add_row(self.tr("No&te"), self._note)
        self._next.setAutoDefault(False)
        self._buttons.addButton(self._next, self._buttons.ButtonRole.ActionRole)

    def _wire(self) -> None:
        self._day_field.dateChanged.connect(self._turn)
        for key, step in ((Qt.Key.Key_Left, self._step_back), (Qt.Key.Key_Right, self._step_on)):
            QShortcut(QKeySequence(Qt.Modifier.ALT | key), self).activated.connect(step)
        self._back.clicked.connect(self._step_back)
        self._on.clicked.connect(self._step_on)
        self._next.clicked.connect(self._keep_and_go_on)
        self._wet.textChanged.connect(self._explain)
        for each in self._ticks.values():
            each.clicked.connect(self._follow_tick)

    @Slot()
    def _step_back(self) -> None:
        self._day_field.setDate(self._day_field.date().addDays(-1))

    @Slot()
    def _step_on(self) -> None:
        self._day_field.setDate(self._day_field.date().addDays(1))

    @Slot()
    def _turn(self) -> None:
        """Show another day; what was typed of the one before waits, or is to be mended first."""
        if self.day() == self._shown:
            return
        try:
            typed = self._typed(self._shown)
        except WrongFieldError as error:
            self._day_field.setDate(_qt(self._shown))
            self._complain(error.sentence)
            self._go_to(error.field)
            return
        if typed == self._before(self._shown):
            self._typed_of.pop(self._shown, None)
        else:
            self._typed_of[self._shown] = typed
        self._shown = self.day()
        self._show_day()

    def _before(self, day: date) -> DayNote:
        return self._notes.get(day, DayNote(day))

    def _show_day(self) -> None:
        note = self._typed_of.pop(self.day(), self._before(self.day()))
        for condition, tick in self._ticks.items():
            tick.setChecked(condition in note.conditions)
        numbers = (note.rain_mm, note.highest_c, note.lowest_c, note.wet_hours)
        for field, value in zip((self._rain, self._high, self._low, self._wet), numbers, strict=True):
            field.setText(number_field(value).text())
        self._note.setPlainText(note.note)
        self._on.setEnabled(self.day() < self._today)
        self._next.setEnabled(self.day() < self._today)
        self.problem.say("")
        self._explain()

    @Slot()
    def _follow_tick(self) -> None:
        """Take away what a dry day cannot have, or the dry day."""
        ticked = self.sender()
        for condition, tick in self._ticks.items():
            if tick.isChecked() and tick is not ticked and "dry" in (condition, self._condition_of(ticked)):
                tick.setChecked(False)
        self.problem.say("")
        self._explain()

    def _condition_of(self, tick: object) -> str:
        return next((condition for condition, each in self._ticks.items() if each is tick), "")

    def _conditions(self) -> tuple[Condition, ...]:
        return tuple(condition for condition, tick in self._ticks.items() if tick.isChecked())

    @Slot()
    def _explain(self) -> None:
        try:
            wet = number_in(self._wet)
        except WrongFieldError:
            wet = None
        self._meaning.setText(assumption_words(self._conditions(), wet, self._site))

    def _typed(self, day: date) -> DayNote:
        return replace(
            self._before(day),
            conditions=self._conditions(),
            rain_mm=number_in(self._rain),
            highest_c=number_in(self._high),
            lowest_c=number_in(self._low),
            wet_hours=number_in(self._wet),
            note=many_lines(self._note.toPlainText()),
        )

    def read(self) -> None:
        """Read the fields into the note, and look over what was typed of other days."""
        # Refused only later, the dialog would be gone with what was typed.
        self._value = [checked_day(self._typed(self.day()))]
        for day, typed in self._typed_of.items():
            try:
                self._value.append(checked_day(typed))
            except InputError as error:
                raise InputError(f"{day_name(day)}: {error.problem.what}") from error

    @Slot()
    def _keep_and_go_on(self) -> None:
        try:
            self.read()
        except WrongFieldError as error:
            self._complain(error.sentence)
            self._go_to(error.field)
        except InputError as error:
            self._complain(error.problem.what)
        else:
            self.kept.emit(self._value[0])


def _qt(day: date) -> QDate:
    return QDate(day.year, day.month, day.day)
