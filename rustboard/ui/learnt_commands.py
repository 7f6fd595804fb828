"""Asking all boards about one treatment: from the shelf, or about a treatment of the board in the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal, Slot

from rustboard.ui.free_screens import FreeScreenCommands

if TYPE_CHECKING:
    from rustboard.findings.boards.sought import Sought
    from rustboard.ui.learnt.screen import LearntScreen


class LearntCommands(FreeScreenCommands["LearntScreen"]):
    """Brings the screen that asks all boards in and out of view.

    Signals:
        open_asked(object): open the board in this folder (`Path`).
    """

    open_asked = Signal(object)

    def _build(self) -> LearntScreen:
        from rustboard.ui.learnt.screen import LearntScreen

        screen = LearntScreen(self._settings, self._bridge)
        self._wire_screen(screen)
        return screen

    def _wire_screen(self, screen: LearntScreen) -> None:
        screen.left.connect(self.leave)
        screen.open_asked.connect(self.open_asked)
        screen.copied.connect(self.told)

    def look_again(self) -> None:
        """Read the boards anew: one of them may not be told of any more."""
        if self.screen is not None:
            self.screen.reload()

    @Slot()
    def ask(self) -> None:
        """Ask all boards about what the user chooses; about the treatment of the coupon in hand to begin with."""
        self.bring().reload(self._in_hand())

    def _in_hand(self) -> Sought | None:
        from rustboard.findings.boards.sought import Sought

        page = self.page
        key = None if page is None else page.current_coupon()
        if page is None or key is None:
            return None
        record = page.session.record
        coupon = record.coupons[key]
        treatment = record.treatment_of(coupon)
        return None if treatment is None or coupon.role == "control" else Sought("name", treatment.title)
