"""What the user does to the day log."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.board.measured import Disturbance
from rustboard.operations.disturbances import note_disturbance, remove_disturbance
from rustboard.support.clock import Clock, wall_clock
from rustboard.ui.ask import Asker
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.refusals import refusal_in

if TYPE_CHECKING:
    from rustboard.ui.daylog.dialog import DayLogDialog


class DayLogCommands(PageCommands):
    """Commands about what happened to the board between the inspections."""

    def __init__(self, window: QWidget, asker: Asker, do: Do, clock: Clock = wall_clock) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._clock = clock
        self._list: DayLogDialog | None = None

    @Slot()
    def day_log(self) -> None:
        """Show the day log."""
        from rustboard.ui.daylog.dialog import DayLogDialog

        if self.page is None:
            return
        session = self.page.session
        dialog = DayLogDialog(session.record, self._window, read_only=bool(session.read_only_reason))
        self._wire_list(dialog)
        self._list = dialog
        self._asker.dialog(dialog)
        self._list = None

    @Slot()
    def quiet_day(self) -> None:
        """Note with one tap that today was dry and nothing happened."""

    @Slot()
    def note_day(self) -> None:
        """Note the weather of a day by hand."""

    def _wire_list(self, dialog: DayLogDialog) -> None:
        dialog.add_asked.connect(self.new_entry)
        dialog.edit_asked.connect(self.edit_entry)
        dialog.remove_asked.connect(self.remove_entry)

    @Slot()
    def new_entry(self) -> None:
        """Note something: about the coupon under the keyboard, or the board."""
        if self.page is not None:
            coupon = self.page.session.selection.focus
            self._ask(Disturbance(self._clock(), "debris cleared" if coupon is None else "touched", coupon))

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

    def _keep(self, operation: object, argument: object) -> None:
        kept = self._do(operation, argument)
        if self.page is None or self._list is None:
            return
        self._list.refresh(self.page.session.record)
        if kept is None:
            self._list.complain(refusal_in(self._window))
