"""What is read of a board is of one moment, also while another program writes it; and looks open no locks to it."""

from __future__ import annotations

import subprocess
import sys
import threading
from contextlib import closing

import pytest
from store_boards import do, folder_state, graded_board, opened, plant

from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.session.looking import look_at_board
from rustboard.session.new_board import copy_board
from rustboard.session.session import Session
from rustboard.store import board_store, reading, shelf_row
from rustboard.store.board_store import BoardStore
from rustboard.store.check import check_board
from rustboard.store.database import look_at_header
from rustboard.store.handles import guard_of
from rustboard.store.shelf_row import read_shelf_row
from rustboard.support.problems import InputError

# Another program that adds an inspection and grades the coupons at it, in one transaction.
GRADE_AT_A_NEW_INSPECTION = """
import sqlite3, sys
connection = sqlite3.connect(sys.argv[1], timeout=0, isolation_level=None)
try:
    connection.execute("BEGIN IMMEDIATE")
    connection.execute("INSERT INTO inspection VALUES (9, '2026-06-01T09:00:00', '', '', '', '')")
    connection.execute("INSERT INTO grading SELECT key + 90, key, 9, 1, '', NULL, '', 'eye', '', '', 'current', NULL "
                       "FROM coupon")
    connection.execute("COMMIT")
except sqlite3.OperationalError as error:
    sys.stdout.write(str(error))
"""


@pytest.fixture
def folder(tmp_path):
    return graded_board(tmp_path / "b")


def another_program_writes(folder) -> str:
    """Return what kept another program from writing, or an empty text."""
    command = [sys.executable, "-c", GRADE_AT_A_NEW_INSPECTION, str(folder / "board.rustboard")]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


def read_only(folder):
    with opened(folder, read_only=True) as store:
        return store.read()


def read_again(folder):
    with opened(folder) as store:
        return store.read()


def in_the_middle(monkeypatch, what):
    """Have something happen once, when the inspections are read and the grades are not yet."""
    plain = reading._current_gradings

    def hooked(connection):
        monkeypatch.setattr(reading, "_current_gradings", plain)
        what()
        return plain(connection)

    monkeypatch.setattr(reading, "_current_gradings", hooked)


@pytest.mark.parametrize("read", [look_at_board, read_only, read_again])
def test_a_board_is_read_whole_while_another_program_writes(folder, monkeypatch, read):
    in_the_middle(monkeypatch, lambda: another_program_writes(folder))
    assert len(read(folder).inspections) == 2
    assert another_program_writes(folder) == "", "the board stays locked"
    assert read(folder).current[1][9].grade == 1


def test_a_board_is_checked_whole_while_another_program_writes(folder, monkeypatch):
    in_the_middle(monkeypatch, lambda: another_program_writes(folder))
    assert check_board(folder).problems == []


def test_a_card_is_read_whole_while_another_program_writes(folder, monkeypatch):
    plain = shelf_row._places

    def hooked(connection, board):
        another_program_writes(folder)
        return plain(connection, board)

    monkeypatch.setattr(shelf_row, "_places", hooked)
    row = read_shelf_row(folder)
    assert (row.inspections, {grade for *_, grade in row.places}) == (2, {8})


def test_a_change_between_opening_and_reading_is_not_missed(folder, monkeypatch):
    plain = BoardStore.read

    def hooked(store):
        record = plain(store)
        another_program_writes(folder)
        return record

    monkeypatch.setattr(BoardStore, "read", hooked)
    with closing(Session(folder, read_only=True)) as session:
        monkeypatch.undo()
        assert 9 not in session.record.inspections
        assert session.look_for_outside_changes()
        assert 9 in session.record.inspections


def open_and_close(folder):
    with opened(folder, read_only=True):
        pass


def look_at_file(folder):
    look_at_header(folder / "board.rustboard")


def copy(folder):
    copy_board(folder, folder.parent / "copy")


LOOKS = [look_at_file, check_board, read_shelf_row, look_at_board, open_and_close, copy]


@pytest.mark.parametrize("look", LOOKS)
def test_a_look_from_another_thread_does_not_open_a_write_under_way_to_other_programs(folder, look):
    found, looking = [], threading.Thread(target=look, args=(folder,))

    def grade_while_others_look(tx):
        summary = grade_coupon(tx, GivenGrade(1, 1, 3))
        looking.start()
        looking.join(0.2)
        found.append(another_program_writes(folder))
        return summary

    with opened(folder) as store:
        do(store, grade_while_others_look)
        looking.join()
        assert store.read().current[1][1].grade == 3
    assert found == ["database is locked"]


@pytest.mark.parametrize("look", LOOKS)
def test_a_look_from_another_thread_does_not_open_a_read_under_way_to_other_programs(folder, monkeypatch, look):
    found, looking = [], threading.Thread(target=look, args=(folder,))

    def others_look():
        looking.start()
        looking.join(0.2)
        found.append(another_program_writes(folder))

    with opened(folder, read_only=True) as store:
        in_the_middle(monkeypatch, others_look)
        assert len(store.read().inspections) == 2
        looking.join()
    assert found == ["database is locked"]


def test_connections_that_another_thread_opens_and_closes_leave_a_write_locked(folder):
    # SQLite keeps its own handles open until the locks are gone; only handles that it does not know do harm.
    found = []

    def grade_meanwhile(tx):
        summary = grade_coupon(tx, GivenGrade(1, 1, 3))
        thread = threading.Thread(target=connect_bare)
        thread.start()
        thread.join()
        found.append(another_program_writes(folder))
        return summary

    def connect_bare():
        with closing(board_store.sqlite3.connect(folder / "board.rustboard")) as connection:
            connection.execute("SELECT count(*) FROM coupon").fetchone()

    with opened(folder) as store:
        do(store, grade_meanwhile)
    assert found == ["database is locked"]


def test_a_board_on_a_disk_that_does_not_answer_does_not_hold_up_another(folder, tmp_path):
    other = graded_board(tmp_path / "other")
    held, done = threading.Event(), threading.Event()

    def hang():
        with guard_of(other / "board.rustboard"):
            held.set()
            done.wait(20)

    thread = threading.Thread(target=hang)
    thread.start()
    held.wait(20)
    with opened(folder) as store:
        do(store, grade_coupon, GivenGrade(1, 1, 3))
    assert thread.is_alive()
    done.set()
    thread.join()


def test_all_paths_to_a_file_have_one_guard_and_a_file_in_its_place_has_another(folder, tmp_path):
    file = folder / "board.rustboard"
    first = guard_of(file)
    assert guard_of(folder / ".." / "b" / "board.rustboard") is first
    kept = file.rename(folder / "old.rustboard")
    file.write_bytes(kept.read_bytes())
    assert guard_of(file) is not first
    assert guard_of(kept) is first


@pytest.mark.parametrize("size", ["70 MiB", "3 GiB"])
def test_a_large_file_whose_write_was_not_finished_is_not_copied_to_be_looked_at(folder, size, monkeypatch):
    plant(folder, "PRAGMA journal_mode = WAL")
    number, unit = size.split()
    with (folder / "board.rustboard").open("r+b") as stream:
        stream.truncate(int(number) << (30 if unit == "GiB" else 20))
    monkeypatch.setattr("tempfile.tempdir", str(folder.parent / "nothing is written here"))
    (folder.parent / "nothing is written here").mkdir()
    with pytest.raises(InputError, match="more than 64 MiB its file is too large to be copied for a look") as caught:
        read_shelf_row(folder)
    assert caught.value.problem.file == "board.rustboard"
    if unit == "GiB":
        for look in (look_at_board, check_board):
            with pytest.raises(InputError, match="more than 512 MiB its file is too large to be copied for a look"):
                look(folder)


def test_a_board_just_written_ahead_is_looked_at_in_a_copy(folder):
    plant(folder, "PRAGMA journal_mode = WAL")
    before = folder_state(folder)
    assert read_shelf_row(folder).inspections == 2
    assert folder_state(folder) == before
