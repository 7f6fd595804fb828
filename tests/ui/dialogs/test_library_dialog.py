"""Choosing a recipe and a version from the library."""

from __future__ import annotations

import pytest
from dialog_showing import Show
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog

from rustboard.board.model import Treatment
from rustboard.board.recipe import RecipeStep
from rustboard.session.recipe_library import RecipeLibrary
from rustboard.support import paths
from rustboard.ui.recipes.library_dialog import LibraryDialog

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")

WAX, OIL, DRY = RecipeStep("coat", "beeswax"), RecipeStep("wipe", "mineral oil"), RecipeStep("dry", minutes=20)


@pytest.fixture
def library() -> RecipeLibrary:
    library = RecipeLibrary()
    wax = library.keep_new(Treatment("T1", "hot wax", "wax"), (WAX,))
    library.keep_version(wax.id, (WAX, DRY))
    library.keep_new(Treatment("T2", "cold oil", "oil"), (OIL,))
    return library


def names(dialog: LibraryDialog) -> list[str]:
    return [dialog.table.item(row, 0).text() for row in range(dialog.table.rowCount())]


def test_the_newest_version_is_taken_unless_another_is_chosen(show: Show, library: RecipeLibrary) -> None:
    dialog = show(LibraryDialog(library, "&Take"))
    assert names(dialog) == ["cold oil", "hot wax"]
    assert dialog._steps.text().startswith("1  wipe · mineral oil")
    QTest.keyClick(dialog.table, Qt.Key.Key_Down)
    assert dialog._steps.text() == "1  coat · beeswax\n2  dry\n     20\xa0min"
    assert dialog.version() == 2
    dialog._versions.setCurrentIndex(1)
    assert dialog._steps.text() == "1  coat · beeswax"
    QTest.mouseClick(dialog._take, Qt.MouseButton.LeftButton)
    assert dialog.result() == QDialog.DialogCode.Accepted
    assert (dialog.recipe().name, dialog.version()) == ("hot wax", 1)


def test_words_find_recipes_by_what_is_in_them(show: Show, library: RecipeLibrary) -> None:
    dialog = show(LibraryDialog(library, "&Take"))
    for words, found in (
        ("wax", ["hot wax"]),
        ("MINERAL cold", ["cold oil"]),
        ("tar", []),
        ("", ["cold oil", "hot wax"]),
    ):
        dialog._search.setText(words)
        assert names(dialog) == found
        assert dialog._take.isEnabled() is bool(found)


def test_archived_recipes_are_out_of_the_way_and_come_back(show: Show, library: RecipeLibrary) -> None:
    dialog = show(LibraryDialog(library, "&Take"))
    dialog._archive.click()
    assert names(dialog) == ["hot wax"]
    dialog._archived.click()
    assert names(dialog) == ["cold oil (archived)", "hot wax"]
    dialog.table.selectRow(0)
    assert dialog._archive.text() == "&Bring back"
    dialog._archive.click()
    assert names(dialog) == ["cold oil", "hot wax"]
    assert [each.archived for each in library.recipes(archived=True)] == [False, False]


def test_an_empty_library_says_how_recipes_come_into_it(show: Show) -> None:
    dialog = show(LibraryDialog(RecipeLibrary(), "&Take"))
    assert "Keep in library" in dialog._steps.text()
    assert not dialog._take.isEnabled()
    assert not dialog._archive.isEnabled()
    assert dialog.recipe() is None
    dialog._choose()
    assert dialog.isVisible()


def test_a_library_that_cannot_be_read_is_told_of(show: Show) -> None:
    paths.library_file().parent.mkdir(parents=True)
    paths.library_file().write_text('{"format": 99, "recipes": []}')
    dialog = show(LibraryDialog(RecipeLibrary(), "&Take"))
    assert "A newer version of the program" in dialog.problem.text()


def test_archiving_that_the_disk_refuses_is_told_of(show: Show, library: RecipeLibrary) -> None:
    dialog = show(LibraryDialog(library, "&Take"))
    paths.library_file().write_text('{"format": 99, "recipes": []}')
    dialog._archive.click()
    assert "A newer version of the program" in dialog.problem.text()
    assert names(dialog) == ["cold oil", "hot wax"]
