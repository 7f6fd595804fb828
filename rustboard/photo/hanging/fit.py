"""How every coupon hangs on a photo: its outline found again, coarse net first, then to a fraction of a pixel."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from rustboard.photo.hanging.choosing import Habit, best, clearness, weighed
from rustboard.photo.hanging.field import as_rows, common_field
from rustboard.photo.hanging.profiles import Singles, kinds_of, light_steps, profiles, step_offsets, strengths
from rustboard.photo.hanging.refining import refine
from rustboard.photo.hanging.rings import Floats, Ring, rings_of
from rustboard.photo.hanging.search import Net, search
from rustboard.photo.homography import Matrix, mapped, pixels_per_mm_at
from rustboard.photo.looks import CouponFrame, Motion, Rgb
from rustboard.photo.placement import Placement

_COARSE_NET: Final = Net(tuple(range(-6, 7)), (-0.015, 0.005, 0.025), tuple(range(-4, 5)))
_COARSE: Final = np.arange(-12.5, 12.6, 0.5)
_COARSE_SAMPLES: Final = 60
_FINE_NET: Final = Net(tuple(0.3 * i for i in range(-5, 6)), (-0.004, 0.0, 0.004), (-1.0, -0.5, 0.0, 0.5, 1.0))
_FINE: Final = np.arange(-3.6, 3.61, 0.2)
_FINE_SAMPLES: Final = 60
_FINEST_SAMPLES: Final = 120
_FINEST_HALF: Final = 10
_WINDOW: Final = 4
_LEAST_STEP_MM: Final = 0.1
_STEP_PX: Final = 0.4

_TURN: Final = float(np.radians(1.5))
_FIRST: Final = Habit(6.0, 3 * _TURN, 0.006, 0.05, 0.03, 0.10)
_SECOND: Final = Habit(2.0, _TURN, 0.006, 0.05, 0.03, 0.10)
_FINELY: Final = Habit(2.0, _TURN, 0.004, 0.03, 0.02, 0.10)
_USUAL_SCALE: Final = 0.005
_SAME_SCALE: Final = 0.012

_CLEAR: Final = 0.05  # by how much the best has to be better than any other
_LEAST_SHARE: Final = 0.38
_MOST_ERROR_MM: Final = 0.25


@dataclass(frozen=True, slots=True)
class Hang:
    """How one coupon hangs on one photo.

    Attributes:
        certain: its edge was seen well; otherwise it is a guess by what was seen of it, or by the other coupons.
        edge_error_mm: likely error of the outline (standard deviation).
        share_found: of the samples along the outline, how many show an edge there, 0 to 1.
    """

    motion: Motion
    certain: bool
    edge_error_mm: float
    share_found: float


def fit_motions(
    picture: Rgb,
    placement: Placement,
    frames: Sequence[CouponFrame],
    before: Mapping[int, Motion] | None = None,
) -> dict[int, Hang]:
    """Return how each coupon hangs.

    Args:
        picture: the upright photo.
        placement: of the board in it.
        frames: the coupons.
        before: how they hung on an earlier photo, where known.

    Raises:
        InputError: the photo shows a coupon's place on or behind the horizon.
    """
    if not frames:
        return {}
    views = [_view(placement, frame) for frame in frames]
    rings = rings_of(tuple(frames), _COARSE_SAMPLES)
    lines = profiles(picture, views, rings, [Motion()] * len(rings), _COARSE)
    kinds = kinds_of(lines, rings)
    scores = search(strengths(lines, _WINDOW, kinds), step_offsets(lines, _WINDOW), rings, _COARSE_NET)
    seen = np.maximum(lines.seen.mean(axis=1), 0.05)
    expected, rows, clear = _chosen(scores, seen, rings, frames, before or {})
    rings = rings_of(tuple(frames), _FINE_SAMPLES)
    lines = profiles(picture, views, rings, [as_motion(row) for row in rows], _FINE)
    edges, places = strengths(lines, _WINDOW, kinds), step_offsets(lines, _WINDOW)
    scores = search(edges, places, rings, _FINE_NET)
    change = best(weighed(scores, seen, _FINE_NET, rows, expected, _FINELY), _FINE_NET)
    found = refine(edges, light_steps(lines, _WINDOW), places, lines.seen, rings, rows, change, expected)
    share = found.shares
    rings = rings_of(tuple(frames), _FINEST_SAMPLES)
    offsets: Floats = np.arange(-_FINEST_HALF, _FINEST_HALF + 1) * np.float64(_finest_step(views, rings))
    lines = profiles(picture, views, rings, [as_motion(row) for row in found.rows], offsets)
    edges, light = strengths(lines, _WINDOW, kinds), light_steps(lines, _WINDOW)
    places = step_offsets(lines, _WINDOW)
    found = refine(edges, light, places, lines.seen, rings, found.rows, np.zeros_like(rows), expected)
    return {
        frame.coupon: _hang(found.rows[n], float(found.errors[n]), float(share[n]), float(clear[n]), expected[n])
        for n, frame in enumerate(frames)
    }


def _view(placement: Placement, frame: CouponFrame) -> Matrix:
    view = placement.local(frame.box_mm)
    left, top, right, bottom = frame.box_mm
    mapped(view, [(left, top), (right, top), (right, bottom), (left, bottom)])  # refuses what no camera can see
    return view


def _finest_step(views: Sequence[Floats], rings: Sequence[Ring]) -> float:
    """Return how fine the last look should be, in mm: no finer than the picture has pixels."""
    scales = [
        pixels_per_mm_at(view, (float(r.middle[0]), float(r.middle[1]))) for view, r in zip(views, rings, strict=True)
    ]
    return max(_LEAST_STEP_MM, _STEP_PX / float(np.median(scales)))


def _chosen(
    scores: Singles,
    seen: Floats,
    rings: Sequence[Ring],
    frames: Sequence[CouponFrame],
    before: Mapping[int, Motion],
) -> tuple[Floats, Floats, Floats]:
    """Return what is expected of each coupon, the best hypothesis in that light (both coupons x 4), and how clear."""
    middles = np.stack([ring.middle for ring in rings])
    start, expected = np.zeros((len(rings), 4)), np.zeros((len(rings), 4))
    expected[:, 3] = _USUAL_SCALE
    known = np.array([frame.coupon in before for frame in frames])
    own = np.zeros((len(rings), 4))  # what was a coupon's own before, beside what all had in common
    if known.any():
        rows = as_rows([before.get(frame.coupon, Motion()) for frame in frames])
        own[known] = (rows - common_field(rows, known.astype(np.float64), middles))[known]
    total, rows = scores, start
    for habit in (_FIRST, _SECOND):
        total = weighed(scores, seen, _COARSE_NET, start, expected, habit)
        rows = best(total, _COARSE_NET)
        weights = np.clip(total.max(axis=(1, 2)), 0.05, 1) ** 2
        expected = common_field(rows - own, weights, middles) + own
    rows[[ring.round for ring in rings], 2] = 0
    usual = np.abs(rows[:, 3] - expected[:, 3]) < _SAME_SCALE
    rows[usual, 3] = expected[usual, 3]
    return expected, rows, clearness(total, _COARSE_NET, rings)


def as_motion(row: Floats) -> Motion:
    """Return the motion of dx, dy (mm), turn (rad) and scale - 1."""
    return Motion(float(row[0]), float(row[1]), float(np.degrees(row[2])), float(1 + row[3]))


def _hang(row: Floats, error: float, share: float, clear: float, expected: Floats) -> Hang:
    certain = clear >= _CLEAR and share >= _LEAST_SHARE and error <= _MOST_ERROR_MM
    usable = certain or (clear >= _CLEAR / 2 and share >= _LEAST_SHARE / 2 and error <= 2 * _MOST_ERROR_MM)
    return Hang(as_motion(row if usable else expected), certain, error, share)
