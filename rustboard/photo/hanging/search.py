"""Where a coupon may hang, on a coarse net of shifts, turns and scales.

A small motion moves the edge at a sample along its normal ``n`` by ``n . shift + turn * lever + (scale - 1) * reach``.
Within a stretch of the outline ``n`` and ``reach`` are constant, so the samples of a stretch are added up once for
every turn, and a hypothesis is a sum of a few look-ups.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.photo.hanging.profiles import Singles
from rustboard.photo.hanging.rings import Floats, Ring

SHIFTS_MM: Final = np.arange(-7.0, 7.5, 1.0)
TURNS_DEG: Final = np.arange(-4.0, 4.5, 1.0)
SCALES: Final = np.array([0.975, 0.99, 1.005, 1.02, 1.035])

_NEIGHBOUR_MM: Final = 3.0  # how much nearer the next coupon may hang than recorded


@dataclass(frozen=True, slots=True, eq=False)
class Volume:
    """How well every hypothesis fits one coupon: mean strength of the edge along the outline.

    Attributes:
        scores: shifts x turns. shifts: (n x 3) dx and dy in mm, scale. turns: radians.
    """

    scores: Singles
    shifts: Floats
    turns: Floats


@lru_cache(maxsize=1)
def _hypotheses() -> Floats:
    dx, dy, scale = np.meshgrid(SHIFTS_MM, SHIFTS_MM, SCALES, indexing="ij")
    return np.stack([dx.ravel(), dy.ravel(), scale.ravel()], axis=1)


def search(strengths: Singles, offsets: Floats, rings: Sequence[Ring]) -> list[Volume]:
    """Return the scores of all hypotheses for every coupon.

    Args:
        strengths: coupons x samples x offsets. offsets: mm, evenly spaced.
    """
    step = float(offsets[1] - offsets[0])
    return [
        _volume(_without_neighbours(strengths[number], offsets, ring), float(offsets[0]), step, ring)
        for number, ring in enumerate(rings)
    ]


def _without_neighbours(strengths: Singles, offsets: Floats, ring: Ring) -> Singles:
    limit = np.maximum(ring.room - _NEIGHBOUR_MM, ring.room / 2)
    if limit.min() > offsets[-1]:
        return strengths
    return np.asarray(np.where(offsets > limit[:, None], 0, strengths), np.float32)


def _volume(strengths: Singles, first: float, step: float, ring: Ring) -> Volume:
    turns = np.radians(TURNS_DEG) if not ring.round else np.zeros(1)
    lever = ring.points[:, 0] * ring.normals[:, 1] - ring.points[:, 1] * ring.normals[:, 0]
    moved = turns[:, None] * lever
    pad = int(np.ceil(np.abs(moved).max() / step)) + 1
    count = strengths.shape[1]
    padded = np.pad(strengths, ((0, 0), (pad, pad)))
    begin = pad + np.rint(moved / step).astype(np.intp)
    windows = np.lib.stride_tricks.sliding_window_view(padded, count, axis=1)
    turned = windows[np.arange(len(strengths)), begin]  # turns x samples x offsets
    sums = np.add.reduceat(turned, ring.starts, axis=1) / np.float32(len(strengths))
    table = np.ascontiguousarray(sums.transpose(1, 2, 0))  # stretches x offsets x turns
    indices = _look_ups(ring, first, step, count)
    scores = np.zeros((indices.shape[1], len(turns)), np.float32)
    for stretch, index in zip(table, indices, strict=True):
        scores += stretch[index]
    return Volume(scores, _hypotheses(), turns)


def _look_ups(ring: Ring, first: float, step: float, count: int) -> NDArray[np.intp]:
    """Return for each stretch and hypothesis the number of the offset (stretches x hypotheses)."""
    hypotheses = _hypotheses()
    way = ring.stretch_normals @ hypotheses[:, :2].T + ring.stretch_reach[:, None] * (hypotheses[:, 2] - 1)
    return np.asarray(np.clip(np.rint((way - first) / step), 0, count - 1), np.intp)


def turn_of(volume: Volume, number: int) -> tuple[float, float, float, float]:
    """Return dx, dy (mm), turn (rad) and scale of a hypothesis by its number in the flattened scores."""
    shift, turn = divmod(number, len(volume.turns))
    dx, dy, scale = volume.shifts[shift]
    return float(dx), float(dy), float(volume.turns[turn]), float(scale)
