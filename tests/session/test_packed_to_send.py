"""A board packed into one file, and opened again somewhere else."""

from __future__ import annotations

import errno
import os
import sqlite3
import zipfile
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from shelf_boards import add_picture, clock, make_board

from rustboard.board.model import Inspection, Photo
from rustboard.board.record import is_archived
from rustboard.operations.boards import edit_board
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.photos import add_photo
from rustboard.operations.shelving import archive, set_tags
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.looking import look_at_board
from rustboard.session.packing import look_into_pack, pack_board, pack_name, unpack_board, what_travels
from rustboard.session.session import Session
from rustboard.store import pack_writing, packed_board
from rustboard.store.check import check_board
from rustboard.support.problems import InputError


@pytest.fixture
def board(tmp_path: Path) -> Path:
    folder = make_board(tmp_path / "boards" / "Harbour wall", "Harbour wall", [(10, 10, 9), (9, 7, None)])
    add_picture(folder)
    return folder


@pytest.fixture
def pack(board: Path, tmp_path: Path) -> Path:
    target = tmp_path / "sent" / "Harbour wall.rustboard-pack"
    target.parent.mkdir()
    pack_board(board, target, clock=clock)
    return target


def listing(folder: Path) -> list[str]:
    return sorted(str(each.relative_to(folder)) for each in folder.rglob("*"))


# ---- there and back


def test_what_comes_out_is_what_went_in(board: Path, pack: Path, tmp_path: Path) -> None:
    result = unpack_board(pack, tmp_path / "theirs")
    assert result.folder == tmp_path / "theirs" / "Harbour wall"
    assert (result.coupons, result.inspections, result.photos, result.missing) == (6, 2, 1, 0)
    before, after = look_at_board(board), look_at_board(result.folder)
    assert after == before
    assert check_board(result.folder).problems == []
    photo = next(iter(before.photos.values())).file
    assert (result.folder / "photos" / photo).read_bytes() == (board / "photos" / photo).read_bytes()
    assert listing(result.folder) == ["board.rustboard", "photos", f"photos/{photo}"]


def test_the_same_board_at_the_same_time_is_the_same_bytes(board: Path, pack: Path, tmp_path: Path) -> None:
    pack_board(board, tmp_path / "again.rustboard-pack", clock=clock)
    assert (tmp_path / "again.rustboard-pack").read_bytes() == pack.read_bytes()
    pack_board(board, tmp_path / "later.rustboard-pack", clock=lambda: datetime(2026, 6, 1))
    assert (tmp_path / "later.rustboard-pack").read_bytes() != pack.read_bytes()


def test_it_is_an_ordinary_archive_with_a_leaf_first(pack: Path) -> None:
    with zipfile.ZipFile(pack) as archive:
        assert archive.testzip() is None
        names = archive.namelist()
    assert names[:2] == ["pack.json", "board.rustboard"]
    assert names[2].startswith("photos/")


def test_a_board_is_packed_while_it_is_open_and_graded(board: Path, tmp_path: Path) -> None:
    target = tmp_path / "open.rustboard-pack"
    with closing(Session(board, clock=clock)) as session:
        session.do(grade_coupon, GivenGrade(3, 2, 4))
        pack_board(board, target, clock=clock)
        session.do(grade_coupon, GivenGrade(3, 2, 1))
    packed = unpack_board(target, tmp_path / "theirs").folder
    assert look_at_board(packed).grading(3, 2).grade == 4


def test_the_record_of_changes_travels_and_steps_of_undo_do_not(board: Path, pack: Path, tmp_path: Path) -> None:
    folder = unpack_board(pack, tmp_path / "theirs").folder
    with closing(Session(board)) as ours, closing(Session(folder)) as theirs:
        assert theirs.audit() == ours.audit()
        assert ours.undo_summary() is not None
        assert theirs.undo_summary() is None


def test_what_was_taken_back_is_nowhere_in_the_file(board: Path, tmp_path: Path) -> None:
    secret = "told in confidence"
    with closing(Session(board, clock=clock)) as session:
        before = session.record.board
        session.do(edit_board, replace(before, note=secret))
        session.undo()
    assert secret.encode() in (board / "board.rustboard").read_bytes()
    target = tmp_path / "sent.rustboard-pack"
    pack_board(board, target, clock=clock)
    folder = unpack_board(target, tmp_path / "theirs").folder
    assert secret.encode() not in (folder / "board.rustboard").read_bytes()


def test_a_photo_that_was_added_and_taken_back_does_not_travel(board: Path, tmp_path: Path) -> None:
    stray = board / "photos" / "20260101-000000-0123456789abcdef.jpg"
    stray.write_bytes(b"\xff\xd8\xff private")
    target = tmp_path / "sent.rustboard-pack"
    assert pack_board(board, target, clock=clock).photos == 1
    with zipfile.ZipFile(target) as archive:
        assert not [name for name in archive.namelist() if stray.name in name]


def test_tags_travel_and_the_archive_does_not(board: Path, tmp_path: Path) -> None:
    with closing(Session(board, clock=clock)) as session:
        session.do(set_tags, ["spring"])
        session.do(archive)
    target = tmp_path / "sent.rustboard-pack"
    pack_board(board, target, clock=clock)
    record = look_at_board(unpack_board(target, tmp_path / "theirs").folder)
    assert [each.word for each in record.tags.values()] == ["spring"]
    assert not is_archived(record)


def test_without_photos_they_are_shown_as_missing(board: Path, tmp_path: Path) -> None:
    target = tmp_path / "sent.rustboard-pack"
    assert pack_board(board, target, clock=clock, photos=False).photos == 0
    preview = look_into_pack(target, tmp_path / "theirs")
    assert (preview.photos, preview.missing, preview.photos_wanted) == (0, 1, False)
    result = unpack_board(target, tmp_path / "theirs")
    assert listing(result.folder) == ["board.rustboard"]
    with closing(Session(result.folder)) as session:
        assert len(session.record.photos) == 1


@pytest.mark.parametrize("name", [
    "=HYPERLINK(1)", "\u202edraob", "\U0001f600 board", "no\xa0break", "a/b\\c:d", "CON", "x" * 1000, "e\u0301",
    "line\nbreak\x07", "\ud800half",
])  # fmt: skip
def test_a_name_of_any_kind_travels(tmp_path: Path, name: str) -> None:
    board = make_board(tmp_path / "board", "plain")
    with closing(Session(board, clock=clock)) as session:
        session.do(edit_board, replace(session.record.board, name=name))
    target = tmp_path / "sent.rustboard-pack"
    pack_board(board, target, clock=clock)
    theirs = tmp_path / "theirs"
    result = unpack_board(target, theirs)
    assert result.folder.parent == theirs
    assert look_at_board(result.folder).board.name == look_at_board(board).board.name == result.board


# ---- before anything is unpacked


def test_a_look_tells_what_it_is_and_unpacks_nothing(pack: Path, tmp_path: Path) -> None:
    theirs = tmp_path / "theirs"
    preview = look_into_pack(pack, theirs)
    assert (preview.board, preview.packed, preview.site) == ("Harbour wall", clock(), "harbour wall")
    assert (preview.coupons, preview.treatments, preview.inspections, preview.photos) == (6, 1, 2, 1)
    assert (preview.first, preview.last) == (datetime(2026, 3, 2, 9), datetime(2026, 3, 9, 9))
    assert (preview.folder, preview.taken, preview.same_as) == (theirs / "Harbour wall", False, None)
    assert not theirs.exists()


def test_the_very_same_board_is_recognised_also_after_the_files_were_rewritten(board: Path, pack: Path) -> None:
    preview = look_into_pack(pack, board.parent)
    assert (preview.taken, preview.same_as) == (True, board)
    assert preview.folder == board.parent / "Harbour wall 2"
    with closing(sqlite3.connect(board / "board.rustboard")) as connection:
        connection.execute("VACUUM")
    assert look_into_pack(pack, board.parent).same_as == board


def test_another_board_of_the_name_is_not_taken_for_it_and_stays(board: Path, pack: Path) -> None:
    with closing(Session(board, clock=clock)) as session:
        session.do(grade_coupon, GivenGrade(1, 2, 0))
    preview = look_into_pack(pack, board.parent)
    assert (preview.taken, preview.same_as) == (True, None)
    before = (board / "board.rustboard").read_bytes()
    assert unpack_board(pack, board.parent).folder == board.parent / "Harbour wall 2"
    assert (board / "board.rustboard").read_bytes() == before


def test_a_look_says_what_a_sender_sends(board: Path) -> None:
    with closing(Session(board, clock=clock)) as session:
        session.do(edit_board, replace(session.record.board, customer="Ada & Söhne", note="by the door"))
        session.do(add_inspection, Inspection(datetime(2026, 4, 1), "Bo, Ann", note="windy"))
        session.do(set_tags, ["spring"])
    travels = what_travels(board)
    assert (travels.board, travels.customer, travels.graders) == ("Harbour wall", "Ada & Söhne", ("Ann", "Bo"))
    assert (travels.photos, travels.notes, travels.tags) == (1, 2, ("spring",))
    assert travels.photo_bytes == sum(each.stat().st_size for each in (board / "photos").iterdir())
    assert travels.target == board.parent / pack_name(board)


# ---- what cannot be packed


def test_missing_and_altered_photos_are_told_and_left_out(board: Path, tmp_path: Path) -> None:
    second = add_picture(board, colour=(1, 2, 3))
    first = next(each for each in (board / "photos").iterdir() if each != second)
    first.unlink()
    second.write_bytes(b"something else")
    target = tmp_path / "sent.rustboard-pack"
    result = pack_board(board, target, clock=clock)
    assert result.photos == 0
    assert sorted(each.file for each in result.left_out) == sorted([first.name, second.name])
    assert any("missing" in each.what for each in result.left_out)
    assert any("no longer the one" in each.what for each in result.left_out)
    assert unpack_board(target, tmp_path / "theirs").missing == 2


def test_a_photo_recorded_outside_the_folder_is_not_sent(board: Path, tmp_path: Path) -> None:
    secret = tmp_path / "secret.jpg"
    secret.write_bytes(b"secret")
    with closing(Session(board, clock=clock)) as session:
        session.do(add_photo, Photo("x.jpg", "../../secret.jpg", "0" * 64, 10, 10))
    target = tmp_path / "sent.rustboard-pack"
    assert len(pack_board(board, target, clock=clock).left_out) == 1
    with zipfile.ZipFile(target) as archive:
        assert not [name for name in archive.namelist() if "secret" in name]


def test_a_place_inside_the_board_is_refused(board: Path) -> None:
    before = listing(board)
    for target in (board / "x.rustboard-pack", board / "photos" / "x.rustboard-pack"):
        with pytest.raises(InputError, match="choose another place"):
            pack_board(board, target, clock=clock)
    assert listing(board) == before


def test_a_stopped_packing_leaves_the_older_file(board: Path, pack: Path) -> None:
    before = pack.read_bytes()
    told = steps_of(lambda progress: pack_board(board, pack.with_name("other.rustboard-pack"), progress))
    pack.with_name("other.rustboard-pack").unlink()
    assert told > 3
    for number in range(1, told):
        with pytest.raises(Cancelled):
            pack_board(board, pack, stopping_at(number), clock=clock)
        assert listing(pack.parent) == [pack.name]
    assert pack.read_bytes() == before


def test_a_stopped_unpacking_leaves_nothing(pack: Path, tmp_path: Path) -> None:
    told = steps_of(lambda progress: unpack_board(pack, tmp_path / "first", progress))
    theirs = tmp_path / "theirs"
    theirs.mkdir()
    assert told > 2
    for number in range(1, told):
        with pytest.raises(Cancelled):
            unpack_board(pack, theirs, stopping_at(number))
        assert listing(theirs) == []


def steps_of(work: Callable[[Progress], object]) -> int:
    """Return how often a work tells how far it is, never beyond the whole."""
    told: list[tuple[int, int]] = []
    work(Progress(lambda done, total: told.append((done, total))))
    assert all(0 <= done <= total for done, total in told)
    assert told == sorted(told, key=lambda each: each[0] / each[1])
    return len(told)


def stopping_at(number: int) -> Progress:
    """Return a progress that is cancelled when it is told so many times; the next step notices."""
    told: list[int] = []

    def tell(done: int, total: int) -> None:
        told.append(done)
        if len(told) == number:
            progress.cancel()

    progress = Progress(tell)
    return progress


def test_a_full_disk_is_a_sentence_and_leaves_the_older_file(
    board: Path, pack: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = pack.read_bytes()

    def full(descriptor: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(InputError, match="The disk is full"):
        pack_board(board, pack, clock=clock)
    assert pack.read_bytes() == before
    assert listing(pack.parent) == [pack.name]
    theirs = pack.parent / "theirs"
    with pytest.raises(InputError, match="The disk is full"):
        unpack_board(pack, theirs)
    assert not theirs.exists() or listing(theirs) == []


def test_no_room_is_told_before_anything_is_written(
    pack: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(packed_board.shutil, "disk_usage", lambda path: _Usage())
    with pytest.raises(InputError, match="and the disk has 1 MB left"):
        unpack_board(pack, tmp_path / "theirs")
    assert listing(tmp_path / "theirs") == []


class _Usage:
    free = 900_000


def test_a_file_that_shrinks_like_a_bomb_is_packed_so_that_it_is_opened(
    board: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for module in (pack_writing, packed_board):
        monkeypatch.setattr(module, "FREE_OF_RATIO_BYTES", 1_000)
        monkeypatch.setattr(module, "MOST_RATIO", 2)
    target = tmp_path / "sent.rustboard-pack"
    pack_board(board, target, clock=clock)
    with zipfile.ZipFile(target) as archive:
        assert archive.getinfo("board.rustboard").compress_type == zipfile.ZIP_STORED
    assert unpack_board(target, tmp_path / "theirs").coupons == 6


def test_a_board_that_is_too_large_says_what_to_do(
    board: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pack_writing, "MOST_PHOTOS", 0)
    with pytest.raises(InputError, match="pack it without photos"):
        pack_board(board, tmp_path / "sent.rustboard-pack", clock=clock)
    assert not (tmp_path / "sent.rustboard-pack").exists()


def test_what_is_no_board_is_not_packed(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="There is no board here"):
        pack_board(tmp_path / "nothing", tmp_path / "sent.rustboard-pack", clock=clock)
    assert listing(tmp_path) == []
