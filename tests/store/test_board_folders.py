"""Folders that appear whole or not at all, copies of boards, and where photos may lie."""

from __future__ import annotations

import os
import sys

import pytest
from store_boards import NOW, PHOTO_BYTES, do, empty_board, folder_state, graded_board, opened, tables_of

from rustboard.board.model import Board
from rustboard.operations.boards import edit_board
from rustboard.session.new_board import copy_board
from rustboard.session.session import Session
from rustboard.store import folder as folder_module
from rustboard.store.board_store import create_board
from rustboard.store.check import check_board
from rustboard.store.folder import fresh_folder, photo_path
from rustboard.store.photos import keep_photo
from rustboard.store.tables import BoardRow
from rustboard.support.problems import InputError

posix = pytest.mark.skipif(sys.platform == "win32", reason="Windows asks for rights to make links")


def refusal(target):
    with pytest.raises(InputError) as caught, fresh_folder(target):
        raise AssertionError("the block was entered")
    return str(caught.value)


def fill(target, *, fail=False):
    with fresh_folder(target) as part:
        (part / "a.txt").write_text("x")
        (part / "board.rustboard").write_text("x")
        if fail:
            raise ZeroDivisionError


def test_a_fresh_folder_appears_when_the_block_ends_well(tmp_path):
    with fresh_folder(tmp_path / "a" / "new") as part:
        (part / "board.rustboard").write_text("x")
        assert not (tmp_path / "a" / "new").exists()
    assert [each.name for each in (tmp_path / "a").iterdir()] == ["new"]
    assert (tmp_path / "a" / "new" / "board.rustboard").read_text() == "x"


def test_an_empty_folder_that_is_there_is_filled_and_stays_the_same_folder(tmp_path):
    target = tmp_path / "new"
    target.mkdir()
    inode = target.stat().st_ino
    with fresh_folder(target) as part:
        (part / "photos").mkdir()
        (part / "photos" / "a.jpg").write_text("picture")
        (part / "board.rustboard").write_text("x")
    assert target.stat().st_ino == inode
    assert sorted(each.name for each in target.iterdir()) == ["board.rustboard", "photos"]


@pytest.mark.parametrize("exists", [False, True])
def test_nothing_is_left_when_the_block_fails(tmp_path, exists):
    if exists:
        (tmp_path / "new").mkdir()
    with pytest.raises(ZeroDivisionError):
        fill(tmp_path / "new", fail=True)
    assert [str(each.relative_to(tmp_path)) for each in tmp_path.rglob("*")] == (["new"] if exists else [])


def test_when_moving_into_place_fails_half_way_nothing_is_left(tmp_path, monkeypatch):
    (tmp_path / "new").mkdir()
    rename = os.rename

    def refuse_board(source, target):
        if str(target).endswith("new/board.rustboard") or str(target).endswith("new\\board.rustboard"):
            raise OSError(5, "Input/output error")
        rename(source, target)

    monkeypatch.setattr(folder_module.os, "rename", refuse_board)
    with pytest.raises(InputError, match="The disk refused this"):
        fill(tmp_path / "new")
    assert list((tmp_path / "new").iterdir()) == []


def test_a_folder_that_holds_something_or_a_file_in_its_place_is_refused(tmp_path):
    (tmp_path / "taken").mkdir()
    (tmp_path / "taken" / "letter.txt").write_text("x")
    (tmp_path / "file").write_text("x")
    before = folder_state(tmp_path)
    assert refusal(tmp_path / "taken") == "taken: This folder already holds something; choose a new name."
    assert refusal(tmp_path / "file") == "file: A file with this name is already there; choose another name."
    assert refusal(tmp_path / "file" / "new").endswith("Part of this path is a file, not a folder; check the name.")
    assert refusal(tmp_path / ("x" * 300)).endswith("The name is too long for this disk; choose a shorter one.")
    assert refusal(tmp_path / "a\0b").endswith("No file can have this name; choose another.")
    assert folder_state(tmp_path) == before


@posix
def test_a_link_to_nowhere_is_not_taken_for_a_free_name(tmp_path):
    (tmp_path / "link").symlink_to(tmp_path / "nowhere")
    with pytest.raises(InputError), fresh_folder(tmp_path / "link") as part:
        (part / "a").write_text("x")
    assert (tmp_path / "link").is_symlink()
    assert [each.name for each in tmp_path.iterdir()] == ["link"]


def test_a_board_is_not_made_over_another(tmp_path):
    folder = graded_board(tmp_path / "b")
    before = folder_state(folder)
    with pytest.raises(InputError, match="This folder already holds something"):
        create_board(folder, BoardRow(Board("x")))
    assert folder_state(folder) == before


def test_a_copy_holds_the_same_rows_journal_audit_and_photos(tmp_path):
    folder = graded_board(tmp_path / "b")
    with opened(folder) as store:
        copy_board(folder, tmp_path / "copy")
        do(store, edit_board, Board("changed after the copy"))
        steps = store.next_step("undo")
    with opened(folder) as store:
        store.step("undo", now=NOW, who="")
    assert tables_of(tmp_path / "copy") == tables_of(folder)
    photos = {each.name: each.read_bytes() for each in (folder / "photos").iterdir()}
    assert {each.name: each.read_bytes() for each in (tmp_path / "copy" / "photos").iterdir()} == photos
    assert list(photos.values()) == [PHOTO_BYTES]
    assert sorted(each.name for each in (tmp_path / "copy").iterdir()) == ["board.rustboard", "photos"]
    assert check_board(tmp_path / "copy").problems == []
    with opened(tmp_path / "copy") as copy:
        assert copy.next_step("undo") != steps
        assert copy.step("undo", now=NOW, who="") is not None
        assert len(copy.audit()) == 15  # those that were copied, and this one


def test_a_copy_may_be_made_inside_the_board_folder_itself(tmp_path):
    folder = graded_board(tmp_path / "b")
    copy_board(folder, folder / "photos" / "copy")
    assert check_board(folder / "photos" / "copy").problems == []
    assert check_board(folder).problems == []


def test_a_copy_that_fails_leaves_nothing(tmp_path, monkeypatch):
    from rustboard.store import copying

    def refuse(source, target):
        raise OSError(28, "No space left on device")

    folder = graded_board(tmp_path / "b")
    monkeypatch.setattr(copying, "copy_whole", refuse)
    with pytest.raises(InputError, match="The disk is full"):
        copy_board(folder, tmp_path / "copy")
    assert [each.name for each in tmp_path.iterdir()] == ["b"]


@posix
def test_links_in_the_photos_folder_are_neither_copied_nor_shown(tmp_path):
    folder = graded_board(tmp_path / "b")
    (tmp_path / "private.jpg").write_text("private")
    (photo,) = (folder / "photos").iterdir()
    photo.unlink()
    photo.symlink_to(tmp_path / "private.jpg")
    session = Session(folder)
    assert session.photo_file(1) is None
    copy_board(folder, tmp_path / "copy")
    session.close()
    assert not (tmp_path / "copy" / "photos").exists()
    assert check_board(folder).problems == [f"The photo {photo.name} is recorded outside the photos folder."]


@posix
def test_a_photos_folder_that_is_a_link_is_not_followed(tmp_path):
    folder = graded_board(tmp_path / "b")
    (folder / "photos").rename(tmp_path / "elsewhere")
    (folder / "photos").symlink_to(tmp_path / "elsewhere")
    session = Session(folder)
    assert session.photo_file(1) is None
    copy_board(folder, tmp_path / "copy")
    session.close()
    assert not (tmp_path / "copy" / "photos").exists()
    with pytest.raises(InputError, match="The photos folder is a link; put a folder of that name in its place"):
        keep_photo(folder, "new.jpg", b"new", NOW)
    assert len(list((tmp_path / "elsewhere").iterdir())) == 1


def test_a_photo_is_kept_byte_for_byte_under_its_time_and_content(tmp_path):
    folder = empty_board(tmp_path / "b")
    first = keep_photo(folder, "IMG 1.JPEG", PHOTO_BYTES, NOW)
    again = keep_photo(folder, "other name.jpg", PHOTO_BYTES, NOW)
    undated = keep_photo(folder, "x.exe", b"other", None)
    assert first == again
    assert first[0].startswith("20260302-090000-")
    assert first[0].endswith(".jpg")
    assert undated[0].startswith("undated-")
    assert undated[0].endswith(".bin")
    assert (folder / "photos" / first[0]).read_bytes() == PHOTO_BYTES
    assert photo_path(folder, first[0]) == folder / "photos" / first[0]


def test_the_check_names_a_photo_that_is_missing_or_another(tmp_path):
    folder = graded_board(tmp_path / "b")
    (photo,) = (folder / "photos").iterdir()
    photo.write_bytes(b"another picture")
    assert check_board(folder).problems == [
        f"The photo {photo.name} is not the one that was added; its content differs."
    ]
    photo.unlink()
    assert check_board(folder).problems == [f"The photo {photo.name} is missing from the photos folder."]
    session = Session(folder)
    assert session.photo_file(1) is None
    assert session.photo_file(99) is None
    session.close()


def test_the_check_counts_what_a_sound_board_holds(tmp_path):
    folder = graded_board(tmp_path / "b")
    result = check_board(folder / "board.rustboard")
    assert (result.board, result.problems, result.notes) == ("Harbour wall", [], [])
    assert result.counts == {
        "coupon": 3, "treatment": 1, "inspection": 2, "grading": 6, "photo": 1, "measurement": 0, "stroke": 0,
        "disturbance": 0, "recipe": 0, "question": 0, "lot": 0, "weather_file": 0, "day_note": 0, "weighing": 0,
        "audit": 14,
    }  # fmt: skip
