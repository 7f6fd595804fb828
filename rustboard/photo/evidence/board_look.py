"""The whole board, straightened and small: what of it can witness the light of a photo."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import ceil
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.board.model import Outline
from rustboard.board.outline import bounds
from rustboard.photo.evidence.fine_detail import blur_of, points_on
from rustboard.photo.evidence.tables import Logs, logs_of
from rustboard.photo.looks import Mask, Rgb
from rustboard.photo.placement import Placement
from rustboard.photo.source import Source, source_of
from rustboard.scales.surface import significant_surface

MOST_SIDE_PX: Final = 360
FINEST: Final = 1.0  # pixels a millimetre

BEYOND_COUPONS_MM: Final = 8.0
"""The board this near a coupon lies in its shadow, or is hidden by it when it hangs otherwise."""
_LEAST_BOARD: Final = 0.12
"""Share of the board that must be left to look at; else nearer to the coupons is looked at too."""
_WITHIN_COUPONS_MM: Final = 3.0

OTHER, BOARD, FIRST_PAPER, FIRST_CARD, FIRST_COUPON = 0, 1, 2, 12, 16
"""Labels of a witness map: neither, bare board; from these on markers' papers, grey cards, coupons."""


@dataclass(frozen=True, slots=True)
class LightPlan:
    """Where on a board what can witness the light is, all in mm.

    Attributes:
        width_mm, height_mm: of the board.
        coupons: outlines.
        papers: outlines of the markers, the white around them included or not.
        cards: outlines of grey cards fixed to the board.
    """

    width_mm: float
    height_mm: float
    coupons: tuple[Outline, ...]
    papers: tuple[Outline, ...] = ()
    cards: tuple[Outline, ...] = ()

    @property
    def scale(self) -> float:
        """Pixels a millimetre of the small picture."""
        return min(MOST_SIDE_PX / max(self.width_mm, self.height_mm), FINEST)

    @property
    def shape(self) -> tuple[int, int]:
        """Height and width of the small picture."""
        return max(2, ceil(self.height_mm * self.scale)), max(2, ceil(self.width_mm * self.scale))


@dataclass(frozen=True, slots=True, eq=False)
class BoardLook:
    """A board in one photo, straightened and small (h x w).

    Attributes:
        logs: logarithms of red, green, blue, h x w x 3, in steps.
        known: h x w, what the photo shows and its light did not clip.
        blur_mm: of the markers' or, without markers, of the coupons' edges, standard deviation; 0 not known.
        blur_px: the same in pixels of the photo.
        points: how far bright points and dark rims stand out on each coupon (n x 2), see `points_on`.
    """

    logs: Logs
    known: Mask
    blur_mm: float
    blur_px: float
    points: NDArray[np.float32]


def look_at_board(photo: Rgb | Source, placement: Placement, plan: LightPlan) -> BoardLook:
    """Return the board of an upright photo, straightened and small.

    Args:
        photo: upright, H x W x 3; or made ready for cutting.
        placement: of the board in it.
        plan: what to look for on the board.

    Raises:
        InputError: the placement does not show the board from its front.
    """
    height, width = plan.shape
    coarse_rows, coarse_columns = (np.linspace(0, each, 1 + ceil(each / 16)) for each in (height, width))
    at = np.stack(np.meshgrid(coarse_columns, coarse_rows), axis=2)
    there = placement.to_px(at.reshape(-1, 2) / plan.scale).reshape(at.shape)
    photo_scale = _finest(there, width / (len(coarse_columns) - 1), height / (len(coarse_rows) - 1))
    picture = photo.picture if isinstance(photo, Source) else photo
    small, factor = _reduced(photo, photo_scale)
    maps = _all_pixels((there / factor).astype(np.float32), (height, width))
    x, y = (np.asarray(each, np.float32) for each in cv2.split(maps))
    half = np.float32(0.5)  # the library counts from the first pixel's centre
    rgb = cv2.remap(small, x - half, y - half, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    red, green, blue = cv2.split(rgb)
    known = np.asarray(cv2.max(cv2.max(red, green), blue), np.uint8) < 250
    known &= (x >= 0) & (x <= small.shape[1]) & (y >= 0) & (y <= small.shape[0])
    blur_px, blur_mm = blur_of(picture, placement, plan.papers, plan.coupons)
    points = points_on(picture, placement, plan.coupons)
    return BoardLook(logs_of(np.asarray(rgb, np.uint8)), known, blur_mm, blur_px, points)


@lru_cache(maxsize=8)
def witness_map(plan: LightPlan) -> NDArray[np.int16]:
    """Return what each pixel of a plan's small picture shows (h x w): `OTHER`, `BOARD`, ...; read-only."""
    scale, shape = plan.scale, plan.shape
    coupons = np.zeros(shape, np.uint8)
    for outline in plan.coupons:
        coupons |= _filled(outline, scale, shape, 0.0).astype(np.uint8)
    others = coupons.copy()
    for outline in (*plan.papers, *plan.cards):
        left, top, right, bottom = bounds(outline)
        grow = 0.3 * (right - left)
        box = (
            (left - grow, top - grow),
            (right + grow, top - grow),
            (right + grow, bottom + grow),
            (left - grow, bottom + grow),
        )
        others |= _filled(box, scale, shape, 0.0).astype(np.uint8)
    away = cv2.distanceTransform(1 - coupons, cv2.DIST_L2, cv2.DIST_MASK_PRECISE) / scale
    from_rim = cv2.distanceTransform(np.pad(np.ones(shape, np.uint8), 1), cv2.DIST_L2, 3)[1:-1, 1:-1] / scale
    board = (away > BEYOND_COUPONS_MM) & (others == 0) & (from_rim > 3)
    if board.mean() < _LEAST_BOARD:
        board = (away > BEYOND_COUPONS_MM / 2) & (others == 0)
    labels = np.where(board, BOARD, OTHER).astype(np.int16)
    for first, outlines in ((FIRST_PAPER, plan.papers[:10]), (FIRST_CARD, plan.cards[:4])):
        for number, outline in enumerate(outlines):
            labels[_filled(outline, scale, shape, 0.0)] = first + number
    for number, outline in enumerate(plan.coupons):
        labels[_filled(outline, scale, shape, _WITHIN_COUPONS_MM)] = FIRST_COUPON + number
    labels.flags.writeable = False
    return labels


def _filled(outline: Outline, scale: float, shape: tuple[int, int], margin_mm: float) -> Mask:
    return significant_surface([(x * scale, y * scale) for x, y in outline], shape, margin_mm * scale)


def _finest(there: NDArray[np.float64], step_x: float, step_y: float) -> float:
    """Return how many pixels of the photo a pixel of the small picture takes where the photo is coarsest."""
    across = np.hypot(*np.moveaxis(np.diff(there, axis=1), 2, 0)) / step_x
    down = np.hypot(*np.moveaxis(np.diff(there, axis=0), 2, 0)) / step_y
    return float(min(across.min(), down.min()))


def _reduced(photo: Rgb | Source, most: float) -> tuple[Rgb, int]:
    """Return a photo halved as often as leaves it finer than a ``most``-th of itself, and how much smaller it is."""
    if most < 2:
        return (photo.picture if isinstance(photo, Source) else photo), 1
    small, factor = source_of(photo).half, 2
    while 2 * factor <= most and min(small.shape[:2]) >= 2:
        height, width = (each // 2 for each in small.shape[:2])
        whole = small[: 2 * height, : 2 * width]
        small = np.asarray(cv2.resize(whole, (width, height), interpolation=cv2.INTER_AREA), np.uint8)
        factor *= 2
    return small, factor


def _all_pixels(corners: NDArray[np.float32], shape: tuple[int, int]) -> NDArray[np.float32]:
    """Return places given at evenly spaced lines from edge to edge, at the centres of all pixels (h x w x 2)."""
    rows, columns = corners.shape[:2]
    height, width = shape
    x, y = np.meshgrid(
        (np.arange(width, dtype=np.float32) + np.float32(0.5)) * np.float32((columns - 1) / width),
        (np.arange(height, dtype=np.float32) + np.float32(0.5)) * np.float32((rows - 1) / height),
    )
    return np.asarray(cv2.remap(corners, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE), np.float32)
