"""Weighed coupons of the board in the window."""

from __future__ import annotations

from PySide6.QtCore import Slot

from rustboard.operations.weighing import withdraw_weighing
from rustboard.ui.page_commands import PageCommands


class WeighingCommands(PageCommands):
    """Records what coupons weighed before and after exposure."""

    @Slot()
    def weigh(self) -> None:
        """Record the masses of the coupon under the keyboard, or of one to be chosen."""

    @Slot(int)
    def weigh_coupon(self, coupon: int) -> None:
        """Record or put right the masses of a coupon."""

    @Slot(int)
    def withdraw(self, coupon: int) -> None:
        """Take back what was noted of a coupon's weight."""
        self._do(withdraw_weighing, coupon)
