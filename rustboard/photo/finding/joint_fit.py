"""One view for all corners of all markers: homography and lens together, by weighted least squares.

A person prints the squares and glues them on: a printer that scales to the page makes all of them a little too small,
and each is glued a degree askew. Taken for exact, such squares would bend the lens. So the fit also knows one size
for all squares and one turn for each, and holds them near nothing by what hands and printers usually do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.board.model import Marker
from rustboard.photo.finding.damped import VIEW, Floats, State, Units, huber_weights, least, seen
from rustboard.photo.homography import Matrix, Points
from rustboard.photo.placement import Placement

LENS_USUALLY: Final = 0.05
"""Spread of what phone lenses leave uncorrected, against the half diagonal. From memory; generous."""
SIZE_USUALLY: Final = 0.02
TURN_USUALLY: Final = 0.02  # radians
CORNER_USUALLY_PX: Final = 0.2
_HUBER: Final = 2.5
_HELD: Final = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class JointFit:
    """What the fit found.

    Attributes:
        away_px: n x 4, distance of every corner from where the fit expects it; nan where it was not read.
        error_px: root mean square of these.
    """

    placement: Placement
    away_px: Floats
    error_px: float


def square_mm(marker: Marker) -> Points:
    """Return a marker's corners on the board, clockwise from the top left."""
    (x, y), half = marker.centre_mm, marker.size_mm / 2
    return np.array([(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)])


def plain_homography(points_mm: Points, points_px: Points) -> Matrix:
    """Return the homography nearest to pairs of points (n x 2 each, n > 3) by the direct linear way.

    Hartley, "In defense of the eight-point algorithm" (1997): both sides are moved and scaled first.
    """
    start, start_scale = _normalised(points_mm)
    end, end_scale = _normalised(points_px)
    x, y, u, v = *start.T, *end.T
    none, one = np.zeros_like(x), np.ones_like(x)
    rows = np.concatenate(
        [
            np.stack([x, y, one, none, none, none, -u * x, -u * y, -u], axis=1),
            np.stack([none, none, none, x, y, one, -v * x, -v * y, -v], axis=1),
        ]
    )
    _, _, right = np.linalg.svd(rows, full_matrices=True)
    matrix: Matrix = np.linalg.inv(end_scale) @ right[-1].reshape(3, 3) @ start_scale
    return matrix


def joint_fit(
    markers: Sequence[Marker],
    corners_px: Floats,
    read: NDArray[np.bool_],
    size_px: tuple[int, int],
    *,
    lens_usually: float = LENS_USUALLY,
) -> JointFit:
    """Return the view in which the markers' corners lie nearest to where they were read.

    Args:
        markers: n of them.
        corners_px: n x 4 x 2.
        read: n x 4, which corners count.
        size_px: width and height of the photo.
        lens_usually: spread of the lens's bend about none; 0 holds it at none.
    """
    problem = _Problem(markers, corners_px, read, size_px, lens_usually)
    values = least(problem.at, problem.start())
    away = problem.away_px(values)
    return JointFit(problem.units.placement(values), away, float(np.sqrt(np.nanmean(away**2))))


class _Problem:
    """The unknowns are the view, the size of all markers, and one turn a marker."""

    def __init__(
        self,
        markers: Sequence[Marker],
        corners_px: Floats,
        read: NDArray[np.bool_],
        size_px: tuple[int, int],
        lens_usually: float,
    ) -> None:
        places = np.stack([square_mm(each) for each in markers])
        middle = places.reshape(-1, 2).mean(axis=0)
        self.units = Units(middle, max(float(np.abs(places - middle).max()), 1e-9), size_px)
        self._read = read
        self._centre = self.units.of_board(places.mean(axis=1, keepdims=True))
        self._from_centre = (places - places.mean(axis=1, keepdims=True)) / self.units.board_half
        self._corners = self.units.of_picture(np.asarray(corners_px, np.float64))
        usually = [max(lens_usually, _HELD), SIZE_USUALLY] + [TURN_USUALLY] * len(markers)
        self._pull = np.zeros((len(usually), VIEW - 1 + len(usually)))
        self._pull[:, VIEW - 1 :] = np.diag(1 / np.array(usually))

    def start(self) -> Floats:
        points = (self._centre + self._from_centre)[self._read]
        view = plain_homography(points, self._corners[self._read])
        return np.concatenate([(view / view[2, 2]).ravel()[:8], np.zeros(len(self._pull))])

    def away_px(self, values: Floats) -> Floats:
        """Return every corner's distance from where it is expected; nan where it was not read."""
        away = np.hypot(*np.moveaxis(seen(values[:VIEW], self._places(values)).places - self._corners, -1, 0))
        return np.where(self._read, away * self.units.picture_half, np.nan)

    def at(self, values: Floats) -> State:
        shown = seen(values[:VIEW], self._places(values))
        slopes = np.zeros((*shown.by_view.shape[:-1], len(values)))
        slopes[..., :VIEW] = shown.by_view
        turned = self._places(values) - self._centre
        slopes[..., VIEW] = (shown.by_place @ turned[..., None])[..., 0] / (1 + values[VIEW])
        askew = np.stack([-turned[..., 1], turned[..., 0]], axis=-1)
        for number in range(len(turned)):
            slopes[number, ..., VIEW + 1 + number] = (shown.by_place[number] @ askew[number, :, :, None])[..., 0]
        away = (shown.places - self._corners)[self._read] * (self.units.picture_half / CORNER_USUALLY_PX)
        weights, loss = huber_weights(np.hypot(away[:, 0], away[:, 1]), _HUBER)
        steep = slopes[self._read] * (self.units.picture_half / CORNER_USUALLY_PX) * weights[:, None, None]
        pull = self._pull @ values
        return State(
            np.concatenate([(away * weights[:, None]).ravel(), pull]),
            np.concatenate([steep.reshape(-1, len(values)), self._pull]),
            loss + float(pull @ pull),
        )

    def _places(self, values: Floats) -> Floats:
        """Return the markers' corners on the board as they would be glued on."""
        size, turns = values[VIEW], values[VIEW + 1 :, None]
        c, s, q = np.cos(turns), np.sin(turns), self._from_centre
        turned = np.stack([c * q[..., 0] - s * q[..., 1], s * q[..., 0] + c * q[..., 1]], axis=-1)
        return np.asarray(self._centre + (1 + size) * turned, np.float64)


def _normalised(points: Points) -> tuple[Points, Matrix]:
    middle = points.mean(axis=0)
    scale = 1 / max(float(np.hypot(*(points - middle).T).mean()), 1e-12)
    return (points - middle) * scale, np.array(
        [[scale, 0, -scale * middle[0]], [0, scale, -scale * middle[1]], [0, 0, 1]]
    )
