"""Where a photo with a bent lens shows places, how that depends on the view, and least squares that find the view.

Nine numbers say a view: eight of the homography, whose ninth is 1, and the lens. Lengths are in units in which board
and picture both reach from about -1 to 1 about their middles.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from rustboard.photo.homography import Points
from rustboard.photo.placement import Placement

Floats = NDArray[np.float64]

VIEW: Final = 9
"""Numbers of a view."""
_STEPS: Final = 14
_DONE: Final = 1e-7


class Units(NamedTuple):
    """From millimetres and pixels to units about the middles, and back."""

    board_middle: Floats
    board_half: float
    size_px: tuple[int, int]

    @property
    def picture_half(self) -> float:
        """Half the picture's diagonal in pixels."""
        return float(np.hypot(*self.size_px)) / 2

    def of_board(self, points_mm: Points) -> Floats:
        """Return places on the board (... x 2) in units."""
        return (points_mm - self.board_middle) / self.board_half

    def of_picture(self, points_px: Points) -> Floats:
        """Return places in the photo (... x 2) in units."""
        return (points_px - np.array(self.size_px) / 2) / self.picture_half

    def placement(self, view: Floats) -> Placement:
        """Return nine numbers of a view as a placement."""
        b, h, (x, y), (u, v) = self.board_half, self.picture_half, self.board_middle, np.array(self.size_px) / 2
        board = np.array([[1 / b, 0, -x / b], [0, 1 / b, -y / b], [0, 0, 1]])
        matrix = np.array([[h, 0, u], [0, h, v], [0, 0, 1]]) @ np.append(view[:8], 1.0).reshape(3, 3) @ board
        return Placement(tuple((matrix / matrix[2, 2]).ravel().tolist()), self.size_px, float(view[8]))


class Seen(NamedTuple):
    """Where places show, and how that changes.

    Attributes:
        places: ... x 2.
        by_view: ... x 2 x 9, with the numbers of the view.
        by_place: ... x 2 x 2, with the place on the board.
    """

    places: Floats
    by_view: Floats
    by_place: Floats


def seen(view: Floats, board_places: Floats) -> Seen:
    """Return where a view shows places on the board (... x 2), all in units."""
    h, lens = np.append(view[:8], 1.0), view[8]
    x, y = board_places[..., 0], board_places[..., 1]
    depth = h[6] * x + h[7] * y + h[8]
    depth = np.where(np.abs(depth) > 1e-9, depth, 1e-9)
    u, v = (h[0] * x + h[1] * y + h[2]) / depth, (h[3] * x + h[4] * y + h[5]) / depth
    square = u * u + v * v
    gain = 1 + lens * square
    none, one = np.zeros_like(x), np.ones_like(x)
    ideal = np.empty((*x.shape, 2, 10))
    for row, parts in enumerate(
        (
            (x, y, one, none, none, none, -u * x, -u * y, h[0] - u * h[6], h[1] - u * h[7]),
            (none, none, none, x, y, one, -v * x, -v * y, h[3] - v * h[6], h[4] - v * h[7]),
        )
    ):
        for column, part in enumerate(parts):
            ideal[..., row, column] = part / depth
    bend = np.empty((*x.shape, 2, 2))
    bend[..., 0, 0], bend[..., 1, 1] = gain + 2 * lens * u * u, gain + 2 * lens * v * v
    bend[..., 0, 1] = bend[..., 1, 0] = 2 * lens * u * v
    moved = bend @ ideal
    by_lens = np.stack([u * square, v * square], axis=-1)[..., None]
    places = np.stack([u * gain, v * gain], axis=-1)
    return Seen(places, np.concatenate([moved[..., :8], by_lens], axis=-1), moved[..., 8:])


class State(NamedTuple):
    """A problem at one set of values: weighted residuals, their slopes, and the loss that is to shrink."""

    rows: Floats
    slopes: Floats
    loss: float


def huber_weights(lengths: Floats, bend: float) -> tuple[Floats, float]:
    """Return what residuals of these lengths count, and their loss: beyond the bend it only grows in proportion.

    Huber, "Robust estimation of a location parameter" (1964).
    """
    loss = np.where(lengths <= bend, lengths**2, 2 * bend * lengths - bend**2)
    return np.sqrt(bend / np.maximum(lengths, bend)), float(loss.sum())


def least(at: Callable[[Floats], State], start: Floats) -> Floats:
    """Return the values of least loss near ``start``: Gauss-Newton steps, damped after Levenberg and Marquardt."""
    values, damping, now = start, 1e-3, at(start)
    for _ in range(_STEPS):
        square = now.slopes.T @ now.slopes
        step = np.linalg.solve(square + damping * np.diag(np.diag(square) + 1e-12), -(now.slopes.T @ now.rows))
        following = at(values + step)
        if following.loss > now.loss:
            damping *= 10
            continue
        values, damping, now = values + step, damping / 10, following
        if np.abs(step).max() < _DONE:
            break
    return values
