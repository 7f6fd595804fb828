"""A view fitted to many places that were recognised, each only as sure as its own look allows."""

from __future__ import annotations

from typing import Final

import numpy as np

from rustboard.photo.finding.damped import VIEW, Floats, State, Units, huber_weights, least, seen
from rustboard.photo.homography import Points
from rustboard.photo.placement import Placement

_HUBER: Final = 1.5
_PLACE_USUALLY_PX: Final = 1.0


def point_fit(
    points_mm: Points, points_px: Points, sureness: Floats, start: Placement, lens: float, lens_usually: float
) -> tuple[Placement, Floats]:
    """Return the view nearest to pairs of places, and how far each stays from it in pixels, as weighted.

    Args:
        points_mm: n x 2, on the board.
        points_px: n x 2, the same in the photo.
        sureness: n x 2 x 2, rows that take a distance in pixels to one in which only what is sure counts; a place on
            a straight edge is sure across it and unsure along it.
        start: a view near the answer.
        lens: what the lens probably is.
        lens_usually: how far from that it strays.
    """
    middle = points_mm.mean(axis=0)
    units = Units(middle, max(float(np.abs(points_mm - middle).max()), 1e-9), start.size_px)
    board, picture = units.of_board(points_mm), units.of_picture(points_px)
    scaled = sureness * (units.picture_half / _PLACE_USUALLY_PX)
    lens_row = np.zeros((1, VIEW))
    lens_row[0, VIEW - 1] = 1 / max(lens_usually, 1e-9)

    def at(values: Floats) -> State:
        shown = seen(values, board)
        away = (scaled @ (shown.places - picture)[..., None])[..., 0]
        weights, loss = huber_weights(np.hypot(away[:, 0], away[:, 1]), _HUBER)
        steep = (scaled @ shown.by_view) * weights[:, None, None]
        pull = lens_row[:, VIEW - 1] * (values[VIEW - 1] - lens)
        return State(
            np.concatenate([(away * weights[:, None]).ravel(), pull]),
            np.concatenate([steep.reshape(-1, VIEW), lens_row]),
            loss + float(pull @ pull),
        )

    values = least(at, _numbers(start, units))
    left = (scaled @ (seen(values, board).places - picture)[..., None])[..., 0] * _PLACE_USUALLY_PX
    return units.placement(values), np.hypot(left[:, 0], left[:, 1])


def _numbers(placement: Placement, units: Units) -> Floats:
    """Return a placement as the nine numbers of a view."""
    b, h, (x, y), (u, v) = units.board_half, units.picture_half, units.board_middle, np.array(units.size_px) / 2
    board = np.array([[b, 0, x], [0, b, y], [0, 0, 1]])
    picture = np.array([[1 / h, 0, -u / h], [0, 1 / h, -v / h], [0, 0, 1]])
    view = picture @ np.reshape(placement.mm_to_px, (3, 3)) @ board
    return np.append((view / view[2, 2]).ravel()[:8], placement.lens)
