"""Typing on the plan: nothing half typed is lost or overtaken, and every letter leads to one thing."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QDialog, QLabel, QPlainTextEdit, QPushButton, QSpinBox, QWidget
from window_driving import Person, made_board, settle, wait_until

from rustboard.board.inspection_days import InspectionDays
from rustboard.operations.boards import edit_board
from rustboard.operations.calendars import set_calendar
from rustboard.ui.plan.screen import STEPS, PlanScreen


@pytest.fixture
def planner(tmp_path: Path, sitting_at) -> Person:
    person = sitting_at(made_board(tmp_path / "Yard", coupons=4, inspections=0))
    person.session.do(set_calendar, InspectionDays((0, 8, 32)))
    person.session.do(edit_board, replace(person.session.record.board, started=None))
    person.do("board.plan")
    return person


def shown(person: Person) -> PlanScreen:
    screen = person.window.plan.screen
    assert screen is not None
    return screen


def step(person: Person, name: str) -> QWidget:
    shown(person).choose(name)
    settle()
    return shown(person).panels[name]


def letters_in(widgets: list[QWidget]) -> list[str]:
    found = []
    for each in widgets:
        is_label = isinstance(each, QLabel) and each.buddy() is not None
        if each.isVisible() and (is_label or isinstance(each, QAbstractButton)):
            letter = QKeySequence.mnemonic(each.text()).toString()
            if letter:
                found.append(f"{letter}")
    return found


@pytest.mark.parametrize("width", [1366, 700])
@pytest.mark.parametrize("name", [each for each, _ in STEPS if each != "map"])
def test_every_letter_of_a_step_leads_to_one_thing(planner, name, width):
    planner.resize(QSize(width, 760))
    step(planner, name)
    menus = [QKeySequence.mnemonic(each.text()).toString() for each in planner.window.menuBar().actions()]
    letters = Counter([*menus, *letters_in(planner.window.findChildren(QWidget))])
    assert [letter for letter, count in letters.items() if count > 1] == []


def press_by_letter(button: QPushButton) -> None:
    """What the letter of a button does: the keyboard stays where it is."""
    button.animateClick()
    wait_until(lambda: not button.isDown(), "for the button to come up")
    settle()


def button(panel: QWidget, text: str) -> QPushButton:
    return next(each for each in panel.findChildren(QPushButton) if text in each.text().replace("&", ""))


def test_lots_are_drawn_on_the_rows_just_typed(planner):
    panel = step(planner, "layout")
    rows = panel.findChildren(QSpinBox)[0]
    rows.setFocus()
    rows.selectAll()
    QTest.keyClicks(rows, "5")
    press_by_letter(button(panel, "Draw lots"))
    assert planner.session.record.board.rows == 5
    assert planner.session.record.layout.drawn_rows == 5


def test_a_question_is_written_down_with_the_words_just_typed_and_once(planner):
    panel = step(planner, "question")
    words = panel.findChild(QPlainTextEdit)
    words.setFocus()
    QTest.keyClicks(words, "Which wax?")
    if any("Write this" in each.text() for each in panel.findChildren(QPushButton)):
        press_by_letter(button(panel, "Write this question down"))
    assert [each.words for each in planner.session.record.questions.values()] == ["Which wax?"]


def test_paper_is_made_of_what_was_just_typed(planner):
    panel = step(planner, "paper")
    width = panel._board_width
    width.setFocus()
    width.selectAll()
    QTest.keyClicks(width, "950")
    seen = []

    def look(dialog: QDialog) -> bool:
        seen.append(planner.session.record.board.width_mm)
        dialog.reject()
        return False

    planner.answers.dialogs = [look]
    planner.do("file.paper")
    assert seen == [950.0]


def test_the_window_can_be_made_narrow_while_the_plan_is_in_view(planner):
    planner.resize(QSize(380, 600))
    assert planner.window.width() < 480
    page = shown(planner)._stack.currentWidget()
    assert page is not None


def test_a_dialog_goes_when_it_has_been_answered(qapp, monkeypatch):
    from PySide6.QtCore import QCoreApplication, QEvent
    from PySide6.QtWidgets import QMainWindow

    from rustboard.ui.ask import Asker

    window = QMainWindow()
    monkeypatch.setattr(QDialog, "exec", lambda self: QDialog.DialogCode.Accepted)
    for _ in range(3):
        assert Asker(window).dialog(QDialog(window))
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert window.findChildren(QDialog) == []
