"""Dated copies: once a day, a bounded number, none half written."""

from __future__ import annotations

import logging
import os
import shutil
import sys
from datetime import date, timedelta
from pathlib import Path

import pytest
from store_boards import NOW, do, empty_board, graded_board, opened, tables_of

from rustboard.board.model import Board
from rustboard.operations.boards import edit_board
from rustboard.session.new_board import copy_board
from rustboard.session.session import Session
from rustboard.store import backup
from rustboard.store.board_store import BoardStore
from rustboard.store.check import check_board
from rustboard.support import files
from rustboard.support.problems import InputError

TODAY = "board-2026-03-02.rustboard"


def names(folder: Path) -> list[str]:
    return sorted(each.name for each in (folder / "backups").iterdir())


@pytest.fixture
def folder(tmp_path):
    return empty_board(tmp_path / "b")


def test_the_first_opening_of_a_day_makes_a_copy_of_the_file_as_it_was(folder):
    before = (folder / "board.rustboard").read_bytes()
    with opened(folder) as store:
        do(store, edit_board, Board("morning"))
    with opened(folder) as store:
        do(store, edit_board, Board("evening"))
    assert names(folder) == [TODAY]
    assert (folder / "backups" / TODAY).read_bytes() == before
    with opened(folder, now=NOW + timedelta(days=1)):
        pass
    assert names(folder) == [TODAY, "board-2026-03-03.rustboard"]


def test_a_window_that_only_reads_makes_no_copy(folder):
    with opened(folder, read_only=True):
        pass
    assert not (folder / "backups").exists()


def test_only_the_newest_thirty_daily_copies_are_kept_and_nothing_else_is_touched(folder):
    (folder / "backups").mkdir()
    kept = ["board-before-leaving-format-1.rustboard", "before the fair.rustboard", "board-2026.rustboard"]
    for name in kept:
        (folder / "backups" / name).write_text("mine")
    first = date(2026, 1, 1)
    for day in range(40):
        assert backup.daily(folder / "board.rustboard", first + timedelta(days=day)) is not None
    daily = [f"board-{first + timedelta(days=day)}.rustboard" for day in range(10, 40)]
    assert names(folder) == sorted([*kept, *daily])


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_copy_that_fails_half_way_leaves_nothing_and_does_not_stop_the_user(folder, monkeypatch, caplog, step):
    def refuse(*arguments):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.os, step, refuse)
    with caplog.at_level(logging.INFO):
        assert backup.daily(folder / "board.rustboard", NOW.date()) is None
    assert "no backup today: No space left on device" in caplog.text
    assert names(folder) == []


def test_what_a_killed_copy_left_is_swept_up_by_the_next(folder):
    (folder / "backups").mkdir()
    (folder / "backups" / f".{TODAY}.0123456789ab.part").write_bytes(b"half")
    with opened(folder):
        pass
    assert names(folder) == [TODAY]


def test_when_backups_is_a_file_the_board_opens_all_the_same(folder):
    (folder / "backups").write_text("a file is in the way")
    with opened(folder) as store:
        assert store.read_only_reason == ""


@pytest.mark.skipif(sys.platform == "win32", reason="Windows asks for rights to make links")
def test_a_backups_folder_that_is_a_link_is_not_followed(folder, tmp_path):
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (folder / "backups").symlink_to(elsewhere)
    with opened(folder):
        pass
    assert list(elsewhere.iterdir()) == []


def test_a_dated_copy_opens_for_reading_with_the_photos_of_its_board(tmp_path):
    folder = graded_board(tmp_path / "b")
    with opened(folder, now=NOW + timedelta(days=1)) as store:
        do(store, edit_board, Board("later"))
    copy = folder / "backups" / "board-2026-03-03.rustboard"
    before = copy.read_bytes()
    session = Session(copy)
    assert session.read_only_reason == (
        "This is a dated copy of a board, so it is open for reading only; save a copy of it to work on from there."
    )
    assert session.record.board.name == "Harbour wall"
    assert session.photo_file(1).is_file()
    session.close()
    copy_board(session.file, tmp_path / "restored")
    assert copy.read_bytes() == before
    assert names(folder) == [TODAY, "board-2026-03-03.rustboard"]
    assert check_board(tmp_path / "restored").problems == []
    with opened(tmp_path / "restored") as store:
        assert store.read().board.name == "Harbour wall"


def test_a_board_folder_called_backups_is_an_ordinary_board(tmp_path):
    empty_board(tmp_path / "shelf")
    folder = empty_board(tmp_path / "shelf" / "backups")
    with opened(folder) as store:
        assert store.read_only_reason == ""


def test_a_copy_put_in_the_place_of_a_damaged_board_brings_it_back(tmp_path):
    folder = graded_board(tmp_path / "b")
    with opened(folder, now=NOW + timedelta(days=1)):
        pass
    before = tables_of(folder)
    (folder / "board.rustboard").write_bytes(b"\0" * 4096)
    with pytest.raises(InputError, match="restore a copy from the backups folder beside it"):
        BoardStore(folder, now=NOW)
    shutil.copyfile(folder / "backups" / "board-2026-03-03.rustboard", folder / "board.rustboard")
    assert tables_of(folder) == before


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no umask")
def test_copies_and_photos_are_as_open_to_others_as_the_user_has_set(tmp_path):
    old = os.umask(0o027)
    try:
        folder = graded_board(tmp_path / "b")
        copy_board(folder, tmp_path / "copy")
        for path in (tmp_path / "copy", *sorted((tmp_path / "copy").rglob("*")), *sorted(folder.rglob("*"))):
            assert path.stat().st_mode & 0o777 == (0o750 if path.is_dir() else 0o640), path
    finally:
        os.umask(old)
