"""Showing the plan of the board in the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.plan_panels import PlanPanels
from rustboard.ui.screen_commands import ScreenCommands
from rustboard.ui.theme import Scheme
from rustboard.ui.treatment_commands import TreatmentCommands

if TYPE_CHECKING:
    from rustboard.ui.plan.screen import PlanScreen


class PlanCommands(ScreenCommands["PlanScreen"]):
    """Brings the plan in and out of view."""

    def __init__(
        self,
        window: QWidget,
        asker: Asker,
        do: Do,
        settings: Settings,
        bridge: JobBridge,
        scheme: Scheme,
        stack: QStackedWidget,
        treatments: TreatmentCommands,
    ) -> None:
        """Start without a page."""
        super().__init__(window, asker, do, scheme, stack)
        self._panels = PlanPanels(window, asker, do, settings, bridge, treatments)
        self._wire()

    def _wire(self) -> None:
        self._panels.told.connect(self.told)
        self._panels.failed.connect(self.failed)

    def attach(self, page: BoardPage | None) -> None:
        """Serve another page; the plan of the one before goes."""
        super().attach(page)
        self._panels.attach(page)

    @Slot()
    def finish_typing(self) -> None:
        """Have what is being typed on the plan kept: the board is about to be closed, or used."""
        if self.screen is not None:
            self.screen.finish_typing()

    @Slot()
    def print_paper(self) -> None:
        """Show what can be printed for the workshop."""
        self._panels.paper.paper()

    # ---- the screen and its panels

    def _build(self, page: BoardPage) -> PlanScreen:
        from rustboard.ui.plan.screen import PlanScreen

        screen = PlanScreen(page.session, self._do, self._scheme, self._panels.makers(page, self._scheme))
        self._wire_screen(screen)
        return screen

    def _wire_screen(self, screen: PlanScreen) -> None:
        screen.left.connect(self.leave)
