"""Showing the plan of the board in the window, and what its panels ask for."""

from __future__ import annotations

from functools import cached_property, partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.operations.treatments import remove_treatment
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.theme import Scheme
from rustboard.ui.treatment_commands import TreatmentCommands

if TYPE_CHECKING:
    from rustboard.ui.calendar_commands import CalendarCommands
    from rustboard.ui.paper_commands import PaperCommands
    from rustboard.ui.plan.paper_panel import PaperPanel
    from rustboard.ui.plan.screen import PlanScreen
    from rustboard.ui.plan.treatments_panel import TreatmentsPanel
    from rustboard.ui.plan.visits_panel import VisitsPanel
    from rustboard.ui.recipe_commands import RecipeCommands


class PlanCommands(PageCommands):
    """Brings the plan screen in and out of view.

    Signals:
        changed(): the plan came into view or left it.
        failed(str): a sentence to stay until read.

    Attributes:
        screen: the plan screen of the board in the window, once it was wanted.
    """

    changed = Signal()
    failed = Signal(str)

    def __init__(
        self,
        window: QWidget,
        asker: Asker,
        do: Do,
        settings: Settings,
        bridge: JobBridge,
        stack: QStackedWidget,
        treatments: TreatmentCommands,
    ) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._settings, self._bridge, self._stack, self._treatments = settings, bridge, stack, treatments
        self._scheme: Scheme | None = None
        self.screen: PlanScreen | None = None
        self._helpers: list[PageCommands] = []

    def attach(self, page: BoardPage | None) -> None:
        """Serve another page; the plan of the one before goes."""
        if self.screen is not None:
            self.screen.close_feed()
            self._stack.removeWidget(self.screen)
            self.screen.setParent(None)
            self.screen.deleteLater()
            self.screen = None
        super().attach(page)
        for each in self._helpers:
            each.attach(page)

    def finish_typing(self) -> None:
        """Have what is being typed on the plan kept; the board is about to be closed."""
        typed = None if self.screen is None else self.screen.focusWidget()
        if typed is not None:
            typed.clearFocus()

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
        if self.page is None or self._scheme is None:
            return
        if self.screen is None:
            self._build(self.page, self._scheme)
        if self.screen is not None:
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

    # ---- what the panels ask for; each is fetched when it is first wanted

    @cached_property
    def recipes(self) -> RecipeCommands:
        """What is done to recipes."""
        from rustboard.ui.recipe_commands import RecipeCommands

        commands = RecipeCommands(self._window, self._asker, self._do, self._settings)
        self._wire_helper(commands)
        return commands

    @cached_property
    def paper(self) -> PaperCommands:
        """What is printed."""
        from rustboard.ui.paper_commands import PaperCommands

        commands = PaperCommands(self._window, self._asker, self._do, self._settings)
        self._wire_helper(commands)
        self._wire_refusals(commands)
        return commands

    @cached_property
    def calendar(self) -> CalendarCommands:
        """What is written for the user's own calendar."""
        from rustboard.ui.calendar_commands import CalendarCommands

        commands = CalendarCommands(self._window, self._asker, self._do, self._settings)
        self._wire_helper(commands)
        self._wire_refusals(commands)
        return commands

    def _wire_helper(self, commands: PageCommands) -> None:
        commands.told.connect(self.told)
        commands.attach(self.page)
        self._helpers.append(commands)

    def _wire_refusals(self, commands: PaperCommands | CalendarCommands) -> None:
        commands.failed.connect(self.failed)

    @Slot()
    def print_paper(self) -> None:
        """Show what can be printed for the workshop."""
        self.paper.paper()

    # ---- the screen and its panels

    def _build(self, page: BoardPage, scheme: Scheme) -> None:
        from rustboard.ui.plan.screen import PlanScreen

        makers = {
            name: partial(getattr(self, f"_{name}_panel"), page)
            for name in ("treatments", "question", "layout", "proof", "visits", "paper")
        }
        screen = PlanScreen(page.session, self._do, scheme, makers)
        self._wire_screen(screen)
        self._stack.addWidget(screen)
        self.screen = screen

    def _wire_screen(self, screen: PlanScreen) -> None:
        screen.left.connect(self.leave)

    def _dress(self) -> Scheme:
        if self._scheme is None:
            raise RuntimeError("a panel was wanted before the window had its colours")
        return self._scheme

    def _treatments_panel(self, page: BoardPage) -> QWidget:
        from rustboard.ui.plan.treatments_panel import TreatmentsPanel

        panel = TreatmentsPanel(page.session, self._do, self._bridge, self._dress())
        self._wire_treatments(panel)
        return panel

    def _wire_treatments(self, panel: TreatmentsPanel) -> None:
        panel.treatment_asked.connect(self._ask_treatment)
        panel.recipe_asked.connect(self.recipes.edit_recipe)
        panel.library_asked.connect(self.recipes.from_library)
        panel.remove_asked.connect(self._remove_treatment)

    def _question_panel(self, page: BoardPage) -> QWidget:
        from rustboard.ui.plan.question_panel import QuestionPanel

        return QuestionPanel(page.session, self._do, self._bridge, self._dress(), settings=self._settings)

    def _layout_panel(self, page: BoardPage) -> QWidget:
        from rustboard.ui.plan.layout_panel import LayoutPanel

        return LayoutPanel(page.session, self._do, self._bridge, self._dress())

    def _proof_panel(self, page: BoardPage) -> QWidget:
        from rustboard.ui.plan.proof_panel import ProofPanel

        return ProofPanel(page.session, self._do, self._bridge, self._dress(), settings=self._settings)

    def _visits_panel(self, page: BoardPage) -> QWidget:
        from rustboard.ui.plan.visits_panel import VisitsPanel

        panel = VisitsPanel(page.session, self._do, self._bridge, self._dress())
        self._wire_visits(panel)
        return panel

    def _wire_visits(self, panel: VisitsPanel) -> None:
        panel.ics_asked.connect(self.calendar.save_ics)

    def _paper_panel(self, page: BoardPage) -> QWidget:
        from rustboard.ui.plan.paper_panel import PaperPanel

        panel = PaperPanel(page.session, self._do, self._bridge, self._dress())
        self._wire_paper(panel)
        return panel

    def _wire_paper(self, panel: PaperPanel) -> None:
        panel.paper_asked.connect(self.paper.paper)

    @Slot(int)
    def _ask_treatment(self, key: int) -> None:
        if key:
            self._treatments.edit_treatment(key)
        else:
            self._treatments.new_treatment()

    @Slot(int)
    def _remove_treatment(self, key: int) -> None:
        self._do(remove_treatment, key)
