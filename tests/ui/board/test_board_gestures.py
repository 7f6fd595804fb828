"""What is done on the board itself: empty positions, rows and columns, menus, the choice of several coupons."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QContextMenuEvent, QHelpEvent
from PySide6.QtWidgets import QApplication, QDialog, QMenu, QToolTip
from window_driving import (
    Person,
    accept,
    assert_sound,
    cancel,
    filling,
    graded,
    made_board,
    places_on_disk,
    reopened,
    settle,
)

KEY = Qt.Key
AS_MADE = {"C01": "A1", "C02": "A2", "C03": "A3", "C04": "B1"}


# ---- empty positions


def test_a_tap_on_an_empty_position_asks_for_the_coupon_that_hangs_there(person, yard):
    person.answers.dialogs = [filling(id="X9")]
    person.tap("B3")
    assert person.tile("B3").id == "X9"
    person.stand_up()
    assert places_on_disk(yard) == {**AS_MADE, "X9": "B3"}
    assert_sound(yard)


def test_enter_on_an_empty_position_does_the_same(person, yard):
    person.key(KEY.Key_Down, KEY.Key_Right)
    person.answers.dialogs = [accept]
    person.key(KEY.Key_Return)
    person.stand_up()
    assert places_on_disk(yard)["C05"] == "B2"


def test_a_coupon_not_wanted_after_all_leaves_the_position_empty(person, yard):
    person.answers.dialogs = [cancel]
    person.tap("B3")
    person.stand_up()
    assert places_on_disk(yard) == AS_MADE


def test_the_dialog_refuses_an_id_that_another_coupon_has(person, yard):
    sentences = []

    def try_twice(dialog: QDialog) -> None:
        filling(id="c01")(dialog)
        dialog.accept()
        sentences.append(dialog.problem.text())
        filling(id="C05")(dialog)

    person.answers.dialogs = [try_twice]
    person.tap("B3")
    assert sentences == ["Another coupon is called c01; choose a different id."]
    assert person.tile("B3").id == "C05"


def test_a_coupon_can_get_a_treatment_that_is_made_on_the_way(person, yard):
    def with_new_treatment(dialog: QDialog) -> None:
        dialog._treatment.setCurrentIndex(dialog._treatment.count() - 1)
        dialog._treatment.activated.emit(dialog._treatment.count() - 1)
        filling(name="linseed oil")(dialog._making)
        dialog._making.accept()

    person.answers.dialogs = [with_new_treatment]
    person.tap("B3")
    assert person.tile("B3").treatment == "linseed oil"
    person.stand_up()
    with reopened(yard) as session:
        assert [each.title for each in session.record.treatments.values()] == ["beeswax blend", "linseed oil"]


def test_the_empty_board_says_what_to_do_and_grows_from_taps(tmp_path, sitting_at):
    folder = made_board(tmp_path / "b", coupons=0, inspections=0)
    person = sitting_at(folder)
    assert person.reads("or tap a position to add the coupon that hangs there")
    person.answers.dialogs = [accept, accept]
    person.tap("A1")
    assert person.reads("No inspection yet. Add one for each visit")
    person.do("inspection.add")
    assert not person.reads("No inspection yet")
    person.tap("A1")
    person.tap_grade(9)
    assert person.digit("A1") == "9"


# ---- rows and columns


@pytest.mark.parametrize(
    ("axis", "number", "entry", "places"),
    [
        ("row", 0, "Add a row above", {"C01": "B1", "C02": "B2", "C03": "B3", "C04": "C1"}),
        ("row", 0, "Add a row below", {"C01": "A1", "C02": "A2", "C03": "A3", "C04": "C1"}),
        ("row", 0, "Remove this row", {"C01": "", "C02": "", "C03": "", "C04": "A1"}),
        ("column", 1, "Add a column to the left", {"C01": "A1", "C02": "A3", "C03": "A4", "C04": "B1"}),
        ("column", 0, "Add a column to the right", {"C01": "A1", "C02": "A3", "C03": "A4", "C04": "B1"}),
        ("column", 0, "Remove this column", {"C01": "", "C02": "A1", "C03": "A2", "C04": ""}),
    ],
)
def test_rows_and_columns_come_and_go_by_the_menu_of_their_header(person, yard, axis, number, entry, places):
    person.choose(person.open_header(axis, number), entry)
    person.stand_up()
    assert places_on_disk(yard) == places
    assert_sound(yard)


def test_a_removed_row_comes_back_by_the_button_in_the_message(person, yard):
    person.choose(person.open_header("row", 0), "Remove this row")
    assert person.message().startswith("Remove row A")
    person.press("Undo")
    person.stand_up()
    assert places_on_disk(yard) == AS_MADE


def test_the_last_row_is_not_removed_and_the_sentence_says_why(tmp_path, sitting_at):
    person = sitting_at(made_board(tmp_path / "b", coupons=2, rows=1))
    person.choose(person.open_header("row", 0), "Remove this row")
    assert person.window.message.is_error()
    assert "A board has 1 to" in person.message()
    assert person.session.record.board.rows == 1


def test_neighbours_with_one_label_make_a_zone_and_an_empty_label_takes_it_away(person, yard):
    person.answers.dialogs = [filling(name="under the eaves"), filling(name="under the eaves"), filling(name="")]
    person.choose(person.open_header("column", 0), "Label this column")
    tall = person.page.tiles.canvas.grid.column_header
    person.choose(person.open_header("column", 1), "Label this column")
    assert person.page.tiles.canvas.content.labels == {
        ("column", 0): "under the eaves",
        ("column", 1): "under the eaves",
    }
    person.choose(person.open_header("column", 0), "Label this column")
    assert person.page.tiles.canvas.grid.column_header == tall, "there is still one label"
    person.stand_up()
    with reopened(yard) as session:
        assert session.record.axis_label("column", 1) == "under the eaves"
        assert session.record.axis_label("column", 0) == ""


def test_a_row_is_labelled_from_the_keyboard(person, yard):
    person.answers.dialogs = [filling(name="splash zone")]
    person.do("board.row")
    menu = QApplication.activePopupWidget()
    person.choose(menu, "Label this row")
    person.stand_up()
    with reopened(yard) as session:
        assert session.record.axis_label("row", 0) == "splash zone"


def test_a_right_click_on_a_header_opens_its_menu(person):
    canvas = person.page.tiles.canvas
    at = canvas.grid.header_rect("row", 1).center().toPoint()
    person.choose(person.menu_at(at), "Add a row below")
    assert person.session.record.board.rows == 3


# ---- menus of tiles


def test_the_menu_of_a_tile_is_about_that_tile(person, yard):
    menu = person.open_menu("A3")
    person.choose(menu, "Take off the board")
    person.stand_up()
    assert places_on_disk(yard)["C03"] == ""


def test_the_menu_of_a_tile_is_about_that_tile_while_another_is_being_graded(person, yard):
    person.tap("A1")
    menu = person.open_menu("A3")
    person.choose(menu, "Take off the board")
    person.stand_up()
    assert places_on_disk(yard) == {**AS_MADE, "C03": ""}


def test_the_menu_key_opens_the_menu_of_the_tile_under_the_keyboard(person, yard):
    person.key(KEY.Key_Right)
    canvas = person.page.tiles.canvas
    event = QContextMenuEvent(QContextMenuEvent.Reason.Keyboard, QPoint(1, 1), canvas.mapToGlobal(QPoint(1, 1)))
    QApplication.sendEvent(canvas, event)
    settle()
    person.choose(QApplication.activePopupWidget(), "Remove coupon")
    person.stand_up()
    assert "C02" not in places_on_disk(yard)


def test_the_menu_of_an_empty_position_offers_a_coupon(person):
    menu = person.open_menu("B3")
    assert [each.objectName() for each in menu.actions()] == ["coupon.add"]
    person.answers.dialogs = [accept]
    person.choose(menu, "Add coupon")
    assert person.tile("B3").id == "C05"


def test_menus_that_were_closed_are_gone(person):
    before = len(person.window.findChildren(QMenu))
    for _ in range(3):
        person.open_menu("A1").close()
        person.open_header("row", 0).close()
    settle()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert len(person.window.findChildren(QMenu)) == before


# ---- choosing


def test_several_coupons_are_chosen_with_ctrl_by_mouse_and_by_key(person):
    control = Qt.KeyboardModifier.ControlModifier
    person.tap("A1", control)
    person.tap("A3", control)
    assert person.session.selection.coupons == {1, 3}
    person.tap("A1", control)
    assert person.session.selection.coupons == {3}
    assert person.grading() == ""
    person.key(KEY.Key_Left)  # from A1 there is nothing to the left
    person.key(KEY.Key_Space, modifier=control)
    assert person.session.selection.coupons == {1, 3}


def test_choosing_several_while_one_is_graded_leaves_that_one_alone(person):
    person.tap("A1")
    person.tap("A3", Qt.KeyboardModifier.ControlModifier)
    assert person.grading() == "C01"
    assert person.session.selection.coupons == {1, 3}


# ---- what a tile says


def said_by_tool_tip(person: Person, label: str) -> str:
    canvas = person.page.tiles.canvas
    at = person.rect(label).center()
    QApplication.sendEvent(canvas, QHelpEvent(QEvent.Type.ToolTip, at, canvas.mapToGlobal(at)))
    text = QToolTip.text() if QToolTip.isVisible() else ""
    QToolTip.hideText()
    for each in QApplication.topLevelWidgets():
        if each.metaObject().className() == "QTipLabel":
            each.close()
    return text


def test_the_tool_tip_says_all_that_a_tile_shows(tmp_path, sitting_at):
    person = sitting_at(graded(made_board(tmp_path / "b", inspections=2), 1, {"C01": 9}))
    text = said_by_tool_tip(person, "A1")
    assert "A1, C01, beeswax blend, not graded at this inspection, grade 9 on day 0" in text
    assert said_by_tool_tip(person, "B3") == ""


def test_a_screen_reader_is_told_where_the_keyboard_is(tmp_path, sitting_at):
    person = sitting_at(graded(made_board(tmp_path / "b"), 1, {"C02": 7}))
    canvas = person.page.tiles.canvas
    person.key(KEY.Key_Right)
    assert canvas.accessibleName() == "A2, C02, beeswax blend, grade 7"
    person.key(KEY.Key_Down)
    assert canvas.accessibleName() == "B2, empty position"


def test_the_line_above_the_board_counts_what_is_graded(person):
    assert person.reads("0 of 4 graded")
    person.tap("A1")
    person.key("7", "7")
    assert person.reads("2 of 4 graded")
    person.do("edit.undo")
    assert person.reads("1 of 4 graded")


def test_the_arrows_beside_the_inspections_step_through_them(tmp_path, sitting_at):
    person = sitting_at(made_board(tmp_path / "b", inspections=3))
    bar = person.page.tiles.bar
    assert not bar._forward.isEnabled()
    person.click(bar._back)
    assert person.session.selection.inspection == 2
    person.click(bar._back)
    assert not bar._back.isEnabled()
    person.click(bar._forward)
    assert person.session.selection.inspection == 2
