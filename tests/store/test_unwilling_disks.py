"""Full disks, read-only folders and files: a sentence, nothing half written, and work goes on when there is room."""

from __future__ import annotations

import errno
import logging
import os
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from real_disks import fill, read_only, small_disk
from store_boards import NOW, do, empty_board, folder_state, graded_board, interrupted_copy, opened

from rustboard.board.model import Board, Plan, PlannedCoupon
from rustboard.board.position import Position
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.plans import carry_out_plan
from rustboard.session.new_board import copy_board
from rustboard.session.session import Session
from rustboard.store import database
from rustboard.store.board_store import BoardStore, create_board
from rustboard.store.check import check_board
from rustboard.store.photos import keep_photo
from rustboard.store.tables import BoardRow
from rustboard.support import files
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings, load_settings, save_settings

FOLDER_NOT_WRITABLE = "The folder cannot be written, so the board is open for reading only."
FILE_NOT_WRITABLE = "The board file may not be written, so the board is open for reading only."
FULL = "The disk is full; free some space and try again. Nothing was changed."


def fill_with_grades(session: Session) -> str:
    """Give grades until one is refused; return the sentence."""
    for number in range(10_000):
        try:
            session.do(grade_coupon, GivenGrade(1 + number % 3, 1, number % 11, note="x" * 2_000))
        except InputError as error:
            return error.problem.what
    raise AssertionError("the disk took everything")


def assert_as_on_the_disk(session: Session) -> None:
    with opened(session.folder, read_only=True) as store:
        assert store.read() == session.record
    assert check_board(session.folder).problems == []


def test_on_a_full_disk_a_grade_is_refused_and_the_board_stays_sound(tmp_path):
    with small_disk(tmp_path / "disk") as disk:
        folder = graded_board(disk / "b")
        with closing(Session(folder)) as session:
            filler = fill(disk, leave=100_000)
            assert fill_with_grades(session) == FULL
            assert_as_on_the_disk(session)
            assert fill_with_grades(session) == FULL
            filler.unlink()
            session.do(grade_coupon, GivenGrade(1, 1, 3, note="room again"))
            assert session.record.current[1][1].note == "room again"
            assert_as_on_the_disk(session)
        assert not list(folder.glob("board.rustboard-*"))


def test_a_board_opens_on_a_full_disk_without_its_daily_copy(tmp_path, caplog):
    with small_disk(tmp_path / "disk") as disk:
        folder = graded_board(disk / "b")
        for each in (folder / "backups").iterdir():
            each.unlink()
        fill(disk)
        with caplog.at_level(logging.INFO), opened(folder) as store:
            assert store.read_only_reason == ""
            assert len(store.read().coupons) == 3
        assert "no backup today: No space left on device" in caplog.text
        assert list((folder / "backups").iterdir()) == []


def test_nothing_is_left_of_a_new_board_that_found_no_room(tmp_path):
    with small_disk(tmp_path / "disk") as disk:
        (disk / "taken but empty").mkdir()
        fill(disk, leave=20_000)
        before = folder_state(disk)
        for name in ("new", "taken but empty"):
            with pytest.raises(InputError) as caught:
                create_board(disk / name, BoardRow(Board("x")))
            assert caught.value.problem.what == FULL
        assert folder_state(disk).keys() == before.keys()


def test_nothing_is_left_of_a_copy_that_found_no_room(tmp_path):
    folder = graded_board(tmp_path / "b")
    keep_photo(folder, "big.jpg", bytes(500_000), NOW)
    with small_disk(tmp_path / "disk", kilobytes=400) as disk:
        with pytest.raises(InputError) as caught:
            copy_board(folder, disk / "copy")
        assert caught.value.problem.what == FULL
        assert list(disk.iterdir()) == []


def test_nothing_is_left_of_a_photo_or_settings_that_found_no_room(tmp_path, monkeypatch):
    with small_disk(tmp_path / "disk") as disk:
        monkeypatch.setenv("RUSTBOARD_HOME", str(disk / "home"))
        save_settings(Settings(grader="Ann"))
        folder = empty_board(disk / "b")
        fill(disk)
        before = folder_state(folder)
        with pytest.raises(InputError, match="The disk is full"):
            keep_photo(folder, "a.jpg", bytes(10_000), NOW)
        with pytest.raises(InputError, match="The disk is full"):
            save_settings(Settings(grader="Ben" * 50, recent=["x" * 4000] * 20))
        assert load_settings().grader == "Ann"
        assert list((disk / "home").iterdir()) == [disk / "home" / "settings.json"]
        assert {name for name in folder_state(folder) if "photos" not in name} == set(before)
        assert not list((folder / "photos").glob("*"))


def test_a_plan_for_which_there_is_no_room_leaves_the_board_empty(tmp_path):
    # As on a full disk, on any machine: the database may not grow.
    folder = empty_board(tmp_path / "b")
    coupons = tuple(PlannedCoupon(f"C{n}", Position(n // 40, n % 40), note="x" * 500) for n in range(1000))
    with closing(Session(folder)) as session:
        session._store._connection.execute("PRAGMA max_page_count = 60")
        with pytest.raises(InputError) as caught:
            session.do(carry_out_plan, Plan(Board("x", 40, 40), coupons=coupons))
        assert str(caught.value) == f"board.rustboard: {FULL}"
        assert (session.record.coupons, session.record.board.rows) == ({}, 3)
        assert session.undo_summary() is None
        session._store._connection.execute("PRAGMA max_page_count = 100000")
        session.do(carry_out_plan, Plan(Board("x", 40, 40), coupons=coupons))
        assert len(session.record.coupons) == 1000
        assert_as_on_the_disk(session)


@pytest.mark.parametrize("step", ["open", "fsync", "replace"])
@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO])
def test_a_file_is_whole_or_as_before_wherever_the_disk_gives_up(tmp_path, monkeypatch, step, number):
    def refuse(*arguments, **more):
        raise OSError(number, os.strerror(number))

    (tmp_path / "settings.json").write_bytes(b"old")
    monkeypatch.setattr(files.os, step, refuse)
    with pytest.raises(InputError) as caught:
        files.write_whole(tmp_path / "settings.json", b"new" * 1000)
    monkeypatch.undo()
    told = "The disk is full" if number == errno.ENOSPC else "The disk refused this"
    assert caught.value.problem.what.startswith(told)
    assert {each.name: each.read_bytes() for each in tmp_path.iterdir()} == {"settings.json": b"old"}


def test_a_board_in_a_read_only_folder_opens_for_reading_and_says_why(tmp_path):
    folder = graded_board(tmp_path / "b")
    with read_only(folder):
        before = folder_state(folder)
        with closing(Session(folder)) as session:
            assert session.read_only_reason == FOLDER_NOT_WRITABLE
            assert len(session.record.coupons) == 3
            for change in (session.undo, lambda: session.do(grade_coupon, GivenGrade(1, 1, 3))):
                with pytest.raises(InputError, match=FOLDER_NOT_WRITABLE):
                    change()
            assert not session.can_go_back()
            assert session.go_back_to_opening() == 0
            session.keep_alive()
            copy_board(folder, tmp_path / "copy")
        assert check_board(folder).problems == []
        assert folder_state(folder) == before
    with opened(tmp_path / "copy") as store:
        assert store.read_only_reason == ""


def test_a_read_only_board_file_opens_for_reading_and_leaves_no_lock_behind(tmp_path):
    folder = graded_board(tmp_path / "b")
    with read_only(folder / "board.rustboard"):
        with opened(folder) as store:
            assert store.read_only_reason == FILE_NOT_WRITABLE
            assert len(store.read().coupons) == 3
        assert not (folder / ".board.open-in.json").exists()
    with opened(folder) as store:
        assert store.read_only_reason == ""


def test_no_board_is_made_in_a_read_only_folder(tmp_path):
    (tmp_path / "locked").mkdir()
    with read_only(tmp_path / "locked"), pytest.raises(InputError) as caught:
        create_board(tmp_path / "locked" / "new", BoardRow(Board("x")))
    assert caught.value.problem.what in {
        "This place is read-only; choose another folder.",
        "This place may not be read or written; choose another, or change its permissions.",
    }


def test_a_write_cut_off_in_a_read_only_folder_is_refused_with_a_sentence_and_can_still_be_checked(tmp_path):
    folder = interrupted_copy(graded_board(tmp_path / "b", coupons=20), tmp_path / "cut off")
    with read_only(folder):
        with pytest.raises(InputError) as caught:
            BoardStore(folder, now=NOW)
        assert caught.value.problem.what == (
            "The board may not be written here; copy its folder to a place of your own."
        )
        assert check_board(folder).problems == []


def test_a_board_that_another_program_holds_is_waited_for_and_then_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(database, "BUSY_SECONDS", 0.05)
    folder = graded_board(tmp_path / "b")
    other = sqlite3.connect(folder / "board.rustboard", isolation_level=None)
    with opened(folder) as store, closing(other):
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(InputError) as caught:
            do(store, grade_coupon, GivenGrade(1, 1, 2))
        assert caught.value.problem.what == (
            "Another program holds the board file; try again in a moment. Nothing was changed."
        )
        other.execute("ROLLBACK")
        do(store, grade_coupon, GivenGrade(1, 1, 2))


@pytest.fixture(autouse=True)
def _leave_no_mount_behind(tmp_path: Path):
    yield
    assert not any(os.path.ismount(each) for each in tmp_path.iterdir())
