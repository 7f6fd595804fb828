"""Asking for a coupon."""

from __future__ import annotations

from dataclasses import replace

import pytest
from dialog_showing import BRACKET, PLATE, Show
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QDialog
from pytestqt.qtbot import QtBot

from rustboard.board.model import MOST_COUPONS, Coupon
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.ui.dialogs.coupon import CouponDialog

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")

Key = Qt.Key


def press(dialog: QDialog, key: Qt.Key) -> None:
    """Press a key where the keyboard is."""
    from PySide6.QtTest import QTest

    QTest.keyClick(dialog.focusWidget() or dialog, key)


def typed(dialog: QDialog, text: str) -> None:
    from PySide6.QtTest import QTest

    widget = dialog.focusWidget()
    assert widget is not None
    QTest.keyClicks(widget, text)


def test_a_new_coupon_gets_the_next_id_and_the_usual_size_at_its_position(record: BoardRecord, show: Show) -> None:
    dialog = show(CouponDialog(record, None, Position(1, 2)))
    press(dialog, Key.Key_Return)
    assert dialog.result() == QDialog.DialogCode.Accepted
    # A board of 400 x 400 mm in 2 rows of 4: the middle of B3 is at (250, 300).
    outline = ((220.0, 240.0), (280.0, 240.0), (280.0, 360.0), (220.0, 360.0))
    assert dialog.coupon() == Coupon("C03", Position(1, 2), substrate="mild steel", outline_mm=outline)


def test_typing_replaces_the_suggested_id(record: BoardRecord, show: Show) -> None:
    dialog = show(CouponDialog(record, None, None))
    typed(dialog, "door 7")
    press(dialog, Key.Key_Return)
    assert dialog.coupon().id == "door 7"
    assert dialog.coupon().position is None


def test_escape_cancels(record: BoardRecord, show: Show) -> None:
    dialog = show(CouponDialog(record, None, None))
    typed(dialog, "X")
    press(dialog, Key.Key_Escape)
    assert dialog.result() == QDialog.DialogCode.Rejected
    assert not dialog.isVisible()


@pytest.mark.parametrize("key", [1, 2])
def test_an_unchanged_coupon_comes_back_as_it_was(record: BoardRecord, show: Show, key: int) -> None:
    dialog = show(CouponDialog(record, record.coupons[key], record.coupons[key].position))
    press(dialog, Key.Key_Return)
    assert dialog.coupon() == record.coupons[key]


@pytest.mark.parametrize(
    ("text", "words"), [("c02", "Another coupon is called c02"), ("", "needs an id: what is written on it")]
)
def test_an_id_that_cannot_be_is_told_and_the_dialog_stays(
    record: BoardRecord, show: Show, text: str, words: str
) -> None:
    dialog = show(CouponDialog(record, record.coupons[1], Position(0, 0)))
    press(dialog, Key.Key_Delete)
    typed(dialog, text)
    press(dialog, Key.Key_Return)
    assert dialog.isVisible()
    assert words in dialog.problem.text()
    typed(dialog, "C77")
    press(dialog, Key.Key_Return)
    assert not dialog.isVisible()
    assert dialog.coupon() == replace(record.coupons[1], id=f"{text}C77" if not text else "C77")


def test_the_whole_coupon_can_be_filled_in_with_the_keyboard(record: BoardRecord, show: Show) -> None:
    dialog = show(CouponDialog(record, None, Position(1, 3)))
    typed(dialog, "X1")
    press(dialog, Key.Key_Tab)
    press(dialog, Key.Key_Down)
    press(dialog, Key.Key_Down)  # the second treatment
    press(dialog, Key.Key_Tab)
    press(dialog, Key.Key_Down)  # control
    press(dialog, Key.Key_Tab)
    typed(dialog, "wrought iron")
    press(dialog, Key.Key_Tab)
    press(dialog, Key.Key_Up)  # no outline given
    press(dialog, Key.Key_Tab)
    typed(dialog, "from the gate")
    press(dialog, Key.Key_Tab)
    press(dialog, Key.Key_Return)
    assert dialog.coupon() == Coupon("X1", Position(1, 3), 2, "control", "wrought iron", (), "from the gate")


def test_letters_with_alt_reach_the_fields(record: BoardRecord, show: Show, qtbot: QtBot) -> None:
    dialog = show(CouponDialog(record, None, None))
    qtbot.keyClick(dialog, Qt.Key.Key_N, Qt.KeyboardModifier.AltModifier)
    typed(dialog, "in the note")
    qtbot.keyClick(dialog.focusWidget(), Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert dialog.coupon().note == "in the note"


def resized(dialog: CouponDialog, width: str, height: str) -> None:
    for field, text in ((dialog._width, width), (dialog._height, height)):
        field.setFocus()
        field.selectAll()
        typed(dialog, text)
    press(dialog, Key.Key_Return)


def test_another_size_keeps_the_middle_of_the_coupon(record: BoardRecord, show: Show, german: object) -> None:
    dialog = show(CouponDialog(record, record.coupons[1], Position(0, 0)))
    resized(dialog, "50,5", "100.25")
    left, top = 60 - 25.25, 100 - 50.125
    outline = ((left, top), (left + 50.5, top), (left + 50.5, top + 100.25), (left, top + 100.25))
    assert dialog.coupon().outline_mm == outline


@pytest.mark.parametrize(
    ("width", "height", "words"),
    [
        ("", "100", "Give width and height"),
        ("0", "100", "Give width and height"),
        ("-5", "100", "Give width and height"),
        ("50", "tall", "“tall” is not a number"),
        ("50", "1,234.5", "is not a number"),
        ("50", "9000", "lies beyond the board"),
    ],
)
def test_a_size_that_cannot_be_is_told(record: BoardRecord, show: Show, width: str, height: str, words: str) -> None:
    dialog = show(CouponDialog(record, record.coupons[1], Position(0, 0)))
    dialog._width.clear()
    resized(dialog, width, height)
    assert dialog.isVisible()
    assert words in dialog.problem.text()
    assert dialog.focusWidget() in (dialog._width, dialog._height)


def test_a_size_beyond_any_board_is_told_where_the_boards_own_is_not_known(record: BoardRecord, show: Show) -> None:
    record.board = replace(record.board, width_mm=0.0, height_mm=0.0)
    dialog = show(CouponDialog(record, None, Position(1, 3)))
    dialog._width.clear()
    resized(dialog, "99999", "100")
    assert dialog.isVisible()
    assert "more than 100,000 mm from the corner" in dialog.problem.text()


def test_on_a_full_board_a_new_coupon_is_not_lost_without_a_word(record: BoardRecord, show: Show) -> None:
    record.coupons = {key: Coupon(f"C{key}", key=key) for key in range(1, MOST_COUPONS + 1)}
    dialog = show(CouponDialog(record, None, Position(1, 3)))
    press(dialog, Key.Key_Return)
    assert dialog.isVisible()
    assert dialog.problem.text() == "A board holds at most 1000 coupons; start a second board."


def test_an_outline_of_many_corners_is_kept_unless_it_is_changed(record: BoardRecord, show: Show) -> None:
    dialog = show(CouponDialog(record, record.coupons[2], Position(0, 1)))
    assert not dialog._width.isEnabled()
    assert dialog._shape.currentText() == "as it is, 5 corners"
    dialog._shape.setFocus()
    press(dialog, Key.Key_Up)  # a rectangle of the same width and height
    assert dialog._width.isEnabled()
    press(dialog, Key.Key_Return)
    assert dialog.coupon().outline_mm != BRACKET
    assert len(dialog.coupon().outline_mm) == len(PLATE)


def making(dialog: CouponDialog) -> QDialog:
    (made,) = [each for each in dialog.findChildren(QDialog) if each.isVisible()]
    return made


def choose_new_treatment(dialog: CouponDialog, qtbot: QtBot) -> QDialog:
    dialog._treatment.setFocus()
    qtbot.keyClick(dialog._treatment, Qt.Key.Key_End)
    return making(dialog)


def test_a_treatment_can_be_made_on_the_way(record: BoardRecord, show: Show, qtbot: QtBot) -> None:
    dialog = show(CouponDialog(record, record.coupons[1], Position(0, 0)))
    inner = choose_new_treatment(dialog, qtbot)
    typed(inner, "lanolin film")
    press(inner, Key.Key_Return)
    assert dialog._treatment.currentText() == "T3 · lanolin film (new)"
    dialog._id.setFocus()
    press(dialog, Key.Key_Return)
    made = dialog.new_treatment()
    assert made is not None
    assert (made.id, made.name, made.key) == ("T3", "lanolin film", 0)
    assert dialog.coupon().treatment is None


def test_a_treatment_that_was_not_made_after_all_changes_nothing(
    record: BoardRecord, show: Show, qtbot: QtBot
) -> None:
    dialog = show(CouponDialog(record, record.coupons[1], Position(0, 0)))
    press(choose_new_treatment(dialog, qtbot), Key.Key_Escape)
    QApplication.processEvents()
    assert dialog.isVisible()
    press(dialog, Key.Key_Tab)
    dialog._id.setFocus()
    press(dialog, Key.Key_Return)
    assert dialog.coupon() == record.coupons[1]
    assert dialog.new_treatment() is None


def test_a_made_treatment_that_was_not_chosen_in_the_end_is_not_handed_back(
    record: BoardRecord, show: Show, qtbot: QtBot
) -> None:
    dialog = show(CouponDialog(record, None, Position(1, 0)))
    press(choose_new_treatment(dialog, qtbot), Key.Key_Return)
    qtbot.keyClick(dialog._treatment, Qt.Key.Key_Home)
    dialog._id.setFocus()
    press(dialog, Key.Key_Return)
    assert dialog.new_treatment() is None
    assert dialog.coupon().treatment is None
