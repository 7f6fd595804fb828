"""The board without markers: by what an earlier photo, already placed, shows of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.board.model import Board, Outline
from rustboard.board.outline import bounds
from rustboard.photo.finding.damped import Floats
from rustboard.photo.finding.found import TAP_INSTEAD, FoundBoard, Grey, UprightPixels, board_corners, checked
from rustboard.photo.finding.grey_levels import GreyLevels
from rustboard.photo.finding.likeness import surely_here
from rustboard.photo.finding.patches import PATCH_PX, Pieces, recognised
from rustboard.photo.finding.point_fit import point_fit
from rustboard.photo.finding.straightening import Box, straightened_grey
from rustboard.photo.homography import Points, pixels_per_mm_at
from rustboard.photo.placement import Placement, straightened
from rustboard.support.problems import InputError

LONGEST_VIEW_PX: Final = 1_400
_LONGEST_SEARCHED_PX: Final = 1_000
_SHADOW_PX: Final = 10.0
_LEAST_CONTRAST: Final = 16.0
_MOST_FEATURES: Final = 2_500
_RATIO: Final = 0.8
"""Lowe, "Distinctive image features from scale-invariant keypoints" (2004): nearest over second nearest."""
_NEAR_PX: Final = 4.0
_FEWEST_ALIKE: Final = 14
_LEAST_SPREAD: Final = 0.2
"""Share of the board that the recognised places must span."""
_REACHES: Final = (16, 8, 5, 4)
_FEWEST_PIECES: Final = 15
_LENS_USUALLY: Final = 0.01
"""How far the lens strays from the earlier photo's: phones refocus."""
_MOST_VIEWS: Final = 3
_ROUGH_MM: Final = 0.2
_AROUND_MM: Final = 4.0
_ASKEW_MM: Final = 1.0
_HUNG_SHARE: Final = 0.2
"""What a piece of a coupon counts against one of the board: coupons move by millimetres."""


@dataclass(frozen=True, slots=True, eq=False)
class PlacedView:
    """An earlier photo's board, straightened and reduced: what a later photo is recognised by. At most 2 megabytes.

    Attributes:
        grey: the box of the board that it shows.
        box_mm: that box.
        pixels_per_mm: of ``grey``.
        lens: of that photo.
        hung_mm: boxes around the coupons, which are taken off and hung again a little askew, so that they say less
            of where the board is than the board itself.
    """

    grey: Grey
    box_mm: Box
    pixels_per_mm: float
    lens: float
    hung_mm: tuple[Box, ...] = ()


def placed_view(
    picture: UprightPixels, placement: Placement, board: Board, outlines_mm: Sequence[Outline] = ()
) -> PlacedView:
    """Return what later photos of the board are recognised by.

    Args:
        picture: the upright photo.
        placement: of the board in it.
        board: whose size is known.
        outlines_mm: of all coupons; without them, coupons that were hung askew pull later placements with them.

    Raises:
        InputError: the board has no size, or the placement does not show it.
    """
    area = board_corners(board)
    if not area:
        raise InputError(
            "Recognising a board by an earlier photo needs its width and height in mm; enter them first."
        )
    width, height = area[2]
    middle = (width / 2, height / 2)
    finest = pixels_per_mm_at(np.reshape(placement.mm_to_px, (3, 3)), middle)
    scale = min(finest, LONGEST_VIEW_PX / max(width, height))
    # The board's own edges are the surest of all that a plain board shows, so some of what is behind belongs to it.
    box = (-_AROUND_MM, -_AROUND_MM, width + _AROUND_MM, height + _AROUND_MM)
    hung = tuple(bounds(each) for each in outlines_mm if each)
    grey = straightened_grey(GreyLevels(picture), placement, box, scale)
    return PlacedView(grey, box, scale, placement.lens, hung)


def placed_by_view(levels: GreyLevels, board: Board, earlier: Sequence[PlacedView]) -> FoundBoard:
    """Return where the photo shows the board, from the earlier photo that it resembles.

    Args:
        levels: the photo.
        board: whose size is known.
        earlier: the likeliest first; only the first few are tried.

    Raises:
        InputError: it resembles none of them surely enough.
    """
    area = board_corners(board)
    refusal = InputError(f"There is no earlier photo to recognise the board by; {TAP_INSTEAD}.")
    if not area or not earlier:
        raise refusal
    features = _features(levels)
    for view in earlier[:_MOST_VIEWS]:
        try:
            placement = _coarsely(levels, features, view)
            placement, error_px = refined(levels, placement, view)
            surely_here(straightened_grey(levels, placement, view.box_mm, view.pixels_per_mm), view.grey)
            warnings = (*checked(placement, area, error_px), *_roughness(placement, area[2], error_px))
            return FoundBoard(placement, "view", error_px, warnings)
        except InputError as error:
            refusal = error
    raise refusal


def _roughness(placement: Placement, far_corner: tuple[float, float], error_px: float) -> tuple[str, ...]:
    """Return a warning when what was recognised does not agree well: then the corners may be off by twice as much."""
    middle = (far_corner[0] / 2, far_corner[1] / 2)
    if error_px <= _ROUGH_MM * pixels_per_mm_at(np.reshape(placement.mm_to_px, (3, 3)), middle):
        return ()
    return ("The board was recognised only roughly; look whether the outlines lie right, or tap its four corners.",)


def refined(levels: GreyLevels, placement: Placement, view: PlacedView) -> tuple[Placement, float]:
    """Return a rough placement made exact by what the earlier photo shows all over the board, and its error.

    Raises:
        InputError: too little of the board is as it was.
    """
    away, firm = np.zeros(0), np.zeros(0, np.bool_)
    for reach in _REACHES:
        now = straightened_grey(levels, placement, _wider(view, reach), view.pixels_per_mm)
        pieces = recognised(view.grey, now, reach)
        points_mm, points_px, sureness = _pairs(pieces, view, placement)
        if len(points_mm) < _FEWEST_PIECES or _spread(points_mm, view.box_mm) < _LEAST_SPREAD:
            raise _unlike()
        firm = _beside_coupons(points_mm, view)
        sureness = np.where(firm[:, None, None], sureness, _HUNG_SHARE * sureness)
        placement, away = point_fit(points_mm, points_px, sureness, placement, view.lens, _LENS_USUALLY)
    if firm.sum() >= _FEWEST_PIECES:
        away = away[firm]
    kept = away[away <= max(3 * float(np.median(away)), 1.0)]
    return placement, float(np.sqrt(np.mean(kept**2)))


def _wider(view: PlacedView, reach: int) -> Box:
    """Return a view's box with so many pixels more on every side."""
    height, width = view.grey.shape
    more, (left, top) = reach / view.pixels_per_mm, view.box_mm[:2]
    # Counted from the picture, so that rounding cannot make the two differ by a line.
    right, bottom = left + (width - 0.5) / view.pixels_per_mm, top + (height - 0.5) / view.pixels_per_mm
    return left - more, top - more, right + more, bottom + more


def _beside_coupons(points_mm: Points, view: PlacedView) -> NDArray[np.bool_]:
    """Return which pieces show the board alone."""
    firm = np.ones(len(points_mm), np.bool_)
    reach = PATCH_PX / 2 / view.pixels_per_mm + _ASKEW_MM
    for left, top, right, bottom in view.hung_mm:
        near = (points_mm > (left - reach, top - reach)) & (points_mm < (right + reach, bottom + reach))
        firm &= ~near.all(axis=1)
    return firm


def _pairs(pieces: Pieces, view: PlacedView, placement: Placement) -> tuple[Points, Points, Floats]:
    """Return places on the board, where the photo shows them, and rows for distances in the photo's pixels."""
    origin = np.array(view.box_mm[:2])
    points_mm = origin + pieces.places / view.pixels_per_mm
    if not len(points_mm):
        return points_mm, points_mm, pieces.sureness
    there = origin + (pieces.places + pieces.shifts) / view.pixels_per_mm
    points_px = placement.to_px(there)
    step = 1 / view.pixels_per_mm
    along = np.stack([placement.to_px(there + np.array(way) * step) - points_px for way in ((1, 0), (0, 1))], axis=-1)
    scale = np.sqrt(np.abs(np.linalg.det(along)))
    return points_mm, points_px, scale[:, None, None] * (pieces.sureness @ np.linalg.inv(along))


class _Features(NamedTuple):
    points_px: Points
    descriptors: NDArray[np.float32]
    """Square roots of shares, so that distances compare histograms (Arandjelovic and Zisserman, 2012)."""


def _features(levels: GreyLevels) -> _Features:
    halvings = levels.halvings_to(2 * _LONGEST_SEARCHED_PX)
    found = _described(levels[halvings])
    return found._replace(points_px=found.points_px * 2.0**halvings)


def _described(grey: Grey) -> _Features:
    """Return the striking places of a picture, which is reduced for that, in its own pixels."""
    share = min(1.0, _LONGEST_SEARCHED_PX / max(grey.shape))
    size = (max(1, round(grey.shape[1] * share)), max(1, round(grey.shape[0] * share)))
    small = _evened(np.asarray(cv2.resize(grey, size, interpolation=cv2.INTER_AREA), np.uint8))
    points, descriptors = cv2.SIFT.create(nfeatures=_MOST_FEATURES).detectAndCompute(small, None)
    if descriptors is None or not len(points):
        return _Features(np.zeros((0, 2)), np.zeros((0, 128), np.float32))
    values = np.asarray(descriptors, np.float32)
    rooted = np.sqrt(values / np.maximum(values.sum(axis=1, keepdims=True), 1e-6))
    places = (np.array([each.pt for each in points], np.float64) + 0.5) * (np.array(grey.shape[::-1]) / size)
    return _Features(places, np.asarray(rooted, np.float32))


def _evened(grey: Grey) -> Grey:
    """Return a picture with the same contrast everywhere, so that shade does not hide what it lies on."""
    values = grey.astype(np.float32)
    smooth = values - cv2.GaussianBlur(values, (0, 0), _SHADOW_PX)
    spread = np.sqrt(cv2.GaussianBlur(smooth * smooth, (0, 0), _SHADOW_PX)) + _LEAST_CONTRAST
    return np.asarray(np.clip(128 + 50 * smooth / spread, 0, 255), np.uint8)


def _coarsely(levels: GreyLevels, features: _Features, view: PlacedView) -> Placement:
    """Return a placement within some pixels, from single places that look alike."""
    known = _described(view.grey)
    if min(len(known.points_px), len(features.points_px)) < _FEWEST_ALIKE:
        raise _unlike()
    pairs = cv2.BFMatcher(cv2.NORM_L2).knnMatch(known.descriptors, features.descriptors, k=2)
    good = [
        best
        for best, second in (pair for pair in pairs if len(pair) == 2)
        if best.distance < _RATIO * second.distance
    ]
    if len(good) < _FEWEST_ALIKE:
        raise _unlike()
    points_mm = np.array(view.box_mm[:2]) + known.points_px[[each.queryIdx for each in good]] / view.pixels_per_mm
    seen_px = features.points_px[[each.trainIdx for each in good]]
    flat = straightened(seen_px, levels.size_px, view.lens)
    near = _NEAR_PX * max(1.0, max(levels.size_px) / _LONGEST_SEARCHED_PX)
    matrix, inliers = cv2.findHomography(points_mm, flat, cv2.USAC_MAGSAC, near, maxIters=5_000, confidence=0.9999)
    if matrix is None:
        raise _unlike()
    kept = np.asarray(inliers).ravel() > 0
    if kept.sum() < _FEWEST_ALIKE or _spread(points_mm[kept], view.box_mm) < _LEAST_SPREAD:
        raise _unlike()
    found = np.asarray(matrix, np.float64)
    placement = Placement(tuple((found / found[2, 2]).ravel().tolist()), levels.size_px, view.lens)
    left, top, right, bottom = view.box_mm
    try:
        checked(placement, [(left, top), (right, top), (right, bottom), (left, bottom)], None)
    except InputError:  # such a view is no view of a board: the places were alike by chance
        raise _unlike() from None
    return placement


def _spread(points_mm: Points, box_mm: Box) -> float:
    """Return the share of a box that the hull of some places covers."""
    left, top, right, bottom = box_mm
    hull = cv2.convexHull(points_mm.astype(np.float32))
    return float(cv2.contourArea(hull)) / ((right - left) * (bottom - top))


def _unlike() -> InputError:
    return InputError(f"This photo does not show the board as an earlier one does; {TAP_INSTEAD}.")
