"""Films of boards with painted photos: what is in them, in which order, and what is left when they fail."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import datetime, timedelta

import av
import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageSequence

from rustboard.board.measured import Measurement, PhotoPlacing
from rustboard.board.model import Board, Coupon, Inspection, Photo
from rustboard.board.position import Position
from rustboard.operations.boards import edit_board
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.measuring import keep_measuring, place_photo
from rustboard.operations.photos import add_photo
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.photo_files import photo_file
from rustboard.session.session import Session
from rustboard.session.timelapse import (
    film_coupons,
    film_frame,
    film_photos,
    film_photos_missing,
    film_request,
    film_seconds,
    write_timelapse,
)
from rustboard.store.board_store import create_board
from rustboard.store.photos import keep_photo
from rustboard.store.tables import BoardRow
from rustboard.support.problems import InputError

START = datetime(2026, 3, 2, 9)
SIZE_MM = (200, 150)
PX_PER_MM = 4
PLATE = ((50.0, 40.0), (110.0, 40.0), (110.0, 120.0), (50.0, 120.0))
MOTIONS = ((0.0, 0.0, 0.0, 1.0), (4.0, -3.0, 0.0, 1.0), (-2.0, 5.0, 0.0, 1.0))
GREYS = (60, 130, 200)


def photo_bytes(grey, dx, dy):
    """Return a photo of the board: the wall's grey says which; a red mark of 10 mm moves with the plate."""
    image = Image.new("RGB", tuple(each * PX_PER_MM for each in SIZE_MM), (grey, grey, grey))
    left, top = (60 + dx) * PX_PER_MM, (60 + dy) * PX_PER_MM
    ImageDraw.Draw(image).rectangle((left, top, left + 10 * PX_PER_MM - 1, top + 10 * PX_PER_MM - 1), (255, 0, 0))
    stream = io.BytesIO()
    image.save(stream, "PNG")
    return stream.getvalue()


@pytest.fixture
def session(tmp_path):
    """A board with a plate and three photos a week apart, added last one first."""
    folder = tmp_path / "Yard"
    board = Board("Yard", rows=1, columns=1, started=START, width_mm=SIZE_MM[0], height_mm=SIZE_MM[1])
    create_board(folder, BoardRow(board))
    session = Session(folder, clock=lambda: START)
    session.do(add_coupon, Coupon("C01", Position(0, 0), outline_mm=PLATE))
    session.do(add_inspection, Inspection(START + timedelta(days=14), "Ann"))
    place = tuple(map(float, (PX_PER_MM, 0, 0, 0, PX_PER_MM, 0, 0, 0, 1)))
    for number in (2, 1, 0):
        taken = START + timedelta(days=7 * number)
        dx, dy, _, _ = MOTIONS[number]
        file, digest = keep_photo(folder, f"P{number}.png", photo_bytes(GREYS[number], dx, dy), taken)
        size = [each * PX_PER_MM for each in SIZE_MM]
        visit = 1 if number == 2 else None
        session.do(add_photo, Photo(f"P{number}.png", file, digest, *size, taken, visit, place))
    yield session
    session.close()


def say_motions(session):
    """Record how the plate hung in each photo."""
    measurements = [
        Measurement(
            0, key, 1, 1, f"{key:064x}", 0.1, 0.0, 0.3, 1, 0.1, "S", 0.0, 0.0, 0.01,
            True, False, MOTIONS[int(photo.name[1])], "there", (), "",
        )
        for key, photo in session.record.photos.items()
    ]  # fmt: skip
    session.do(keep_measuring, (), measurements)


def line(day, when, grade):
    return f"{day:.0f}|{when:%Y-%m-%d}|{grade}"


def request_of(session, tmp_path, kind="webp", **more):
    more = {"line": None, **more}
    return film_request(session, film_photos(session), tmp_path / f"film.{kind}", kind, 0.2, **more)


def frames_in(path):
    """Return the pictures of a film, of the last one once."""
    if path.suffix == ".mp4":
        with av.open(str(path)) as film:
            return [frame.to_ndarray(format="rgb24") for frame in film.decode(video=0)]
    with Image.open(path) as film:
        return [np.asarray(frame.convert("RGB")) for frame in ImageSequence.Iterator(film)]


def mark_middle(rgb):
    """Return where the red mark's middle is, px."""
    red = (rgb[..., 0].astype(int) - rgb[..., 1]) > 40
    assert red.any()
    rows, columns = np.nonzero(red)
    return columns.mean(), rows.mean()


@pytest.mark.parametrize("kind", ["webp", "gif"])
def test_the_pictures_come_by_time_however_the_photos_were_added(session, tmp_path, kind):
    result = write_timelapse(request_of(session, tmp_path, kind), Progress())
    assert (result.pictures, result.problems) == (3, ())
    corners = [int(frame[5, 5, 0]) for frame in frames_in(result.target)]
    assert corners == pytest.approx(GREYS, abs=6)


def test_an_mp4_takes_as_long_as_was_said(session, tmp_path):
    result = write_timelapse(request_of(session, tmp_path, "mp4"), Progress())
    frames = frames_in(result.target)
    assert len(frames) / 25 == pytest.approx(film_seconds(3, 0.2))
    changes = [int(frame[5, 5, 0]) for frame in frames]
    assert changes == sorted(changes)
    assert (changes[0], changes[-1]) == pytest.approx((GREYS[0], GREYS[-1]), abs=6)


def test_a_plate_that_moved_stays_where_it_is_in_the_film(session, tmp_path):
    restless = write_timelapse(request_of(session, tmp_path, coupon=1), Progress())
    places = np.array([mark_middle(frame) for frame in frames_in(restless.target)])
    assert np.ptp(places, axis=0).min() > 10, "without motions the mark jumps, so the next lines prove something"
    say_motions(session)
    steady = write_timelapse(request_of(session, tmp_path, coupon=1), Progress())
    places = np.array([mark_middle(frame) for frame in frames_in(steady.target)])
    assert np.ptp(places, axis=0).max() < 0.6


def test_day_date_and_the_grade_of_then_are_in_the_line(session, tmp_path):
    session.do(grade_coupon, GivenGrade(1, 1, 7, "S"))
    plate = request_of(session, tmp_path, line=line, coupon=1)
    assert [each.line for each in plate.pictures] == ["0|2026-03-02|", "7|2026-03-09|", "14|2026-03-16|7-S"]
    board = request_of(session, tmp_path, line=line)
    assert [each.line for each in board.pictures] == ["0|2026-03-02|", "7|2026-03-09|", "14|2026-03-16|"]
    assert [each.grades for each in board.pictures] == [(), (), ((50.0, 40.0, 7, "7-S"),)]


def test_no_day_is_stamped_while_nobody_said_when_exposure_began(session, tmp_path):
    session.do(edit_board, replace(session.record.board, started=None))
    session.record.inspections.clear()
    seen = []
    request_of(session, tmp_path, line=lambda day, when, grade: str(seen.append(day)))
    assert seen == [None, None, None]


def test_stamps_take_a_band_and_without_them_there_is_none(session, tmp_path):
    plain = film_frame(request_of(session, tmp_path), Progress())
    stamped = film_frame(request_of(session, tmp_path, line=line), Progress())
    assert stamped.shape[0] > plain.shape[0]
    assert np.array_equal(stamped[: plain.shape[0]], plain)


@pytest.mark.parametrize("when", [0, 1, 3])
def test_a_film_that_is_stopped_leaves_nothing(session, tmp_path, when):
    progress = Progress(lambda done, total: progress.cancel() if done >= when else None)
    before = sorted(tmp_path.iterdir())
    with pytest.raises(Cancelled):
        write_timelapse(request_of(session, tmp_path), progress)
    assert sorted(tmp_path.iterdir()) == before


def test_a_film_that_is_stopped_leaves_the_older_one_as_it_was(session, tmp_path):
    request = request_of(session, tmp_path)
    request.target.write_bytes(b"older")
    progress = Progress(lambda done, total: progress.cancel())
    with pytest.raises(Cancelled):
        write_timelapse(request, progress)
    assert request.target.read_bytes() == b"older"


def test_a_missing_photo_is_named_and_the_film_made_without_it(session, tmp_path):
    gone = film_photos(session)[1]
    photo_file(session.folder, gone).path.unlink()
    assert [each.name for each in film_photos_missing(session)] == ["P1.png"]
    assert write_timelapse(request_of(session, tmp_path), Progress()).pictures == 2


def test_a_photo_that_goes_or_changes_meanwhile_is_left_out_and_told(session, tmp_path):
    request = request_of(session, tmp_path)
    request.pictures[0].file.path.unlink()
    request.pictures[2].file.path.write_bytes(b"something else")
    result = write_timelapse(request, Progress())
    assert result.pictures == 1
    assert [each.file for each in result.problems] == ["P0.png", "P2.png"]


def test_when_no_photo_can_be_read_the_reason_is_told_and_there_is_no_film(session, tmp_path):
    request = request_of(session, tmp_path)
    for each in request.pictures:
        each.file.path.write_bytes(b"something else")
    with pytest.raises(InputError, match="not the one that was added"):
        write_timelapse(request, Progress())
    assert not request.target.exists()


def test_a_board_without_size_can_be_filmed_coupon_by_coupon_only(session, tmp_path):
    session.do(edit_board, replace(session.record.board, width_mm=0.0, height_mm=0.0))
    with pytest.raises(InputError, match="width and height"):
        request_of(session, tmp_path)
    assert write_timelapse(request_of(session, tmp_path, coupon=1), Progress()).pictures == 3


def test_a_coupon_without_outline_cannot_be_filmed(session, tmp_path):
    session.do(add_coupon, Coupon("C02"))
    assert film_coupons(session) == [1]
    with pytest.raises(InputError, match="no outline"):
        request_of(session, tmp_path, coupon=2)


def test_only_photos_in_which_the_board_was_found_make_a_film(session, tmp_path):
    first = film_photos(session)[0]
    session.do(place_photo, PhotoPlacing(first.key, None, because="Too dark."))
    assert [each.name for each in film_photos(session)] == ["P1.png", "P2.png"]
    assert film_photos_missing(session) == []
    for each in film_photos(session):
        session.do(place_photo, PhotoPlacing(each.key, None, because="Too dark."))
    assert (film_photos(session), film_coupons(session)) == ([], [])
    with pytest.raises(InputError, match="add photos"):
        request_of(session, tmp_path)
