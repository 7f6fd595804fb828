"""``rustboard add-photos``."""

from __future__ import annotations

import io
import json
from contextlib import closing
from pathlib import Path

import numpy as np
import pytest
from command_line import Rustboard, plan_text
from PIL import ExifTags, Image

from rustboard.app.commands.add_photos import _expanded
from rustboard.photo.homography import as_matrix, mapped
from rustboard.session.session import Session


def picture(number: int, taken: str = "2026:03:02 09:05:07", size: tuple[int, int] = (60, 40)) -> bytes:
    generator = np.random.default_rng(number)
    notes = Image.Exif()
    if taken:
        notes.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = taken
    stream = io.BytesIO()
    image = Image.fromarray(generator.integers(0, 256, (size[1], size[0], 3), dtype=np.uint8))
    image.save(stream, "JPEG", exif=notes.tobytes())
    return stream.getvalue()


@pytest.fixture
def photos(tmp_path: Path) -> Path:
    """A folder with two photos of two days."""
    folder = tmp_path / "camera"
    folder.mkdir()
    (folder / "IMG_1.jpg").write_bytes(picture(1))
    (folder / "IMG_2.jpg").write_bytes(picture(2, "2026:03:03 09:05:07"))
    return folder


@pytest.fixture
def sized_board(tmp_path: Path, rustboard: Rustboard) -> Path:
    """A board of 700 x 400 mm."""
    plan = json.loads(plan_text())
    plan["board"] |= {"width_mm": 700, "height_mm": 400}
    (tmp_path / "sized.json").write_text(json.dumps(plan), encoding="utf-8")
    assert rustboard("new", tmp_path / "sized", "--plan", tmp_path / "sized.json").code == 0
    return tmp_path / "sized"


def test_photos_of_a_folder_are_added(rustboard: Rustboard, board: Path, photos: Path) -> None:
    finished = rustboard("add-photos", board, photos, "--json")
    assert (finished.code, finished.err) == (0, "")
    assert list(finished.data) == ["board", "added", "problems"]
    assert (finished.data["board"], finished.data["problems"]) == ("Yard fence", [])
    first, second = finished.data["added"]
    assert first == {
        "file": "IMG_1.jpg",
        "taken": "2026-03-02T09:05:07",
        "inspection": "2026-03-02T09:05:07",
        "stored": first["stored"],
    }
    assert second["taken"] == "2026-03-03T09:05:07"
    assert (board / "photos" / first["stored"]).read_bytes() == (photos / "IMG_1.jpg").read_bytes()


def test_the_text_counts(rustboard: Rustboard, graded_board: Path, photos: Path) -> None:
    assert rustboard("add-photos", graded_board, photos).out == "Yard fence: 2 photos added, 1 new inspection.\n"


def test_the_same_photos_again_change_nothing_and_are_listed(rustboard: Rustboard, board: Path, photos: Path) -> None:
    rustboard("add-photos", board, photos)
    (photos / "IMG_3.jpg").write_bytes(picture(3))
    finished = rustboard("add-photos", board, photos)
    assert finished.code == 1
    assert finished.sentences == [
        "IMG_1.jpg: This photo is on the board already.",
        "IMG_2.jpg: This photo is on the board already.",
    ]
    assert finished.out == "Yard fence: 1 photo added, 0 new inspections.\n"
    finished = rustboard("add-photos", board, photos)
    assert (finished.code, len(finished.sentences)) == (1, 3)
    assert finished.out == "No photo was added; the board Yard fence is as it was.\n"


def test_what_is_no_photo_is_listed_and_the_others_go_on(rustboard: Rustboard, board: Path, photos: Path) -> None:
    (photos / "letter.jpg").write_text("Dear Ada")
    finished = rustboard("add-photos", board, photos, "--json")
    assert finished.code == 1
    assert len(finished.data["added"]) == 2
    assert [each["file"] for each in finished.data["problems"]] == ["letter.jpg"]
    finished = rustboard("add-photos", board, photos / "letter.jpg", photos / "missing.jpg")
    assert (finished.code, len(finished.sentences)) == (2, 2)


@pytest.mark.parametrize(
    ("typed", "taken"),
    [
        ("2026-04-01T10:30", "2026-04-01T10:30:00"),
        ("2026-04-01 10:30:15", "2026-04-01T10:30:15"),
        ("2026-04-01T10:30:00+02:00", "2026-04-01T10:30:00"),
        ("2026-04-01", "2026-04-01T12:00:00"),
        ("25.04.2026 10:30", "2026-04-25T10:30:00"),
        ("4/25/2026", "2026-04-25T12:00:00"),
    ],
)
def test_the_time_that_is_stated_counts(
    rustboard: Rustboard, board: Path, photos: Path, typed: str, taken: str
) -> None:
    finished = rustboard("add-photos", board, photos, "--taken", typed, "--json")
    assert [each["taken"] for each in finished.data["added"]] == [taken, taken]
    with closing(Session(board, read_only=True)) as session:
        assert {str(each.camera_time) for each in session.record.photos.values()} == {
            "2026-03-02 09:05:07",
            "2026-03-03 09:05:07",
        }


@pytest.mark.parametrize("typed", ["yesterday", "01.02.2026", "2026-02-30", "2026-01-01T25:00", "", "1066-10-14"])
def test_a_time_that_cannot_be_read_is_explained(rustboard: Rustboard, board: Path, photos: Path, typed: str) -> None:
    finished = rustboard("add-photos", board, photos, "--taken", typed)
    assert (finished.code, len(finished.sentences), finished.out) == (2, 1, "")
    assert not (board / "photos").exists()


def test_a_photo_without_a_time_needs_one(rustboard: Rustboard, board: Path, photos: Path) -> None:
    (photos / "IMG_3.jpg").write_bytes(picture(3, ""))
    finished = rustboard("add-photos", board, photos)
    assert finished.code == 1
    assert finished.sentences == [
        "IMG_3.jpg: The picture does not say when it was taken; add it with --taken and the time."
    ]
    assert rustboard("add-photos", board, photos / "IMG_3.jpg", "--taken", "2026-03-04").code == 0


CORNERS = ((5.0, 3.0), (55.5, 4.0), (54.0, 36.0), (6.0, 35.0))


@pytest.mark.parametrize("typed", ["5,3 55.5,4 54,36 6,35", "  5,3  55.5,4;54,36; 6,35 "])
def test_the_corners_place_the_board(rustboard: Rustboard, sized_board: Path, photos: Path, typed: str) -> None:
    assert rustboard("add-photos", sized_board, photos / "IMG_1.jpg", "--corners", typed).code == 0
    with closing(Session(sized_board, read_only=True)) as session:
        (photo,) = session.record.photos.values()
    assert photo.placed_by == "corners"
    assert photo.mm_to_px is not None
    found = mapped(as_matrix(photo.mm_to_px), [(0, 0), (700, 0), (700, 400), (0, 400)])
    np.testing.assert_allclose(found, CORNERS, atol=1e-6)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("5,3 55,4 54,36", "are not four corners; give four corners as x,y"),
        ("5,0,3,0 55,0,4,0 54,0,36,0 6,0,35,0", "are not four corners"),
        ("5 3 55 4 54 36 6 35", "are not four corners"),
        ("a,b c,d e,f g,h", "are not four corners"),
        ("", "are not four corners"),
        ("5,3 6,35 54,36 55,4", "give them clockwise"),
        ("5,3 5,3 5,3 5,3", "not the corners of a board"),
    ],
)
def test_corners_that_place_nothing_are_explained(
    rustboard: Rustboard, sized_board: Path, photos: Path, typed: str, said: str
) -> None:
    finished = rustboard("add-photos", sized_board, photos, "--corners", typed)
    assert (finished.code, len(finished.sentences)) == (2, 1)
    assert said in finished.err
    assert not (sized_board / "photos").exists()


def test_corners_need_a_board_with_a_size(rustboard: Rustboard, board: Path, photos: Path) -> None:
    finished = rustboard("add-photos", board, photos, "--corners", "5,3 55,4 54,36 6,35")
    assert finished.code == 2
    assert "needs its width and height in mm" in finished.err


def test_corners_of_another_picture_are_refused_for_the_picture(
    rustboard: Rustboard, sized_board: Path, photos: Path
) -> None:
    finished = rustboard("add-photos", sized_board, photos, "--corners", "5,3 4000,4 4000,3000 6,3000")
    assert (finished.code, len(finished.sentences)) == (2, 2)
    assert "The corner 4000,4 is far outside this picture of 60 x 40 pixels" in finished.err


def test_wildcards_that_the_shell_left_are_looked_up(photos: Path) -> None:
    assert [each.name for each in _expanded([str(photos / "IMG_?.jpg")])] == ["IMG_1.jpg", "IMG_2.jpg"]
    (photos / "odd[1].jpg").write_bytes(b"x")
    assert [each.name for each in _expanded([str(photos / "odd[1].jpg")])] == ["odd[1].jpg"]
    assert [each.name for each in _expanded([str(photos / "none*.jpg")])] == ["none*.jpg"]


def test_a_board_that_is_open_elsewhere_is_not_written(rustboard: Rustboard, board: Path, photos: Path) -> None:
    with closing(Session(board, who="Ada")):
        finished = rustboard("add-photos", board, photos)
    assert finished.code == 2
    assert finished.err.endswith("no photo was added.\n")
    assert not (board / "photos").exists()
