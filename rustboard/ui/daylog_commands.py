"""What the user does to the day log."""

from __future__ import annotations

from datetime import date, datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.board.measured import Disturbance
from rustboard.board.record import site_of
from rustboard.board.weather import DayNote
from rustboard.operations.disturbances import note_disturbance, remove_disturbance
from rustboard.operations.weather import note_day, note_days, remove_day_note
from rustboard.support.clock import Clock, wall_clock
from rustboard.ui.ask import Asker
from rustboard.ui.daylog.weather_words import day_name, midday, note_words
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.refusals import refusal_in

if TYPE_CHECKING:
    from rustboard.ui.daylog.day_dialog import DayWeatherDialog
    from rustboard.ui.daylog.dialog import DayLogDialog


class DayLogCommands(PageCommands):
    """Commands about what happened to the board between the inspections."""

    def __init__(self, window: QWidget, asker: Asker, do: Do, clock: Clock = wall_clock) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._clock = clock
        self._list: DayLogDialog | None = None
        self._day: DayWeatherDialog | None = None

    @Slot()
    def day_log(self) -> None:
        """Show the day log."""
        from rustboard.ui.daylog.dialog import DayLogDialog

        if self.page is None:
            return
        session = self.page.session
        today = self._clock().date()
        dialog = DayLogDialog(session.record, today, self._window, read_only=bool(session.read_only_reason))
        self._wire_list(dialog)
        self._list = dialog
        self._asker.dialog(dialog)
        self._list = None

    @Slot()
    def quiet_day(self) -> None:
        """Note with one tap that today was dry and nothing happened."""
        self._note_quiet(self._clock().date())

    @Slot()
    def note_day(self) -> None:
        """Note the weather of a day by hand, at first of today."""
        self.ask_weather(self._clock().date())

    @Slot(object)
    def ask_weather(self, day: date) -> None:
        """Ask what a day was like, and the next ones where the user goes on."""
        from rustboard.ui.daylog.day_dialog import DayWeatherDialog

        if self.page is None:
            return
        record = self.page.session.record
        dialog = DayWeatherDialog(self._notes(), day, self._clock().date(), site_of(record), self._window)
        self._wire_day(dialog)
        self._day = dialog
        if self._asker.dialog(dialog):
            notes = dialog.notes()
            self._keep(note_days, notes) if len(notes) > 1 else self._keep(note_day, notes[0])
        self._day = None

    def _wire_day(self, dialog: DayWeatherDialog) -> None:
        dialog.kept.connect(self._keep_and_go_on)

    @Slot(object)
    def _keep_and_go_on(self, note: DayNote) -> None:
        dialog = self._day
        if dialog is None:
            return
        if self._keep(note_day, note):
            dialog.go_on(self._notes())
        else:
            dialog.complain(refusal_in(self._window))

    @Slot(object)
    def _note_quiet(self, day: date) -> None:
        noted = self._notes().get(day)
        if noted is not None:
            words = self.tr("{0}: {1} is noted already; nothing was changed.").format(
                day_name(day), note_words(noted)
            )
            self._say(words)
        elif self._keep(note_day, DayNote(day, ("dry",))) and self._list is None:
            self.told.emit(self.tr("{0} is noted as dry; nothing happened.").format(day_name(day)))

    @Slot(object)
    def _fill(self, days: list[date]) -> None:
        notes = self._notes()
        self._keep(note_days, [DayNote(each, ("dry",)) for each in days if each not in notes])

    @Slot(int)
    def _forget(self, key: int) -> None:
        self._keep(remove_day_note, key)

    def _notes(self) -> dict[date, DayNote]:
        return {} if self.page is None else {each.day: each for each in self.page.session.record.day_notes.values()}

    def _say(self, sentence: str) -> None:
        if self._list is not None:
            self._list.complain(sentence)
        else:
            self.told.emit(sentence)

    def _wire_list(self, dialog: DayLogDialog) -> None:
        dialog.add_asked.connect(self.new_entry)
        dialog.edit_asked.connect(self.edit_entry)
        dialog.remove_asked.connect(self.remove_entry)
        dialog.weather_asked.connect(self.ask_weather)
        dialog.quiet_asked.connect(self._note_quiet)
        dialog.forget_asked.connect(self._forget)
        dialog.fill_asked.connect(self._fill)

    @Slot()
    def new_entry(self) -> None:
        """Note something: about the coupon under the keyboard, or the board."""
        if self.page is not None:
            coupon = self.page.session.selection.focus
            self._ask(Disturbance(self._when(), "debris cleared" if coupon is None else "touched", coupon))

    @Slot(int)
    def edit_entry(self, key: int) -> None:
        """Edit an entry."""
        entry = None if self.page is None else self.page.session.record.disturbances.get(key)
        if entry is not None:
            self._ask(entry)

    @Slot(int)
    def remove_entry(self, key: int) -> None:
        """Take an entry out of the log."""
        self._keep(remove_disturbance, key)

    def _ask(self, entry: Disturbance) -> None:
        from rustboard.ui.daylog.entry_dialog import EntryDialog

        if self.page is None:
            return
        session = self.page.session
        seen = session.record.inspections.get(session.selection.inspection or 0)
        dialog = EntryDialog(session.record, entry, self._clock(), None if seen is None else seen.at, self._window)
        if self._asker.dialog(dialog):
            self._keep(note_disturbance, dialog.entry())

    def _when(self) -> datetime:
        """Return when something new happened: now, or at noon of the earlier day chosen in the calendar."""
        now = self._clock()
        return now if self._list is None or self._list.day() == now.date() else midday(self._list.day())

    def _keep(self, operation: object, argument: object) -> bool:
        """Change the log, and show it anew where it is in view; return whether it went."""
        kept = self._do(operation, argument)
        if self.page is not None and self._list is not None:
            self._list.refresh(self.page.session.record)
            if kept is None:
                self._list.complain(refusal_in(self._window))
        return kept is not None
