"""The board by four taps, which may be moved a little onto the board's own edges where these are clear."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

import cv2
import numpy as np

from rustboard.board.model import Board
from rustboard.photo.finding.damped import Floats
from rustboard.photo.finding.found import FoundBoard, UprightPixels, board_corners, checked
from rustboard.photo.finding.grey_levels import GreyLevels
from rustboard.photo.homography import Points, placed_by_corners
from rustboard.photo.placement import Placement, straightened
from rustboard.support.problems import InputError

_REACH: Final = 0.005
"""How far from a tapped side its true one is looked for, in mean sides of the board: what a finger errs."""
_LEAST_REACH_PX: Final = 4.0
_READINGS: Final = 64
_ENDS: Final = 0.06
_HALF_PROFILE: Final = 16
_LEAST_RISE: Final = 10.0
_LEAST_AGREEING: Final = 0.65
_NEAR: Final = 0.12
"""Readings this near to a line, in reaches, agree on it."""
_TRIES: Final = 200
_NOTICED_PX: Final = 0.5


def placed_by_taps(
    picture: UprightPixels,
    board: Board,
    taps_px: Sequence[tuple[float, float]],
    *,
    lens: float = 0.0,
    to_edges: bool = True,
) -> FoundBoard:
    """Return where the photo shows the board, from its four corners as a person tapped them.

    Args:
        picture: the upright photo.
        board: whose size is known.
        taps_px: in the photo, clockwise from the board's top left.
        lens: how the lens bends, from another photo of the same camera.
        to_edges: whether to move the corners, by a hundredth of the board's size at most, to where the board's edges
            cross; an edge that is not clear is left as tapped.

    Raises:
        InputError: the taps are no board, or the board has no size.
    """
    height, width = picture.shape[:2]
    size_px = (width, height)
    tapped = _placement(board, np.asarray(taps_px, np.float64), size_px, lens)
    warnings = checked(tapped, board_corners(board), None)
    if not to_edges:
        return FoundBoard(tapped, "corners", None, warnings)
    taps = np.asarray(taps_px, np.float64)
    corners = _on_edges(GreyLevels(picture), taps)
    moved = float(np.hypot(*(corners - taps).T).max())
    if moved < _NOTICED_PX:
        return FoundBoard(tapped, "corners", None, warnings)
    try:
        placement = _placement(board, corners, size_px, lens)
        warnings = checked(placement, board_corners(board), None)
    except InputError:
        return FoundBoard(tapped, "corners", None, warnings)
    note = f"The tapped corners were moved by up to {moved:.0f} pixels onto the board's own edges."
    return FoundBoard(placement, "corners", None, (*warnings, note))


def _placement(board: Board, corners_px: Points, size_px: tuple[int, int], lens: float) -> Placement:
    if corners_px.shape == (4, 2) and np.isfinite(corners_px).all():
        corners_px = straightened(corners_px, size_px, lens)
    ideal = [(float(x), float(y)) for x, y in corners_px.reshape(-1, 2)] if corners_px.ndim == 2 else []
    return Placement(placed_by_corners(ideal, board.width_mm, board.height_mm), size_px, lens)


class _Sides(NamedTuple):
    """The four sides: where they begin, the way to their ends, and the unit way across."""

    start: Floats
    along: Floats
    across: Floats


def _on_edges(levels: GreyLevels, taps: Points) -> Points:
    """Return the taps, each moved to where its two sides cross if both were seen clearly."""
    along = np.roll(taps, -1, axis=0) - taps
    length = np.hypot(*along.T)[:, None]
    sides = _Sides(taps, along, np.column_stack([along[:, 1], -along[:, 0]]) / length)
    reach = max(_REACH * float(length.mean()), _LEAST_REACH_PX)
    share = np.linspace(_ENDS, 1 - _ENDS, _READINGS)
    lines = [_line(share, *readings) for readings in _readings(levels, sides, share, reach)]
    corners = taps.copy()
    for number in range(4):
        before, after = lines[number - 1], lines[number]
        if before is None or after is None:
            continue
        crossed = _crossed(_ends(sides, number - 1, before * reach), _ends(sides, number, after * reach))
        if np.hypot(*(crossed - taps[number])) <= 2 * reach:
            corners[number] = crossed
    return corners


def _readings(levels: GreyLevels, sides: _Sides, share: Floats, reach: float) -> list[tuple[Floats, Floats]]:
    """Return for each side where each profile across it changes most, -1 to 1, and by how much (signed)."""
    halvings = max(0, int(np.log2(max(reach / _HALF_PROFILE, 1))))
    across = np.linspace(-1, 1, 2 * _HALF_PROFILE + 1)
    base = sides.start[:, None, :] + share[:, None] * sides.along[:, None, :]
    places = base[:, :, None, :] + across[:, None] * reach * sides.across[:, None, None, :]
    flat = (places.reshape(4 * _READINGS, len(across), 2) / 2**halvings - 0.5).astype(np.float32)
    ways = [np.ascontiguousarray(flat[..., axis]) for axis in (0, 1)]
    sampled = np.asarray(cv2.remap(levels[halvings], ways[0], ways[1], cv2.INTER_LINEAR), np.float64)
    smooth = np.asarray(cv2.GaussianBlur(sampled, (5, 5), 1.2), np.float64)
    change = np.diff(smooth, axis=1).reshape(4, _READINGS, -1)
    between = (across[1:] + across[:-1]) / 2
    found = []
    for side in change:
        # All along a side the board is the brighter or the darker one.
        sign = np.sign(np.median(side[np.arange(_READINGS), np.argmax(np.abs(side), axis=1)])) or 1.0
        best = np.argmax(side * sign, axis=1)
        near = np.clip(best[:, None] + np.arange(-2, 3), 0, side.shape[1] - 1)
        weights = np.maximum(np.take_along_axis(side * sign, near, axis=1), 0)
        total = np.maximum(weights.sum(axis=1), 1e-9)
        found.append(((weights * between[near]).sum(axis=1) / total, weights.sum(axis=1)))
    return found


def _line(share: Floats, offset: Floats, rise: Floats) -> Floats | None:
    """Return a side's offset at its start and end, or None when too few readings agree on one line."""
    clear = np.flatnonzero(rise > _LEAST_RISE)
    if len(clear) < _LEAST_AGREEING * _READINGS:
        return None
    rng = np.random.default_rng(0)
    best = np.zeros(_READINGS, np.bool_)
    for _ in range(_TRIES):
        one, other = rng.choice(clear, 2, replace=False)
        slope = (offset[other] - offset[one]) / (share[other] - share[one])
        agreeing = (np.abs(offset - offset[one] - slope * (share - share[one])) < _NEAR) & (rise > _LEAST_RISE)
        if agreeing.sum() > best.sum():
            best = agreeing
    if best.mean() < _LEAST_AGREEING or np.ptp(share[best]) < _LEAST_AGREEING:
        return None
    slope, begin = np.polyfit(share[best], offset[best], 1)
    line = np.array([begin, begin + slope])
    return line if np.abs(line).max() <= 1 else None


def _ends(sides: _Sides, number: int, offsets: Floats) -> tuple[Points, Points]:
    start = sides.start[number]
    return start + offsets[0] * sides.across[number], start + sides.along[number] + offsets[1] * sides.across[number]


def _crossed(one: tuple[Points, Points], other: tuple[Points, Points]) -> Points:
    way, other_way = one[1] - one[0], other[1] - other[0]
    below = way[0] * other_way[1] - way[1] * other_way[0]
    between = other[0] - one[0]
    crossed: Points = one[0] + (between[0] * other_way[1] - between[1] * other_way[0]) / below * way
    return crossed
