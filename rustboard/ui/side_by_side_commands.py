"""Comparing the coupons of the inspection in view, two at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.screen_commands import ScreenCommands
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.ui.side_by_side.screen import SideBySideScreen


class SideBySideCommands(ScreenCommands["SideBySideScreen"]):
    """Brings the comparison in and out of view.

    Signals:
        begun(): two coupons come into view; what the window said before is to go.
    """

    begun = Signal()

    def __init__(
        self,
        window: QWidget,
        asker: Asker,
        do: Do,
        settings: Settings,
        bridge: JobBridge,
        scheme: Scheme,
        stack: QStackedWidget,
    ) -> None:
        """Start without a page."""
        super().__init__(window, asker, do, scheme, stack)
        self._settings, self._bridge = settings, bridge

    def _build(self, page: BoardPage) -> SideBySideScreen:
        from rustboard.ui.side_by_side.screen import SideBySideScreen

        screen = SideBySideScreen(page.session, self._bridge, self._do, self._scheme, self._settings)
        self._wire_screen(screen)
        return screen

    def _wire_screen(self, screen: SideBySideScreen) -> None:
        screen.left.connect(self.leave)
        screen.failed.connect(self.failed)
        screen.state_changed.connect(self.changed)
        screen.begun.connect(self.begun)

    @Slot()
    def show_screen(self) -> None:
        """Bring the comparison of the inspection in view; where nothing can be compared, what was comes out of it."""
        from rustboard.session.side_by_side import graders_at, refuse_comparing

        if self.page is None:
            return
        session = self.page.session
        inspection = session.record.inspections.get(session.selection.inspection or 0)
        try:
            refuse_comparing(session, inspection)
        except InputError as error:
            if inspection is None or not graders_at(session.record, inspection.key):
                self._refuse(error)
                return
        super().show_screen()
        if self.screen is not None and inspection is not None:
            self.screen.show_inspection(inspection.key)

    def is_comparing(self) -> bool:
        """Return whether two coupons are in view, of which nothing may say which they are."""
        return self.screen is not None and self.is_shown() and self.screen.is_comparing()

    def can_undo(self) -> bool:
        """Return whether undo would take back a choice of this sitting."""
        return self.is_comparing() and self.screen is not None and self.screen.can_undo()

    def undo(self) -> None:
        """Take the last choice of this sitting back."""
        if self.screen is not None and self.can_undo():
            self.screen.undo()

    @Slot()
    def follow_settings(self) -> None:
        """Show the size of keys that the settings say."""
        if self.screen is not None:
            self.screen.compare.follow_settings()
