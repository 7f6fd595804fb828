"""Places along a coupon's outline where its edge is looked for: a ring of samples with their outward normals."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import cos, radians
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.board.model import Outline
from rustboard.board.outline import bounds
from rustboard.photo.looks import CouponFrame

Floats = NDArray[np.float64]

FAR_MM: Final = 40.0
"""Neighbours farther away than this do not matter."""

_CORNER_MM: Final = 2.0  # near a corner a profile would cross two sides
_SMOOTH: Final = cos(radians(25))  # sides that meet at less are parts of a curve
_MOST_STRETCHES: Final = 16
_LEAST_LEVER: Final = 0.04


@dataclass(frozen=True, slots=True, eq=False)
class Ring:
    """The samples along one outline (n of them).

    Attributes:
        middle: of the outline's bounding box, mm on the board.
        points: n x 2, places on the outline from the middle. normals: n x 2, outward, length 1.
        depth: n, mm of coupon behind each sample. room: n, mm in front of it to the next coupon.
        starts: first sample of each stretch, within which normal and distance of the line from the middle are alike.
        stretch_normals, stretch_reach: mean of these of each stretch. stretch_share: part of the samples in it.
        round: turning the outline about its middle changes nothing.
    """

    middle: Floats
    points: Floats
    normals: Floats
    depth: Floats
    room: Floats
    starts: NDArray[np.intp]
    stretch_normals: Floats
    stretch_reach: Floats
    stretch_share: Floats
    round: bool

    @property
    def lever(self) -> Floats:
        """How far the edge at each sample moves along its normal with a turn of one radian, mm."""
        return np.asarray(self.points[:, 0] * self.normals[:, 1] - self.points[:, 1] * self.normals[:, 0])

    @property
    def spread(self) -> Floats:
        """The mean square of the edge's way along its normals, as a form in dx, dy, turn and scale (4 x 4)."""
        way = np.column_stack([self.normals, self.lever, np.sum(self.points * self.normals, axis=1)])
        return np.asarray(way.T @ way / len(way))

    @property
    def reach(self) -> float:
        """Distance of the farthest sample from the middle in mm."""
        return float(np.hypot(*self.points.T).max())


@lru_cache(maxsize=64)
def rings_of(frames: tuple[CouponFrame, ...], samples: int) -> tuple[Ring, ...]:
    """Return the ring of each coupon of a board, of so many samples each."""
    corners = [_clockwise(frame.outline_mm) for frame in frames]
    boxes = np.array([bounds(frame.outline_mm) for frame in frames]).reshape(-1, 4)
    rings = []
    for number, outline in enumerate(corners):
        left, top, right, bottom = boxes[number]
        near = (
            (boxes[:, 0] < right + FAR_MM)
            & (boxes[:, 2] > left - FAR_MM)
            & (boxes[:, 1] < bottom + FAR_MM)
            & (boxes[:, 3] > top - FAR_MM)
        )
        near[number] = False
        rings.append(_ring(outline, [corners[other] for other in np.flatnonzero(near)], samples))
    return tuple(rings)


def _clockwise(outline: Outline) -> Floats:
    corners = np.asarray(outline, np.float64)
    x, y = corners.T
    twice = float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
    return corners if twice > 0 else corners[::-1].copy()


def _ring(corners: Floats, others: Sequence[Floats], samples: int) -> Ring:
    sides = np.roll(corners, -1, axis=0) - corners
    lengths = np.hypot(*sides.T)
    kept = lengths > 1e-9
    corners, sides, lengths = corners[kept], sides[kept], lengths[kept]
    along = sides / lengths[:, None]
    turn = np.sum(along * np.roll(along, 1, axis=0), axis=1)  # cosine at the start of each side
    start_gap = np.where(turn < _SMOOTH, np.minimum(_CORNER_MM, lengths * 0.1), 0.0)
    end_gap = np.where(np.roll(turn, -1) < _SMOOTH, np.minimum(_CORNER_MM, lengths * 0.1), 0.0)
    usable = lengths - start_gap - end_gap
    ends = np.cumsum(usable)
    at = (np.arange(samples) + 0.5) * ends[-1] / samples
    side = np.minimum(np.searchsorted(ends, at, side="right"), len(ends) - 1)
    way = at - (ends[side] - usable[side]) + start_gap[side]
    points = corners[side] + along[side] * way[:, None]
    normals = np.stack([along[side, 1], -along[side, 0]], axis=1)  # clockwise with y downward: outward is left
    middle = (corners.min(axis=0) + corners.max(axis=0)) / 2
    relative = points - middle
    starts = _stretches(side, normals)
    counts = np.diff(np.append(starts, samples))
    lever = relative[:, 1] * -normals[:, 0] + relative[:, 0] * normals[:, 1]
    reach = np.sum(relative * normals, axis=1)
    return Ring(
        middle=middle,
        points=relative,
        normals=normals,
        depth=_distance(points, -normals, [corners], 1e-6),
        room=_distance(points, normals, others, 0.0),
        starts=starts,
        stretch_normals=np.add.reduceat(normals, starts, axis=0) / counts[:, None],
        stretch_reach=np.add.reduceat(reach, starts) / counts,
        stretch_share=counts / samples,
        round=bool(np.sqrt(np.mean(lever**2)) < _LEAST_LEVER * np.hypot(*relative.T).max()),
    )


def _stretches(side: NDArray[np.intp], normals: Floats) -> NDArray[np.intp]:
    """Return where stretches of samples begin: the sides, or equal parts of the outline where there are many."""
    starts = np.flatnonzero(np.diff(side, prepend=-1))
    if len(starts) <= _MOST_STRETCHES:
        return starts
    turned = np.flatnonzero(np.sum(normals * np.roll(normals, 1, axis=0), axis=1) < _SMOOTH)
    equal = np.arange(0, len(side), max(1, len(side) // _MOST_STRETCHES))
    return np.union1d(equal, turned[: _MOST_STRETCHES * 2]).astype(np.intp)


def _distance(points: Floats, directions: Floats, outlines: Sequence[Floats], least: float) -> Floats:
    """Return how far each ray goes until it meets a side of one of the outlines, `FAR_MM` at most."""
    far = np.full(len(points), FAR_MM)
    for corners in outlines:
        sides = np.roll(corners, -1, axis=0) - corners
        gap = corners[None] - points[:, None]
        across = directions[:, None, 0] * sides[None, :, 1] - directions[:, None, 1] * sides[None, :, 0]
        safe = np.where(np.abs(across) < 1e-12, np.inf, across)
        away = (gap[..., 0] * sides[None, :, 1] - gap[..., 1] * sides[None, :, 0]) / safe
        along = (gap[..., 0] * directions[:, None, 1] - gap[..., 1] * directions[:, None, 0]) / safe
        met = (along >= 0) & (along <= 1) & (away > least) & np.isfinite(safe)
        far = np.minimum(far, np.where(met, away, FAR_MM).min(axis=1))
    return far
