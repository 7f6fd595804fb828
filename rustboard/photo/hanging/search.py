"""Where coupons may hang, on a net of shifts, turns and scales.

A small motion moves the edge at a sample along its normal ``n`` by
``n . shift + turn * lever + (scale - 1) * reach``. Within a stretch of the outline ``n`` and ``reach`` are constant,
so the samples of a stretch are added up once for every turn, and a hypothesis is a sum of a few look-ups.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.photo.hanging.profiles import Singles
from rustboard.photo.hanging.rings import Floats, Ring

_NEIGHBOUR_MM: Final = 3.0  # how much nearer the next coupon may hang than recorded


@dataclass(frozen=True)
class Net:
    """The hypotheses, as changes of how the coupons hang: every shift in x and y with every scale and turn.

    Attributes:
        shifts_mm: in x, and in y. scales: less 1. turns_deg: as `Motion` has them.
    """

    shifts_mm: tuple[float, ...]
    scales: tuple[float, ...]
    turns_deg: tuple[float, ...]

    @cached_property
    def places(self) -> Floats:
        """Dx and dy in mm, scale - 1 of every hypothesis but for its turn (n x 3)."""
        dx, dy, scale = np.meshgrid(self.shifts_mm, self.shifts_mm, self.scales, indexing="ij")
        return np.stack([dx.ravel(), dy.ravel(), scale.ravel()], axis=1)

    @cached_property
    def turns(self) -> Floats:
        """In radians."""
        return np.radians(self.turns_deg)

    def rows(self, numbers: NDArray[np.intp]) -> Floats:
        """Return dx, dy (mm), turn (rad) and scale - 1 of hypotheses by their numbers (n) in flattened scores."""
        place, turn = np.divmod(numbers, len(self.turns))
        chosen = self.places[place]
        return np.column_stack([chosen[:, 0], chosen[:, 1], self.turns[turn], chosen[:, 2]])


def search(strengths: Singles, offsets: Floats, rings: Sequence[Ring], net: Net) -> Singles:
    """Return how well every hypothesis fits: mean strength of the edge along the outline.

    Args:
        strengths: coupons x samples x offsets.
        offsets: mm, evenly spaced.
        rings: of the coupons.
        net: of the hypotheses.

    Returns:
        coupons x places x turns.
    """
    groups: dict[bytes, list[int]] = {}
    for number, ring in enumerate(rings):
        groups.setdefault(ring.starts.tobytes(), []).append(number)
    scores = np.zeros((len(rings), len(net.places), len(net.turns)), np.float32)
    for members in groups.values():
        scores[members] = _alike(strengths[members], offsets, [rings[each] for each in members], net)
    return scores


def _alike(strengths: Singles, offsets: Floats, rings: Sequence[Ring], net: Net) -> Singles:
    """Return the scores of coupons whose outlines have the same stretches."""
    room = np.stack([ring.room for ring in rings])
    limit = np.maximum(room - _NEIGHBOUR_MM, room / 2)[..., None]
    if limit.min() < offsets[-1]:
        strengths = np.where(offsets > limit, np.float32(0), strengths)
    first, step = float(offsets[0]), float(offsets[1] - offsets[0])
    coupons, samples, count = strengths.shape
    lever = np.stack([ring.lever for ring in rings])
    moved = net.turns[:, None, None] * lever  # turns x coupons x samples
    pad = int(np.ceil(np.abs(moved).max() / step)) + 1
    padded = np.pad(strengths, ((0, 0), (0, 0), (pad, pad)))
    begin = pad + np.rint(moved / step).astype(np.intp)
    windows = np.lib.stride_tricks.sliding_window_view(padded, count, axis=2)
    turned = windows[np.arange(coupons)[:, None], np.arange(samples), begin]
    sums = np.add.reduceat(turned, rings[0].starts, axis=2) / np.float32(samples)
    table = np.ascontiguousarray(sums.transpose(1, 2, 3, 0))  # coupons x stretches x offsets x turns
    normals = np.stack([ring.stretch_normals for ring in rings])
    reach = np.stack([ring.stretch_reach for ring in rings])
    way = normals @ net.places[:, :2].T + reach[..., None] * net.places[:, 2]
    index = np.clip(np.rint((way - first) / step), 0, count - 1).astype(np.intp)
    scores = np.zeros((coupons, len(net.places), len(net.turns)), np.float32)
    stretches = table.shape[1]
    index += count * np.arange(coupons * stretches).reshape(coupons, stretches, 1)
    flat = table.reshape(-1, table.shape[3])
    for stretch in range(stretches):
        scores += flat.take(index[:, stretch], axis=0, mode="clip")
    return scores
