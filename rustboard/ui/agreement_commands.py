"""Showing how the graders of the board in the window agree."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.screen_commands import ScreenCommands
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.ui.agreement.screen import AgreementScreen


class AgreementCommands(ScreenCommands["AgreementScreen"]):
    """Brings the agreement of graders in and out of view.

    Signals:
        blind_asked(): the inspection in view is to be graded blind.
    """

    blind_asked = Signal()

    def __init__(
        self, window: QWidget, asker: Asker, do: Do, bridge: JobBridge, scheme: Scheme, stack: QStackedWidget
    ) -> None:
        """Start without a page."""
        super().__init__(window, asker, do, scheme, stack)
        self._bridge = bridge

    def _build(self, page: BoardPage) -> AgreementScreen:
        from rustboard.ui.agreement.screen import AgreementScreen

        screen = AgreementScreen(page.session, self._bridge, self._do, self._scheme)
        self._wire_screen(screen)
        return screen

    def _wire_screen(self, screen: AgreementScreen) -> None:
        screen.left.connect(self.leave)
        screen.blind_asked.connect(self.blind_asked)

    @Slot()
    def show_screen(self) -> None:
        """Bring the screen into view, at the inspection in view where that was graded blind."""
        super().show_screen()
        if self.page is None or self.screen is None:
            return
        record, inspection = self.page.session.record, self.page.session.selection.inspection
        if any(each.inspection == inspection for each in record.blind_inspections.values()):
            self.screen.choose_inspection(inspection or 0)

    @Slot(int)
    def show_if_worth(self, inspection: int) -> None:
        """Bring the agreement at an inspection into view where it was just revealed and there is something to say."""
        from rustboard.session.agreement import is_worth_comparing

        if self.page is None or not is_worth_comparing(self.page.session.record, inspection):
            return
        self.show_screen()
        if self.screen is not None:
            self.screen.choose_inspection(inspection)
