"""What is done with past boards from the shelf, in the real window."""

from __future__ import annotations

from boards_together import three_boards
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialogButtonBox, QLabel, QToolButton
from window_driving import made_board, settle

from rustboard.operations.blind import BlindChoice, start_blind
from rustboard.session.session import Session
from rustboard.ui.shelf.cards import CardView


def on_the_shelf(desk):
    three_boards(desk.settings.boards_path())
    person = desk.sit_down()
    settle(8)
    return person


def tap(person, *rows, modifier=Qt.KeyboardModifier.ControlModifier):
    cards = person.window.shelf.screen().findChild(CardView)
    for number, row in enumerate(rows):
        place = cards.visualRect(cards.model().index(row, 0)).center()
        held = modifier if number else Qt.KeyboardModifier.NoModifier
        QTest.mouseClick(cards.viewport(), Qt.MouseButton.LeftButton, held, place)
    settle()


def tool(person, text):
    buttons = person.window.shelf.screen().findChildren(QToolButton)
    return next(each for each in buttons if each.text() == text and each.isVisible())


def press(person, text):
    QTest.mouseClick(tool(person, text), Qt.MouseButton.LeftButton)
    settle(8)


def test_boards_chosen_with_ctrl_are_shown_beside_one_another_without_opening_any(desk):
    person = on_the_shelf(desk)
    tap(person, 0)
    assert not tool(person, "Compare…").isEnabled()
    tap(person, 0, 2)
    press(person, "Compare…")
    screen = person.window.boards.comparing.screen
    assert screen.isVisible()
    assert len(screen.folders) == 2
    assert screen.tiles.columnCount() == 3
    assert person.window.session() is None
    person.key(Qt.Key.Key_Escape)
    assert person.window.shelf.screen().isVisible()
    assert person.window.boards.comparing.screen is None


def test_with_shift_all_between_are_chosen_and_enter_still_opens_one(desk):
    person = on_the_shelf(desk)
    tap(person, 0, 2, modifier=Qt.KeyboardModifier.ShiftModifier)
    press(person, "Compare…")
    assert len(person.window.boards.comparing.screen.folders) == 3
    person.press("&Back")
    tap(person, 1)
    person.key(Qt.Key.Key_Return)
    settle(8)
    assert person.window.session() is not None


def test_opening_a_board_that_is_graded_blind_takes_what_was_compared_away(desk, yard):
    person = on_the_shelf(desk)
    tap(person, 0, 1)
    press(person, "Compare…")
    hidden = made_board(desk.settings.boards_path() / "Hidden")
    session = Session(hidden)
    session.do(start_blind, BlindChoice(1, "bench", None, 50.0))
    session.close()
    desk.open(hidden, new_window=False, source=person.window)
    settle(8)
    assert person.window.boards.comparing.screen is None
    assert not any("hot wax" in each.text() for each in person.window.findChildren(QLabel))


def test_all_boards_are_asked_from_the_shelf_and_a_row_opens_its_board(desk):
    person = on_the_shelf(desk)
    press(person, "What did we learn…")
    screen = person.window.boards.learnt.screen
    assert screen.isVisible()
    QTest.keyClicks(screen.text.lineEdit(), "varnish")
    person.press("&Ask all")
    settle(8)
    assert screen.sentences()[0] == "Varnish was on 1 board, with 3 coupons graded."
    person.press("&Open the board")
    settle(8)
    assert person.session.record.board.name == "Back yard"
    assert person.window.boards.learnt.screen is None


def test_the_next_board_is_made_from_the_shelf_with_one_thing_changed(desk):
    person = on_the_shelf(desk)
    tap(person, 0)
    seen = []

    def change_two_then_one(dialog):
        ok = dialog.buttons.button(QDialogButtonBox.StandardButton.Ok)
        seen.append((dialog.said.text(), ok.isEnabled()))
        for thing, text in (("site", "roof top"), ("shelter", "under a roof")):
            dialog.fields[thing].selectAll()
            QTest.keyClicks(dialog.fields[thing], text)
        seen.append((dialog.said.text()[:22], ok.isEnabled(), dialog.anyway.isVisible()))
        dialog.anyway.click()
        seen.append(ok.isEnabled())
        dialog.fields["shelter"].selectAll()
        QTest.keyClick(dialog.fields["shelter"], Qt.Key.Key_Delete)
        seen.append((dialog.said.text(), ok.isEnabled()))
        dialog.name.setText("Second")

    person.answers.dialogs = [change_two_then_one]
    press(person, "Next board…")
    assert seen[0] == ("Nothing is changed yet: this would be the same board again.", False)
    assert seen[1] == ("2 things would differ:", False, True)
    assert seen[2] is True
    assert seen[3] == ("One thing is changed: site from yard to roof top.", True)
    assert person.session.record.board.name == "Second"
    assert person.session.record.board.site == "roof top"
    assert person.window.message.text() == (
        "This board repeats Back yard, with one thing changed: site from yard to roof top."
    )
