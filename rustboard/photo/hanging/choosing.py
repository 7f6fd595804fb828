"""Which of many hypotheses of how a coupon hangs is the likeliest, in the light of what the others do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from rustboard.photo.hanging.profiles import Singles
from rustboard.photo.hanging.rings import Floats, Ring
from rustboard.photo.hanging.search import Net

_OTHER_MM: Final = 1.5  # hypotheses farther apart than this are two, not one
MOST_CLEAR: Final = 0.12


@dataclass(frozen=True, slots=True)
class Habit:
    """How far coupons usually are from what is expected, and what being farther costs in mean strength of the edge.

    The cost grows with the logarithm only: what is seen clearly may be unusual.
    """

    shift_mm: float
    turn: float
    scale: float
    shift_cost: float
    turn_cost: float
    scale_cost: float


def weighed(scores: Singles, seen: Floats, net: Net, start: Floats, expected: Floats, habit: Habit) -> Singles:
    """Return the scores less what being unusual costs.

    Args:
        scores: coupons x places x turns.
        seen: coupons, part of the samples inside the picture.
        net: of the hypotheses, which are changes from ``start``.
        start: coupons x 4: dx, dy, turn, scale - 1.
        expected: coupons x 4.
        habit: of coupons.
    """
    away = expected - start
    places = net.places
    apart = (places[:, 0] - away[:, :1]) ** 2 + (places[:, 1] - away[:, 1:2]) ** 2
    cost = habit.shift_cost * np.log1p(apart / habit.shift_mm**2)
    cost += habit.scale_cost * np.log1p(((places[:, 2] - away[:, 3:]) / habit.scale) ** 2)
    turned = habit.turn_cost * np.log1p(((net.turns - away[:, 2:3]) / habit.turn) ** 2)
    total = scores / seen[:, None, None].astype(np.float32)
    total -= cost.astype(np.float32)[:, :, None]
    total -= turned.astype(np.float32)[:, None, :]
    return np.asarray(total, np.float32)


def best(total: Singles, net: Net) -> Floats:
    """Return the best hypothesis of each coupon (coupons x 4: dx, dy, turn, scale - 1)."""
    return net.rows(total.reshape(len(total), -1).argmax(axis=1))


def clearness(total: Singles, net: Net, rings: Sequence[Ring]) -> Floats:
    """Return by how much the best hypothesis of each coupon beats any that lays the outline elsewhere."""
    flat = total.reshape(len(total), -1)
    clear = np.full(len(flat), MOST_CLEAR)
    for number, (scores, ring) in enumerate(zip(flat, rings, strict=True)):
        top = int(scores.argmax())
        rivals = np.flatnonzero(scores > scores[top] - MOST_CLEAR)
        others = net.rows(rivals) - net.rows(np.array([top]))
        square = np.einsum("ri,ij,rj->r", others, ring.spread, others)
        far = scores[rivals[square > _OTHER_MM**2]]
        if far.size:
            clear[number] = float(scores[top] - far.max())
    return clear
