"""Slips of the hand in a blind round, and what was typed when it is left: nothing is graded unseen, nothing lost."""

from __future__ import annotations

from contextlib import closing

import pytest
from blind_driving import begin, blind_grades, hide, page_of, round_of, secret_board, settle_deleted
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QWidget

from rustboard.session.session import Session


@pytest.fixture
def board(tmp_path):
    return secret_board(tmp_path / "Yard")


def notes_on_disk(folder):
    with closing(Session(folder, read_only=True)) as session:
        given = [each for of_round in session.record.blind_grades.values() for each in of_round.values()]
    return [each.note for each in given if each.note]


def double_click(widget: QWidget) -> None:
    """Press twice, soon after each other, as the system tells of it."""
    at = widget.rect().center().toPointF()
    left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
    for kind, held in (
        (QEvent.Type.MouseButtonPress, left),
        (QEvent.Type.MouseButtonRelease, none),
        (QEvent.Type.MouseButtonDblClick, left),
        (QEvent.Type.MouseButtonRelease, none),
    ):
        event = QMouseEvent(kind, at, widget.mapToGlobal(at), left, held, Qt.KeyboardModifier.NoModifier)
        QApplication.sendEvent(widget, event)


def test_a_double_click_on_a_grade_gives_it_once(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    page = begin(person, "Mara")
    double_click(page.body.guide.keys[6])
    assert blind_grades(board) == {("Mara", 0): "6"}
    person.click(page.body.guide.keys[5])
    person.click(page.body.guide.keys[5])
    assert list(blind_grades(board).values()) == ["6", "5", "5"], "two clicks apart are two grades"


def test_a_double_click_on_a_percent_gives_it_once(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    page = begin(person, "Mara")
    person.key("%")
    page.body.picker.show_percent(2.0)
    double_click(page.body.picker._give)
    assert len(blind_grades(board)) == 1


def test_the_arrows_go_from_coupon_to_coupon_from_the_button_that_finishes_too(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    page = begin(person, "Mara")
    person.key("8", "7", "6", "5")
    assert person.window.focusWidget() is page.head.finish
    last = page.number
    person.key(Qt.Key.Key_Left)
    assert page.number == last - 1
    person.key("4", Qt.Key.Key_Right)
    assert blind_grades(board)["Mara", last - 1] == "4"
    assert page.number == last


@pytest.mark.parametrize("way", ["the window is closed", "to all boards", "interrupted"])
def test_a_note_that_is_being_typed_for_a_grade_is_kept_when_the_round_is_left(board, sitting_at, way):
    person = sitting_at(board)
    hide(person)
    begin(person, "Mara")
    person.key("7", Qt.Key.Key_Left, "N", "d", "u", "l", "l")
    if way == "the window is closed":
        person.window.close()
    elif way == "to all boards":
        person.do("file.shelf")
    else:
        person.click(round_of(person).head.leave)
    settle_deleted()
    assert notes_on_disk(board) == ["dull"]


def test_a_note_before_its_grade_waits_while_its_round_is_interrupted_and_for_nobody_else(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    begin(person, "Mara")
    person.key("N", "d", "u", "l", "l")
    person.click(round_of(person).head.leave)
    page = begin(person, "Berta")
    assert page.body.options.note() == ""
    person.key(Qt.Key.Key_Escape)
    (mara, *_) = page_of(person).overview._buttons
    person.click(mara)
    assert page.sitting.round().grader == "Mara"
    assert page.body.options.note() == "dull"
    person.key("7")
    assert notes_on_disk(board) == ["dull"]
