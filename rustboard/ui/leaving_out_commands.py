"""Coupons left out of the findings, and taken back into them."""

from __future__ import annotations

from PySide6.QtCore import Slot

from rustboard.board.record import left_out_by_coupon
from rustboard.operations.leaving_out import leave_out, take_back_in
from rustboard.ui.page_commands import PageCommands


class LeavingOutCommands(PageCommands):
    """Leaves coupons out of the findings with a reason; nothing else in the program does."""

    @Slot()
    def leave_this_out(self) -> None:
        """Ask why the coupon under the keyboard is left out, and leave it out."""
        self.leave_out(self._current())

    @Slot()
    def take_this_back_in(self) -> None:
        """Let the coupon under the keyboard count again."""
        self.take_back_in(self._current())

    @Slot(int)
    def leave_out(self, coupon: int) -> None:
        """Ask why a coupon is left out, and leave it out; for one that is left out already, change the reason.

        Args:
            coupon: key; where there is no such coupon, or the board is for reading only, nothing is asked.
        """
        from rustboard.ui.dialogs.leaving_out import LeavingOutDialog

        if self.page is None or self.page.session.read_only_reason:
            return
        record = self.page.session.record
        known = record.coupons.get(coupon)
        if known is None:
            return
        dialog = LeavingOutDialog(known, left_out_by_coupon(record).get(coupon), self._window)
        if self._asker.dialog(dialog):
            self._do(leave_out, coupon, dialog.reason())

    @Slot(int)
    def take_back_in(self, coupon: int) -> None:
        """Let a coupon count in the findings again; one that counts already is left alone.

        Args:
            coupon: key.
        """
        if self.page is not None and coupon in left_out_by_coupon(self.page.session.record):
            self._do(take_back_in, coupon)

    def _current(self) -> int:
        return 0 if self.page is None else self.page.current_coupon() or 0
