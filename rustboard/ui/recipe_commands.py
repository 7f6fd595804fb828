"""What the user does to the steps of treatments, and the library of recipes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.board.library_recipe import LibraryRecipe
from rustboard.board.next_id import next_id
from rustboard.operations.recipes import add_treatment_with_recipe, set_recipe, set_recipe_and_cost
from rustboard.session.recipe_library import RecipeLibrary, as_treatment
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands

if TYPE_CHECKING:
    from rustboard.ui.recipes.recipe_dialog import RecipeDialog


class RecipeCommands(PageCommands):
    """Commands about the recipes of the page in the window.

    Attributes:
        library: the user's, for all boards.
    """

    def __init__(self, window: QWidget, asker: Asker, do: Do, settings: Settings) -> None:
        """Start without a page; the grader of the ``settings`` is written beside new steps."""
        super().__init__(window, asker, do)
        self._settings = settings
        self.library = RecipeLibrary()
        self._dialog: RecipeDialog | None = None

    @Slot(int)
    def edit_recipe(self, key: int) -> None:
        """Edit the steps of a treatment."""
        from rustboard.ui.recipes.recipe_dialog import RecipeDialog

        if self.page is None or key not in self.page.session.record.treatments:
            return
        record = self.page.session.record
        before = record.recipe_of(key)
        dialog = RecipeDialog(record, record.treatments[key], self.library, self._settings.grader, self._window)
        self._wire_dialog(dialog)
        self._dialog = dialog
        accepted = self._asker.dialog(dialog)
        self._dialog = None
        if accepted and dialog.wants_cost():
            self._do(set_recipe_and_cost, key, dialog.recipe(), dialog.coupon_area_mm2())
        elif accepted and dialog.recipe() != before:
            self._do(set_recipe, key, dialog.recipe())

    def _wire_dialog(self, dialog: RecipeDialog) -> None:
        dialog.library_asked.connect(self._take_from_library)

    @Slot()
    def _take_from_library(self) -> None:
        if self._dialog is None:
            return
        chosen = self._ask_library(self.tr("&Take these steps"), self._dialog)
        if chosen is not None:
            self._dialog.take(chosen[0].recipe(chosen[1]))

    @Slot()
    def from_library(self) -> None:
        """Add a treatment from the library."""
        if self.page is None:
            return
        chosen = self._ask_library(self.tr("Add to the &board"), self._window)
        if chosen is not None:
            kept, version = chosen
            ids = [each.id for each in self.page.session.record.treatments.values()]
            self._do(add_treatment_with_recipe, as_treatment(kept, next_id(ids, "T1")), kept.recipe(version))

    def _ask_library(self, take_text: str, parent: QWidget) -> tuple[LibraryRecipe, int] | None:
        """Let the user choose a recipe and a version; None when none was chosen."""
        from rustboard.ui.recipes.library_dialog import LibraryDialog

        dialog = LibraryDialog(self.library, take_text, parent)
        accepted = self._asker.dialog(dialog)
        kept = dialog.recipe()
        return (kept, dialog.version()) if accepted and kept is not None else None
