"""Boards tagged, put away, renamed and moved from the shelf of a real window."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QCheckBox, QToolButton
from window_driving import Person, accept, assert_sound, cancel, field_named, filling, made_board

from rustboard.board.record import is_archived, tags_of
from rustboard.session.looking import look_at_board
from rustboard.session.session import Session
from rustboard.support.settings import load_settings
from rustboard.ui.shelf.tags_dialog import KnownTag

IN_USE = "Wall: This board is open in another window; close it there, then try again."


@pytest.fixture
def boards(desk) -> Path:
    """Two boards in the user's boards folder."""
    for name in ("Wall", "Roof"):
        made_board(desk.settings.boards_path() / name)
    return desk.settings.boards_path()


@pytest.fixture
def person(desk, boards: Path) -> Person:
    """Somebody before the shelf, with the board “Wall” chosen."""
    person = desk.sit_down()
    person.window.shelf.screen().choose(boards / "Wall")
    return person


def press(person: Person, text: str) -> None:
    """Press a button of the chosen board, or choose it in the menu of the folder."""
    screen = person.window.shelf.screen()
    for tool in screen.findChildren(QToolButton):
        if tool.text() == text and tool.isVisible():
            QTest.mouseClick(tool, Qt.MouseButton.LeftButton)
            return
    folder = next(each for each in screen.findChildren(QToolButton) if each.text() == "Folder")
    next(each for each in folder.menu().actions() if each.text() == text).trigger()


def shown(person: Person) -> list[str]:
    screen = person.window.shelf.screen()
    model = screen._cards.model()
    return sorted(model.index(row, 0).data() for row in range(model.rowCount()))


def chosen(person: Person) -> str:
    entry = person.window.shelf.screen().chosen()
    return "" if entry is None else entry.name


def test_tags_are_typed_and_stand_on_the_card(person: Person, boards: Path) -> None:
    person.answers.dialogs.append(filling(tags="wax, Winter ,WAX"))
    press(person, "Tags…")
    assert tags_of(look_at_board(boards / "Wall")) == ["wax", "Winter"]
    assert person.message() == "“Wall” is tagged: wax, Winter"
    assert chosen(person) == "Wall"
    assert person.window.shelf.screen().chosen().facts.tags == ("wax", "Winter")
    assert person.window.shelf.screen().known_tags() == ["wax", "Winter"]
    assert_sound(boards / "Wall")


def test_tags_of_other_boards_are_offered_and_pressed(person: Person, boards: Path) -> None:
    person.answers.dialogs.append(filling(tags="wax, winter"))
    press(person, "Tags…")
    person.window.shelf.screen().choose(boards / "Roof")

    def pressing(dialog) -> None:
        known = {each.text(): each for each in dialog.findChildren(KnownTag)}
        assert list(known) == ["wax", "winter"]
        for word in ("wax", "winter", "wax"):
            QTest.mouseClick(known[word], Qt.MouseButton.LeftButton)
        assert field_named(dialog, "tags").text() == "winter"
        assert [each.isChecked() for each in known.values()] == [False, True]

    person.answers.dialogs.append(pressing)
    press(person, "Tags…")
    assert tags_of(look_at_board(boards / "Roof")) == ["winter"]
    person.answers.dialogs.append(filling(tags=""))
    press(person, "Tags…")
    assert tags_of(look_at_board(boards / "Roof")) == []
    assert person.message() == "“Roof” has no tags any more."


def test_a_tag_that_cannot_be_is_told_in_the_dialog(person: Person, boards: Path) -> None:
    def too_long(dialog) -> bool:
        field_named(dialog, "tags").setText("x" * 41)
        dialog.accept()
        assert dialog.problem.text().startswith("A tag has at most 40 characters")
        return cancel(dialog)

    person.answers.dialogs.append(too_long)
    press(person, "Tags…")
    assert tags_of(look_at_board(boards / "Wall")) == []


def test_a_board_is_put_away_and_found_in_the_archive_again(person: Person, boards: Path) -> None:
    press(person, "Archive")
    assert is_archived(look_at_board(boards / "Wall"))
    assert shown(person) == ["Roof"]
    assert person.message().startswith("“Wall” is in the archive now")
    person.window.shelf.screen().filters.look_in_archive()
    person.window.shelf.screen().choose(boards / "Wall")
    press(person, "Bring back")
    assert not is_archived(look_at_board(boards / "Wall"))
    assert chosen(person) == "Wall"


def test_a_board_in_the_archive_opens_as_ever(person: Person, boards: Path) -> None:
    press(person, "Archive")
    assert person.window.show_board(boards / "Wall")
    assert person.session.read_only_reason == ""


def test_a_board_that_another_window_holds_is_left_as_it_is(person: Person, boards: Path) -> None:
    with closing(Session(boards / "Wall")):
        person.answers.dialogs.append(filling(tags="wax"))
        press(person, "Tags…")
        assert person.message() == IN_USE
        press(person, "Archive")
        person.answers.dialogs.append(filling(name="Shed"))
        press(person, "Rename…")
        person.answers.files.append(boards.parent)
        press(person, "Move to another folder…")
        assert person.message() == IN_USE
    record = look_at_board(boards / "Wall")
    assert (record.board.name, tags_of(record), is_archived(record)) == ("Wall", [], False)


def test_board_and_folder_get_another_name_together(person: Person, boards: Path) -> None:
    person.answers.dialogs.append(filling(name="Shed: north"))
    press(person, "Rename…")
    assert sorted(each.name for each in boards.iterdir()) == ["Roof", "Shed- north"]
    assert look_at_board(boards / "Shed- north").board.name == "Shed: north"
    assert chosen(person) == "Shed: north"
    assert person.message() == f"The board is now in {boards / 'Shed- north'}"


def test_the_folder_alone_gets_another_name_and_stays_among_the_recent(person: Person, boards: Path) -> None:
    person.window.show_board(boards / "Wall")
    person.window.show_shelf()
    person.window.shelf.screen().choose(boards / "Wall")

    def apart(dialog) -> None:
        dialog.findChild(QCheckBox).setChecked(False)
        field = [each for each in dialog.findChildren(type(field_named(dialog, "name"))) if each.text() == "Wall"][-1]
        field.setText("Customer 7")

    person.answers.dialogs.append(apart)
    press(person, "Rename…")
    assert look_at_board(boards / "Customer 7").board.name == "Wall"
    assert load_settings().recent[0] == str(boards / "Customer 7")


def test_a_moved_board_is_still_on_the_shelf(person: Person, boards: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    person.answers.files.append(tmp_path / "elsewhere")
    press(person, "Move to another folder…")
    assert not (boards / "Wall").exists()
    assert chosen(person) == "Wall"
    assert shown(person) == ["Roof", "Wall"]
    assert load_settings().recent == [str(tmp_path / "elsewhere" / "Wall")]
    person.window.show_board(tmp_path / "elsewhere" / "Wall")
    assert person.session.read_only_reason == ""


def test_whoever_thinks_better_of_it_changes_nothing(person: Person, boards: Path) -> None:
    before = (boards / "Wall" / "board.rustboard").read_bytes()
    person.answers.files.append(None)
    press(person, "Move to another folder…")
    for text in ("Tags…", "Rename…"):
        person.answers.dialogs.append(cancel)
        press(person, text)
        person.answers.dialogs.append(accept)
        press(person, text)
    assert (boards / "Wall" / "board.rustboard").read_bytes() == before
    assert person.message() == ""
