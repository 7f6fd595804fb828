"""The panels of the plan screen, each made when its step is first chosen, and what they ask for."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property, partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

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
    from rustboard.ui.plan.earlier_boards import EarlierBoards
    from rustboard.ui.plan.paper_panel import PaperPanel
    from rustboard.ui.plan.treatments_panel import TreatmentsPanel
    from rustboard.ui.plan.visits_panel import VisitsPanel
    from rustboard.ui.recipe_commands import RecipeCommands


class PlanPanels(PageCommands):
    """Makes the panels and answers them."""

    def __init__(
        self,
        window: QWidget,
        asker: Asker,
        do: Do,
        settings: Settings,
        bridge: JobBridge,
        treatments: TreatmentCommands,
    ) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._settings, self._bridge, self._treatments = settings, bridge, treatments
        self._answering: list[PageCommands] = []
        self._earlier: EarlierBoards | None = None

    def attach(self, page: BoardPage | None) -> None:
        """Serve another page."""
        super().attach(page)
        self._earlier = None
        for each in self._answering:
            each.attach(page)

    def makers(self, page: BoardPage, scheme: Scheme) -> dict[str, Callable[[], QWidget]]:
        """Return what makes each panel of a page, by its step."""
        return {
            "treatments": partial(self._treatments_panel, page, scheme),
            "question": partial(self._question_panel, page),
            "layout": partial(self._layout_panel, page),
            "proof": partial(self._proof_panel, page),
            "visits": partial(self._visits_panel, page),
            "paper": partial(self._paper_panel, page),
        }

    # ---- what the panels ask for; each is fetched when it is first wanted

    @cached_property
    def recipes(self) -> RecipeCommands:
        """What is done to recipes."""
        from rustboard.ui.recipe_commands import RecipeCommands

        commands = RecipeCommands(self._window, self._asker, self._do, self._settings)
        self._wire_answering(commands)
        return commands

    @cached_property
    def paper(self) -> PaperCommands:
        """What is printed."""
        from rustboard.ui.paper_commands import PaperCommands

        commands = PaperCommands(self._window, self._asker, self._do, self._settings)
        self._wire_answering(commands)
        return commands

    @cached_property
    def calendar(self) -> CalendarCommands:
        """What is written for the user's own calendar."""
        from rustboard.ui.calendar_commands import CalendarCommands

        commands = CalendarCommands(self._window, self._asker, self._do)
        self._wire_answering(commands)
        return commands

    def _wire_answering(self, commands: PageCommands) -> None:
        commands.told.connect(self.told)
        commands.failed.connect(self.failed)
        commands.attach(self.page)
        self._answering.append(commands)

    # ---- the panels

    def _treatments_panel(self, page: BoardPage, scheme: Scheme) -> QWidget:
        from rustboard.ui.plan.treatments_panel import TreatmentsPanel

        panel = TreatmentsPanel(page.session, self._do, scheme)
        self._wire_treatments(panel)
        return panel

    def _wire_treatments(self, panel: TreatmentsPanel) -> None:
        panel.treatment_asked.connect(self._ask_treatment)
        panel.recipe_asked.connect(self.recipes.edit_recipe)
        panel.library_asked.connect(self.recipes.from_library)
        panel.remove_asked.connect(self._remove_treatment)

    def _question_panel(self, page: BoardPage) -> QWidget:
        from rustboard.ui.plan.question_panel import QuestionPanel

        return QuestionPanel(page.session, self._do, self._earlier_boards(page))

    def _earlier_boards(self, page: BoardPage) -> EarlierBoards:
        """Return what the user's earlier boards show, read once for all panels of a page."""
        from rustboard.ui.plan.earlier_boards import EarlierBoards

        if self._earlier is None:
            self._earlier = EarlierBoards(self._settings, page.session.folder, self._bridge, page)
        return self._earlier

    def _layout_panel(self, page: BoardPage) -> QWidget:
        from rustboard.ui.plan.layout_panel import LayoutPanel

        return LayoutPanel(page.session, self._do)

    def _proof_panel(self, page: BoardPage) -> QWidget:
        from rustboard.ui.plan.proof_panel import ProofPanel

        return ProofPanel(page.session, self._bridge, self._earlier_boards(page))

    def _visits_panel(self, page: BoardPage) -> QWidget:
        from rustboard.ui.plan.visits_panel import VisitsPanel

        panel = VisitsPanel(page.session, self._do)
        self._wire_visits(panel)
        return panel

    def _wire_visits(self, panel: VisitsPanel) -> None:
        panel.ics_asked.connect(self.calendar.save_ics)

    def _paper_panel(self, page: BoardPage) -> QWidget:
        from rustboard.ui.plan.paper_panel import PaperPanel

        panel = PaperPanel(page.session, self._do)
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
