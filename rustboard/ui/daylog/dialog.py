"""The day log: a calendar with the weather of days, and the disturbances as a list."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QSize, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from rustboard.board.measured import Disturbance
from rustboard.board.record import BoardRecord
from rustboard.ui.daylog.day_panel import CalendarColumn, DayPanel
from rustboard.ui.daylog.wording import kind_meaning, kind_name, starts_anew
from rustboard.ui.forms.edited_table import EditedTableDialog
from rustboard.ui.forms.labels import words_label
from rustboard.ui.wording import coupon_title, date_time


class DayLogDialog(EditedTableDialog):
    """Weather and disturbances; whoever shows it changes them, and calls `refresh`.

    Signals:
        weather_asked(object), quiet_asked(object), forget_asked(int), fill_asked(object): as `DayPanel`.

    Attributes:
        calendar, panel: the month, and the day chosen in it.
    """

    weather_asked = Signal(object)
    quiet_asked = Signal(object)
    forget_asked = Signal(int)
    fill_asked = Signal(object)

    def __init__(
        self, record: BoardRecord, today: date, parent: QWidget | None = None, *, read_only: bool = False
    ) -> None:
        """Show a board's day log."""
        super().__init__(parent, editable=not read_only)
        headers = [self.tr("When"), self.tr("About"), self.tr("What happened"), self.tr("Note")]
        self.describe(self.tr("Day log"), headers, wide=3)
        self._record = record
        self._words = words_label(muted=True, narrow=True)
        self.calendar = CalendarColumn(today)
        self.panel = DayPanel(today, editable=not read_only)
        self._entries: dict[int, Disturbance] = {}
        self._arrange()
        self._wire_days()
        self.refresh(record)
        self.calendar.month.setFocus()

    def _arrange(self) -> None:
        self._add.setText(self.tr("Something &happened…"))
        self.column.removeWidget(self.table)
        right = QVBoxLayout()
        right.setSpacing(4)
        right.addWidget(self.panel)
        right.addWidget(self._words)
        right.addWidget(self.table, 1)
        row = QHBoxLayout()
        row.setSpacing(12)
        row.addWidget(self.calendar, 2)
        row.addLayout(right, 3)
        self.column.insertLayout(0, row, 1)

    def _wire_days(self) -> None:
        self.calendar.month.chosen.connect(self._show_day)
        self.calendar.month.opened.connect(self.panel.ask_weather)
        self.panel.weather_asked.connect(self.weather_asked)
        self.panel.quiet_asked.connect(self.quiet_asked)
        self.panel.forget_asked.connect(self.forget_asked)
        self.panel.fill_asked.connect(self.fill_asked)

    def sizeHint(self) -> QSize:
        """Return a size in which the calendar has room beside the list; Qt calls this."""
        letter, line = self.fontMetrics().averageCharWidth(), self.fontMetrics().lineSpacing()
        return QSize(letter * 150, line * 30).boundedTo(self._room())

    def day(self) -> date:
        """Return the day chosen in the calendar."""
        return self.calendar.month.day()

    def refresh(self, record: BoardRecord) -> None:
        """Show the log as it is now, newest first; the same entry stays chosen, or a new one is."""
        self._record = record
        entries = sorted(record.disturbances.values(), key=lambda each: (each.at, each.key), reverse=True)
        self._entries = {each.key: each for each in entries}
        self.show_lines(list(self._entries), [self._row(record, each) for each in entries])
        self.calendar.month.show_days(self.panel.show_days(record, self.day()))

    def _row(self, record: BoardRecord, entry: Disturbance) -> tuple[str, str, str, str]:
        coupon = record.coupons.get(entry.coupon or 0)
        about = self.tr("the whole board") if coupon is None else coupon_title(record, coupon)
        return date_time(entry.at), about, kind_name(entry.kind), entry.note

    def complain(self, sentence: str) -> None:
        """Show what was refused."""
        self.problem.say(sentence)

    @Slot()
    def _show_day(self) -> None:
        self.panel.show_days(self._record, self.day())
        self.problem.say("")
        that_day = next((each.key for each in self._entries.values() if each.at.date() == self.day()), None)
        if that_day is not None:
            self.table.selectRow(self.keys.index(that_day))

    @Slot()
    def _follow_choice(self) -> None:
        super()._follow_choice()
        entry = self._entries.get(self.chosen() or 0)
        if entry is not None:
            self._words.setText(kind_meaning(entry.kind))
        elif not self.editable:
            self._words.setText(self.tr("Nothing was noted."))
        else:
            self._words.setText(
                self.tr(
                    "Note here what happened between the inspections: debris cleared off, a coupon touched, moved, "
                    "cleaned, lost or replaced. After cleaning or replacing, measuring starts anew for that coupon."
                )
            )
        self._words.setProperty("muted", entry is None or not starts_anew(entry.kind))
