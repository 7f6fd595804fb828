"""What the coupons of one photo have in common: what stands off the board moves and grows with the view.

A camera at height ``D`` over the place ``X0`` on the board sees a plate that stands off by ``h`` as if it lay on the
board, but scaled about ``X0`` by ``1 / (1 - h / D)``. So all shifts of a photo are near one similarity of the board,
whose scale is also the scale of each coupon; a photo placed a little wrong adds to it in the same way.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from rustboard.photo.hanging.rings import Floats
from rustboard.photo.looks import Motion

_ROUNDS: Final = 6
_SHIFT_MM: Final = 0.8
_TURN: Final = float(np.radians(1.5))
_SCALE: Final = 0.01
_USUAL_SCALE: Final = 0.005
_LOOSE: Final = np.array([4.0, 4.0, 0.005, float(np.radians(0.25))])  # of shift x and y (mm), scale, turn


def as_rows(motions: Sequence[Motion]) -> Floats:
    """Return dx, dy (mm), turn (rad) and scale - 1 of each motion."""
    rows = [(m.dx_mm, m.dy_mm, float(np.radians(m.turn_deg)), m.scale - 1) for m in motions]
    return np.array(rows, np.float64).reshape(-1, 4)


def common_field(rows: Floats, weights: Floats, middles: Floats) -> Floats:
    """Return what the common similarity says of each coupon.

    Args:
        rows: coupons x 4, see `as_rows`.
        weights: coupons, 0 = says nothing.
        middles: coupons x 2, mm.

    Returns:
        coupons x 4, as ``rows``.
    """
    about = middles - middles.mean(axis=0)
    x, y = about.T
    one, none = np.ones(len(rows)), np.zeros(len(rows))
    # Unknown: shift x, shift y, scale - 1, turn.
    design = np.stack(
        [
            np.stack([one, none, x, -y], axis=1) / _SHIFT_MM,
            np.stack([none, one, y, x], axis=1) / _SHIFT_MM,
            np.stack([none, none, none, one], axis=1) / _TURN,
            np.stack([none, none, one, none], axis=1) / _SCALE,
        ],
        axis=1,
    )
    scaled = rows / (_SHIFT_MM, _SHIFT_MM, _TURN, _SCALE)
    expected = np.array([0, 0, _USUAL_SCALE, 0.0])
    found = expected.copy()
    if weights.any():
        found[:2] = np.median(rows[weights > 0, :2], axis=0)
    for _ in range(_ROUNDS):
        residual = scaled - design @ found
        trust = weights[:, None] / (1 + residual**2)
        normal = np.einsum("cki,ck,ckj->ij", design, trust, design) + np.diag(_LOOSE**-2)
        right = np.einsum("cki,ck,ck->i", design, trust, scaled) + expected * _LOOSE**-2
        found = np.linalg.solve(normal, right)
    return np.asarray((design @ found) * (_SHIFT_MM, _SHIFT_MM, _TURN, _SCALE), np.float64)
