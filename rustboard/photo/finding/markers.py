"""The board by its printed markers: searched coarsely, read finely, fitted together with the lens, and doubted."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from rustboard.board.model import Board, Marker
from rustboard.photo.finding.found import FoundBoard, board_corners, checked
from rustboard.photo.finding.grey_levels import GreyLevels
from rustboard.photo.finding.joint_fit import LENS_USUALLY, JointFit, joint_fit, square_mm
from rustboard.photo.finding.marker_choice import Choice, chosen, listed_markers
from rustboard.photo.finding.marker_edges import read_squares
from rustboard.photo.finding.marker_rescue import rescued
from rustboard.photo.finding.marker_search import mirrored, search
from rustboard.photo.homography import Points
from rustboard.support.problems import InputError

Floats = NDArray[np.float64]

_FEWEST_FOR_LENS: Final = 3
_FEWEST: Final = 2
_LEAST_CORNERS: Final = 2
"""A square of which fewer corners were read says nothing."""
_DOUBTED, _DOUBTED_PX = 0.0025, 0.15
"""Root mean square error, in sides of a marker and in pixels, from which on one of them may have moved."""
_ROUGH, _ROUGH_PX = 0.008, 0.5
"""The same, from which on the person is told."""
_MOVED_MM: Final = 1.5
_CLEARLY: Final = 0.3
"""One marker has moved when the others alone agree so much better, and no other one left out does the same."""


class _Squares(NamedTuple):
    markers: list[Marker]
    corners_px: Floats
    read: NDArray[np.bool_]

    def without(self, number: int) -> _Squares:
        kept = [index for index in range(len(self.markers)) if index != number]
        return _Squares([self.markers[index] for index in kept], self.corners_px[kept], self.read[kept])


def placed_by_markers(levels: GreyLevels, board: Board, markers: Sequence[Marker]) -> FoundBoard:
    """Return where the photo shows the board, from two or more of its markers.

    Raises:
        InputError: the markers do not place the board; the sentence says why and what to do.
    """
    area = board_corners(board) or _around(markers)
    choice = _choice(levels, markers, float(np.ptp(np.asarray(area), axis=0).max()))
    recorded = {each.id: each for each in markers}
    squares = _read(levels, [recorded[each.id] for each in choice.seen], [each.corners_px for each in choice.seen])
    fit = _fitted(squares, levels.size_px)
    told = {each.id for each in squares.markers} | set(choice.left_out)
    more = _with_rescued(levels, [each for each in markers if each.id not in told], squares, fit)
    if more is not squares:
        squares, fit = more, _fitted(more, levels.size_px)
    used = {each.id for each in squares.markers} | set(choice.left_out)
    lost = [each.id for each in markers if each.id not in used]
    fit, warnings = _without_moved(squares, fit, levels.size_px)
    if lost:
        warnings = (*warnings, f"{listed_markers(lost)} not found; the others placed the board.")
    if fit.error_px > max(_ROUGH * float(np.median(_sides(squares.corners_px))), _ROUGH_PX):
        warnings = (
            *warnings,
            f"The markers lie {fit.error_px:.1f} pixels off the record's places: the photo is blurred, or they were "
            "not measured well.",
        )
    return FoundBoard(
        fit.placement,
        "markers",
        fit.error_px,
        (*choice.warnings, *warnings, *checked(fit.placement, area, fit.error_px)),
    )


def _choice(levels: GreyLevels, markers: Sequence[Marker], span_mm: float) -> Choice:
    seen = search(levels, markers, span_mm)
    if not seen and mirrored(levels, markers, span_mm):
        raise InputError(
            "This photo is mirrored, as front cameras do; photograph the board with the main camera, or flip the "
            "photo back and add it again."
        )
    return chosen(seen, markers)


def _read(levels: GreyLevels, markers: Sequence[Marker], corners: Sequence[Points]) -> _Squares:
    squares = read_squares(levels.unhalved, np.stack(corners))
    clear = squares.read.sum(axis=1) >= _LEAST_CORNERS
    if clear.sum() < _FEWEST:
        # Too blurred to read sides: the coarse corners are all there is, and the error will say so.
        return _Squares(list(markers), np.stack(corners), np.ones(squares.read.shape, np.bool_))
    kept: list[int] = np.flatnonzero(clear).tolist()
    return _Squares([markers[index] for index in kept], squares.corners_px[kept], squares.read[kept])


def _fitted(squares: _Squares, size_px: tuple[int, int]) -> JointFit:
    lens = LENS_USUALLY if len(squares.markers) >= _FEWEST_FOR_LENS else 0.0
    return joint_fit(squares.markers, squares.corners_px, squares.read, size_px, lens_usually=lens)


def _with_rescued(levels: GreyLevels, missing: Sequence[Marker], squares: _Squares, fit: JointFit) -> _Squares:
    """Return the squares with those that show where the others say that they must be."""
    for marker in missing:
        corners = rescued(levels, fit.placement, marker)
        if corners is None:
            continue
        found = read_squares(levels.unhalved, corners[None])
        if found.read.sum() >= _LEAST_CORNERS:
            squares = _Squares(
                [*squares.markers, marker],
                np.concatenate([squares.corners_px, found.corners_px]),
                np.concatenate([squares.read, found.read]),
            )
    return squares


def _without_moved(squares: _Squares, fit: JointFit, size_px: tuple[int, int]) -> tuple[JointFit, tuple[str, ...]]:
    """Return the fit without the one marker that contradicts all others, if there is one, and a warning about it."""
    side = float(np.median(_sides(squares.corners_px)))
    if len(squares.markers) <= _FEWEST_FOR_LENS or fit.error_px < max(_DOUBTED * side, _DOUBTED_PX):
        return fit, ()
    others = [_fitted(squares.without(number), size_px) for number in range(len(squares.markers))]
    errors = np.array([each.error_px for each in others])
    best, second = (int(each) for each in np.argsort(errors)[:2])
    if errors[best] > _CLEARLY * min(fit.error_px, errors[second]):
        return fit, ()
    marker, without = squares.markers[best], others[best]
    there = without.placement.to_mm(squares.corners_px[best]).mean(axis=0)
    away = float(np.hypot(*(there - np.array(marker.centre_mm))))
    fault = f"seems to have moved by about {away:.0f} mm" if away > _MOVED_MM else "is partly covered or damaged"
    return without, (f"Marker {marker.id} {fault}; it was left out.",)


def _sides(corners: Floats) -> Floats:
    sides = corners - np.roll(corners, -1, axis=1)
    return np.asarray(np.hypot(sides[..., 0], sides[..., 1]), np.float64)


def _around(markers: Sequence[Marker]) -> list[tuple[float, float]]:
    """Return the corners of the box around all markers, which stands for a board without a size."""
    corners = np.concatenate([square_mm(each) for each in markers])
    (left, top), (right, bottom) = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
    return [(left, top), (right, top), (right, bottom), (left, bottom)]
