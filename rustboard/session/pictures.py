"""Pictures for the window, made beside it: coupons cut from photos, reference pictures for grading.

Every function here is a job: frozen request in, arrays out, nothing of the session touched.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from rustboard.board.model import Coupon, Outline
from rustboard.board.outline import bounds
from rustboard.board.record import BoardRecord
from rustboard.session.jobs import Progress
from rustboard.support.files import read_bounded
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from rustboard.photo.crops import CouponPicture
    from rustboard.scales.rust_paint import GrowingRust

    Rgb = NDArray[np.uint8]
    Mask = NDArray[np.bool_]

MOST_PHOTO_BYTES = 200 << 20
TILE_PX = 420
"""Longer side of a coupon's picture as tiles and the grading panel show it."""

MOST_TILE_PIXELS = 4_000_000
"""Pixels of all coupons of one photo together: where there are many, their tiles are small anyway."""

LARGE_PX = 1_440
"""Longer side of a coupon's picture to look at it large."""

_LONGEST_PX = 640
_MARGIN_MM = 2.0
_CELL_SHARE = 0.8

Pattern = Literal["S", "G", "P"]
At = Literal["lightest", "middle", "heaviest"]


@dataclass(frozen=True, slots=True)
class CutRequest:
    """Which coupons to cut from which photo.

    Attributes:
        photo: key of the photo. file: where it is. name: as the user knows it.
        outlines: in mm on the board, by coupon key.
        sha256: of the photo when it was added; another content is not shown.
        longest_px: of each picture.
    """

    photo: int
    file: Path
    name: str
    mm_to_px: tuple[float, ...]
    outlines: Mapping[int, Outline]
    sha256: str = ""
    longest_px: int = TILE_PX


def outline_on_board(record: BoardRecord, coupon: Coupon) -> Outline:
    """Return a coupon's outline; where none is given, most of its cell of the board, or nothing when off it."""
    if coupon.outline_mm or coupon.position is None:
        return coupon.outline_mm
    board = record.board
    width, height = board.width_mm / board.columns, board.height_mm / board.rows
    x, y = (coupon.position.column + 0.5) * width, (coupon.position.row + 0.5) * height
    half_width, half_height = width * _CELL_SHARE / 2, height * _CELL_SHARE / 2
    if half_width <= 0 or half_height <= 0:
        return ()
    return (
        (x - half_width, y - half_height),
        (x + half_width, y - half_height),
        (x + half_width, y + half_height),
        (x - half_width, y + half_height),
    )


def tile_px(outlines: Iterable[Outline], longest_px: int = TILE_PX, most_pixels: int = MOST_TILE_PIXELS) -> int:
    """Return the longer side to cut the coupons of one photo at, so that all together have no more pixels."""
    area = 0.0
    for outline in outlines:
        _, _, width, height = _extent(outline)
        shorter, longer = sorted((width + 2 * _MARGIN_MM, height + 2 * _MARGIN_MM))
        area += shorter / longer
    return longest_px if area == 0 else max(1, min(longest_px, int((most_pixels / area) ** 0.5)))


def cut_pictures(request: CutRequest, progress: Progress) -> dict[int, CouponPicture]:
    """Cut every coupon from one photo; a coupon that the photo does not show is left out.

    Raises:
        InputError: the photo cannot be read.
    """
    from rustboard.photo.crops import cut_coupon
    from rustboard.photo.decode import open_upright

    image = open_upright(_photo_bytes(request), request.name)
    found: dict[int, CouponPicture] = {}
    for number, (key, outline) in enumerate(request.outlines.items()):
        progress.step(number, len(request.outlines))
        with suppress(InputError):  # one odd outline must not cost the others their pictures
            cut = cut_coupon(image, request.mm_to_px, outline, longest_px=request.longest_px, margin_mm=_MARGIN_MM)
            if cut.mask.any():
                found[key] = cut
    return found


def _photo_bytes(request: CutRequest) -> bytes:
    data = read_bounded(request.file, MOST_PHOTO_BYTES)
    if request.sha256 and hashlib.sha256(data).hexdigest() != request.sha256:
        raise InputError("This photo is not the one that was added; its content differs.", file=request.name)
    return data


@dataclass(frozen=True, slots=True, eq=False)
class GuideRequest:
    """Which reference pictures are wanted.

    Attributes:
        pattern, at: how the rust is strewn, and where in each grade's interval.
        height_px: of each picture as it is shown.
        coupon: how to cut the coupon on day zero to paint on, or None when there is no picture of it.
        outline: of the coupon to paint on, mm; empty for plain steel.
        margin_mm: edge margin, left out of what counts.
        excluded: areas of the coupon that do not count either, placed as ``outline`` is.
    """

    pattern: Pattern
    at: At
    height_px: int
    coupon: CutRequest | None = None
    outline: Outline = ()
    margin_mm: float = 0.0
    excluded: tuple[Outline, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class GuidePicture:
    """One reference picture.

    Attributes:
        rgb: as shown. mask: where the coupon is, or None when all of the picture is steel.
        percent: the area rusted that it stands for.
    """

    grade: int
    rgb: Rgb
    mask: Mask | None
    percent: float


def guide_pictures(request: GuideRequest, progress: Progress) -> tuple[GuidePicture, ...]:
    """Draw the reference pictures of grades 0 to 10, in this order.

    Raises:
        InputError: nothing of the coupon counts.
    """
    pictures = []
    ground = _ground(request, progress)
    for grade in range(11):
        progress.step(grade, 11)
        pictures.append(_guide_picture(request, ground, grade))
    return tuple(pictures)


def guide_picture(request: GuideRequest, grade: int, progress: Progress) -> GuidePicture:
    """Draw the reference picture of one grade, to look at it large."""
    progress.step(0, 1)
    return _guide_picture(request, _ground(request, progress), grade)


def growing_picture(request: GuideRequest, progress: Progress) -> GrowingRust:
    """Make the coupon ready to be painted at any percent; ``at`` and ``height_px`` do not matter.

    Raises:
        InputError: nothing of the coupon counts, or its photo cannot be read.
    """
    from rustboard.scales.panels import growing_on_coupon, growing_panel

    ground = _ground(request, progress)
    progress.step(0, 1)
    if ground is None:
        return growing_panel(request.pattern)
    return growing_on_coupon(ground.rgb, ground.counted, ground.mask, request.pattern)


def picture_shape(outline: Outline) -> tuple[float, float]:
    """Return width and height in mm of the picture of a coupon with this outline: margins and all.

    Without an outline, the shape of plain steel, in units of its own.
    """
    if not outline:
        return (1.0, 2.0)
    _, _, width, height = _extent(outline)
    return (width + 2 * _MARGIN_MM, height + 2 * _MARGIN_MM)


def same_cut(request: CutRequest | None) -> tuple[object, ...]:
    """Return what decides how a cut looks: two requests with the same of it give the same pictures."""
    if request is None:
        return ()
    outlines = tuple((key, request.outlines[key]) for key in request.outlines)
    return (request.photo, request.file, request.sha256, request.mm_to_px, outlines, request.longest_px)


def same_guide(request: GuideRequest) -> tuple[object, ...]:
    """Return what decides how a reference picture looks, but for its size."""
    surface = (request.outline, request.margin_mm, request.excluded)
    return (request.pattern, request.at, same_cut(request.coupon), *surface)


@dataclass(frozen=True, slots=True, eq=False)
class _Ground:
    """What the rust is painted on: a picture, where the coupon is, and what of it counts."""

    rgb: Rgb
    mask: Mask
    counted: Mask


def _guide_picture(request: GuideRequest, ground: _Ground | None, grade: int) -> GuidePicture:
    from rustboard.scales.panels import panel_on_coupon, reference_panel
    from rustboard.scales.resizing import shrink

    if ground is None:
        panel = reference_panel(grade, request.pattern, request.at)
    else:
        panel = panel_on_coupon(ground.rgb, ground.counted, grade, request.pattern, request.at)
    height, width = panel.rgb.shape[:2]
    shown_height = max(1, min(request.height_px, height))
    shown_width = max(1, round(width * shown_height / height))
    rgb = shrink(panel.rgb, shown_width, shown_height)
    mask = None if ground is None else _resized_mask(ground.mask, rgb.shape[0], rgb.shape[1])
    return GuidePicture(grade, rgb, mask, panel.percent)


def _resized_mask(mask: Mask, height: int, width: int) -> Mask:
    from rustboard.scales.resizing import sampled_rows

    resized: Mask = mask[sampled_rows(mask.shape[0], height)][:, sampled_rows(mask.shape[1], width)]
    return resized


def _ground(request: GuideRequest, progress: Progress) -> _Ground | None:
    if not request.outline:
        return None
    from rustboard.scales.rust_paint import bare_steel
    from rustboard.scales.surface import significant_surface

    picture = next(iter(cut_pictures(request.coupon, progress).values()), None) if request.coupon else None
    if picture is not None:
        shape = (picture.mask.shape[0], picture.mask.shape[1])
        counted = _counted(request, shape, picture.pixels_per_mm, picture.origin_mm)
        return _Ground(picture.rgb, picture.mask, counted & picture.mask)
    left, top, width, height = _extent(request.outline)
    scale = _LONGEST_PX / (max(width, height) + 2 * _MARGIN_MM)
    origin = (left - _MARGIN_MM, top - _MARGIN_MM)
    shape = (round((height + 2 * _MARGIN_MM) * scale), round((width + 2 * _MARGIN_MM) * scale))
    whole = significant_surface(_in_px(request.outline, scale, origin), shape)
    return _Ground(bare_steel(shape, 1), whole, _counted(request, shape, scale, origin))


def _counted(request: GuideRequest, shape: tuple[int, int], scale: float, origin: tuple[float, float]) -> Mask:
    """Return what counts of a coupon in a picture of so many px a mm, whose corner is at ``origin`` on the board."""
    from rustboard.scales.surface import significant_surface

    counted = significant_surface(_in_px(request.outline, scale, origin), shape, request.margin_mm * scale)
    for area in request.excluded:
        if len(area) >= 3:  # anything less leaves nothing out
            counted &= ~significant_surface(_in_px(area, scale, origin), shape)
    return counted


def _in_px(outline: Outline, scale: float, origin: tuple[float, float]) -> list[tuple[float, float]]:
    left, top = origin
    return [((x - left) * scale, (y - top) * scale) for x, y in outline]


def _extent(outline: Outline) -> tuple[float, float, float, float]:
    left, top, right, bottom = bounds(outline)
    return left, top, max(right - left, 1e-6), max(bottom - top, 1e-6)
