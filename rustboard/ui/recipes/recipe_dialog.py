"""The recipe of one treatment: its steps in order, what it costs, the care it calls for, and its library."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QSize, Signal, Slot
from PySide6.QtWidgets import QCheckBox, QDialogButtonBox, QMenu, QPushButton, QWidget

from rustboard.board.library_recipe import LibraryRecipe
from rustboard.board.model import Treatment
from rustboard.board.recipe import Recipe, RecipeStep
from rustboard.board.recipe_cost import RecipeCost, recipe_cost, usual_area_mm2
from rustboard.board.record import BoardRecord
from rustboard.operations.recipes import checked_steps
from rustboard.scales.cautions import NOT_COMPLETE, recipe_cautions
from rustboard.session.recipe_library import RecipeLibrary, newer_version
from rustboard.support.problems import InputError
from rustboard.support.text import printable
from rustboard.ui.forms.form import FormDialog, WrongFieldError
from rustboard.ui.recipe_wording import cost_line, minutes_line, not_counted, not_given
from rustboard.ui.recipes.steps_editor import StepsEditor
from rustboard.ui.recipes.words_frame import WordsFrame

_WIDTH_IN_LETTERS = 146
_HEIGHT_IN_LINES = 46
_SHOWN_NAME = 40


class RecipeDialog(FormDialog):
    """Edits the steps of a treatment. It changes the library only; the recipe is handed back.

    Signals:
        library_asked(): the user wants to take a recipe from the library; whoever shows the dialog answers with
            `take`.
    """

    library_asked = Signal()

    def __init__(
        self,
        record: BoardRecord,
        treatment: Treatment,
        library: RecipeLibrary,
        who: str = "",
        parent: QWidget | None = None,
    ) -> None:
        """Show the recipe of a treatment on a board; ``who`` is written beside new steps."""
        super().__init__("", parent)
        self._record, self._treatment, self._library = record, treatment, library
        self.setWindowTitle(self.tr("Steps of {0}").format(printable(treatment.title)[:120]))
        self._area = usual_area_mm2(record, treatment.key)
        self._origin = self._value = record.recipe_of(treatment.key)
        self._kept: LibraryRecipe | None = None
        self._editor = StepsEditor(self._known_steps(), self._wheel, who)
        self._cost = WordsFrame(self.tr("Cost and time"))
        self._use_cost = QCheckBox(self.tr("&Give the treatment this cost and time for a m²"))
        self._care = WordsFrame(self.tr("Take care in this step"))
        self._other_care = WordsFrame(self.tr("Take care in the other steps"))
        self._about_library = WordsFrame(self.tr("Your library"))
        self._newer = QPushButton()
        self._take = QPushButton(self.tr("Take from &library…"))
        self._keep = QPushButton(self.tr("&Keep in library"))
        self._menu = QMenu(self)
        self._keep_version = self._menu.addAction("")
        self._keep_new = self._menu.addAction(self.tr("As a recipe of its own"))
        self._build()
        self._wire()
        self._look_into_library()
        self._editor.show_steps(self._origin.steps)

    def _build(self) -> None:
        for each in (self._take, self._keep):
            self._buttons.addButton(each, QDialogButtonBox.ButtonRole.ActionRole)
        for each in (self._take, self._keep, self._newer):
            each.setAutoDefault(False)
        self._keep.setMenu(self._menu)
        self._cost.column.addWidget(self._use_cost)
        self._about_library.column.addWidget(self._newer)
        self._editor.under_list.addWidget(self._about_library)
        self._editor.under_list.addWidget(self._cost)
        self._editor.over_fields.addWidget(self._care)
        self._editor.under_list.addWidget(self._other_care)
        self.add_text(self._editor)

    def _wire(self) -> None:
        self._editor.changed.connect(self._refresh)
        self._take.clicked.connect(self.library_asked)
        self._newer.clicked.connect(self._take_newest)
        self._keep_version.triggered.connect(self._keep_as_version)
        self._keep_new.triggered.connect(self._keep_as_new)

    def _known_steps(self) -> Iterable[RecipeStep]:
        yield from (step for each in self._record.recipes.values() for step in each.recipe.steps)
        try:
            yield from (step for each in self._library.recipes() for step in each.newest.steps)
        except InputError as error:
            self.problem.say(error.problem.sentence())

    # ---- what it hands back

    def recipe(self) -> Recipe:
        """Return the recipe."""
        return self._value

    def wants_cost(self) -> bool:
        """Return whether the treatment shall get cost and minutes from the recipe."""
        return self._use_cost.isEnabled() and self._use_cost.isChecked()

    def coupon_area_mm2(self) -> float | None:
        """Return the size of a coupon that the cost was worked out with."""
        return self._area

    def read(self) -> None:
        """Read the steps into the recipe."""
        self._value = self._as_recipe(checked_steps(self._editor.read()))

    def _as_recipe(self, steps: tuple[RecipeStep, ...]) -> Recipe:
        """Return steps with the version of the library they are: none of its versions when they were changed."""
        if steps == self._origin.steps:
            return self._origin
        kept = [] if self._kept is None else [each.number for each in self._kept.versions if each.steps == steps]
        return Recipe(steps, self._origin.library_id, kept[-1] if kept else 0)

    # ---- what it shows

    @Slot()
    def _refresh(self) -> None:
        steps = self._editor.steps()
        cost = recipe_cost(Recipe(steps), self._area)
        self._show_cost(cost, bool(steps))
        here, others = [], []
        at = self._editor.current() + 1
        for line, numbers in recipe_cautions(steps):
            if at in numbers:
                here.append(f"• {line}")
            else:
                steps_named = self.tr("Step {0}") if len(numbers) == 1 else self.tr("Steps {0}")
                others.append(f"• {steps_named.format(', '.join(map(str, numbers)))}: {line}")
        self._care.say(here if others or not here else [*here, NOT_COMPLETE])
        self._other_care.say([*others, NOT_COMPLETE] if others else [])
        self._keep.setEnabled(bool(steps))
        self._show_library(steps)

    def _show_cost(self, cost: RecipeCost, there: bool) -> None:
        lines = [cost_line(cost), minutes_line(cost), *not_counted(cost), *not_given(cost)]
        if self._area is None:
            lines.append(self.tr("The size of the coupons is not known yet."))
        else:
            lines.append(self.tr("Reckoned on both faces of a coupon, without its edges."))
        self._cost.say(
            lines if there else [self.tr("No steps yet. Add the first, or take a recipe from your library.")]
        )
        self._use_cost.setVisible(there)
        self._use_cost.setEnabled(cost.whole_per_m2 is not None or cost.whole_minutes_per_m2 is not None)

    # ---- the library

    def _look_into_library(self) -> None:
        try:
            self._kept = self._library.find(self._origin.library_id)
        except InputError as error:
            self._kept = None
            self.problem.say(error.problem.sentence())
        else:
            self.problem.say(self._library.problem)

    def _show_library(self, steps: tuple[RecipeStep, ...]) -> None:
        kept, recipe = self._kept, self._as_recipe(steps)
        self._keep_version.setVisible(kept is not None)
        newer = newer_version(recipe, kept)
        self._newer.setVisible(newer is not None)
        if kept is None:
            self._about_library.say(
                [self.tr("These steps came from a recipe that is not in your library.")] if recipe.library_id else []
            )
            return
        name = printable(kept.name)[:_SHOWN_NAME]
        if recipe.version:
            line = self.tr("These steps are version {0} of “{1}”.").format(recipe.version, name)
        else:
            line = self.tr("These steps were taken from “{0}” and changed since.").format(name)
        lines = [line]
        if newer is not None:
            lines.append(self.tr("Version {0} is in your library; this board keeps its own.").format(newer.number))
            self._newer.setText(self.tr("Take &version {0}").format(newer.number))
        self._about_library.say(lines)
        same = kept.newest.steps == steps
        text = self.tr("As version {0} of “{1}”").format(kept.newest.number + (0 if same else 1), name)
        self._keep_version.setText(text.replace("&", "&&"))
        self._keep_version.setEnabled(not same)

    def take(self, recipe: Recipe) -> None:
        """Put steps of the library in place of those shown."""
        self._origin = recipe
        self._look_into_library()
        self._editor.show_steps(recipe.steps)

    @Slot()
    def _take_newest(self) -> None:
        if self._kept is not None:
            self.take(self._kept.recipe())

    @Slot()
    def _keep_as_version(self) -> None:
        self._keep_steps(as_new=False)

    @Slot()
    def _keep_as_new(self) -> None:
        self._keep_steps(as_new=True)

    def _keep_steps(self, *, as_new: bool) -> None:
        try:
            steps = self._editor.read()
            if as_new or self._kept is None:
                kept = self._library.keep_new(self._treatment, steps)
            else:
                kept = self._library.keep_version(self._kept.id, steps)
        except WrongFieldError as error:
            self._complain(error.sentence)
            self._go_to(error.field)
            return
        except InputError as error:
            self._complain(error.problem.sentence())
            return
        self._origin, self._kept = kept.recipe(), kept
        self.problem.say(self._library.problem)
        self._refresh()

    def sizeHint(self) -> QSize:
        """Return a size in which steps and fields stand side by side, as far as the screen has room."""
        hint = super().sizeHint()
        # Tall from the start, so that what a step's words call for is seen while they are written.
        height = max(hint.height(), self.fontMetrics().lineSpacing() * _HEIGHT_IN_LINES)
        return QSize(max(hint.width(), self._letters(_WIDTH_IN_LETTERS)), height).boundedTo(self._room())
