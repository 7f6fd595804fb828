"""Pictures of coupons that do not say which they are: labels painted over, turned, and the photo not named. No Qt."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from rustboard.board.blind import Turn
from rustboard.board.model import Outline, Photo
from rustboard.board.record import BoardRecord
from rustboard.session.coupon_frames import excluded_on_board
from rustboard.session.jobs import Progress
from rustboard.session.pictures import CutRequest, cut_pictures, outline_on_board, tile_px
from rustboard.session.session import Session
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    from rustboard.session.pictures import Mask, Rgb

LONGEST_PX: Final = 900
"""Longer side of a coupon's picture."""

MOST_PIXELS: Final = 24_000_000
"""Pixels of all coupons of one photo together."""

_COVER: Final = (128, 128, 128)


@dataclass(frozen=True, slots=True)
class NamelessPictures:
    """What to cut from a photo.

    Attributes:
        cut: the coupons and the photo.
        covered: areas of each coupon that do not count, such as a label with its id, on the board in mm; they are
            painted over.
    """

    cut: CutRequest
    covered: Mapping[int, tuple[Outline, ...]]


def nameless_pictures(
    session: Session, photo_key: int | None, coupons: Collection[int] | None = None
) -> NamelessPictures | None:
    """Return what to cut from a photo, of all coupons or of these; None when the photo is away or not placed."""
    record = session.record
    photo = record.photos.get(photo_key or 0)
    file = None if photo is None else session.photo_file(photo.key)
    if photo is None or photo.mm_to_px is None or file is None:
        return None
    wanted = record.coupons.keys() if coupons is None else coupons
    outlines = {key: outline_on_board(record, each) for key, each in record.coupons.items() if key in wanted}
    outlines = {key: outline for key, outline in outlines.items() if len(outline) >= 3}
    covered = {key: excluded_on_board(record, record.coupons[key]) for key in outlines}
    longest = tile_px(outlines.values(), LONGEST_PX, MOST_PIXELS)
    # The photo is not named: its name may say what it shows.
    cut = CutRequest(photo.key, file, "", photo.mm_to_px, outlines, photo.sha256, longest)
    return NamelessPictures(cut, covered)


def cut_nameless(request: NamelessPictures, progress: Progress) -> dict[int, tuple[Rgb, Mask]]:
    """Cut every coupon from the photo, what does not count painted over, by coupon; a job.

    Raises:
        InputError: the photo cannot be read; its name is not told.
    """
    from rustboard.scales.surface import significant_surface

    try:
        pictures = cut_pictures(request.cut, progress)
    except InputError as error:  # what the disk refuses names the file
        raise InputError(error.problem.what) from error
    found = {}
    for key, picture in pictures.items():
        rgb = picture.rgb.copy()
        shape = (picture.mask.shape[0], picture.mask.shape[1])
        for outline in request.covered.get(key, ()):
            rgb[significant_surface(picture.outline_px(outline), shape)] = _COVER
        found[key] = (rgb, picture.mask)
    return found


def turned_by(turn: Turn) -> tuple[int, int]:
    """Return by which factors a picture's x and y are multiplied to turn it so."""
    return {"": (1, 1), "mirrored": (-1, 1), "half turn": (-1, -1), "mirrored half turn": (1, -1)}[turn]


def coupons_shown(record: BoardRecord, photo: Photo) -> tuple[int, ...]:
    """Return the keys of the coupons on the board whose middle lies in a placed photo, ascending."""
    shown = []
    for coupon in record.coupons.values():
        outline = outline_on_board(record, coupon) if coupon.position is not None else ()
        if len(outline) >= 3 and photo.mm_to_px is not None and _is_in(photo, photo.mm_to_px, outline):
            shown.append(coupon.key)
    return tuple(sorted(shown))


def _is_in(photo: Photo, place: tuple[float, ...], outline: Outline) -> bool:
    x = sum(each[0] for each in outline) / len(outline)
    y = sum(each[1] for each in outline) / len(outline)
    a, b, c, d, e, f, g, h, i = place
    depth = g * x + h * y + i
    if depth <= 0:
        return False
    across, down = (a * x + b * y + c) / depth, (d * x + e * y + f) / depth
    return 0 <= across < photo.width_px and 0 <= down < photo.height_px
