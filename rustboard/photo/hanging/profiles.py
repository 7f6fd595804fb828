"""Colours along short lines across an outline, for all coupons of a photo at once, and the steps in them.

A line runs from inside the coupon (negative offsets, mm) outwards. Colours are logarithms of light, so that shade is
a shift of lightness alone, whatever lies in it: one channel of lightness, two of hue.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.hanging.rings import Ring
from rustboard.photo.homography import Matrix
from rustboard.photo.looks import Motion, Rgb

Singles = NDArray[np.float32]

_FLOOR: Final = 0.012  # light below this is lost in the camera's noise
_HUE: Final = 1.6  # a step of hue tells a coupon from the board better than one of lightness
_INNER_MM: Final = (4.0, 10.0)
_OUTER_MM: Final = (4.5, 11.0)
_LEAST_STEP: Final = 0.05
_GRAINS: Final = 5.0
_PLAIN: Final = 0.35  # what any step counts beside one between the right colours
_LEAST_SPREAD: Final = 0.06
_SHADE: Final = 1.3  # logarithm of how much darker the board may be in a shadow
_USUAL_SQUARE: Final = 9.0  # of a colour that may still be of the kind


def _light_table() -> NDArray[np.float32]:
    """Return sRGB levels as shares of white light (the curve of IEC 61966-2-1)."""
    level = np.arange(256) / 255
    light = np.where(level <= 0.04045, level / 12.92, ((level + 0.055) / 1.055) ** 2.4)
    return light.astype(np.float32)


_LIGHT: Final = _light_table()
LOG_LIGHT: Final = np.log(_LIGHT + np.float32(_FLOOR))
"""Logarithm of light by sRGB level."""

_SUM: Final = np.ones((1, 3), np.float32)
_OPPONENT: Final = np.array(
    [[1 / 3, 1 / 3, 1 / 3], [0.7071 * _HUE, -0.7071 * _HUE, 0], [0.4082 * _HUE, 0.4082 * _HUE, -0.8165 * _HUE]],
    np.float32,
)


def log_colours(rgb: Rgb) -> Singles:
    """Return the colours of a picture (H x W x 3, 0-255) as this module has them."""
    return np.asarray(cv2.transform(cv2.LUT(rgb, LOG_LIGHT), _OPPONENT), np.float32)


@dataclass(frozen=True, slots=True, eq=False)
class Profiles:
    """Colours along the lines.

    Attributes:
        colours: coupons x samples x offsets x 3, see the module. raw: the same as the picture has it.
        seen: coupons x samples, inside the picture.
        offsets: mm, evenly spaced.
    """

    colours: Singles
    raw: Rgb
    seen: NDArray[np.bool_]
    offsets: NDArray[np.float64]

    @property
    def step_mm(self) -> float:
        """Distance of two offsets."""
        return float(self.offsets[1] - self.offsets[0])


def profiles(
    picture: Rgb,
    views: Sequence[Matrix],
    rings: Sequence[Ring],
    motions: Sequence[Motion],
    offsets: NDArray[np.float64],
) -> Profiles:
    """Return the colours along lines across each outline as it hangs.

    Args:
        picture: H x W x 3.
        views: per coupon, the matrix from the board (mm) to the photo (px).
        rings: of the coupons.
        motions: of the coupons.
        offsets: mm, evenly spaced.
    """
    starts, ways = [], []
    for view, ring, motion in zip(views, rings, motions, strict=True):
        move = view @ motion.matrix((float(ring.middle[0]), float(ring.middle[1])))
        starts.append((ring.points + ring.middle) @ move[:, :2].T + move[:, 2])
        ways.append(ring.normals @ (move[:, :2].T / motion.scale))
    start = np.concatenate(starts).astype(np.float32)
    way = np.concatenate(ways).astype(np.float32)
    line = offsets.astype(np.float32)
    # Within so short a line a step is equally long everywhere, to hundredths of a pixel.
    depth = 1 / start[:, 2:]
    places = start[:, :2] * depth
    steps = (way[:, :2] - places * way[:, 2:]) * depth
    places -= np.float32(0.5)  # the library counts from the first pixel's centre
    x, y = (places[:, each, None] + steps[:, each, None] * line for each in (0, 1))  # (coupons x samples) x offsets
    height, width = picture.shape[:2]
    ends = slice(None, None, max(1, len(offsets) - 1))
    seen = np.all((x[:, ends] > 0) & (y[:, ends] > 0) & (x[:, ends] < width) & (y[:, ends] < height), axis=1)
    shape = (len(rings), -1)
    raw = cv2.remap(picture, x.reshape(shape), y.reshape(shape), cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    colours = log_colours(np.asarray(raw, np.uint8))
    return Profiles(
        colours.reshape(len(rings), -1, len(offsets), 3),
        np.asarray(raw, np.uint8).reshape(len(rings), -1, len(offsets), 3),
        seen.reshape(len(rings), -1),
        offsets,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Kinds:
    """The colours of each coupon and of the board around it: what lies well inside and well outside of the outline.

    Attributes:
        means: two (coupon, board) of coupons x 3.
        whiten: two of coupons x 3 x 3; takes a colour's difference from the mean to one whose square is the squared
            Mahalanobis distance.
        apart: two of coupons: how much farther the other kind lies than its own, 0 to 1, see `_unlike`.
    """

    means: tuple[Singles, Singles]
    whiten: tuple[Singles, Singles]
    apart: tuple[Singles, Singles]


def kinds_of(lines: Profiles, rings: Sequence[Ring]) -> Kinds:
    """Return what tells the coupons from the board, from colours well inside and well outside."""
    thin = slice(None, None, 2)
    offsets = lines.offsets[thin]
    depth = np.stack([ring.depth for ring in rings])[..., None]
    room = np.stack([ring.room for ring in rings])[..., None]
    seen = lines.seen[..., None]
    inner = (offsets < -np.minimum(_INNER_MM[0], depth / 2 - 1)) & (
        offsets > -np.minimum(_INNER_MM[1], depth / 2 + 1)
    )
    outer = (offsets > np.minimum(_OUTER_MM[0], room / 2 - 2)) & (offsets < np.minimum(_OUTER_MM[1], room - 4))
    inner, outer = inner & seen, outer & seen
    colours = np.ascontiguousarray(lines.colours[:, :, thin])
    means, whiten, apart = [], [], []
    for own, other, shade in ((inner, outer, 0.0), (outer, inner, _SHADE)):
        mean, spread = _mean_and_spread(colours, own)
        spread += np.eye(3, dtype=np.float32) * _LEAST_SPREAD**2
        root = np.linalg.cholesky(np.linalg.inv(spread.astype(np.float64))).astype(np.float32)
        unlike = _unlike(colours, mean, root, shade)
        means.append(mean)
        whiten.append(root)
        apart.append(np.clip(_mean_where(unlike, other) - _mean_where(unlike, own), 0.02, 1).astype(np.float32))
    return Kinds((means[0], means[1]), (whiten[0], whiten[1]), (apart[0], apart[1]))


def _unlike(colours: Singles, mean: Singles, whiten: Singles, shade: float) -> Singles:
    """Return how unlike a kind each colour is, 0 to 1; up to ``shade`` darker does not count."""
    # From a colour to its whitened difference from the mean, which the last column takes off.
    rows = whiten.transpose(0, 2, 1)
    whitening = np.concatenate([rows, -np.matmul(rows, mean[..., None])], axis=2)
    square = np.empty(colours.shape[:3], np.float32)
    for number, each in enumerate(colours):
        if shade:
            light, usual = np.asarray(cv2.extractChannel(each, 0), np.float32), mean[number, 0]
            dark = usual - light
            each = cv2.insertChannel(light + np.clip(dark, 0, np.float32(shade), out=dark), each.copy(), 0)
        square[number] = _squares(np.asarray(cv2.transform(each, whitening[number]), np.float32))
    return np.asarray(square / (square + np.float32(_USUAL_SQUARE)), np.float32)


def _squares(vectors: Singles) -> Singles:
    """Return the squared length of vectors of three numbers (... x 3)."""
    flat = vectors.reshape(len(vectors), -1, 3)
    return np.asarray(cv2.transform(cv2.multiply(flat, flat), _SUM), np.float32).reshape(vectors.shape[:-1])


def _mean_where(values: Singles, chosen: NDArray[np.bool_]) -> Singles:
    count = np.maximum(chosen.sum(axis=(1, 2)), 1)
    return np.asarray((values * chosen).sum(axis=(1, 2)) / count, np.float32)


def _mean_and_spread(colours: Singles, chosen: NDArray[np.bool_]) -> tuple[Singles, Singles]:
    count = np.maximum(chosen.sum(axis=(1, 2)), 1).astype(np.float32)
    flat = (colours * chosen[..., None]).reshape(len(colours), -1, 3)
    mean = flat.sum(axis=1) / count[:, None]
    square = np.matmul(flat.transpose(0, 2, 1), flat) / count[:, None, None]
    return mean, square - mean[:, :, None] * mean[:, None, :]


def light_steps(lines: Profiles, window: int) -> Singles:
    """Return the squared step in light itself (coupons x samples x places), whose middle blur does not move."""
    light = np.asarray(cv2.LUT(lines.raw.reshape(len(lines.raw), -1, 3), _LIGHT), np.float32)
    return _squares(_steps(light.reshape(lines.raw.shape), window))


def _steps(colours: Singles, window: int) -> Singles:
    """Return inside mean less outside mean, over ``window`` offsets each, at every place between offsets.

    Returns:
        coupons x samples x (offsets - 2 window + 1) x 3; the first lies ``window`` offsets after the first one's
        outer edge, see `step_offsets`.
    """
    count, samples, length, channels = colours.shape
    flat = colours.reshape(count * samples, length, channels)
    means = np.asarray(cv2.blur(flat, (window, 1), anchor=(0, 0), borderType=cv2.BORDER_REPLICATE))
    means = means.reshape(count, samples, length, channels)
    return np.asarray(means[:, :, : length - 2 * window + 1] - means[:, :, window : length - window + 1], np.float32)


def step_offsets(lines: Profiles, window: int) -> NDArray[np.float64]:
    """Return where the steps are, in mm."""
    count = len(lines.offsets) - 2 * window + 1
    first = float(lines.offsets[window]) - lines.step_mm / 2
    return np.asarray(first + np.arange(count) * lines.step_mm, np.float64)


def strengths(lines: Profiles, window: int, kinds: Kinds | None) -> Singles:
    """Return how much every place across the outline looks like the coupon's edge: 0 to 1, the reverse of it below 0.

    Three things speak for an edge, each up to a cap so that no strong edge rules: that the colour inside is the
    coupon's and the one outside is not; that the one outside is the board's, in shade or not, and the one inside is
    not; and any step at all against the usual step of the coupon's grain. The first two leave a shadow's far edge
    alone, which parts board from board. Without ``kinds`` only the last counts.
    """
    step = _steps(lines.colours, window)
    square = _squares(step)
    grain = np.median(square[:, ::4, ::3].reshape(len(square), -1), axis=1)[:, None, None]
    result = square / (square + _GRAINS * grain + _LEAST_STEP**2)
    if kinds is not None:
        share = np.full((len(square), 1, 1), _PLAIN, np.float32)
        result *= _PLAIN
        for kind, sign, shade in ((0, -1, 0.0), (1, 1, _SHADE)):
            unlike = _unlike(lines.colours, kinds.means[kind], kinds.whiten[kind], shade)
            apart = kinds.apart[kind][:, None, None]
            trust = apart**2
            change = _steps(unlike[..., None], window)[..., 0] * (sign / apart)
            result += trust * np.clip(change, -0.5, 1.0)
            share += trust
        result /= share
    result *= lines.seen[:, :, None]
    return np.asarray(result, np.float32)
