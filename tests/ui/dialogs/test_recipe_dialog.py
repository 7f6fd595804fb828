"""The steps of a treatment: written, moved, reckoned, and exchanged with the library."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from dialog_showing import Show
from PySide6.QtCore import QMimeData, QPoint, QPointF, QSize, Qt
from PySide6.QtGui import QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QLineEdit, QPushButton, QWidget

from rustboard.board.model import Coupon
from rustboard.board.position import Position
from rustboard.board.recipe import MOST_STEPS, STEP_KINDS, Recipe, RecipeStep, TreatmentRecipe
from rustboard.board.record import BoardRecord
from rustboard.session.recipe_library import RecipeLibrary
from rustboard.support import paths
from rustboard.ui.recipes.recipe_dialog import RecipeDialog

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")

Key = Qt.Key
FACE = ((0.0, 0.0), (100.0, 0.0), (100.0, 150.0), (0.0, 150.0))
WAX = RecipeStep(
    "coat",
    "beeswax",
    "pot 3",
    4.5,
    "g",
    "coupon",
    18.25,
    0.5,
    "kg",
    6,
    True,
    120,
    "Ann",
    "two thin\ncoats",
)
SPIRIT = RecipeStep("degrease", "white spirit", minutes=3)
DRY = RecipeStep("dry", minutes=20, hands_on=False)

Open = Callable[..., RecipeDialog]


@pytest.fixture
def library() -> RecipeLibrary:
    return RecipeLibrary()


@pytest.fixture
def opened(record: BoardRecord, show: Show, library: RecipeLibrary) -> Open:
    """Opens the dialog on treatment 1 with these steps."""

    def run(*steps: RecipeStep, library_id: str = "", version: int = 0, who: str = "") -> RecipeDialog:
        record.coupons = {1: Coupon("C1", Position(0, 0), 1, outline_mm=FACE, key=1)}
        if steps:
            record.recipes[1] = TreatmentRecipe(1, Recipe(steps, library_id, version), key=1)
        return show(RecipeDialog(record, record.treatments[1], library, who))

    return run


def fill(field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    QTest.keyClick(field, Key.Key_Delete)
    QTest.keyClicks(field, text)


def press(dialog: RecipeDialog, text: str) -> None:
    found = [each for each in dialog.findChildren(QPushButton) if each.text().replace("&", "") == text]
    QTest.mouseClick(found[0], Qt.MouseButton.LeftButton)


def products(dialog: RecipeDialog) -> list[str]:
    return [each.product or each.kind for each in dialog._editor.steps()]


def steps_list(dialog: RecipeDialog):
    return dialog._editor._list


def fields(dialog: RecipeDialog):
    return dialog._editor._fields


@pytest.mark.parametrize("country", ["as it is", "german"])
def test_an_unchanged_recipe_comes_back_as_it_was(opened: Open, request, country: str) -> None:
    if country == "german":
        request.getfixturevalue("german")
    dialog = opened(SPIRIT, WAX, DRY, library_id="gone", version=3)
    dialog.accept()
    assert dialog.result() == QDialog.DialogCode.Accepted
    assert dialog.recipe() == Recipe((SPIRIT, WAX, DRY), "gone", 3)


def test_a_first_step_is_written_with_the_keyboard_alone(opened: Open) -> None:
    dialog = opened(who="Ada")
    assert "No steps yet" in dialog._cost.text()
    steps_list(dialog).setFocus()
    QTest.keyClick(steps_list(dialog), Key.Key_Insert)
    QTest.keyClicks(dialog.focusWidget(), "coat")
    QTest.keyClick(dialog.focusWidget(), Key.Key_Tab)
    QTest.keyClicks(dialog.focusWidget(), "lanolin")
    fill(fields(dialog)._quantity, "2,5")
    fill(fields(dialog)._minutes, "7")
    QTest.keyClick(fields(dialog)._minutes, Key.Key_Return)
    assert dialog.result() == QDialog.DialogCode.Accepted
    assert dialog.recipe() == Recipe((RecipeStep("coat", "lanolin", quantity=2.5, minutes=7, who="Ada"),))


def test_steps_are_moved_doubled_and_removed_with_keys_and_buttons(opened: Open) -> None:
    dialog = opened(SPIRIT, WAX, DRY)
    listed = steps_list(dialog)
    listed.setFocus()
    QTest.keyClick(listed, Key.Key_Down)
    QTest.keyClick(listed, Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert products(dialog) == ["white spirit", "dry", "beeswax"]
    QTest.keyClick(listed, Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    QTest.keyClick(listed, Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    QTest.keyClick(listed, Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert products(dialog) == ["beeswax", "white spirit", "dry"]
    press(dialog, "Duplicate")
    assert products(dialog) == ["beeswax", "beeswax", "white spirit", "dry"]
    QTest.keyClick(listed, Key.Key_Delete)
    QTest.keyClick(listed, Key.Key_Delete)
    assert products(dialog) == ["beeswax", "dry"]
    press(dialog, "Up")
    dialog.accept()
    assert dialog.recipe() == Recipe((DRY, WAX))


@pytest.mark.parametrize(
    ("start", "line", "below", "wanted"),
    [
        (0, 1, True, ["beeswax", "white spirit", "dry"]),
        (0, 2, True, ["beeswax", "dry", "white spirit"]),
        (2, 0, False, ["dry", "white spirit", "beeswax"]),
        (2, 1, False, ["white spirit", "dry", "beeswax"]),
        (1, 1, True, ["white spirit", "beeswax", "dry"]),
        (1, 0, True, ["white spirit", "beeswax", "dry"]),
    ],
)
def test_a_step_is_dropped_where_the_line_shows(
    opened: Open, start: int, line: int, below: bool, wanted: list[str]
) -> None:
    dialog = opened(SPIRIT, WAX, DRY)
    listed = steps_list(dialog)
    listed.setCurrentRow(start)
    rect = listed.visualItemRect(listed.item(line))
    at = QPointF(rect.center().x(), rect.bottom() - 1 if below else rect.top() + 1)
    drop = QDropEvent(
        at, Qt.DropAction.MoveAction, QMimeData(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    )
    listed.dropEvent(drop)
    assert products(dialog) == wanted
    assert [listed.item(row).text().split("  ")[0] for row in range(3)] == ["1", "2", "3"]


def test_only_what_can_be_done_is_offered(opened: Open) -> None:
    dialog = opened(*[DRY] * (MOST_STEPS - 1))
    buttons = {each.text().replace("&", ""): each for each in dialog._editor._buttons}
    assert [name for name, each in buttons.items() if not each.isEnabled()] == ["Up"]
    press(dialog, "Duplicate")
    assert [name for name, each in buttons.items() if not each.isEnabled()] == ["Add step", "Duplicate"]
    QTest.keyClick(steps_list(dialog), Key.Key_Insert)
    assert len(products(dialog)) == MOST_STEPS
    for _ in range(MOST_STEPS):
        press(dialog, "Remove")
    assert [name for name, each in buttons.items() if each.isEnabled()] == ["Add step"]
    assert not fields(dialog).isEnabled()
    dialog.accept()
    assert dialog.recipe() == Recipe()


@pytest.mark.parametrize(
    ("field", "text", "sentence"),
    [
        ("_quantity", "much", "Step 2: "),
        ("_quantity", "-1", "Step 2: The quantity is from 0 to 1,000,000"),
        ("_price", "1e10", "Step 2: The price of a full container is from 0"),
        ("_content", "-2", "Step 2: What a full container holds is from 0"),
        ("_minutes", "a while", "Step 2: "),
        ("_temperature", "9000", "Step 2: The temperature is from -100 to 1,500 °C"),
    ],
)
def test_a_wrong_number_is_named_and_shown_whichever_step_it_is_in(
    opened: Open, field: str, text: str, sentence: str
) -> None:
    dialog = opened(SPIRIT, WAX, DRY)
    steps_list(dialog).setCurrentRow(1)
    fill(getattr(fields(dialog), field), text)
    steps_list(dialog).setCurrentRow(2)
    dialog.accept()
    assert dialog.isVisible()
    assert dialog.problem.text().startswith(sentence)
    assert dialog.focusWidget() is getattr(fields(dialog), field)
    assert dialog.focusWidget().text() == text
    assert steps_list(dialog).currentRow() == 1


def test_cost_and_minutes_follow_every_letter(opened: Open) -> None:
    dialog = opened(replace(WAX, quantity=4, container_price=18))
    # 18 * 4 / 500 = 0.144 a coupon of 2 x 0.015 m2: 4.80 a m2; 6 minutes: 200 a m2.
    assert dialog._cost.text().startswith(
        "Cost: 0.144 for a coupon, 4.8 for a m²\nWork: 6\xa0min for a coupon, 200\xa0min for a m²"
    )
    fill(fields(dialog)._quantity, "8")
    assert dialog._cost.text().startswith("Cost: 0.288 for a coupon, 9.6 for a m²")
    fill(fields(dialog)._quantity, "8x")
    assert dialog._cost.text().startswith("Cost: not known\n")
    assert "Not counted: 1 coat (beeswax): how much" in dialog._cost.text()
    fill(fields(dialog)._quantity, "8")
    fields(dialog)._waiting.setCurrentIndex(1)
    assert "Work: not known; waiting: 6\xa0min" in dialog._cost.text()


def test_the_person_decides_whether_the_treatment_takes_the_cost(opened: Open) -> None:
    dialog = opened(DRY)
    assert not dialog._use_cost.isEnabled()
    press(dialog, "Add step")
    fill(fields(dialog)._minutes, "5")
    assert dialog._use_cost.isEnabled()
    assert not dialog.wants_cost()
    dialog._use_cost.click()
    assert dialog.wants_cost()
    assert dialog.coupon_area_mm2() == 15_000


def test_half_a_cost_is_shown_but_not_given_to_the_treatment(opened: Open) -> None:
    dialog = opened(replace(WAX, minutes=None), replace(WAX, product="sealer", container_price=None, minutes=None))
    assert "The treatment is not given this cost: it is not the whole one." in dialog._cost.text()
    assert "Not counted: 2 coat (sealer)" in dialog._cost.text()
    assert not dialog._use_cost.isEnabled()
    steps_list(dialog).setCurrentRow(1)
    fill(fields(dialog)._price, "7")
    assert "not given" not in dialog._cost.text().replace("No minutes given", "")
    assert dialog._use_cost.isEnabled()
    fill(fields(dialog)._minutes, "5")
    assert "The treatment is not given these minutes: they are not the whole work." in dialog._cost.text()
    assert dialog._use_cost.isEnabled()


def test_care_is_shown_for_this_step_and_for_the_others(opened: Open) -> None:
    dialog = opened(SPIRIT, DRY, RecipeStep("blast"))
    assert "Vapour of solvents" in dialog._care.text()
    assert "Step 3: Dust of silica" in dialog._other_care.text()
    steps_list(dialog).setCurrentRow(1)
    assert dialog._care.text() == ""
    assert "Step 1: Vapour" in dialog._other_care.text()
    fields(dialog)._product.setEditText("linseed oil")
    assert "Rags wet with linseed" in dialog._care.text()


def test_care_for_the_first_step_is_seen_while_it_is_written(opened: Open) -> None:
    dialog = opened()
    dialog._editor.add()
    fields(dialog)._kind.setCurrentIndex(STEP_KINDS.index("blast"))
    fields(dialog)._product.setEditText("silica sand")
    QApplication.processEvents()
    assert "silica sand" in dialog._care.text()
    assert "is not thereby safe" in dialog._care.text()
    assert dialog._other_care.text() == ""
    assert dialog._care.visibleRegion().boundingRect() == dialog._care.rect()


def test_products_written_elsewhere_are_offered_with_their_price(
    opened: Open, record: BoardRecord, library: RecipeLibrary
) -> None:
    library.keep_new(record.treatments[2], (RecipeStep("wipe", "oil", container_price=9, container_quantity=1),))
    record.recipes[2] = TreatmentRecipe(2, Recipe((WAX,)), key=2)
    dialog = opened(DRY)
    product = fields(dialog)._product
    assert [product.itemText(row) for row in range(product.count())] == ["beeswax", "oil"]
    product.setCurrentIndex(0)
    product.activated.emit(0)
    assert (fields(dialog)._price.text(), fields(dialog)._content.text()) == ("18.25", "0.5")
    assert fields(dialog)._content_unit.currentText() == "kg"
    product.setCurrentIndex(1)
    product.activated.emit(1)
    assert fields(dialog)._price.text() == "18.25"  # what is written is not written over


def test_steps_are_kept_in_the_library_and_say_which_version_they_are(opened: Open, library: RecipeLibrary) -> None:
    dialog = opened(WAX)
    assert not dialog._keep_version.isVisible()
    dialog._keep_new.trigger()
    (kept,) = library.recipes()
    assert kept.newest.steps == (WAX,)
    assert dialog._about_library.text() == "These steps are version 1 of “hot beeswax blend”."
    assert not dialog._keep_version.isEnabled()
    press(dialog, "Duplicate")
    assert dialog._about_library.text().startswith(
        "These steps were taken from “hot beeswax blend” and changed since."
    )
    assert dialog._keep_version.text() == "As version 2 of “hot beeswax blend”"
    dialog._keep_version.trigger()
    assert dialog._about_library.text() == "These steps are version 2 of “hot beeswax blend”."
    dialog.accept()
    assert dialog.recipe() == Recipe((WAX, WAX), kept.id, 2)


def test_steps_changed_and_not_kept_are_no_version(opened: Open, record: BoardRecord, library: RecipeLibrary) -> None:
    kept = library.keep_new(record.treatments[1], (WAX,))
    dialog = opened(WAX, library_id=kept.id, version=1)
    press(dialog, "Duplicate")
    dialog.accept()
    assert dialog.recipe() == Recipe((WAX, WAX), kept.id, 0)


def test_a_newer_version_is_offered_and_never_applied_by_itself(
    opened: Open, record: BoardRecord, library: RecipeLibrary
) -> None:
    kept = library.keep_new(record.treatments[1], (WAX,))
    library.keep_version(kept.id, (WAX, DRY))
    dialog = opened(WAX, library_id=kept.id, version=1)
    assert "Version 2 is in your library; this board keeps its own." in dialog._about_library.text()
    assert products(dialog) == ["beeswax"]
    dialog._newer.click()
    assert products(dialog) == ["beeswax", "dry"]
    assert dialog._about_library.text() == "These steps are version 2 of “hot beeswax blend”."
    dialog.accept()
    assert dialog.recipe() == Recipe((WAX, DRY), kept.id, 2)


def test_what_the_library_refuses_is_told_and_the_steps_stay(opened: Open, library: RecipeLibrary) -> None:
    dialog = opened(WAX)
    paths.library_file().parent.mkdir(parents=True)
    paths.library_file().write_text('{"format": 99, "recipes": []}')
    dialog._keep_new.trigger()
    assert "A newer version of the program wrote the recipe library" in dialog.problem.text()
    fill(fields(dialog)._minutes, "x")
    dialog._keep_new.trigger()
    assert dialog.problem.text().startswith("Step 1: ")
    assert dialog.isVisible()


def test_a_damaged_library_is_told_of_when_the_dialog_opens(opened: Open) -> None:
    paths.library_file().parent.mkdir(parents=True)
    paths.library_file().write_text("torn")
    dialog = opened(WAX)
    assert "recipes.damaged-1.json" in dialog.problem.text()


@pytest.mark.parametrize(("size", "narrow"), [(QSize(1_200, 700), False), (QSize(520, 400), True)])
def test_the_halves_turn_with_the_room(opened: Open, qapp: QApplication, size: QSize, narrow: bool) -> None:
    dialog = opened(WAX, DRY)
    dialog.resize(size)
    qapp.processEvents()
    assert dialog.size() == size
    listed, product = steps_list(dialog), fields(dialog)._product
    under = product.mapTo(dialog, QPoint()).x() < listed.mapTo(dialog, QPoint(listed.width(), 0)).x()
    assert under is narrow
    for each in (listed, product):
        assert each.mapTo(dialog, QPoint(each.width(), 0)).x() <= dialog.width()


def test_every_field_and_button_is_reached_with_the_tab_key(opened: Open) -> None:
    dialog = opened(WAX, DRY)
    reached: set[QWidget] = set()
    for _ in range(60):
        QTest.keyClick(dialog.focusWidget(), Key.Key_Tab)
        reached.add(dialog.focusWidget())
    wanted = [*dialog.findChildren(QPushButton), fields(dialog)._kind, fields(dialog)._note, steps_list(dialog)]
    assert {each for each in wanted if each.isVisible() and each.isEnabled()} <= reached
