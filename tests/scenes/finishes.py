"""Steel as it looks unrusted: what it scatters and what it mirrors, with the marks of how it was made."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import cv2
import numpy as np

from scenes.colour import Plane, linear
from scenes.layout import Coupon
from scenes.noise import blurred, cloud, lines, step
from scenes.randomness import Dice, chance


@dataclass(frozen=True, eq=False)
class Steel:
    """A coupon's surface on a grid over its bounding box.

    Attributes:
        scattered: H x W x 3, share of light thrown in all directions.
        mirrored: H x W x 3, share of light thrown as a dull mirror does.
        gloss: 0-1, how narrow its mirror image is. grain_deg: along which way it was brushed.
    """

    scattered: Plane
    mirrored: Plane
    gloss: float
    grain_deg: float


def finished(coupon: Coupon, pixels_per_mm: float, dice: Dice) -> Steel:
    """Return the unrusted surface of a coupon, lettering included."""
    shape = coupon.shape(pixels_per_mm)
    colour, mirror, gloss, grain = _MAKERS[coupon.finish](shape, pixels_per_mm, dice)
    colour = np.clip(colour, 0.003, 0.95)
    if coupon.lettering:
        colour = _lettered(colour, coupon, pixels_per_mm, dice)
    return Steel(colour * np.float32(1 - mirror), colour * np.float32(mirror), gloss, grain)


_Made = tuple[Plane, float, float, float]


def _tinted(srgb: tuple[float, float, float], brightness: Plane, dice: Dice, spread: float = 0.05) -> Plane:
    """Return one colour of uneven brightness (a factor), with a slight cast of its own."""
    cast = np.exp(dice.normal(0, spread, 3) * (0.5, 0.2, 0.5) + dice.normal(0, spread * 2))
    return (linear(srgb) * cast.astype(np.float32))[None, None] * brightness[..., None]


def _bright(shape: tuple[int, int], scale: float, dice: Dice) -> _Made:
    grain = float(dice.choice([0, 90])) + float(dice.normal(0, 6))
    brushed = lines(dice, shape, 40 * scale, 0.22 * scale, grain)
    coarse = lines(dice, shape, 25 * scale, 1.2 * scale, grain + float(dice.normal(0, 4)))
    patchy = cloud(dice, shape, 14 * scale, 3)
    brightness = np.exp(0.11 * brushed + 0.07 * coarse + 0.07 * patchy)
    return _tinted((172, 172, 170), brightness, dice), float(dice.uniform(0.5, 0.8)), 0.8, grain


def _blasted(shape: tuple[int, int], scale: float, dice: Dice) -> _Made:
    grain = cloud(dice, shape, 0.35 * scale, 2, 0.8)
    patchy = cloud(dice, shape, 20 * scale, 3)
    return _tinted((140, 140, 138), np.exp(0.12 * grain + 0.05 * patchy), dice), 0.25, 0.1, 0.0


def _blue_black(shape: tuple[int, int], scale: float, dice: Dice) -> _Made:
    brushed = lines(dice, shape, 30 * scale, 0.25 * scale, float(dice.uniform(0, 180)))
    patchy = cloud(dice, shape, 18 * scale, 4)
    dark = _tinted((44, 48, 58), np.exp(0.12 * brushed + 0.16 * patchy), dice)
    thin = _tinted((84, 82, 84), np.exp(0.15 * brushed), dice)
    share = (0.45 * step(cloud(dice, shape, 12 * scale, 4), 0.6, 2.2))[..., None]
    return dark * (1 - share) + thin * share, 0.45, 0.7, 0.0


def _etched(shape: tuple[int, int], scale: float, dice: Dice) -> _Made:
    mottled, grain = cloud(dice, shape, 9 * scale, 4), cloud(dice, shape, 0.5 * scale, 2)
    first = _tinted((112, 104, 95), np.exp(0.06 * mottled + 0.10 * grain), dice)
    second = _tinted((92, 84, 78), np.exp(0.12 * grain), dice)
    share = step(cloud(dice, shape, 22 * scale, 5, 0.7), -1.5, 2.2)[..., None]
    return first * (1 - share) + second * share, 0.2, 0.15, 0.0


def _oiled(shape: tuple[int, int], scale: float, dice: Dice) -> _Made:
    brushed = lines(dice, shape, 30 * scale, 0.3 * scale, float(dice.choice([0, 90])) + float(dice.normal(0, 5)))
    wiped = lines(dice, shape, 60 * scale, 5 * scale, float(dice.uniform(0, 180)))
    brightness = np.exp(0.10 * brushed + 0.12 * wiped + 0.06 * cloud(dice, shape, 10 * scale, 3))
    return _tinted((80, 74, 67), brightness, dice), 0.5, 0.75, 0.0


def _mill_scale(shape: tuple[int, int], scale: float, dice: Dice) -> _Made:
    """Blue-grey to brown, mottled, with flakes broken off that show a paler grey."""
    mottled, grain = cloud(dice, shape, 12 * scale, 5, 0.65), cloud(dice, shape, 0.7 * scale, 3)
    grey = _tinted((82, 81, 86), np.exp(0.10 * mottled + 0.08 * grain), dice)
    brown = _tinted((92, 80, 74), np.exp(0.08 * mottled + 0.09 * grain), dice)
    share = step(
        cloud(dice, shape, 25 * scale, 5, 0.65) + 0.3 * lines(dice, shape, 60 * scale, 6 * scale, 90), -1, 1.6
    )
    surface = grey * (1 - share[..., None]) + brown * share[..., None]
    broken = cloud(dice, shape, 7 * scale, 5, 0.6)
    limit = float(dice.uniform(1.7, 2.6))
    off = step(broken, limit, limit + 0.12)[..., None]
    rim = np.clip(np.roll(off, (1, 1), (0, 1)) - off, 0, 1)
    pale = _tinted((126, 124, 122), np.exp(0.15 * grain), dice)
    surface = surface * (1 - off) + pale * off
    return surface * (1 - 0.45 * rim), 0.3, 0.35, 0.0


def _waxed(shape: tuple[int, int], scale: float, dice: Dice) -> _Made:
    """Bright steel under wax: yellower, with milky places and brush ridges of the wax."""
    steel, mirror, _, grain = _bright(shape, scale, dice)
    wax = linear((226, 214, 186))[None, None]
    thick = step(cloud(dice, shape, 15 * scale, 3) + lines(dice, shape, 50 * scale, 2.5 * scale, grain + 12), -0.5, 3)
    share = (float(dice.uniform(0.05, 0.14)) + float(dice.uniform(0.1, 0.3)) * thick)[..., None]
    tint = np.array([1.0, 0.96, 0.87], np.float32) ** np.float32(dice.uniform(0.4, 1.3))
    return steel * tint * (1 - share) * np.float32(0.9) + wax * np.float32(0.5) * share, mirror * 0.75, 0.55, grain


_MAKERS: dict[str, Callable[[tuple[int, int], float, Dice], _Made]] = {
    "bright": _bright,
    "blasted": _blasted,
    "blue-black": _blue_black,
    "etched": _etched,
    "oiled": _oiled,
    "mill scale": _mill_scale,
    "waxed": _waxed,
}
FINISHES = tuple(_MAKERS)


def _lettered(colour: Plane, coupon: Coupon, scale: float, dice: Dice) -> Plane:
    """Return the surface with the coupon's name on it in marker, pencil, chalk or scratched."""
    rows, columns = colour.shape[:2]
    ink = np.zeros((rows, columns), np.uint8)
    size = float(dice.uniform(0.14, 0.28)) * columns / 40
    thick = max(1, round(float(dice.uniform(0.5, 1.1)) * scale))
    place = (round(columns * float(dice.uniform(0.12, 0.45))), round(rows * float(dice.choice([0.2, 0.88]))))
    cv2.putText(ink, coupon.lettering, place, cv2.FONT_HERSHEY_SIMPLEX, size, 255, thick, cv2.LINE_AA)
    turn = cv2.getRotationMatrix2D((float(place[0]), float(place[1])), float(dice.normal(0, 5)), 1.0)
    ink = cv2.warpAffine(ink, turn, (columns, rows))
    uneven = np.clip(0.85 + 0.2 * cloud(dice, (rows, columns), 1.2 * scale, 2), 0.3, 1)
    share = (blurred(ink.astype(np.float32) / 255, 0.12 * scale) * uneven)[..., None]
    pens = [(28, 28, 34), (30, 34, 92), (70, 70, 72), (225, 225, 220)]
    # White chalk shows on dark steel only, dark ink on bright steel only.
    dark = float(colour.mean()) < 0.1
    pen = linear(pens[3] if dark else pens[int(dice.integers(3))])
    share = share * np.float32(0.9 if chance(dice, 0.6) else 0.6)
    return colour * (1 - share) + pen[None, None] * share
