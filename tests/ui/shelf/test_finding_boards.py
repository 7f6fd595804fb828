"""Finding boards on the shelf by words, drop-downs and tags, with keys and with the mouse."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QComboBox, QLabel, QLineEdit, QPushButton, QToolButton
from pytestqt.qtbot import QtBot

from rustboard.operations.boards import edit_board
from rustboard.operations.shelving import archive, set_tags
from rustboard.session.session import Session
from rustboard.ui.shelf.card_painter import marks_that_fit
from rustboard.ui.shelf.cards import CardView
from rustboard.ui.shelf.filter_bar import OfferBox, TagChip
from rustboard.ui.shelf.screen import ShelfScreen

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support propagateSizeHints")

MakeBoard = Callable[..., Path]


@pytest.fixture
def three(make_board: MakeBoard, shelf: ShelfScreen) -> ShelfScreen:
    """Three boards: two of Ada's, one of them tagged, and one in the archive."""
    described = (("Wall", "Ada", ["wax", "winter"]), ("Roof", "Ada", []), ("Shed", "Ben & Co", ["wax"]))
    for day, (name, customer, tags) in enumerate(described):
        with closing(Session(make_board(name, [9], day=9 - day))) as session:
            session.do(edit_board, replace(session.record.board, customer=customer, started=datetime(2024, 3, 2)))
            session.do(set_tags, tags)
            if name == "Shed":
                session.do(archive)
    shelf.reload()
    return shelf


def names(shelf: ShelfScreen) -> list[str]:
    model = shelf.findChild(CardView).model()
    return [model.index(row, 0).data() for row in range(model.rowCount())]


def words(shelf: ShelfScreen) -> QLineEdit:
    return shelf.filters.findChild(QLineEdit)


def box(shelf: ShelfScreen, kind: str) -> OfferBox:
    return next(each for each in shelf.filters.findChildren(OfferBox) if each.kind == kind)


def choose(chooser: QComboBox, text: str) -> None:
    row = chooser.findText(text)
    assert row >= 0, [chooser.itemText(each) for each in range(chooser.count())]
    chooser.setCurrentIndex(row)
    chooser.activated.emit(row)


def chip(shelf: ShelfScreen, text: str) -> TagChip:
    return next(each for each in shelf.filters.findChildren(TagChip) if each.text() == text and each.isVisible())


def archive_box(shelf: ShelfScreen) -> QComboBox:
    return next(each for each in shelf.filters.findChildren(QComboBox) if each.accessibleName() == "The archive")


def said(shelf: ShelfScreen) -> list[str]:
    return [each.text() for each in shelf.findChildren(QLabel) if each.isVisible()]


def button(shelf: ShelfScreen, text: str) -> QPushButton:
    return next(each for each in shelf.findChildren(QPushButton) if each.text() == text and each.isVisible())


def test_the_archive_is_out_of_view_until_it_is_asked_for(three: ShelfScreen) -> None:
    assert names(three) == ["Wall", "Roof"]
    assert "2 of 3 boards" in said(three)
    choose(archive_box(three), "Archive too")
    assert names(three) == ["Wall", "Roof", "Shed"]
    choose(archive_box(three), "Only the archive")
    assert names(three) == ["Shed"]


def test_what_is_typed_is_looked_for_at_every_key(three: ShelfScreen, qtbot: QtBot) -> None:
    three.activateWindow()
    qtbot.keyClick(three, Qt.Key.Key_F, Qt.KeyboardModifier.ControlModifier)
    assert QApplication.focusWidget() is words(three)
    qtbot.keyClicks(words(three), "roo")
    assert names(three) == ["Roof"]
    assert "1 of 3 boards" in said(three)
    qtbot.keyClick(words(three), Qt.Key.Key_Return)
    assert QApplication.focusWidget() is three.findChild(CardView)
    with qtbot.waitSignal(three.open_asked) as asked:
        qtbot.keyClick(three.findChild(CardView), Qt.Key.Key_Return)
    assert asked.args[0].name == "Roof"
    qtbot.keyClick(words(three), Qt.Key.Key_Escape)
    assert names(three) == ["Wall", "Roof"]


def test_a_drop_down_shows_what_there_is_with_counts(three: ShelfScreen) -> None:
    customers = box(three, "customer")
    assert [customers.itemText(row) for row in range(customers.count())] == ["Any customer", "Ada (2)"]
    assert not box(three, "treatment").isVisible()  # no board has any
    choose(archive_box(three), "Archive too")
    choose(customers, "Ben & Co (1)")
    assert names(three) == ["Shed"]
    assert [customers.itemText(row) for row in range(customers.count())] == [
        "Any customer",
        "Ada (2)",
        "Ben & Co (1)",
    ]
    choose(customers, "Any customer")
    assert len(names(three)) == 3


def test_a_tag_is_pressed_and_pressed_again(three: ShelfScreen, qtbot: QtBot) -> None:
    qtbot.mouseClick(chip(three, "wax (1)"), Qt.MouseButton.LeftButton)
    assert names(three) == ["Wall"]
    assert chip(three, "wax (1)").isChecked()
    qtbot.mouseClick(chip(three, "winter (1)"), Qt.MouseButton.LeftButton)
    assert three.filters.asked().tags == ("wax", "winter")
    qtbot.mouseClick(chip(three, "wax (1)"), Qt.MouseButton.LeftButton)
    qtbot.mouseClick(chip(three, "winter (1)"), Qt.MouseButton.LeftButton)
    assert names(three) == ["Wall", "Roof"]


def test_where_nothing_matches_the_shelf_says_so_and_carries_the_button(three: ShelfScreen, qtbot: QtBot) -> None:
    words(three).setText("shed")
    assert "No board matches" in said(three)
    assert "None of the boards shown has all that is asked for; of those in the archive 1." in said(three)
    assert not three.board.bar.isVisible()
    qtbot.mouseClick(button(three, "Look in the archive too"), Qt.MouseButton.LeftButton)
    assert names(three) == ["Shed"]
    words(three).setText("nothing like it")
    assert "None of your boards has all that is asked for." in said(three)
    qtbot.mouseClick(button(three, "Show all boards"), Qt.MouseButton.LeftButton)
    assert names(three) == ["Wall", "Roof"]
    assert words(three).text() == ""


def test_all_that_is_asked_for_is_taken_back_by_one_button(three: ShelfScreen, qtbot: QtBot) -> None:
    words(three).setText("wa")
    choose(box(three, "year"), "2024 (1)")
    choose(archive_box(three), "Archive too")
    qtbot.mouseClick(button(three, "Show all"), Qt.MouseButton.LeftButton)
    assert names(three) == ["Wall", "Roof"]
    assert box(three, "year").value() == ""
    assert not any(each.text() == "Show all" and each.isVisible() for each in three.findChildren(QPushButton))


def test_a_shelf_all_of_whose_boards_are_put_away_says_so(make_board: MakeBoard, shelf: ShelfScreen) -> None:
    with closing(Session(make_board("Wall"))) as session:
        session.do(archive)
    shelf.reload()
    assert "All your boards are in the archive." in said(shelf)


def test_the_chosen_board_stays_chosen_while_it_is_among_those_found(three: ShelfScreen) -> None:
    three.choose(next(each.folder for each in three.entries() if each.name == "Roof"))
    words(three).setText("r")
    assert three.chosen().name == "Roof"
    words(three).setText("wall")
    assert three.chosen().name == "Wall"


def test_a_low_window_keeps_its_room_for_the_cards_until_the_user_wants_the_filters(
    three: ShelfScreen, qtbot: QtBot
) -> None:
    assert box(three, "customer").isVisible()
    three.resize(683, 330)
    qtbot.waitUntil(lambda: not box(three, "customer").isVisible())
    more = next(each for each in three.filters.findChildren(QToolButton) if each.text() == "Filters")
    qtbot.mouseClick(more, Qt.MouseButton.LeftButton)
    assert box(three, "customer").isVisible()
    three.resize(683, 340)
    assert box(three, "customer").isVisible()


@pytest.mark.parametrize("hostile", ["=HYPERLINK(1)", "<b>wall</b>", "&Wall", "\u202egnp.exe", "🐝" * 40])
def test_what_a_stranger_wrote_is_shown_as_it_is(
    make_board: MakeBoard, shelf: ShelfScreen, qtbot: QtBot, hostile: str
) -> None:
    with closing(Session(make_board("Wall"))) as session:
        session.do(edit_board, replace(session.record.board, customer=hostile, site=hostile * 20))
        session.do(set_tags, [hostile])
    shelf.reload()
    choose(box(shelf, "customer"), box(shelf, "customer").itemText(1))
    (found,) = [each for each in shelf.filters.findChildren(TagChip) if each.isVisible()]
    qtbot.mouseClick(found, Qt.MouseButton.LeftButton)
    assert names(shelf) == ["Wall"]
    assert shelf.grab().width() <= 900
    assert shelf.minimumSizeHint().width() <= 683


def test_labels_that_have_no_room_are_counted() -> None:
    assert marks_that_fit([30, 30], 60, 20) == 2
    assert marks_that_fit([30, 30, 30], 60, 20) == 1
    assert marks_that_fit([30], 10, 20) == 0
    assert marks_that_fit([], 0, 20) == 0
