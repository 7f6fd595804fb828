"""Finding the board in a photo: by itself as a job, or by four corners that a person taps."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from statistics import median
from typing import Final

from rustboard.board.measured import PhotoPlacing
from rustboard.board.model import Board, Marker, Outline, Photo
from rustboard.board.record import BoardRecord
from rustboard.session.jobs import Progress
from rustboard.session.photo_days import photos_in_order
from rustboard.session.photo_files import PhotoFile, photo_file
from rustboard.session.session import Session
from rustboard.support.problems import InputError

MOST_EARLIER: Final = 3
"""With how many placed photos a photo without markers is compared, the nearest in time first."""


@dataclass(frozen=True, slots=True)
class FindRequest:
    """In which photo to find the board.

    Attributes:
        earlier: placed photos to compare the view with, the most promising first.
        outlines: of the coupons, which may hang otherwise on each photo.
    """

    file: PhotoFile
    board: Board
    markers: tuple[Marker, ...]
    earlier: tuple[PhotoFile, ...]
    outlines: tuple[Outline, ...] = ()


def find_request(session: Session, photo: Photo) -> FindRequest | None:
    """Return how to find the board in a photo; None when its file is missing."""
    file = photo_file(session.folder, photo)
    if file is None:
        return None
    record = session.record
    near = [photo_file(session.folder, each) for each in placed_nearby(record, photo)]
    outlines = tuple(each.outline_mm for each in record.coupons.values() if each.outline_mm)
    earlier = tuple(each for each in near if each is not None)
    return FindRequest(file, record.board, record.markers, earlier, outlines)


def placed_nearby(record: BoardRecord, photo: Photo) -> list[Photo]:
    """Return the placed photos nearest in time to a photo, nearest first, at most `MOST_EARLIER`."""
    order = photos_in_order(record)
    place = next((number for number, each in enumerate(order) if each.key == photo.key), 0)
    placed = [
        (abs(number - place), number, each)
        for number, each in enumerate(order)
        if each.mm_to_px is not None and each.key != photo.key
    ]
    return [each for _, _, each in sorted(placed, key=lambda item: item[:2])[:MOST_EARLIER]]


def find_board_in(request: FindRequest, progress: Progress) -> PhotoPlacing:
    """Find the board in a photo; a job. What cannot be found comes back with its reason.

    Raises:
        InputError: the photo cannot be read.
    """
    from rustboard.photo.decode import upright_pixels
    from rustboard.photo.finding.board import find_board
    from rustboard.photo.finding.view import PlacedView, placed_view

    progress.step(0, 2)
    photo = request.file.photo
    picture = upright_pixels(request.file.read(), photo.name)
    progress.step(1, 2)
    views: list[PlacedView] = []
    for each in request.earlier:
        placement = each.placement()
        if placement is not None:
            with suppress(InputError):  # an earlier photo that cannot be read is only one to compare with less
                picture_then = upright_pixels(each.read(), each.photo.name)
                views.append(placed_view(picture_then, placement, request.board, request.outlines))
    try:
        found = find_board(picture, request.board, request.markers, views)
    except InputError as error:
        return PhotoPlacing(photo.key, None, because=error.problem.what)
    return PhotoPlacing(
        photo.key,
        found.placement.mm_to_px,
        found.placement.lens,
        found.method,
        found.error_px,
        warnings=found.warnings,
    )


def place_by_taps(record: BoardRecord, photo: Photo, corners_px: Sequence[tuple[float, float]]) -> PhotoPlacing:
    """Return where a photo shows the board when its corners are where a person tapped them.

    Args:
        record: the board.
        photo: in which they were tapped.
        corners_px: in pixels of the upright photo, clockwise from the board's top left.

    Raises:
        InputError: they are not the corners of a board, the board has no size, or it could not be measured there.
    """
    from rustboard.photo.finding.corners import placed_by_taps

    found = placed_by_taps(record.board, corners_px, (photo.width_px, photo.height_px), lens_of_camera(record, photo))
    place = found.placement
    return PhotoPlacing(photo.key, place.mm_to_px, place.lens, "corners", warnings=found.warnings)


def lens_of_camera(record: BoardRecord, photo: Photo) -> float:
    """Return how the lens of a photo's camera bends, by other photos of that size; 0 where none tells."""
    size = {photo.width_px, photo.height_px}
    told = [
        each.lens
        for each in record.photos.values()
        if each.placed_by in ("markers", "view") and {each.width_px, each.height_px} == size and each.key != photo.key
    ]
    return median(told) if told else 0.0
