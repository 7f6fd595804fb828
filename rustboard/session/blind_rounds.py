"""Questions the screens ask of a blind inspection, and the pictures they show in it. No Qt, nothing that reveals."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Final

from rustboard.board.blind import BlindInspection, BlindRound, Turn
from rustboard.board.model import Coupon, Inspection, Outline, Photo
from rustboard.board.record import BoardRecord
from rustboard.session.jobs import Progress
from rustboard.session.pictures import CutRequest, cut_pictures, outline_on_board, tile_px
from rustboard.session.session import Session

if TYPE_CHECKING:
    from rustboard.session.pictures import Mask, Rgb

ROUND_PX: Final = 900
"""Longer side of a coupon's picture in a blind round."""

MOST_ROUND_PIXELS: Final = 24_000_000
"""Pixels of all coupons of one round together."""

_COVER: Final = (128, 128, 128)


def rounds_of(record: BoardRecord, blind: BlindInspection) -> list[BlindRound]:
    """Return the rounds of a blind inspection in the order in which they were begun."""
    return sorted(
        (each for each in record.blind_rounds.values() if each.blind == blind.key), key=lambda each: each.key
    )


def graded_in(record: BoardRecord, of_round: BlindRound) -> int:
    """Return how many showings of a round have a grade."""
    return len(record.blind_grades.get(of_round.key, {}))


def next_showing(record: BoardRecord, of_round: BlindRound, after: int) -> int | None:
    """Return the next showing without a grade: after ``after`` (-1: from the first), then from the start, or None."""
    given = record.blind_grades.get(of_round.key, {})
    count = len(of_round.showings)
    numbers = [(after + 1 + step) % count for step in range(count)]
    return next((number for number in numbers if number not in given), None)


def photos_to_grade_from(record: BoardRecord, inspection: Inspection) -> list[Photo]:
    """Return the photos of an inspection in which the board was found, the newest first."""
    found = [
        each for each in record.photos.values() if each.inspection == inspection.key and each.mm_to_px is not None
    ]
    return sorted(found, key=lambda each: (each.taken or datetime.min, each.key), reverse=True)


def graded_openly(record: BoardRecord, inspection: int) -> int:
    """Return how many coupons have a grade at an inspection already."""
    return sum(inspection in graded for graded in record.current.values())


@dataclass(frozen=True, slots=True)
class RoundPictures:
    """What to cut for a round from photos.

    Attributes:
        cut: the coupons and the photo.
        covered: areas of each coupon that do not count, such as a label with its id, on the board in mm; they are
            painted over.
    """

    cut: CutRequest
    covered: Mapping[int, tuple[Outline, ...]]


def pictures_of(session: Session, blind: BlindInspection) -> RoundPictures | None:
    """Return what to cut for the rounds of a blind inspection; None at the bench, or when the photo is away."""
    record = session.record
    photo = record.photos.get(blind.photo or 0)
    file = None if photo is None else session.photo_file(photo.key)
    if photo is None or photo.mm_to_px is None or file is None:
        return None
    outlines = {each.key: outline_on_board(record, each) for each in record.coupons.values()}
    outlines = {key: outline for key, outline in outlines.items() if len(outline) >= 3}
    covered: dict[int, tuple[Outline, ...]] = {}
    for area in record.excluded_areas.values():
        covered[area.coupon] = (*covered.get(area.coupon, ()), area.outline_mm)
    longest = tile_px(outlines.values(), ROUND_PX, MOST_ROUND_PIXELS)
    # The photo is not named: its name may say what it shows.
    cut = CutRequest(photo.key, file, "", photo.mm_to_px, outlines, photo.sha256, longest)
    return RoundPictures(cut, covered)


def cut_round(request: RoundPictures, progress: Progress) -> dict[int, tuple[Rgb, Mask]]:
    """Cut every coupon from the photo, what does not count painted over, by coupon; a job.

    Raises:
        InputError: the photo cannot be read.
    """
    from rustboard.scales.surface import significant_surface

    found = {}
    for key, picture in cut_pictures(request.cut, progress).items():
        rgb = picture.rgb.copy()
        shape = (picture.mask.shape[0], picture.mask.shape[1])
        for outline in request.covered.get(key, ()):
            rgb[significant_surface(picture.outline_px(outline), shape)] = _COVER
        found[key] = (rgb, picture.mask)
    return found


def turned_by(turn: Turn) -> tuple[int, int]:
    """Return by which factors a picture's x and y are multiplied to turn it so."""
    return {"": (1, 1), "mirrored": (-1, 1), "half turn": (-1, -1), "mirrored half turn": (1, -1)}[turn]


def place_words(coupon: Coupon) -> str:
    """Return where a coupon hangs, as a person at the bench finds it: the label of its position."""
    return coupon.position.label if coupon.position is not None else ""
