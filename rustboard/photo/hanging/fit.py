"""How every coupon hangs on a photo: its outline found again, coarse net first, then to a fraction of a pixel."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from rustboard.photo.hanging.field import as_rows, common_field
from rustboard.photo.hanging.profiles import kinds_of, light_steps, profiles, step_offsets, strengths
from rustboard.photo.hanging.refining import Refined, refine
from rustboard.photo.hanging.rings import Floats, Ring, rings_of
from rustboard.photo.hanging.search import Volume, search, turn_of
from rustboard.photo.looks import CouponFrame, Motion, Rgb
from rustboard.photo.placement import Placement

_COARSE: Final = np.arange(-13.0, 13.01, 0.5)
_COARSE_WINDOW: Final = 4
_FINE: Final = np.arange(-3.2, 3.21, 0.2)
_FINE_WINDOW: Final = 4

_PENALTIES: Final = np.array([0.05, 0.03, 0.10])  # of shift, turn and scale, in mean strength of the edge
_USUAL_SHIFT_MM: Final = 2.0
_USUAL_TURN: Final = float(np.radians(1.5))
_USUAL_SCALE: Final = 0.006
_OTHER_MM: Final = 1.5  # hypotheses farther apart than this are two, not one
_CLEAR: Final = 0.06  # by how much the best has to be better than any other
_LEAST_SHARE: Final = 0.5
_MOST_ERROR_MM: Final = 0.3


@dataclass(frozen=True, slots=True)
class Hang:
    """How one coupon hangs on one photo.

    Attributes:
        certain: its edge was seen; otherwise it is where the other coupons of the photo let expect it.
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
        before: how they hung on an earlier photo, where known.
    """
    if not frames:
        return {}
    rings = rings_of(tuple(frames))
    views = [placement.local(frame.box_mm) for frame in frames]
    lines = profiles(picture, views, rings, [Motion()] * len(rings), _COARSE)
    edges = strengths(lines, _COARSE_WINDOW, kinds_of(lines, rings))
    seen = np.maximum(lines.seen.mean(axis=1), 0.05)
    volumes = search(edges, step_offsets(lines, _COARSE_WINDOW), rings)
    expected, picked, clear = _chosen(volumes, seen, rings, frames, before or {})
    refined = _refined(picture, views, rings, picked, expected)
    again = _refined(picture, views, rings, refined.rows, expected)
    return {
        frame.coupon: _hang(again, number, bool(clear[number]), expected[number])
        for number, frame in enumerate(frames)
    }


def _chosen(
    volumes: Sequence[Volume],
    seen: Floats,
    rings: Sequence[Ring],
    frames: Sequence[CouponFrame],
    before: Mapping[int, Motion],
) -> tuple[Floats, Floats, Floats]:
    """Return what is expected of each coupon, the best hypothesis in that light (both coupons x 4), and how clear."""
    middles = np.stack([ring.middle for ring in rings])
    expected = np.zeros((len(rings), 4))
    expected[:, 3] = 0.006
    known = np.array([frame.coupon in before for frame in frames])
    own = np.zeros((len(rings), 4))  # what was a coupon's own before, beside what all had in common
    if known.any():
        rows = as_rows([before.get(frame.coupon, Motion()) for frame in frames])
        own[known] = (rows - common_field(rows, known.astype(np.float64), middles))[known]
    picked, clear = expected.copy(), np.zeros(len(rings))
    for wide in (3.0, 1.0):
        for number, (volume, ring) in enumerate(zip(volumes, rings, strict=True)):
            picked[number], clear[number] = _best(volume, float(seen[number]), ring, expected[number], wide)
        weights = np.clip(clear / _CLEAR, 0, 1) ** 2
        expected = common_field(picked - own, weights, middles) + own
    return expected, picked, clear


def _best(volume: Volume, seen: float, ring: Ring, expected: Floats, wide: float) -> tuple[Floats, float]:
    """Return the best hypothesis (dx, dy, turn, scale - 1), and by how much it is better than any that differs."""
    away = np.hypot(volume.shifts[:, 0] - expected[0], volume.shifts[:, 1] - expected[1]) / (_USUAL_SHIFT_MM * wide)
    grown = (volume.shifts[:, 2] - 1 - expected[3]) / _USUAL_SCALE
    turned = (volume.turns - expected[2]) / (_USUAL_TURN * wide)
    cost = _PENALTIES[0] * np.log1p(away**2) + _PENALTIES[2] * np.log1p(grown**2)
    total = volume.scores / np.float32(seen) - cost.astype(np.float32)[:, None]
    total -= (_PENALTIES[1] * np.log1p(turned**2)).astype(np.float32)
    flat = total.ravel()
    number = int(flat.argmax())
    best = np.array(turn_of(volume, number)) - (0, 0, 0, 1)
    rivals = np.flatnonzero(flat > flat[number] - 2 * _CLEAR)
    others = np.array([turn_of(volume, int(rival)) for rival in rivals]) - (0, 0, 0, 1) - best
    lever = ring.points[:, 0] * ring.normals[:, 1] - ring.points[:, 1] * ring.normals[:, 0]
    reach = np.sum(ring.points * ring.normals, axis=1)
    design = np.column_stack([ring.normals, lever, reach])
    apart = np.sqrt(np.einsum("ri,ij,rj->r", others, design.T @ design / len(design), others))
    far = flat[rivals[apart > _OTHER_MM]]
    return best, float(flat[number] - far.max()) if far.size else 2 * _CLEAR


def _refined(picture: Rgb, views: Sequence[Floats], rings: Sequence[Ring], rows: Floats, expected: Floats) -> Refined:
    motions = [as_motion(row) for row in rows]
    lines = profiles(picture, views, rings, motions, _FINE)
    edges = strengths(lines, _FINE_WINDOW, kinds_of(lines, rings))
    return refine(
        edges, light_steps(lines, _FINE_WINDOW), step_offsets(lines, _FINE_WINDOW), lines.seen, rings, rows, expected
    )


def as_motion(row: Floats) -> Motion:
    """Return the motion of dx, dy (mm), turn (rad) and scale - 1."""
    return Motion(float(row[0]), float(row[1]), float(np.degrees(row[2])), float(1 + row[3]))


def _hang(found: Refined, number: int, clear: bool, expected: Floats) -> Hang:
    error, share = float(found.errors[number]), float(found.shares[number])
    certain = clear and share >= _LEAST_SHARE and error <= _MOST_ERROR_MM
    return Hang(as_motion(found.rows[number] if certain else expected), certain, error, share)
