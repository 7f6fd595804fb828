"""Showing the plan of the board in the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.plan_panels import PlanPanels
from rustboard.ui.theme import Scheme
from rustboard.ui.treatment_commands import TreatmentCommands

if TYPE_CHECKING:
    from rustboard.ui.plan.screen import PlanScreen


class PlanCommands(PageCommands):
    """Brings the plan screen in and out of view.

    Signals:
        changed(): the plan came into view or left it.

    Attributes:
        screen: the plan screen of the board in the window, once it was wanted.
    """

    changed = Signal()

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
        super().__init__(window, asker, do)
        self._scheme, self._stack = scheme, stack
        self.screen: PlanScreen | None = None
        self._panels = PlanPanels(window, asker, do, settings, bridge, treatments)
        self._wire()

    def _wire(self) -> None:
        self._panels.told.connect(self.told)
        self._panels.failed.connect(self.failed)

    def attach(self, page: BoardPage | None) -> None:
        """Serve another page; the plan of the one before goes."""
        if self.screen is not None:
            self.screen.close_feed()
            self._stack.removeWidget(self.screen)
            self.screen.setParent(None)
            self.screen.deleteLater()
            self.screen = None
        super().attach(page)
        self._panels.attach(page)

    @Slot()
    def finish_typing(self) -> None:
        """Have what is being typed on the plan kept: the board is about to be closed, or used."""
        if self.screen is not None:
            self.screen.finish_typing()

    def is_shown(self) -> bool:
        """Return whether the plan is in view."""
        return self.screen is not None and self._stack.currentWidget() is self.screen

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        if self.screen is not None:
            self.screen.set_scheme(scheme)

    @Slot()
    def toggle(self) -> None:
        """Bring the plan into view, or go back to the board."""
        if self.is_shown():
            self.leave()
        else:
            self.show_plan()

    @Slot()
    def show_plan(self) -> None:
        """Bring the plan into view."""
        if self.page is None:
            return
        if self.screen is None:
            self.screen = self._build(self.page)
        self.page.close_grading()
        self._stack.setCurrentWidget(self.screen)
        self.changed.emit()

    @Slot()
    def leave(self) -> None:
        """Go back to the board."""
        if self.page is not None and self.is_shown():
            self._stack.setCurrentWidget(self.page)
            self.page.tiles.canvas.setFocus()
            self.changed.emit()

    @Slot()
    def print_paper(self) -> None:
        """Show what can be printed for the workshop."""
        self._panels.paper.paper()

    # ---- the screen and its panels

    def _build(self, page: BoardPage) -> PlanScreen:
        from rustboard.ui.plan.screen import PlanScreen

        screen = PlanScreen(page.session, self._do, self._scheme, self._panels.makers(page, self._scheme))
        self._wire_screen(screen)
        self._stack.addWidget(screen)
        return screen

    def _wire_screen(self, screen: PlanScreen) -> None:
        screen.left.connect(self.leave)
