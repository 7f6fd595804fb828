"""The user's library of recipes: found, looked at, archived, and one version chosen."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QModelIndex, QSize, Qt, Slot
from PySide6.QtWidgets import (
    QCheckBox,
    QDialogButtonBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.library_recipe import LibraryRecipe, LibraryVersion
from rustboard.board.recipe import Recipe
from rustboard.scales.cautions import safety_lines
from rustboard.session.recipe_library import RecipeLibrary, as_treatment
from rustboard.support.problems import InputError
from rustboard.support.text import printable
from rustboard.ui.forms.form import ProblemLine, choice_field, line_field, text_of
from rustboard.ui.forms.labels import words_label
from rustboard.ui.forms.table import TableDialog
from rustboard.ui.recipe_wording import care_lines, step_lines
from rustboard.ui.recipes.words_frame import WordsFrame
from rustboard.ui.wording import date_only

_WIDTH_IN_LETTERS: Final = 126
_HEIGHT_IN_LINES: Final = 34
_ACTION: Final = QDialogButtonBox.ButtonRole.ActionRole


class LibraryDialog(TableDialog):
    """Chooses a recipe of the library and a version of it. Archiving is all it changes, and only in the library."""

    def __init__(self, library: RecipeLibrary, take_text: str, parent: QWidget | None = None) -> None:
        """Show the library; ``take_text`` is on the button that chooses."""
        super().__init__(parent)
        headers = [self.tr("Name"), self.tr("Family"), self.tr("Versions")]
        self.describe(self.tr("Recipe library"), headers, wide=0)
        self._library = library
        self._all: list[LibraryRecipe] = []
        self._shown: list[LibraryRecipe] = []
        self.problem = ProblemLine()
        self._search = line_field(hint=self.tr("Find by name, family, product…"))
        self._archived = QCheckBox(self.tr("Show a&rchived"))
        self._versions = choice_field()
        self._steps = words_label(narrow=True)
        self._care = WordsFrame(self.tr("Take care"))
        self._take = QPushButton(take_text)
        self._archive = QPushButton()
        self._build()
        self._wire()
        self.reload()

    def _build(self) -> None:
        top = QHBoxLayout()
        find = QLabel(self.tr("&Find"))
        find.setBuddy(self._search)
        top.addWidget(find)
        top.addWidget(self._search, 1)
        top.addWidget(self._archived)
        steps = QScrollArea()
        steps.setWidgetResizable(True)
        steps.setFrameShape(QFrame.Shape.NoFrame)
        inside = QWidget()
        words = QVBoxLayout(inside)
        words.setContentsMargins(0, 0, 0, 0)
        words.addWidget(self._steps)
        words.addWidget(self._care)
        words.addStretch(1)
        steps.setWidget(inside)
        steps.setAccessibleName(self.tr("Steps of the chosen version"))
        self._steps.setAlignment(Qt.AlignmentFlag.AlignTop)
        label = QLabel(self.tr("&Version"))
        label.setBuddy(self._versions)
        side = QWidget()
        column = QVBoxLayout(side)
        column.setContentsMargins(6, 0, 0, 0)
        column.addWidget(label)
        column.addWidget(self._versions)
        column.addWidget(steps, 1)
        split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        self.column.insertLayout(0, top)
        self.column.replaceWidget(self.table, split)
        split.addWidget(self.table)
        split.addWidget(side)
        split.setStretchFactor(0, 3)
        split.setStretchFactor(1, 2)
        self.column.setStretchFactor(split, 1)
        self.column.insertWidget(2, self.problem)
        self._take.setProperty("primary", True)
        for each in (self._take, self._archive):
            self.buttons.addButton(each, _ACTION)
        self._archive.setAutoDefault(False)
        self._take.setDefault(True)

    def _wire(self) -> None:
        self._search.textChanged.connect(self._show_found)
        self._archived.toggled.connect(self.reload)
        self.table.itemSelectionChanged.connect(self._follow_choice)
        self.table.doubleClicked.connect(self._take_row)
        self._versions.currentIndexChanged.connect(self._show_steps)
        self._take.clicked.connect(self._choose)
        self._archive.clicked.connect(self._archive_chosen)

    # ---- what it hands back

    def recipe(self) -> LibraryRecipe | None:
        """Return the chosen recipe, or None."""
        rows = self.table.selectionModel().selectedRows()
        return self._shown[rows[0].row()] if rows and rows[0].row() < len(self._shown) else None

    def version(self) -> int:
        """Return the number of the chosen version; 0 when there is none."""
        number = self._versions.currentData()
        return number if isinstance(number, int) else 0

    # ---- what it shows

    @Slot()
    def reload(self) -> None:
        """Read the library again."""
        try:
            self._all = self._library.recipes(archived=self._archived.isChecked())
        except InputError as error:
            self._all = []
            self.problem.say(error.problem.sentence())
        else:
            self.problem.say(self._library.problem)
        self._show_found()

    @Slot()
    def _show_found(self) -> None:
        chosen = self.recipe()
        words = text_of(self._search).casefold().split()
        self._shown = [each for each in self._all if _mentions(each, words)]
        self.show_rows([self._row(each) for each in self._shown])
        ids = [each.id for each in self._shown]
        if ids:
            self.table.selectRow(ids.index(chosen.id) if chosen is not None and chosen.id in ids else 0)
        self._follow_choice()

    def _row(self, recipe: LibraryRecipe) -> Sequence[str]:
        name = self.tr("{0} (archived)").format(recipe.name) if recipe.archived else recipe.name
        return name, recipe.family, str(len(recipe.versions))

    @Slot()
    def _follow_choice(self) -> None:
        recipe = self.recipe()
        self._versions.clear()
        for each in reversed(recipe.versions if recipe is not None else ()):
            self._versions.addItem(self.tr("{0} of {1}").format(each.number, date_only(each.written)), each.number)
        self._versions.setEnabled(recipe is not None)
        self._take.setEnabled(recipe is not None)
        self._archive.setEnabled(recipe is not None)
        away = recipe is not None and recipe.archived
        self._archive.setText(self.tr("&Bring back") if away else self.tr("&Archive"))
        self._show_steps()

    @Slot()
    def _show_steps(self) -> None:
        recipe = self.recipe()
        version = None if recipe is None else recipe.version(self.version())
        self._care.say([] if recipe is None or version is None else _care_lines(recipe, version))
        if version is None:
            self._steps.setText("" if self._all else self._nothing())
            return
        lines = [step_lines(number, step) for number, step in enumerate(version.steps, start=1)]
        self._steps.setText(printable("\n".join(lines), lines=True))

    def _nothing(self) -> str:
        return self.tr(
            "No recipes here yet. Open the steps of a treatment and choose “Keep in library”; then every board can "
            "use them."
        )

    def sizeHint(self) -> QSize:
        """Return room for the list and the steps beside it, as far as the screen has it."""
        wide = self.fontMetrics().averageCharWidth() * _WIDTH_IN_LETTERS
        tall = max(super().sizeHint().height(), self.fontMetrics().lineSpacing() * _HEIGHT_IN_LINES)
        return QSize(wide, tall).boundedTo(self._room())

    # ---- what the user does

    @Slot(QModelIndex)
    def _take_row(self, index: QModelIndex) -> None:
        if index.isValid():
            self._choose()

    @Slot()
    def _choose(self) -> None:
        if self.recipe() is not None:
            self.accept()

    @Slot()
    def _archive_chosen(self) -> None:
        recipe = self.recipe()
        if recipe is None:
            return
        try:
            self._library.archive(recipe.id, not recipe.archived)
        except InputError as error:
            self.problem.say(error.problem.sentence())
            return
        self.reload()


def _mentions(recipe: LibraryRecipe, words: Sequence[str]) -> bool:
    """Return whether every word, in small letters, is in what a recipe says."""
    steps = [text for each in recipe.newest.steps for text in (each.product, each.note)]
    texts = (recipe.name, recipe.family, recipe.preparation, recipe.finish, recipe.protectant, *steps)
    said = "\n".join(texts).casefold()
    return all(word in said for word in words)


def _care_lines(recipe: LibraryRecipe, version: LibraryVersion) -> list[str]:
    treatment = as_treatment(recipe, "")
    lines = safety_lines([treatment], {treatment.key: Recipe(version.steps)})
    return care_lines([line for line, _ in lines])
