"""Asking for a treatment, and the list of them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from dialog_showing import Show
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog, QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from rustboard.board.model import MOST_TREATMENTS, Treatment
from rustboard.board.record import BoardRecord
from rustboard.ui.dialogs.treatment import TreatmentDialog
from rustboard.ui.dialogs.treatments import TreatmentsDialog

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")

Key = Qt.Key


def fill(field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    QTest.keyClick(field, Key.Key_Delete)
    QTest.keyClicks(field, text)


def test_a_new_treatment_gets_the_next_id_and_waits_for_its_name(record: BoardRecord, show: Show) -> None:
    dialog = show(TreatmentDialog(record, None))
    QTest.keyClicks(dialog.focusWidget(), "lanolin film")
    QTest.keyClick(dialog.focusWidget(), Key.Key_Return)
    assert dialog.result() == QDialog.DialogCode.Accepted
    assert dialog.treatment() == Treatment("T3", "lanolin film")


@pytest.mark.parametrize("key", [1, 2])
def test_an_unchanged_treatment_comes_back_as_it_was(
    record: BoardRecord, show: Show, german: object, key: int
) -> None:
    dialog = show(TreatmentDialog(record, record.treatments[key]))
    QTest.keyClick(dialog.focusWidget(), Key.Key_Return)
    assert dialog.treatment() == record.treatments[key]


def test_numbers_are_shown_with_the_users_mark_and_read_with_either(
    record: BoardRecord, show: Show, german: object
) -> None:
    dialog = show(TreatmentDialog(record, record.treatments[2]))
    assert (dialog._cost.text(), dialog._minutes.text()) == ("3,25", "40")
    fill(dialog._cost, "12,5")
    fill(dialog._minutes, "7.25")
    fill(dialog._coats, "3")
    QTest.keyClick(dialog.focusWidget(), Key.Key_Return)
    wanted = replace(record.treatments[2], cost_per_m2=12.5, minutes_per_m2=7.25, coats=3)
    assert dialog.treatment() == wanted


def test_an_emptied_number_is_not_given(record: BoardRecord, show: Show) -> None:
    dialog = show(TreatmentDialog(record, record.treatments[2]))
    for field in (dialog._cost, dialog._minutes, dialog._coats):
        fill(field, "")
    QTest.keyClick(dialog.focusWidget(), Key.Key_Return)
    assert dialog.treatment() == replace(record.treatments[2], cost_per_m2=None, minutes_per_m2=None, coats=None)


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("_id", "", "needs a short id"),
        ("_id", "t1", "Another treatment has the id t1"),
        ("_coats", "2.5", "not a whole number"),
        ("_coats", "two", "not a number"),
        ("_coats", "500", "The number of coats is from 0 to 100"),
        ("_cost", "-1", "The cost per m² is from 0 to 1,000,000,000"),
        ("_cost", "1e12", "The cost per m² is from 0 to 1,000,000,000"),
        ("_minutes", "2e6", "The minutes per m² are from 0 to 1,000,000"),
        ("_minutes", "1.234,5", "not a number"),
    ],
)
def test_what_cannot_be_is_told_at_its_field(
    record: BoardRecord, show: Show, name: str, text: str, words: str
) -> None:
    dialog = show(TreatmentDialog(record, record.treatments[2]))
    fill(getattr(dialog, name), text)
    QTest.keyClick(dialog.focusWidget(), Key.Key_Return)
    assert dialog.isVisible()
    assert words in dialog.problem.text()
    assert dialog.focusWidget() is getattr(dialog, name)


def test_a_sentence_goes_when_a_field_is_edited(record: BoardRecord, show: Show) -> None:
    dialog = show(TreatmentDialog(record, record.treatments[2]))
    fill(dialog._coats, "two")
    QTest.keyClick(dialog.focusWidget(), Key.Key_Return)
    assert "not a number" in dialog.problem.text()
    fill(dialog._coats, "2")
    assert dialog.problem.text() == ""


def test_on_a_full_board_a_new_treatment_is_not_lost_without_a_word(record: BoardRecord, show: Show) -> None:
    record.treatments = {key: Treatment(f"T{key}", key=key) for key in range(1, MOST_TREATMENTS + 1)}
    dialog = show(TreatmentDialog(record, None))
    QTest.keyClick(dialog.focusWidget(), Key.Key_Return)
    assert dialog.isVisible()
    assert dialog.problem.text() == "A board holds at most 500 treatments; start a second board."
    edited = show(TreatmentDialog(record, record.treatments[3]))
    QTest.keyClick(edited.focusWidget(), Key.Key_Return)
    assert not edited.isVisible()


def test_a_drying_oil_calls_for_care_as_soon_as_it_is_typed(record: BoardRecord, show: Show) -> None:
    dialog = show(TreatmentDialog(record, None))
    assert dialog.care() == ""
    QTest.keyClicks(dialog.focusWidget(), "baked linseed oil")
    assert "Rags wet with linseed" in dialog.care()
    assert "is not thereby safe" in dialog.care()
    fill(dialog._name, "soap")
    assert dialog.care() == ""


def test_words_in_the_note_call_for_care_too(record: BoardRecord, show: Show) -> None:
    dialog = show(TreatmentDialog(record, None))
    dialog._note.setFocus()
    QTest.keyClicks(dialog._note, "cold blue before")
    assert "selenious acid" in dialog.care()


@pytest.mark.no_qt_log  # a list that pops up makes the plugin without a screen complain
def test_typing_a_family_is_not_completed_behind_ones_back(record: BoardRecord, show: Show) -> None:
    record.treatments[1] = replace(record.treatments[1], family="wax polish")
    dialog = show(TreatmentDialog(record, None))
    dialog._family.setFocus()
    QTest.keyClicks(dialog._family, "wax")
    assert dialog._family.currentText() == "wax"


def test_families_on_the_board_are_offered_beside_the_usual_ones(record: BoardRecord, show: Show) -> None:
    record.treatments[1] = replace(record.treatments[1], family="Tallow")
    dialog = show(TreatmentDialog(record, None))
    offered = [dialog._family.itemText(each) for each in range(dialog._family.count())]
    assert offered == ["film", "oil", "paint", "Tallow", "wax"]


# ---- the list


def rows(dialog: TreatmentsDialog) -> list[list[str]]:
    table = dialog.table
    return [
        [table.item(row, column).text() for column in range(table.columnCount())] for row in range(table.rowCount())
    ]


def button(dialog: QDialog, text: str) -> QPushButton:
    return next(each for each in dialog.findChildren(QPushButton) if each.text() == text)


def test_the_list_shows_each_treatment_and_how_many_coupons_have_it(record: BoardRecord, show: Show) -> None:
    dialog = show(TreatmentsDialog(record))
    assert rows(dialog) == [["T1", "hot beeswax blend", "wax", "2"], ["T2", "", "oil", "0"]]


@pytest.mark.parametrize(
    ("key", "signal", "asked"),
    [(Key.Key_Return, "edit_asked", [2]), (Key.Key_Delete, "remove_asked", [2]), (Key.Key_Insert, "add_asked", [])],
)
def test_keys_on_the_list_ask_for_changes(
    record: BoardRecord, show: Show, qtbot: QtBot, key: Qt.Key, signal: str, asked: list[int]
) -> None:
    dialog = show(TreatmentsDialog(record))
    qtbot.keyClick(dialog.table, Key.Key_Down)
    with qtbot.waitSignal(getattr(dialog, signal)) as told:
        qtbot.keyClick(dialog.table, key)
    assert told.args == asked
    assert dialog.isVisible()


@pytest.mark.parametrize(("text", "signal"), [("&Add…", "add_asked"), ("&Edit…", "edit_asked")])
def test_buttons_ask_for_changes(record: BoardRecord, show: Show, qtbot: QtBot, text: str, signal: str) -> None:
    dialog = show(TreatmentsDialog(record))
    with qtbot.waitSignal(getattr(dialog, signal)):
        qtbot.mouseClick(button(dialog, text), Qt.MouseButton.LeftButton)


def test_a_double_click_edits(record: BoardRecord, show: Show, qtbot: QtBot) -> None:
    dialog = show(TreatmentsDialog(record))
    place = dialog.table.visualItemRect(dialog.table.item(1, 1)).center()
    with qtbot.waitSignal(dialog.edit_asked) as told:
        qtbot.mouseClick(dialog.table.viewport(), Qt.MouseButton.LeftButton, pos=place)
        qtbot.mouseDClick(dialog.table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert told.args == [2]


def test_a_treatment_that_coupons_have_is_not_asked_to_be_removed(
    record: BoardRecord, show: Show, qtbot: QtBot
) -> None:
    dialog = show(TreatmentsDialog(record))
    with qtbot.assertNotEmitted(dialog.remove_asked):
        qtbot.mouseClick(button(dialog, "&Remove"), Qt.MouseButton.LeftButton)
    assert dialog.problem.text() == "hot beeswax blend is on 2 coupons; give them another treatment first."
    qtbot.keyClick(dialog.table, Key.Key_Down)
    assert dialog.problem.text() == ""


def test_after_a_change_the_same_treatment_stays_chosen_and_a_new_one_is_chosen(
    record: BoardRecord, show: Show, qtbot: QtBot
) -> None:
    dialog = show(TreatmentsDialog(record))
    qtbot.keyClick(dialog.table, Key.Key_Down)
    record.treatments[2] = replace(record.treatments[2], name="renamed")
    dialog.refresh(record)
    assert (dialog.chosen(), rows(dialog)[1][1]) == (2, "renamed")
    record.treatments[9] = Treatment("T9", key=9)
    dialog.refresh(record)
    assert dialog.chosen() == 9
    del record.treatments[9]
    dialog.refresh(record)
    assert dialog.chosen() == 1


def test_without_treatments_only_adding_is_offered(record: BoardRecord, show: Show) -> None:
    record.treatments.clear()
    record.coupons.clear()
    dialog = show(TreatmentsDialog(record))
    assert dialog.chosen() is None
    assert button(dialog, "&Add…").isEnabled()
    assert not button(dialog, "&Edit…").isEnabled()
    assert not button(dialog, "&Remove").isEnabled()
