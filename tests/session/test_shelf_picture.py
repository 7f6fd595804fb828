"""The pictures on the shelf: cut once, kept, and never a reason to fail."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image
from shelf_boards import add_picture, make_board

from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.shelf import ShelfEntry, shelf_entries
from rustboard.session.shelf_picture import PICTURE_WIDTH_PX, shelf_picture
from rustboard.support import paths
from rustboard.support.settings import Settings


@pytest.fixture
def entry(tmp_path: Path) -> ShelfEntry:
    folder = make_board(tmp_path / "boards" / "a", "a")
    add_picture(folder)
    (found,) = shelf_entries(Settings(boards_folder=str(tmp_path / "boards")))
    return found


def photo_of(entry: ShelfEntry) -> Path:
    assert entry.photo is not None
    return entry.photo.path


def test_the_picture_shows_the_board_straightened(entry: ShelfEntry) -> None:
    told, png = shelf_picture(entry)
    picture = Image.open(io.BytesIO(png))
    assert told is entry
    assert picture.size == (PICTURE_WIDTH_PX, round(PICTURE_WIDTH_PX * 400 / 700))
    assert picture.getpixel((100, 100)) == (150, 75, 30)


def test_a_picture_is_kept_and_not_cut_again(entry: ShelfEntry) -> None:
    first = shelf_picture(entry)[1]
    photo_of(entry).unlink()
    assert shelf_picture(entry)[1] == first
    (kept,) = (paths.cache_folder() / "shelf").iterdir()
    assert kept.read_bytes() == first


def test_another_placing_of_the_photo_gives_another_picture(entry: ShelfEntry) -> None:
    first = shelf_picture(entry)[1]
    assert entry.photo is not None
    moved = replace(entry.photo, mm_to_px=(0.5, 0.0, 100.0, 0.0, 0.5, 0.0, 0.0, 0.0, 1.0))
    assert shelf_picture(replace(entry, photo=moved))[1] != first


def test_a_photo_that_is_not_the_recorded_one_is_not_shown(entry: ShelfEntry) -> None:
    Image.new("RGB", (350, 200), (0, 0, 255)).save(photo_of(entry), "PNG")
    assert shelf_picture(entry) == (entry, b"")
    assert not (paths.cache_folder() / "shelf").exists()


@pytest.mark.parametrize("content", [b"", b"no picture at all"])
def test_a_photo_that_cannot_be_read_gives_no_picture(entry: ShelfEntry, content: bytes) -> None:
    photo_of(entry).write_bytes(content)
    assert shelf_picture(entry) == (entry, b"")


def test_a_board_without_a_size_or_a_photo_has_no_picture(entry: ShelfEntry) -> None:
    assert shelf_picture(replace(entry, width_mm=0.0))[1] == b""
    assert shelf_picture(replace(entry, photo=None))[1] == b""


def test_a_picture_that_cannot_be_kept_is_shown_all_the_same(
    entry: ShelfEntry, own_home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    blocked = own_home / "a file"
    blocked.write_text("x")
    monkeypatch.setattr(paths, "cache_folder", lambda: blocked)
    assert shelf_picture(entry)[1].startswith(b"\x89PNG")


def test_cutting_can_be_stopped(entry: ShelfEntry) -> None:
    progress = Progress()
    progress.cancel()
    with pytest.raises(Cancelled):
        shelf_picture(entry, progress)


def test_the_oldest_pictures_are_forgotten(entry: ShelfEntry, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rustboard.session.shelf_picture.MOST_KEPT", 2)
    for width in (700.0, 701.0, 702.0, 703.0):
        shelf_picture(replace(entry, width_mm=width))
    assert len(list((paths.cache_folder() / "shelf").iterdir())) == 2


def test_no_photo_outside_the_folder_is_shown(tmp_path: Path) -> None:
    import sqlite3
    from contextlib import closing

    folder = make_board(tmp_path / "boards" / "a", "a")
    photo = add_picture(folder)
    (tmp_path / "private.png").write_bytes(photo.read_bytes())
    for name in ("../../../private.png", str(tmp_path / "private.png")):
        with closing(sqlite3.connect(folder / "board.rustboard")) as connection, connection:
            connection.execute("UPDATE photo SET file = ?", (name,))
        (entry,) = shelf_entries(Settings(boards_folder=str(tmp_path / "boards")))
        assert entry.photo is None
