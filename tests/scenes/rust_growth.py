"""Where and when steel rusts: an order in which the places of a coupon rust, and how far it has gone in each photo.

The order is fixed on a grid of `PIXELS_PER_MM` whatever the size of the photos, and rust goes along it, so that it
never shrinks: what has rusted in one photo has rusted in all later ones.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import cv2
import numpy as np

from scenes.colour import Plane
from scenes.layout import Coupon
from scenes.noise import cloud
from scenes.randomness import Dice, chance, pick

PIXELS_PER_MM = 10.0
PATTERNS = {"pinpoints": 2.0, "spots": 3.0, "general": 1.5, "edge": 1.5, "streaks": 1.0, "mixed": 2.0}


@dataclass(frozen=True, eq=False)
class Growth:
    """How one coupon rusts.

    Attributes:
        pattern: one of `PATTERNS`.
        order: H x W, small = rusts early.
        significant: H x W, the surface that counts.
        reached: by photo, up to where in the order rust has gone; -inf = no rust yet.
        edge_px: how soft the rim of the rust is (standard deviation, grid pixels).
    """

    pattern: str
    order: Plane
    significant: np.ndarray
    reached: tuple[float, ...]
    edge_px: float

    @cached_property
    def _surface(self) -> int:
        return int(self.significant.sum())

    def coverage(self, photo: int) -> np.ndarray:
        """Return how much of each place rust covers, 0-255."""
        if not np.isfinite(self.reached[photo]):
            return np.zeros(self.order.shape, np.uint8)
        rusted = np.where(self.rusted(photo), np.uint8(255), np.uint8(0))
        return cv2.GaussianBlur(rusted, (0, 0), self.edge_px, borderType=cv2.BORDER_REFLECT)

    def rusted(self, photo: int) -> np.ndarray:
        """Return where rust is, on the whole bounding box, before its rims are painted soft.

        This is what the truth counts. To count where the soft rims are at least half covered would leave specks out
        that are narrower than their rims, though any photo shows them.
        """
        return self.order <= np.float32(self.reached[photo])

    def percent(self, photo: int) -> float:
        return 100.0 * float((self.rusted(photo) & self.significant).sum()) / self._surface

    def age(self, photo: int, shape: tuple[int, int]) -> Plane:
        """Return how many photos ago each place rusted (0 = just now), on a grid of another size."""
        known = [(each, number) for number, each in enumerate(self.reached[: photo + 1]) if np.isfinite(each)]
        order = cv2.resize(self.order, (shape[1], shape[0]), interpolation=cv2.INTER_AREA)
        limits = np.maximum.accumulate(np.array([each for each, _ in known]) + 1e-6 * np.arange(len(known)))
        earliest = float(self.order.min())
        limits = np.append(min(earliest, limits[0] - 1e-3), limits)
        times = np.append(known[0][1] - 1.0, [number for _, number in known])
        return (photo - np.interp(order, limits, times)).astype(np.float32)


def grown(coupon: Coupon, margin_mm: float, photos: int, dice: Dice, *, rust: bool, trace_at_start: bool) -> Growth:
    """Return how a coupon rusts over a number of photos."""
    inside = coupon.filled(PIXELS_PER_MM, smooth=1) > 0
    from_edge = cv2.distanceTransform(np.pad(inside.astype(np.uint8), 1), cv2.DIST_L2, 5)[1:-1, 1:-1] / PIXELS_PER_MM
    significant = from_edge - 0.5 / PIXELS_PER_MM >= margin_mm
    pattern = pick(dice, PATTERNS)
    order = _ordered(coupon, pattern, from_edge, dice)
    shares = _shares(coupon, photos, dice, trace_at_start) if rust else np.zeros(photos)
    ranked = np.sort(order[significant])
    reached = [
        float(ranked[min(int(share * len(ranked)), len(ranked) - 1)]) if share * len(ranked) >= 4 else -np.inf
        for share in shares
    ]
    edge_px = float(dice.uniform(0.6, 1.8)) if pattern == "pinpoints" else float(dice.uniform(0.8, 2.8))
    return Growth(pattern, order, significant, tuple(reached), edge_px)


def _shares(coupon: Coupon, photos: int, dice: Dice, trace_at_start: bool) -> np.ndarray:
    """Return the share of the surface to be rusted in each photo: from its onset on it grows by a power of time."""
    protection = coupon.protection
    if protection > 0.88 and not chance(dice, 0.1):
        return np.zeros(photos)
    # Bare steel ends between 10 and 75 %, the best treatments at some hundredths of a percent.
    final = 10 ** (1.6 - 3.4 * np.clip(protection, -0.1, 1) + float(dice.normal(0, 0.12)))
    final = min(final, 78.0) / 100
    onset = float(np.clip(0.9 * protection + dice.normal(0, 0.08), 0.0, 0.85))
    time = np.arange(photos) / max(photos - 1, 1)
    power = float(dice.uniform(0.9, 2.2))
    shares = final * np.clip((time - onset) / (1 - onset), 0, 1) ** power
    if trace_at_start and protection < 0.6:
        shares = np.maximum(shares, final * float(dice.uniform(0.002, 0.02)))
    elif shares[0] > 0:
        shares[0] = 0
    return shares


def _ordered(coupon: Coupon, pattern: str, from_edge: Plane, dice: Dice) -> Plane:
    shape = from_edge.shape
    if pattern == "pinpoints":
        density = float(dice.uniform(0.05, 0.5))
        return _from_nuclei(dice, shape, density, (0.25, 0.8), 0.5)
    if pattern == "spots":
        density = float(dice.uniform(0.003, 0.02))
        return _from_nuclei(dice, shape, density, (1.0, 6.0), 0.6)
    if pattern == "general":
        grain = cloud(dice, shape, float(dice.uniform(20, 90)), 6, 0.75)
        return grain + 0.5 * cloud(dice, shape, 400, 2)
    if pattern == "edge":
        along = cloud(dice, shape, 120, 5, 0.6)
        return from_edge / 4 + 1.1 * along
    if pattern == "streaks":
        return _streaks(coupon, shape, dice)
    first = _from_nuclei(dice, shape, float(dice.uniform(0.005, 0.03)), (0.6, 4.0), 0.6)
    second = (
        from_edge / 4 + 1.1 * cloud(dice, shape, 100, 5, 0.65) if chance(dice, 0.5) else _streaks(coupon, shape, dice)
    )
    return np.minimum(_even(first), _even(second) + np.float32(dice.uniform(0, 0.05)))


def _even(order: Plane) -> Plane:
    """Return the order as shares of the area, so that two orders can be compared."""
    limits = np.quantile(order[::4, ::4], np.linspace(0, 1, 400) ** 2)
    return np.interp(order, limits, np.linspace(0, 1, 400) ** 2).astype(np.float32)


def _from_nuclei(
    dice: Dice, shape: tuple[int, int], density: float, radii: tuple[float, float], ragged: float
) -> Plane:
    """Return an order that starts at points and spreads around each, some early and some late, some fast, some slow.

    Args:
        density: nuclei per mm2. radii: how far (mm) slow and fast ones get in one unit of time.
    """
    count = max(4, int(density * shape[0] * shape[1] / PIXELS_PER_MM**2))
    fine = cloud(dice, shape, 9, 4, 0.7)
    coarse = cloud(dice, shape, 150, 2)
    order = 2.6 + 0.25 * coarse + 0.25 * fine
    away = 0.16 * np.maximum(fine, -2.2) * np.float32(ragged / 0.6)
    gathering = np.exp(0.9 * coarse)
    rows, columns = shape
    for _ in range(count):
        y, x = _gathered(dice, gathering)
        radius = float(np.exp(dice.uniform(np.log(radii[0]), np.log(radii[1])))) * PIXELS_PER_MM
        born = float(dice.uniform(0, 1.6))
        reach = int(radius * 2.4) + 2
        top, bottom, left, right = max(y - reach, 0), min(y + reach, rows), max(x - reach, 0), min(x + reach, columns)
        if bottom <= top or right <= left:
            continue
        flat, turn = float(dice.uniform(0.6, 1.0)), float(dice.uniform(0, np.pi))
        down, across = np.arange(top, bottom) - y, np.arange(left, right) - x
        first = np.cos(turn) * across[None] + np.sin(turn) * down[:, None]
        second = (-np.sin(turn) * across[None] + np.cos(turn) * down[:, None]) / flat
        distance = np.hypot(first, second).astype(np.float32) / np.float32(radius)
        window = order[top:bottom, left:right]
        np.minimum(window, born + distance * (1 + away[top:bottom, left:right] * 2.5), out=window)
    return order


def _gathered(dice: Dice, gathering: Plane) -> tuple[int, int]:
    """Return a place, likelier where the weights are high."""
    best = (0, 0)
    most = -1.0
    for _ in range(2):
        y, x = int(dice.integers(gathering.shape[0])), int(dice.integers(gathering.shape[1]))
        if gathering[y, x] > most:
            best, most = (y, x), float(gathering[y, x])
    return best


def _streaks(coupon: Coupon, shape: tuple[int, int], dice: Dice) -> Plane:
    """Return an order that runs down from the hole, or from places near the upper edge, in several streams each."""
    left, top, _, _ = coupon.box_mm
    width_mm, height_mm = shape[1] / PIXELS_PER_MM, shape[0] / PIXELS_PER_MM
    sources = [(float(dice.uniform(0.1, 0.9)) * width_mm, float(dice.uniform(0, 0.25)) * height_mm) for _ in range(2)]
    if coupon.hole_mm[2] > 0:
        sources[0] = (coupon.hole_mm[0] - left, coupon.hole_mm[1] - top)
    y, x = np.mgrid[: shape[0], : shape[1]].astype(np.float32) / np.float32(PIXELS_PER_MM)
    order = np.full(shape, 9.0, np.float32)
    for source_x, source_y in sources:
        late = float(dice.uniform(0, 0.8))
        for _ in range(int(dice.integers(2, 6))):
            below = y - np.float32(source_y)
            start = source_x + float(dice.normal(0, 1.8))
            wander = float(dice.uniform(0.2, 1.2)) * np.sin(
                below / float(dice.uniform(8, 25)) + float(dice.uniform(0, 6))
            )
            broad = float(dice.uniform(0.7, 2.2)) * (1 + float(dice.normal(0, 0.008)) * np.maximum(below, 0))
            slope = 1 / (height_mm * float(dice.uniform(0.2, 0.9)))
            one = np.abs(x - start - wander) / np.maximum(broad, 0.4) + np.where(
                below < 0, -0.8 * below, slope * below
            )
            np.minimum(order, one + late, out=order)
    ragged = 0.16 * cloud(dice, shape, (70, 22), 4, 0.7) + 0.12 * cloud(dice, shape, (200, 30), 2)
    return order * (1 + 0.25 * cloud(dice, shape, (160, 60), 3)) + ragged
