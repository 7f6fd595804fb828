"""The time-lapse of a board, or of one coupon, from the photos in which the board was found."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.board.grade import written
from rustboard.board.model import Grading, Photo
from rustboard.scales.grade_colours import GRADE_COLOURS, ink_on
from rustboard.session.coupon_frames import first_placed, frames_of, shown_frame
from rustboard.session.jobs import Progress
from rustboard.session.photo_days import photos_in_order, time_of
from rustboard.session.photo_files import PhotoFile, photo_file
from rustboard.session.pictures import outline_on_board
from rustboard.session.session import Session
from rustboard.support.problems import InputError, Problem

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from rustboard.photo.looks import CouponFrame
    from rustboard.report.film import FilmKind, Stamp

    Rgb = NDArray[np.uint8]

BOARD_FILM_PX: Final = 1600
"""Width of the straightened board in a film."""

_LEAST_COUPON_PX: Final = 700
_STILL: Final = (0.0, 0.0, 0.0, 1.0)
"""How a coupon hangs that was not measured: where its outline is."""

Line = Callable[[float | None, datetime, str], str]
"""Makes the line under a picture from the day of exposure (None while nobody said when it began), the time, and the
grade (empty for a whole board)."""


@dataclass(frozen=True, slots=True)
class FilmPicture:
    """One picture of a film.

    Attributes:
        file: the photo.
        line: the text under it; without one it has no band.
        motion: how the coupon of the film hung: dx mm, dy mm, turn in degrees, scale.
        grades: place on the board (mm) and grade of each coupon graded by then, for a film of the board.
    """

    file: PhotoFile
    line: str
    motion: tuple[float, float, float, float]
    grades: tuple[tuple[float, float, int, str], ...]


@dataclass(frozen=True, slots=True)
class FilmRequest:
    """A film to write.

    Attributes:
        frame: the coupon's grid for a film of one coupon, or None for one of the board.
    """

    pictures: tuple[FilmPicture, ...]
    target: Path
    kind: FilmKind
    seconds_each: float
    width_mm: float
    height_mm: float
    frame: CouponFrame | None


@dataclass(frozen=True, slots=True)
class FilmResult:
    """A film that was written.

    Attributes:
        target: the file.
        pictures: how many it has.
        problems: of the photos that had to be left out.
    """

    target: Path
    pictures: int
    problems: tuple[Problem, ...]


def film_photos(session: Session) -> list[Photo]:
    """Return the photos that a film can be made of, by time: found, dated and there."""
    return [each for each in _wanted(session) if photo_file(session.folder, each) is not None]


def film_photos_missing(session: Session) -> list[Photo]:
    """Return the photos, by time, that a film would have if their files were there."""
    return [each for each in _wanted(session) if photo_file(session.folder, each) is None]


def _wanted(session: Session) -> list[Photo]:
    record = session.record
    return [
        each for each in photos_in_order(record) if each.mm_to_px is not None and time_of(record, each) is not None
    ]


def film_coupons(session: Session) -> list[int]:
    """Return the coupons that can be filmed, in reading order: they hang on the board and have an outline."""
    first = first_placed(session.record)
    return [] if first is None else list(frames_of(session.record, first))


def film_seconds(pictures: int, seconds_each: float) -> float:
    """Return how long a film takes; its last picture stands longer."""
    from rustboard.report.film import LAST_HOLDS

    return (pictures - 1 + LAST_HOLDS) * seconds_each if pictures else 0.0


def film_request(
    session: Session,
    photos: Sequence[Photo],
    target: Path,
    kind: FilmKind,
    seconds_each: float,
    line: Line | None,
    coupon: int | None = None,
) -> FilmRequest:
    """Return how to write a film of the board, or of one coupon.

    Args:
        session: the board.
        photos: some of `film_photos`, by time.
        target: the file.
        kind: of film.
        seconds_each: how long each picture stands.
        line: the text under each picture; without one there are no stamps at all.
        coupon: key, or None for the whole board.

    Raises:
        InputError: there is no photo, the coupon has no outline, or the board has no size.
    """
    record, first = session.record, first_placed(session.record)
    if not photos or first is None:
        raise InputError("There is no photo for a film yet: add photos in which the board is found.")
    frame = None if coupon is None else frames_of(record, first).get(coupon)
    if coupon is not None and frame is None:
        raise InputError("This coupon has no outline or hangs nowhere; draw its outline first.")
    if coupon is None and not (record.board.width_mm and record.board.height_mm):
        raise InputError("A film of the board needs its width and height in mm; enter them first.")
    pictures = [_picture(session, each, line, coupon) for each in photos]
    found = tuple(each for each in pictures if each is not None)
    return FilmRequest(found, target, kind, seconds_each, record.board.width_mm, record.board.height_mm, frame)


def _picture(session: Session, photo: Photo, line: Line | None, coupon: int | None) -> FilmPicture | None:
    record = session.record
    file, when = photo_file(session.folder, photo), time_of(record, photo)
    if file is None or when is None:
        return None
    day = None if record.day_zero() is None else record.day_of(when)
    if coupon is None:
        if line is None:
            return FilmPicture(file, "", _STILL, ())
        return FilmPicture(file, line(day, when, ""), _STILL, tuple(_grades(session, photo)))
    grading = _grade_by(session, photo, coupon)
    measured = record.measured.get(photo.key, {}).get(coupon)
    motion = _STILL if measured is None else measured.motion
    text = "" if grading is None else written(grading.grade, grading.distribution)
    return FilmPicture(file, "" if line is None else line(day, when, text), motion, ())


def _grades(session: Session, photo: Photo) -> Iterator[tuple[float, float, int, str]]:
    for coupon in session.record.coupons_in_order():
        grading = _grade_by(session, photo, coupon.key)
        outline = outline_on_board(session.record, coupon)
        if grading is not None and outline:
            left, top = min(x for x, _ in outline), min(y for _, y in outline)
            yield left, top, grading.grade, written(grading.grade, grading.distribution)


def _grade_by(session: Session, photo: Photo, coupon: int) -> Grading | None:
    """Return the newest grade a coupon had when a photo was taken."""
    inspection = session.record.inspections.get(photo.inspection or 0)
    return None if inspection is None else session.record.latest(coupon, inspection)


def write_timelapse(request: FilmRequest, progress: Progress) -> FilmResult:
    """Write a film. A job: when it is cancelled or fails, no file is left.

    A photo that cannot be read is left out and told of.

    Raises:
        InputError: no photo can be read, or the disk refused.
    """
    from rustboard.report.film import write_film

    problems: list[Problem] = []
    total = len(request.pictures)

    def still_wanted() -> None:
        progress.step(total, total)

    pictures = _drawn(request, progress, problems)
    count = write_film(pictures, request.target, request.kind, request.seconds_each, total, still_wanted)
    return FilmResult(request.target, count, tuple(problems))


def film_frame(request: FilmRequest, progress: Progress) -> Rgb:
    """Return the first picture of a film as it will be, H x W x 3. A job.

    Raises:
        InputError: the photo cannot be read.
    """
    progress.step(0, 1)
    return _drawn_one(request, request.pictures[0])


def _drawn(request: FilmRequest, progress: Progress, problems: list[Problem]) -> Iterator[Rgb]:
    for number, picture in enumerate(request.pictures):
        progress.step(number, len(request.pictures))
        try:
            drawn = _drawn_one(request, picture)
        except InputError as error:
            problems.append(replace(error.problem, file=picture.file.photo.name))
            continue
        yield drawn
    progress.step(len(request.pictures), len(request.pictures))
    if len(problems) == len(request.pictures):
        raise InputError(problems[0].what, file=problems[0].file)


def _drawn_one(request: FilmRequest, picture: FilmPicture) -> Rgb:
    from rustboard.report.film import stamped

    rgb, scale = _coupon(request, picture) if request.frame is not None else _board(request, picture)
    return stamped(rgb, picture.line, _stamps(picture, scale)) if picture.line else rgb


def _board(request: FilmRequest, picture: FilmPicture) -> tuple[Rgb, float]:
    from rustboard.session.board_views import BoardViewRequest, board_view

    view = board_view(BoardViewRequest(picture.file, request.width_mm, request.height_mm, BOARD_FILM_PX), Progress())
    return view.rgb, view.pixels_per_mm


def _coupon(request: FilmRequest, picture: FilmPicture) -> tuple[Rgb, float]:
    from rustboard.photo.cutting import cut_grid
    from rustboard.photo.decode import upright_pixels
    from rustboard.photo.looks import Motion

    frame, placement = request.frame, picture.file.placement()
    if frame is None or placement is None:
        raise InputError("The board was not found in this photo.", file=picture.file.photo.name)
    frame = shown_frame(frame)
    height, width = frame.shape
    larger = max(1.0, _LEAST_COUPON_PX / max(height, width))
    frame = replace(frame, pixels_per_mm=frame.pixels_per_mm * larger)
    photo = upright_pixels(picture.file.read(), picture.file.photo.name)
    return cut_grid(photo, placement, frame, Motion(*picture.motion)).rgb, frame.pixels_per_mm


def _stamps(picture: FilmPicture, scale: float) -> list[Stamp]:
    from rustboard.report.film import Stamp

    return [
        Stamp(text, x * scale, y * scale, _rgb(ink_on(GRADE_COLOURS[grade])), _rgb(GRADE_COLOURS[grade]))
        for x, y, grade, text in picture.grades
    ]


def _rgb(colour: str) -> tuple[int, int, int]:
    red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    return red, green, blue
