"""Weighed coupons of the board in the window."""

from __future__ import annotations

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.operations.weighing import note_weighing, withdraw_weighing
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.problems import InputError
from rustboard.ui.ask import Asker
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.theme import Scheme


class WeighingCommands(PageCommands):
    """Records what coupons weighed before and after exposure."""

    def __init__(self, window: QWidget, asker: Asker, do: Do, scheme: Scheme, clock: Clock = wall_clock) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._scheme, self._clock = scheme, clock

    @Slot()
    def weigh(self) -> None:
        """Record the masses of the coupon under the keyboard, or of one to be chosen."""
        if self.page is not None:
            self._ask(self.page.current_coupon())

    @Slot()
    def weigh_another(self) -> None:
        """Record the masses of a coupon that is chosen in the dialog."""
        self._ask(None)

    @Slot(int)
    def weigh_coupon(self, coupon: int) -> None:
        """Record or put right the masses of a coupon."""
        self._ask(coupon)

    @Slot(int)
    def withdraw(self, coupon: int) -> None:
        """Take back what was noted of a coupon's weight."""
        self._do(withdraw_weighing, coupon)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme

    def _ask(self, coupon: int | None) -> None:
        from rustboard.ui.weighing.weighing_dialog import WeighingDialog

        if self.page is None:
            return
        try:
            dialog = WeighingDialog(self.page.session.record, coupon, self._clock(), self._scheme, self._window)
        except InputError as error:
            self._refuse(error)
            return
        if self._asker.dialog(dialog):
            self._do(note_weighing, dialog.given())
