"""A disk that refuses: one sentence that stays, a board as it was, nothing lost and nothing half done."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from window_driving import Person, accept, assert_sound, filling, grades_on_disk, places_on_disk

from rustboard.store.board_store import BoardStore
from rustboard.support.problems import InputError

FULL = "board.rustboard: The disk is full; free some space and do it again."


@pytest.fixture
def full_disk(monkeypatch) -> Iterator[object]:
    """A disk that is full while the block runs."""

    @contextmanager
    def full() -> Iterator[None]:
        with monkeypatch.context() as patch:
            patch.setattr(BoardStore, "_transaction", refusing)
            yield

    @contextmanager
    def refusing(store: BoardStore) -> Iterator[None]:
        # The rows are written, and the commit fails.
        store._connection.execute("BEGIN IMMEDIATE")
        try:
            yield
        finally:
            store._connection.execute("ROLLBACK")
        raise InputError("The disk is full; free some space and do it again.", file="board.rustboard")

    return full


def test_a_grade_that_the_disk_refuses_is_not_shown_and_the_coupon_stays(person, yard, full_disk):
    person.tap("A1")
    person.tap_grade(9)
    with full_disk():
        person.key("g", "6")
        assert person.digit("A2") == ""
        assert person.grading() == "C02", "the coupon is still to be graded"
        assert person.panel.options.letter() == "G", "what was chosen is still chosen"
        assert person.message() == FULL
        assert person.window.message.is_error()
        person.window.message._timer.timeout.emit()
        assert person.message() == FULL
    person.key("6")
    assert person.digit("A2") == "6G"
    assert person.message() == FULL, "it stays until read"
    person.press("Got it")
    person.stand_up()
    assert grades_on_disk(yard) == {"C01": "9", "C02": "6G"}
    assert_sound(yard)


def test_a_note_that_the_disk_refuses_is_still_in_its_field(person, full_disk):
    person.tap("A1")
    person.key("7", Qt.Key.Key_Left, "n")
    QTest.keyClicks(person.window.focusWidget(), "edge")
    with full_disk():
        person.key(Qt.Key.Key_Return)
    assert person.message() == FULL
    assert person.panel.options.note() == "edge"


def test_a_note_to_a_grade_that_the_disk_refuses_still_waits_for_it(person, yard, full_disk):
    person.tap("A1")
    person.key("n")
    QTest.keyClicks(person.window.focusWidget(), "edge")
    person.key(Qt.Key.Key_Return)
    with full_disk():
        person.key("7")
    person.key(Qt.Key.Key_Right, Qt.Key.Key_Left)
    assert person.panel.options.note() == "edge"


def test_a_letter_that_the_disk_refuses_is_not_left_pressed(person, full_disk):
    person.tap("A1")
    person.key("s", "7", Qt.Key.Key_Left)
    with full_disk():
        person.key("p")
    assert person.message() == FULL
    assert person.panel.options.letter() == "S", "the buttons show what is on the disk"


def test_a_drag_that_the_disk_refuses_leaves_the_tile_where_it_was(person, yard, full_disk):
    with full_disk():
        person.drag("A1", "B3")
    assert person.tile("A1").id == "C01"
    assert person.message() == FULL
    person.stand_up()
    assert places_on_disk(yard)["C01"] == "A1"


def test_dialogs_and_steps_that_the_disk_refuses_change_nothing(person, yard, full_disk):
    person.tap("A1")
    person.tap_grade(9)
    with full_disk():
        person.answers.dialogs = [filling(id="N1"), accept, accept, filling(name="north")]
        for action in ("coupon.edit", "coupon.add", "inspection.add", "board.edit", "edit.undo", "file.go_back"):
            person.window.message.hide()
            person.do(action)
            assert person.message() == FULL, action
    assert person.digit("A1") == "9"
    person.stand_up()
    assert grades_on_disk(yard) == {"C01": "9"}


def test_a_real_full_disk_is_told_by_the_real_store(person, yard, monkeypatch):
    """SQLite itself is told that there is no more room, as it is by a full disk."""
    connection = person.session._store._connection
    (pages,) = connection.execute("PRAGMA page_count").fetchone()
    connection.execute(f"PRAGMA max_page_count = {pages}")
    person.tap("A1")
    seen = refused(person)
    connection.execute("PRAGMA max_page_count = 1000000")
    assert "full" in seen
    person.press("Got it")
    shown = {tile.id: tile.grading.grade for tile in tiles(person) if tile.grading is not None}
    person.stand_up()
    assert {name: int(grade) for name, grade in grades_on_disk(yard).items()} == shown
    assert_sound(yard)


def refused(person: Person) -> str:
    """Grade and take back with long notes until the file may not grow; return what is said then."""
    for turn in range(400):
        person.panel.show_coupon(1)
        person.panel.options._note.setText(f"{turn} " * 2_000)
        person.panel.give(turn % 10)
        if person.message():
            return person.message()
    raise AssertionError("the file never was full")


def tiles(person: Person):
    return person.page.tiles.canvas.content.tiles.values()


def test_settings_that_cannot_be_written_do_not_stop_the_board_from_opening(desk, yard, own_home):
    (own_home / "rustboard").write_text("a file where the folder of the settings should be")
    person = desk.sit_down(yard)
    assert person.message().startswith("settings.json")
    assert person.window.message.is_error()
    person.tap("A1")
    person.tap_grade(7)
    assert person.digit("A1") == "7"


def test_a_fault_of_ours_is_no_sentence_of_the_users(person, monkeypatch, qtbot):
    def broken(*_: object) -> None:
        raise sqlite3.ProgrammingError("our own mistake")

    monkeypatch.setattr("rustboard.ui.grading.panel.grade_coupon", broken)
    person.tap("A1")
    with qtbot.capture_exceptions() as caught:
        person.tap_grade(5)
    assert [kind for kind, *_ in caught] == [sqlite3.ProgrammingError]
    assert person.message() == ""
    monkeypatch.undo()
    person.tap_grade(5)
    assert person.digit("A1") == "5"
