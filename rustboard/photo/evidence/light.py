"""The light of a photo against that of the first one, as its witnesses agree on it.

Every witness can err: wood darkens and reddens when wet, steel rusts, any of them may lie in shade. Brightness
differs from place to place and is taken from the board around each coupon. The colour of the light is what most kinds
of witnesses agree on; where they do not, the bluer side is believed, since rust and water both make things redder.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.evidence.board_look import (
    BOARD,
    FIRST_CARD,
    FIRST_COUPON,
    FIRST_PAPER,
    BoardLook,
    LightPlan,
    witness_map,
)
from rustboard.photo.evidence.modes import mode_of
from rustboard.photo.evidence.tables import FROM_PARTS, STEPS, Logs, Plane, parts_of
from rustboard.photo.looks import CouponFrame, Mask

_BANDWIDTH: Final = 0.05
"""Witnesses whose colours (nats) differ by less agree."""
_WEIGHTS: Final = {"paper": 1.5, "card": 3.0, "coupons": 1.0, "unchanged": 0.3}
_AS_GOOD: Final = 0.85
"""A consensus with this share of the best one's weight is as good."""
_FEWEST: Final = 6  # pixels of a witness
_LEAST_BOARD: Final = 0.03  # share of bare board
_FIELD_MM: Final = 18.0
_CELL: Final = 4
_AT_COUPON: Final = (4, 4)

_SLOPE_SEEN: Final = 0.3
"""Range of brightness (nats) from which sun and shade tell their colours apart."""
_USUAL_SLOPES: Final = (0.12, 0.2)

_SHADY: Final = 0.6
_DARKENED: Final = -0.15
"""What water takes at least of the light of wood, stone and most paints (nats)."""
_DEEPENED: Final = 0.06
_COLOURED: Final = 0.15
_POINTS: Final = (1.12, 1.25)
_BOTH: Final = 2.05
"""How many times farther than in the first photo the bright points and the dark rims of drops stand out: each at
least, and both multiplied. Rust and sharper focus bring one of them alone."""
_DIM: Final = -3.6  # nats below white; level 45
_BLURRED_MM: Final = 0.28
"""A spot of 0.5 mm keeps less than a third of its contrast: 1 - exp(-0.25**2 / (2 * 0.28**2)) is 0.33."""
_SHARP_PX: Final = 1.2
"""A photo no more blurred than this in its own pixels is sharp; it only has few pixels."""
_MORE_BLURRED: Final = 2.5
_NOT_KNOWN: Final = 1.2
_SAMPLE: Final = 4096
_EXTREMES: Final = (2, 98)

_Colour = NDArray[np.float32]
"""Luminance, redness, yellowness (nats)."""


@dataclass(frozen=True, slots=True, eq=False)
class LocalLight:
    """The light at one coupon against that of the first photo.

    Attributes:
        gains: rows x columns x 3, logarithms (nats) of red, green, blue over the coupon's grid, coarse.
        sunny_red, sunny_yellow: how much redder and yellower (nats) light gets for each nat that it gets brighter,
            from shade to sun.
        darker, brighter: how much darker and brighter (nats) than at the coupon the light is elsewhere on the board:
            as much the edge of a shadow or a patch of sun on the coupon itself may change it.
        drops: whether drops of water stand on most coupons.
    """

    gains: NDArray[np.float32]
    sunny_red: float = 0.12
    sunny_yellow: float = 0.2
    darker: float = _NOT_KNOWN
    brighter: float = _NOT_KNOWN
    drops: bool = False

    def steps(self, shape: tuple[int, int]) -> Logs:
        """Return the gains in steps on a grid of pixels, H x W x 3."""
        if self.gains.shape[:2] == (1, 1):
            return np.broadcast_to(np.rint(self.gains * np.float32(STEPS)).astype(np.int16), (*shape, 3))
        steps = np.rint(self.gains * np.float32(STEPS)).astype(np.int16)
        return np.asarray(cv2.resize(steps, (shape[1], shape[0]), interpolation=cv2.INTER_LINEAR), np.int16)


UNCHANGED: Final = LocalLight(np.zeros((1, 1, 3), np.float32))


@dataclass(frozen=True, slots=True, eq=False)
class Light:
    """The light of a photo against that of the first one, everywhere on the board.

    Attributes:
        field: h x w x 3, luminance, redness, yellowness (nats), coarse.
        scale: pixels of the field a millimetre.
        sunny_red, sunny_yellow, drops: see `LocalLight`.
        warnings: plain words.
        extremes: change of luminance (nats) where the board has become darkest and brightest; None = not known.
    """

    field: Plane
    scale: float
    sunny_red: float
    sunny_yellow: float
    warnings: tuple[str, ...]
    extremes: tuple[float, float] | None = None
    drops: bool = False

    def at(self, frame: CouponFrame) -> LocalLight:
        """Return the light at a coupon."""
        left, top, right, bottom = (each * self.scale for each in frame.box_mm)
        rows, columns = _AT_COUPON
        x = (left + (right - left) * (np.arange(columns, dtype=np.float32) + 0.5) / columns - 0.5).astype(np.float32)
        y = (top + (bottom - top) * (np.arange(rows, dtype=np.float32) + 0.5) / rows - 0.5).astype(np.float32)
        maps = np.meshgrid(x, y)
        parts = cv2.remap(self.field, maps[0], maps[1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
        gains = np.asarray(cv2.transform(parts, FROM_PARTS), np.float32)
        here = float(parts[:, :, 0].mean())
        low, high = self.extremes or (here - _NOT_KNOWN, here + _NOT_KNOWN)
        darker, brighter = max(here - low, 0.0), max(high - here, 0.0)
        return LocalLight(gains, self.sunny_red, self.sunny_yellow, darker, brighter, self.drops)


def light_between(first: BoardLook, now: BoardLook, plan: LightPlan) -> Light:
    """Return the light of a photo against that of the first one."""
    labels = witness_map(plan)
    known = first.known & now.known
    change = cv2.medianBlur(cv2.subtract(now.logs, first.logs), 5)
    parts = parts_of(np.asarray(change, np.int16))
    board = known & (labels == BOARD)
    own = _witnesses(parts, known, plan)
    drops = _drops_on_most(first, now)
    if board.mean() < _LEAST_BOARD:
        colour = _agreed(own, {})
        words = _words(now, parts, labels, wet=drops, sharpest_px=first.blur_px)
        even = np.broadcast_to(colour, (1, 1, 3)).copy()
        return Light(even, plan.scale / _CELL, *_USUAL_SLOPES, words, drops=drops)
    field = _smooth(parts, board, plan.scale)
    places, width = _places_of(plan), labels.shape[1]
    aside: dict[int, _Colour] = {}
    for label, colour in own.items():
        row, column = (int(np.mean(each)) // _CELL for each in divmod(places[label], width))
        aside[label] = field[min(row, field.shape[0] - 1), min(column, field.shape[1] - 1)] - colour
    # The board's own change, by water or by age, is what it has changed beside a witness of another kind.
    shift = _agreed({label: -each for label, each in aside.items()}, {"unchanged": [np.zeros(3, np.float32)]})
    evened = field + shift * np.array([0, 1, 1], np.float32)
    bare = np.flatnonzero(board)
    some = bare[:: max(1, bare.size // _SAMPLE)]
    before, since = parts_of(first.logs.reshape(-1, 1, 3)[some])[:, 0], parts.reshape(-1, 3)[some]
    low, high = (float(each) for each in np.percentile(since[:, 0], _EXTREMES))
    wet = drops or _is_wet(before, since, aside)
    words = _words(now, parts, labels, wet=wet, sharpest_px=first.blur_px)
    return Light(evened, plan.scale / _CELL, *_sunny(parts[board]), words, (low, high), drops)


def _smooth(parts: Plane, board: Mask, scale: float) -> Plane:
    """Return the change of light on the bare board, smooth and filled up everywhere, at a quarter of the size."""
    height, width = board.shape
    size = (max(1, width // _CELL), max(1, height // _CELL))
    weight = cv2.resize(board.astype(np.float32), size, interpolation=cv2.INTER_AREA)
    carried = cv2.resize(cv2.copyTo(parts, board.view(np.uint8)), size, interpolation=cv2.INTER_AREA)
    for reach in (1, 3, 9):  # far from any bare board, what is farther off must do
        spread = _FIELD_MM * reach * scale / _CELL
        far_weight = cv2.GaussianBlur(weight, (0, 0), spread) + np.float32(1e-9)
        far = cv2.GaussianBlur(carried, (0, 0), spread) / far_weight[:, :, None]
        if reach == 1:
            filled, trust = far, far_weight
        else:
            share = np.clip(trust / np.float32(0.05), 0, 1)[:, :, None]
            filled, trust = filled * share + far * (1 - share), np.maximum(trust, far_weight)
    return np.asarray(filled, np.float32)


@lru_cache(maxsize=8)
def _places_of(plan: LightPlan) -> dict[int, NDArray[np.intp]]:
    """Return the places in the flat small picture that show each marker, card and coupon."""
    labels = witness_map(plan).ravel()
    return {int(label): np.flatnonzero(labels == label) for label in np.unique(labels) if label >= FIRST_PAPER}


def _witnesses(parts: Plane, known: Mask, plan: LightPlan) -> dict[int, _Colour]:
    """Return the change of each marker, card and coupon: of the median of its pixels, or of most of a coupon's."""
    found: dict[int, _Colour] = {}
    flat, shown = parts.reshape(-1, 3), known.ravel()
    for label, places in _places_of(plan).items():
        values = flat[places[shown[places]]]
        if label >= FIRST_COUPON and len(values) >= _FEWEST:
            red, _ = mode_of(values[:, 1])
            values = values[np.abs(values[:, 1] - red) < 0.1]
        if len(values) >= _FEWEST:
            found[label] = np.median(values, axis=0).astype(np.float32)
    return found


def _kind(label: int) -> str:
    return "coupons" if label >= FIRST_COUPON else "card" if label >= FIRST_CARD else "paper"


def _agreed(found: dict[int, _Colour], more: dict[str, list[_Colour]]) -> _Colour:
    """Return the colour on which most kinds of witnesses agree, the bluest of nearly equal ones."""
    kinds: dict[str, list[_Colour]] = {kind: list(each) for kind, each in more.items()}
    for label, colour in found.items():
        kinds.setdefault(_kind(label), []).append(colour)
    if not kinds:
        return np.zeros(3, np.float32)
    points = np.array([each for colours in kinds.values() for each in colours], np.float32)
    weights = np.concatenate([np.full(len(each), _WEIGHTS[kind] / len(each)) for kind, each in kinds.items()])
    apart = np.linalg.norm(points[:, None, 1:] - points[None, :, 1:], axis=2)
    kernel = np.exp(-0.5 * (apart / _BANDWIDTH) ** 2) * weights
    score = kernel.sum(axis=1)
    good = np.flatnonzero(score >= _AS_GOOD * score.max())
    best = good[np.argmin(points[good, 1] + 0.5 * points[good, 2])]
    share = kernel[best] / kernel[best].sum()
    return np.asarray(share @ points, np.float32)


def _sunny(parts: Plane) -> tuple[float, float]:
    """Return how much redder and yellower the board's light is for each nat brighter, over the board (N x 3)."""
    values = parts[:: max(1, len(parts) // 4096)]
    away = values - np.median(values, axis=0)
    bright = away[:, 0]
    if np.subtract(*np.percentile(bright, (90, 10))) < _SLOPE_SEEN:
        return _USUAL_SLOPES
    steady = np.abs(bright) > 0.1
    slopes = [float(np.median(away[steady, part] / bright[steady])) for part in (1, 2)]
    red, yellow = (float(np.clip(slope, 0.05, most)) for slope, most in zip(slopes, (0.3, 0.6), strict=True))
    return red, yellow


def _words(
    now: BoardLook, parts: Plane, labels: NDArray[np.int16], *, wet: bool, sharpest_px: float
) -> tuple[str, ...]:
    """Return what a person should know about the photo."""
    words = []
    if wet:
        words.append("surface wet")
    shown = np.flatnonzero(now.known)
    shown = shown[:: max(1, shown.size // _SAMPLE)]
    levels = parts_of(now.logs.reshape(-1, 1, 3)[shown])[:, 0, 0] if shown.size else np.zeros(0, np.float32)
    if levels.size and float(np.median(levels)) < _DIM:
        words.append("low light")
    board = labels == BOARD
    if board.any() and np.subtract(*np.percentile(parts[board, 0], (95, 5))) > _SHADY:
        words.append("strong shadows")
    far_more = 0 < sharpest_px * _MORE_BLURRED < now.blur_px
    if now.blur_px > _SHARP_PX and (now.blur_mm > _BLURRED_MM or far_more):
        words.append("blurred")
    return tuple(words)


def _drops_on_most(first: BoardLook, now: BoardLook) -> bool:
    """Return whether bright points and dark rims stand out on most coupons as they did not in the first photo."""
    if first.points.shape != now.points.shape:
        return False
    known = (first.points.min(axis=1) > 0) & (now.points.min(axis=1) > 0)
    if not known.any():
        return False
    bright, dark = np.median(now.points[known] / first.points[known], axis=0)
    return bool(bright > _POINTS[0] and dark > _POINTS[1] and bright * dark > _BOTH)


def _is_wet(first: Plane, change: Plane, aside: dict[int, _Colour]) -> bool:
    """Return whether the board has become both darker and deeper in its colour, as water makes wood and stone.

    Each alone has other causes: shade and age darken, boards yellow. The board is seen against the markers' papers
    or, without these, against the coupons, which hardly darken when wet. Where some of it lies in the sun, shade and
    water cannot be told apart.

    Args:
        first: luminance, redness, yellowness of the bare board in the first photo, N x 3.
        change: of these since.
        aside: by how much the board changed beside each witness.
    """
    changes = [each for label, each in aside.items() if label < FIRST_COUPON] or list(aside.values())
    if not changes or np.subtract(*np.percentile(change[:, 0], (95, 5))) > _SHADY:
        return False
    beside = np.median(np.array(changes, np.float32), axis=0)
    colour = np.median(first, axis=0)[1:]
    strong = float(np.linalg.norm(colour))
    deeper = strong > _COLOURED and float(beside[1:] @ colour) > _DEEPENED * strong
    return deeper and float(beside[0]) < _DARKENED
