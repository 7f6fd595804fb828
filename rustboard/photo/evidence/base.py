"""How a coupon looks unrusted: its own colours, pixel by pixel, from its first photos."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.cutting import inside
from rustboard.photo.evidence.holes import holes_of
from rustboard.photo.evidence.light import LocalLight
from rustboard.photo.evidence.modes import mode_of
from rustboard.photo.evidence.planes import averaged, combined, highest, lowest, widened
from rustboard.photo.evidence.specks import first_specks
from rustboard.photo.evidence.tables import FROM_PARTS, LOGARITHM, STEPS, Logs, Plane, logs_of, parts_of
from rustboard.photo.looks import CouponFrame, Mask, Rgb

MOST_LOOKS: Final = 3

RUSTWARDS: Final = np.array([0.0, 0.75, 0.35], np.float32)
"""Weights of luminance, redness, yellowness along which rust departs from steel of any finish.

Iron oxides raise red over green by 0.4 (near black) to 1.6 (fresh orange) nats and green over blue by 0.1 to 1.8;
the finishes of steel lie near 0. Yellowness counts less, for blue is the noisiest channel of a photo.
"""

_FAR: Final = 0.45
"""Departure from the coupon's own colour along `RUSTWARDS` (nats) from which a place is not the coupon's finish."""
_RUST_RED: Final = 0.65
"""Redness that no finish of steel has, but rust, leaves and red paint."""
_CLEARLY: Final = 0.2
"""Difference of strangeness (nats) by which another photo shows a place cleaner."""
_MOST_SHIFT: Final = 0.4
_OWN_SHARE: Final = 0.12
_CLIPPED: Final = 250
_RIM_OF_A_HOLE: Final = 9
"""Pixels, side of a square: a hole shows more or less of the board as the camera stands."""


@dataclass(frozen=True, slots=True, eq=False)
class Look:
    """A coupon in one photo, in the light of the first.

    Attributes:
        logs: logarithms, h x w x 3.
        known: h x w, what the photo shows and its light did not clip.
    """

    logs: Logs
    known: Mask


@dataclass(frozen=True, slots=True, eq=False)
class Base:
    """A coupon's own unrusted look, on its grid (h x w).

    Attributes:
        logs: logarithms of red, green, blue, h x w x 3, in steps.
        rough_colour: by how much (steps, 0-255) redness and yellowness change within a small shift.
        colour: luminance, redness, yellowness (nats) of most of the coupon.
        known: h x w, what at least one photo showed.
        inside: h x w, the coupon's own outline.
    """

    logs: Logs
    rough_colour: NDArray[np.uint8]
    colour: tuple[float, float, float]
    known: Mask
    inside: Mask


def look_of(rgb: Rgb, shown: Mask, light: LocalLight) -> Look:
    """Return a coupon's cut as it would look in the light of the first photo."""
    height, width = rgb.shape[:2]
    logs = cv2.subtract(logs_of(rgb), light.steps((height, width)))
    known = shown & (rgb.min(axis=2) < _CLIPPED)
    return Look(np.asarray(logs, np.int16), known)


def make_base(looks: Sequence[Look], frame: CouponFrame) -> Base:
    """Return a coupon's unrusted look from its first photos (one to `MOST_LOOKS`, the first first).

    Each pixel is that of the photo in which it is nearest to the coupon's own colour, so that what lay or shone on
    the coupon on one day does not stay. What is rust-coloured in all of them is taken to be rust: it gets the
    coupon's own colour.
    """
    looks = looks[:MOST_LOOKS]
    surface = inside(frame)
    logs, known, colour = looks[0].logs.copy(), looks[0].known.copy(), _own_colour(looks[0], surface)
    away = _strangeness(logs, known, colour)
    for look in looks[1:]:
        evened = _evened(look, looks[0], surface)
        nearer = _strangeness(evened, look.known, colour)
        better = averaged(nearer - away, 5) < -_CLEARLY
        logs[better] = evened[better]
        known |= look.known
        away = np.where(better, nearer, away)
    chosen = parts_of(logs)
    departure = rustwards(chosen - np.array(colour, np.float32))
    rusted = surface & (averaged(departure, 3) > _FAR) & (chosen[:, :, 1] > _RUST_RED)
    rusted |= first_specks(departure, chosen[:, :, 0], surface, frame.pixels_per_mm)
    if rusted.any():
        known &= ~widened(holes_of(rusted, np.float32(colour[0]) - chosen[:, :, 0], surface, frame), _RIM_OF_A_HOLE)
        rim = widened(rusted, 5) & surface
        logs[rim] = _own_logs(logs, surface & ~rim & known)
        chosen = parts_of(logs)
    return Base(
        logs,
        _roughness(chosen[:, :, 1:].sum(axis=2), frame),
        colour,
        known,
        surface.copy(),
    )


def rustwards(parts: Plane) -> Plane:
    """Return how far a difference in luminance, redness and yellowness (H x W x 3) goes towards rust."""
    return combined(parts, RUSTWARDS)


def _own_colour(look: Look, surface: Mask) -> tuple[float, float, float]:
    """Return luminance, redness, yellowness of most of a coupon."""
    values = parts_of(look.logs)[surface & look.known]
    if not len(values):
        return float(LOGARITHM[128]) / STEPS, 0.0, 0.0
    values = values[:: max(1, len(values) // 8192)]
    red, _ = mode_of(values[:, 1])
    near = values[np.abs(values[:, 1] - red) < 0.12]
    yellow, _ = mode_of(near[:, 2])
    return float(np.median(near[:, 0])), red, yellow


def _evened(look: Look, first: Look, surface: Mask) -> Logs:
    """Return a look with most of the coupon in the colour that it has in the first one."""
    both = surface & look.known & first.known
    if not both.any():
        return look.logs
    change = parts_of(np.asarray(cv2.subtract(look.logs, first.logs), np.int16)[both][:, None])[:, 0]
    red, share = mode_of(change[:, 1], _MOST_SHIFT)
    if share < _OWN_SHARE:
        return look.logs
    near = change[np.abs(change[:, 1] - red) < 0.1]
    yellow, _ = mode_of(near[:, 2], _MOST_SHIFT)
    shift = np.array([float(np.median(near[:, 0])), red, yellow])
    return np.asarray(look.logs - np.rint(STEPS * (FROM_PARTS @ shift)).astype(np.int16), np.int16)


def _strangeness(logs: Logs, known: Mask, colour: tuple[float, float, float]) -> Plane:
    parts = averaged(parts_of(logs), 3)
    apart = parts - np.array(colour, np.float32)
    away = np.abs(apart)
    # Glare hides more than shade does.
    strange = away[:, :, 1] + np.float32(0.5) * away[:, :, 2] + np.float32(0.15) * away[:, :, 0]
    strange += np.float32(0.35) * np.maximum(apart[:, :, 0] - np.float32(0.4), 0)
    strange[~known] = 5
    return np.asarray(strange, np.float32)


def _own_logs(logs: Logs, clean: Mask) -> Logs:
    if not clean.any():
        return np.zeros(3, np.int16)
    own: Logs = np.median(logs[clean][::7], axis=0).astype(np.int16)
    return own


def _roughness(plane: Plane, frame: CouponFrame) -> NDArray[np.uint8]:
    """Return the range of a plane within the shift by which two cuts of a coupon may differ, in steps up to 255."""
    reach = 2 * max(1, round(0.25 * frame.pixels_per_mm + 0.4)) + 1
    smooth = averaged(plane, 3)
    rough: NDArray[np.uint8] = np.clip((highest(smooth, reach) - lowest(smooth, reach)) * STEPS, 0, 255).astype(
        np.uint8
    )
    return rough
