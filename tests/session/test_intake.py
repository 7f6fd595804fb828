"""Photos on their way into a board: read, looked over, kept, recorded; nothing half done."""

from __future__ import annotations

import hashlib
import io
import os
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import numpy as np
import pytest
from PIL import ExifTags, Image
from session_boards import prepared

from rustboard.session import intake
from rustboard.session.intake import (
    add_kept,
    forget_kept,
    keep_and_add,
    keep_photos,
    read_files,
    with_folders_opened,
)
from rustboard.session.jobs import Cancelled, Progress
from rustboard.store.check import check_board
from rustboard.support.problems import InputError


def picture(number: int, taken: str = "2026:03:02 09:05:07", kind: str = "JPEG") -> bytes:
    generator = np.random.default_rng(number)
    notes = Image.Exif()
    if taken:
        camera = notes.get_ifd(ExifTags.IFD.Exif)
        camera[ExifTags.Base.DateTimeOriginal] = taken
        camera[0x9011] = "+01:00"
    stream = io.BytesIO()
    image = Image.fromarray(generator.integers(0, 256, (24, 32, 3), dtype=np.uint8))
    image.save(stream, kind, exif=notes.tobytes())
    return stream.getvalue()


def written(folder: Path, count: int) -> list[Path]:
    folder.mkdir(exist_ok=True)
    paths = [folder / f"IMG_{number}.jpg" for number in range(count)]
    for number, path in enumerate(paths):
        path.write_bytes(picture(number, f"2026:03:0{number + 2} 09:05:07"))
    return paths


def photos_in(folder: Path) -> list[str]:
    return sorted(os.listdir(folder / "photos")) if (folder / "photos").exists() else []


@pytest.fixture
def session(tmp_path):
    session = prepared(tmp_path / "b", inspections=0)
    yield session
    session.close()


class StopAt(Progress):
    """Stops a job at a step."""

    def __init__(self, step: int) -> None:
        super().__init__()
        self._last = step
        self.steps: list[tuple[int, int]] = []

    def step(self, done: int, total: int) -> None:
        self.steps.append((done, total))
        if done == self._last:
            self.cancel()
        super().step(done, total)


def test_files_are_kept_byte_for_byte_and_recorded_in_one_step(session, tmp_path):
    paths = written(tmp_path / "in", 3)
    progress = StopAt(-1)
    result = read_files(paths, progress)
    assert result.problems == ()
    assert progress.steps == [(0, 3), (1, 3), (2, 3), (3, 3)]
    added = keep_and_add(session, result.found, Progress())
    assert (len(added.photos), added.inspections_made, added.problems) == (3, 3, ())
    first = added.photos[0]
    assert (first.name, first.taken, first.camera_time, first.offset_minutes) == (
        "IMG_0.jpg",
        datetime(2026, 3, 2, 9, 5, 7),
        datetime(2026, 3, 2, 9, 5, 7),
        60,
    )
    assert (first.width_px, first.height_px) == (32, 24)
    for path, photo in zip(paths, added.photos, strict=True):
        assert (session.folder / "photos" / photo.file).read_bytes() == path.read_bytes()
        assert photo.file.startswith(f"{photo.taken:%Y%m%d-%H%M%S}-{photo.sha256[:16]}")
    session.undo()
    assert session.record.photos == {}


def test_a_pasted_picture_needs_no_file(session):
    data = picture(1, "", "PNG")
    (found,) = read_files([("pasted picture", data)], Progress()).found
    assert (found.kind, found.taken) == ("PNG", None)
    added = keep_and_add(session, [replace(found, taken=datetime(2026, 3, 2, 9))], Progress())
    assert added.photos[0].file.endswith(".png")
    assert added.photos[0].camera_time is None


def test_a_name_that_lies_does_not_make_the_ending_lie(session, tmp_path):
    path = tmp_path / "IMG_1.jpg"
    path.write_bytes(picture(1, kind="PNG"))
    added = keep_and_add(session, read_files([path], Progress()).found, Progress())
    assert (added.photos[0].name, added.photos[0].file[-4:]) == ("IMG_1.jpg", ".png")


def test_what_cannot_be_used_is_told_and_the_rest_goes_on(session, tmp_path):
    paths = written(tmp_path / "in", 2)
    (tmp_path / "in" / "copy.jpg").write_bytes(paths[0].read_bytes())
    (tmp_path / "in" / "letter.jpg").write_text("Dear Ada")
    (tmp_path / "in" / "short.jpg").write_bytes(picture(9)[:-400])
    (tmp_path / "in" / "empty.jpg").write_bytes(b"")
    names = ["IMG_0", "copy", "letter", "short", "empty", "missing", "IMG_1"]
    known = {hashlib.sha256(paths[1].read_bytes()).hexdigest()}
    result = read_files([tmp_path / "in" / f"{each}.jpg" for each in names] + [tmp_path], Progress(), known)
    assert [each.name for each in result.found] == ["IMG_0.jpg"]
    assert [each.sentence() for each in result.problems] == [
        "copy.jpg: This is the same picture as IMG_0.jpg; it is added once.",
        "letter.jpg: This is not a picture the program reads; use a JPEG, PNG, TIFF or HEIC file.",
        "short.jpg: The picture is damaged or cut short; copy it again from the camera or the phone.",
        "empty.jpg: The file is empty; copy it again from the camera or the phone.",
        "missing.jpg: There is no such file or folder; check the name.",
        "IMG_1.jpg: This photo is on the board already.",
        f"{tmp_path.name}: This is no file; choose a picture.",
    ]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.jpg")
    (problem,) = read_files([tmp_path / "pipe.jpg"], Progress()).problems
    assert problem.sentence() == "pipe.jpg: This is no file; choose a picture."


def test_too_many_bytes_are_refused_unread(tmp_path, monkeypatch):
    monkeypatch.setattr(intake, "MOST_PHOTO_BYTES", 1 << 20)
    with open(tmp_path / "large.jpg", "wb") as stream:
        stream.truncate((1 << 20) + 1)
    result = read_files([tmp_path / "large.jpg", ("pasted", bytes((1 << 20) + 1))], Progress())
    assert [each.sentence() for each in result.problems] == [
        "large.jpg: The picture has more than 1 MiB; save it smaller and try again.",
        "pasted: The picture has more than 1 MiB; save it smaller and try again.",
    ]


def test_a_folder_stands_for_its_pictures_by_name(tmp_path):
    folder = tmp_path / "in"
    folder.mkdir()
    for name in ("b.JPG", "a.heic", ".hidden.jpg", "notes.txt", "c.tiff"):
        (folder / name).write_bytes(b"x")
    (tmp_path / "none").mkdir()
    files, problems = with_folders_opened([tmp_path / "x.jpg", folder, tmp_path / "none"])
    assert [each.name for each in files] == ["x.jpg", "a.heic", "b.JPG", "c.tiff"]
    assert [each.sentence() for each in problems] == ["none: There are no pictures in this folder; choose another."]


@pytest.mark.parametrize("step", [0, 1, 2, 3])
def test_stopping_leaves_nothing_half_done(session, tmp_path, step):
    paths = written(tmp_path / "in", 3)
    with pytest.raises(Cancelled):
        read_files(paths, StopAt(step))
    found = read_files(paths, Progress()).found
    with pytest.raises(Cancelled):
        keep_and_add(session, found, StopAt(step))
    assert photos_in(session.folder) == []
    assert session.record.photos == {}


def test_a_file_that_changes_meanwhile_is_left_out(session, tmp_path):
    paths = written(tmp_path / "in", 3)
    found = read_files(paths, Progress()).found
    paths[0].write_bytes(picture(77))
    paths[1].unlink()
    added = keep_and_add(session, found, Progress())
    assert [each.name for each in added.photos] == ["IMG_2.jpg"]
    assert [each.sentence() for each in added.problems] == [
        "IMG_0.jpg: This file changed while it was being added; add it again.",
        "IMG_1.jpg: There is no such file or folder; check the name.",
    ]


def test_the_file_of_an_undone_photo_stays_and_is_used_again(session, tmp_path):
    found = read_files(written(tmp_path / "in", 1), Progress()).found
    keep_and_add(session, found, Progress())
    (file,) = photos_in(session.folder)
    session.undo()
    assert photos_in(session.folder) == [file]
    assert check_board(session.folder).notes == [
        "Files in the photos folder that the board does not name, such as photos added and undone: 1."
    ]
    keep_and_add(session, [replace(found[0], taken=datetime(2026, 5, 1, 12))], Progress())
    assert photos_in(session.folder) == [file]
    assert check_board(session.folder).notes == []


def test_a_damaged_leftover_is_not_used_again(session, tmp_path):
    found = read_files(written(tmp_path / "in", 1), Progress()).found
    keep_and_add(session, found, Progress())
    session.undo()
    (file,) = photos_in(session.folder)
    whole = (session.folder / "photos" / file).read_bytes()
    (session.folder / "photos" / file).write_bytes(bytes(len(whole)))
    keep_and_add(session, found, Progress())
    assert check_board(session.folder).problems == []


def test_a_refused_set_leaves_no_file_that_was_not_there(session, tmp_path):
    found = read_files(written(tmp_path / "in", 2), Progress()).found
    keep_and_add(session, found[:1], Progress())
    before = photos_in(session.folder)
    with pytest.raises(InputError, match="on the board already"):
        keep_and_add(session, found, Progress())
    assert photos_in(session.folder) == before
    assert len(session.record.photos) == 1


def test_what_was_kept_can_be_taken_away_again(session, tmp_path):
    kept = keep_photos(session.folder, read_files(written(tmp_path / "in", 2), Progress()).found, Progress())
    assert len(photos_in(session.folder)) == 2
    forget_kept(session.folder, kept)
    assert photos_in(session.folder) == []


def test_nothing_to_add_is_no_step(session):
    assert add_kept(session, keep_photos(session.folder, [], Progress())).photos == ()
    assert "photo" not in session.undo_summary().text().lower()
