"""Moving a board folder: nothing is ever lost, whenever the disk refuses, the user stops or the program is killed."""

from __future__ import annotations

import errno
import gc
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from real_disks import read_only, small_disk
from store_boards import NOW, do, graded_board, opened

from rustboard.operations.shelving import set_tags
from rustboard.session.jobs import Cancelled
from rustboard.store import moving
from rustboard.store.board_store import BoardStore
from rustboard.store.check import check_board
from rustboard.store.moving import check_move, move_folder
from rustboard.support.problems import InputError

TOUCHING = ("rename", "replace", "mkdir", "unlink", "rmdir", "fsync", "utime")


def nothing(number: int, total: int) -> None:
    """Told how far it is; never stops."""


def content(folder: Path) -> dict[str, bytes]:
    return {
        str(each.relative_to(folder)): each.read_bytes()
        for each in sorted(folder.rglob("*"))
        if each.is_file() and not each.name.startswith(".")
    }


@pytest.fixture
def board(tmp_path: Path) -> Path:
    """A board with photos, backups and a letter that the user put beside them."""
    return board_in(tmp_path / "one")


def board_in(parent: Path) -> Path:
    parent.mkdir()
    folder = graded_board(parent / "Harbour wall")
    (folder / "photos").mkdir(exist_ok=True)
    (folder / "photos" / "a.jpg").write_bytes(b"a" * 3000)
    (folder / "own").mkdir()
    (folder / "own" / "letter.txt").write_bytes(b"dear Ada")
    (folder / "empty").mkdir()
    return folder


@contextmanager
def two_disks(one: Path, refuse: Callable[[str], None] = lambda name: None) -> Iterator[None]:
    """Let everything below ``one`` lie on a disk of its own; ``refuse`` is called before each touch of a disk."""
    real = {name: getattr(os, name) for name in TOUCHING}

    def touch(name: str) -> Callable[..., object]:
        def run(*arguments: object, **named: object) -> object:
            refuse(name)
            if name == "rename" and (one in Path(arguments[0]).parents) != (one in Path(arguments[1]).parents):
                raise OSError(errno.EXDEV, "another disk")
            return real[name](*arguments, **named)

        return run

    try:
        for name in TOUCHING:
            setattr(os, name, touch(name))
        yield
    finally:
        for name, function in real.items():
            setattr(os, name, function)


def test_on_one_disk_the_folder_is_renamed_and_everything_is_in_it(board: Path, tmp_path: Path) -> None:
    before = content(board)
    number = (board / "board.rustboard").stat().st_ino
    target = tmp_path / "Porch roof"
    move_folder(board, target, nothing, NOW)
    assert content(target) == before
    assert (target / "board.rustboard").stat().st_ino == number
    assert not board.exists()
    assert not (target / ".board.open-in.json").exists()
    with opened(target) as store:
        do(store, set_tags, ["moved"])
    assert not [each for each in check_board(target).problems if "photos folder" not in each]


def test_to_another_disk_it_is_copied_compared_and_taken_away(board: Path, tmp_path: Path) -> None:
    before = content(board)
    told: list[tuple[int, int]] = []
    target = tmp_path / "Porch roof"
    with two_disks(tmp_path / "one"):
        move_folder(board, target, lambda *counts: told.append(counts), NOW)
    assert content(target) == before
    assert (target / "empty").is_dir()
    assert list((tmp_path / "one").iterdir()) == []
    assert sorted(each.name for each in tmp_path.iterdir()) == ["Porch roof", "one"]
    assert told == [(number, len(before)) for number in range(len(before) + 1)]


@pytest.mark.parametrize("disks", [1, 2])
def test_a_board_that_a_window_has_open_stays(board: Path, tmp_path: Path, disks: int) -> None:
    store = BoardStore(board, now=NOW)
    before = content(board)
    with (
        two_disks(tmp_path / "one" if disks == 2 else tmp_path),
        pytest.raises(InputError, match="This board is open in another window; close it there, then try again"),
    ):
        move_folder(board, tmp_path / "two", nothing, NOW)
    assert content(board) == before
    assert not (tmp_path / "two").exists()
    store.close()


def sentence(source: Path, target: Path) -> str:
    with pytest.raises(InputError) as caught:
        check_move(source, target)
    return caught.value.problem.what


def test_places_to_which_nothing_can_be_moved_are_refused(board: Path, tmp_path: Path) -> None:
    own = "A board cannot be moved into its own folder; choose one outside it."
    assert sentence(board, board / "Harbour wall") == own
    assert sentence(board, board / "photos" / "x") == own
    (tmp_path / "way in").symlink_to(board / "photos")
    assert sentence(board, tmp_path / "way in" / "x") == own
    other = graded_board(tmp_path / "other")
    assert sentence(board, other / "x") == "This place is inside another board's folder; choose one outside it."
    assert sentence(board, tmp_path / "nowhere" / "x") == (
        "The folder to move the board into is not there; choose another."
    )
    taken = "Something with this name is already there; choose another name."
    assert sentence(board, other) == taken
    (tmp_path / "file").write_text("x")
    (tmp_path / "dangling").symlink_to(tmp_path / "gone")
    (tmp_path / "empty").mkdir()
    assert [sentence(board, tmp_path / each) for each in ("file", "dangling", "empty")] == [taken] * 3


def test_links_to_a_board_and_folders_without_one_are_refused(board: Path, tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(board)
    assert sentence(tmp_path / "link", tmp_path / "x") == (
        "This is a link to the board's folder; move the folder itself."
    )
    no_board = "There is no board in this folder any more, so nothing was moved."
    assert sentence(tmp_path / "one", tmp_path / "x") == no_board
    (tmp_path / "odd").mkdir()
    (tmp_path / "odd" / "board.rustboard").symlink_to(board / "board.rustboard")
    assert sentence(tmp_path / "odd", tmp_path / "x") == no_board


def test_a_link_in_the_folder_is_not_carried_to_another_disk(board: Path, tmp_path: Path) -> None:
    (board / "photos" / "b.jpg").symlink_to("/etc/hostname")
    with two_disks(tmp_path / "one"), pytest.raises(InputError, match=r"b\.jpg: There is a link in the board's fold"):
        move_folder(board, tmp_path / "two", nothing, NOW)
    assert sorted(each.name for each in tmp_path.iterdir()) == ["one"]
    move_folder(board, tmp_path / "two", nothing, NOW)  # on one disk it goes along as it is
    assert (tmp_path / "two" / "photos" / "b.jpg").is_symlink()


def test_what_changes_meanwhile_stops_the_move(board: Path, tmp_path: Path) -> None:
    def meddle(number: int, total: int) -> None:
        if number == total:
            (board / "photos" / "late.jpg").write_bytes(b"late")

    with two_disks(tmp_path / "one"), pytest.raises(InputError, match="was changed while it was copied"):
        move_folder(board, tmp_path / "two", meddle, NOW)
    assert (board / "photos" / "late.jpg").read_bytes() == b"late"
    assert sorted(each.name for each in tmp_path.iterdir()) == ["one"]


def test_a_file_that_is_not_copied_as_it_is_stops_the_move(
    board: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = content(board)
    real = moving.copy_whole

    def worn(source: Path, target: Path) -> None:
        real(source, target)
        if source.name == "a.jpg":
            target.write_bytes(b"b" * 3000)

    monkeypatch.setattr(moving, "copy_whole", worn)
    with two_disks(tmp_path / "one"), pytest.raises(InputError, match=r"a\.jpg: A file was not copied as it is"):
        move_folder(board, tmp_path / "two", nothing, NOW)
    assert content(board) == before
    assert sorted(each.name for each in tmp_path.iterdir()) == ["one"]


def test_a_target_that_comes_into_being_meanwhile_is_never_overwritten(board: Path, tmp_path: Path) -> None:
    target = tmp_path / "two"

    def meddle(number: int, total: int) -> None:
        if number == 1:
            target.mkdir()
            (target / "mine.txt").write_text("mine")

    with two_disks(tmp_path / "one"), pytest.raises(InputError, match="Something with this name is already there"):
        move_folder(board, target, meddle, NOW)
    assert [each.name for each in target.iterdir()] == ["mine.txt"]
    assert not [each for each in check_board(board).problems if "photos folder" not in each]


def test_what_was_put_into_the_old_folder_at_the_last_moment_is_not_taken_away(
    board: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = moving._take_away

    def late(source: Path, target: Path, listed: object) -> None:
        (source / "photos" / "late.jpg").write_bytes(b"late")
        real(source, target, listed)

    monkeypatch.setattr(moving, "_take_away", late)
    with two_disks(tmp_path / "one"):
        move_folder(board, tmp_path / "two", nothing, NOW)
    (hidden,) = (tmp_path / "one").iterdir()
    assert hidden.name.endswith(".moved")
    assert content(hidden) == {os.path.join("photos", "late.jpg"): b"late"}


def test_a_copy_that_was_cut_off_long_ago_is_tidied_and_nothing_else(board: Path, tmp_path: Path) -> None:
    for name in (".rustboard-0123456789abcdef.moving", ".rustboard-1123456789abcdef.moving", ".mine.moving"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "x").write_text("x")
    os.utime(tmp_path / ".rustboard-0123456789abcdef.moving", (0, 0))
    os.utime(tmp_path / ".mine.moving", (0, 0))
    with two_disks(tmp_path / "one"):
        move_folder(board, tmp_path / "two", nothing, NOW)
    assert sorted(each.name for each in tmp_path.iterdir()) == [
        ".mine.moving", ".rustboard-1123456789abcdef.moving", "one", "two",
    ]  # fmt: skip


# ---- real disks


def test_from_one_real_disk_to_another(board: Path, tmp_path: Path) -> None:
    before = content(board)
    with small_disk(tmp_path / "stick", kilobytes=4096) as stick:
        move_folder(board, stick / "Harbour wall", nothing, NOW)
        assert content(stick / "Harbour wall") == before
        assert not board.exists()
        with opened(stick / "Harbour wall") as store:
            do(store, set_tags, ["on the stick"])
        move_folder(stick / "Harbour wall", tmp_path / "back", nothing, NOW)
        assert list(stick.iterdir()) == []
    assert content(tmp_path / "back").keys() == before.keys()


def test_a_real_disk_without_room_leaves_the_board_where_it_was(board: Path, tmp_path: Path) -> None:
    (board / "photos" / "large.jpg").write_bytes(b"x" * 2_000_000)
    before = content(board)
    with small_disk(tmp_path / "stick", kilobytes=1024) as stick:
        with pytest.raises(InputError, match="The disk is full; free some space and try again"):
            move_folder(board, stick / "Harbour wall", nothing, NOW)
        assert list(stick.iterdir()) == []
    assert content(board) == before


def test_a_real_disk_that_may_not_be_written_takes_no_board_and_gives_none_away(board: Path, tmp_path: Path) -> None:
    before = content(board)
    (tmp_path / "shut").mkdir()
    with read_only(tmp_path / "shut"), pytest.raises(InputError):
        move_folder(board, tmp_path / "shut" / "Harbour wall", nothing, NOW)
    with read_only(tmp_path / "one"), pytest.raises(InputError, match="may not be written, so it stays where it is"):
        move_folder(board, tmp_path / "two", nothing, NOW)
    assert content(board) == before
    assert sorted(each.name for each in tmp_path.iterdir()) == ["one", "shut"]


# ---- whatever goes wrong


class Killed(BaseException):
    """The program is gone: nothing of it touches the disk any more."""


def whole_boards(*folders: Path, as_before: dict[str, bytes]) -> list[Path]:
    return [each for each in folders if each.is_dir() and content(each) == as_before]


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.integers(0, 60), st.sampled_from(["killed", "refused once", "refused on", "stopped"]), st.booleans())
def test_whatever_goes_wrong_at_whatever_step_one_whole_board_is_there(at: int, how: str, across: bool) -> None:
    with tempfile.TemporaryDirectory(prefix="rustboard-moving-") as made:
        root = Path(made)
        board, target = board_in(root / "one"), root / "two"
        before = content(board)
        steps = 0

        def refuse(name: str) -> None:
            nonlocal steps
            steps += 1
            if how == "killed" and steps > at:
                raise Killed
            if (how == "refused once" and steps == at + 1) or (how == "refused on" and steps > at):
                raise OSError(errno.EACCES, "refused")

        def told(number: int, total: int) -> None:
            if how == "stopped" and number == at % (total + 1):
                raise Cancelled

        moved, said = True, ""
        with two_disks(root / "one" if across else root / "nowhere", refuse):
            try:
                move_folder(board, target, told, NOW)
            except (Killed, InputError, Cancelled) as error:
                moved, said = False, str(error)
        gc.collect()  # what a killed program held is let go
        whole = whole_boards(board, target, as_before=before)
        seen = [each for each in (*root.iterdir(), *(root / "one").iterdir()) if not each.name.startswith(".")]
        assert whole
        assert set(seen) == {root / "one", *whole}  # no half of a board is seen anywhere
        if how == "refused on" and len(whole) == 2:
            assert "whole in both" in said
        elif how != "killed":
            assert whole == [target if moved else board]
        if how == "stopped" and across:
            assert not moved
            assert [each.name for each in root.iterdir()] == ["one"]
        with opened(whole[-1]) as store:
            assert len(store.read().current) == 3
        shutil.rmtree(root / "one")
