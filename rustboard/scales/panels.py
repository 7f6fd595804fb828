"""Reference pictures for grading, drawn by our own code, with the rusted area counted pixel by pixel.

One growth order for each distribution serves all grades, so that from grade to grade the same spots grow. A panel is
either bare steel or the user's own coupon as it was on day zero.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import ceil
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from rustboard.board.grade import carries_letter
from rustboard.scales.resizing import Rgb, enlarge, sampled_rows, shrink
from rustboard.scales.rust_fields import Distribution, Order, growth_order, rusted_count
from rustboard.scales.rust_grade import limits_percent, middle_percent
from rustboard.scales.rust_paint import GrowingRust, bare_steel, growing_rust, paint_rust
from rustboard.support.problems import InputError

__all__ = [
    "PANEL_SHAPE",
    "At",
    "GrowingRust",
    "Panel",
    "growing_on_coupon",
    "growing_panel",
    "paint_rust",
    "panel_on_coupon",
    "reference_panel",
    "shrink",
]

At = Literal["lightest", "middle", "heaviest"]

PANEL_SHAPE: Final = (1440, 720)
"""Height and width in pixels of a reference panel, all of it counted."""

LEAST_COUNTED: Final = 1_000_000
"""Counted pixels below which half a pixel would be more than 1 % of the smallest area shown, 0.005 %."""

MOST_PIXELS: Final = 6_000_000
"""Size a coupon's panel does not exceed, however small a part of the picture counts."""

_SEED: Final = 4
_STEEL_SEED: Final = 1


@dataclass(frozen=True, slots=True, eq=False)
class Panel:
    """A picture of a surface with a stated part of it rusted.

    Attributes:
        rgb: H x W x 3, 0-255, read-only.
        percent: the percent of the counted surface that the picture stands for, exact.
        rusted_pixels: pixels painted as rust: ``percent`` of the counted ones to the nearest pixel, which is within
            1 % of the value wherever a million pixels count.
        counted_pixels: pixels of the significant surface.
        distribution: S, G or P; empty for grades 10 and 0, which carry no letter.
        at: which place in the grade's interval.
    """

    rgb: Rgb
    percent: float
    rusted_pixels: int
    counted_pixels: int
    grade: int
    distribution: str
    at: At


def percent_at(grade: int, at: At) -> float:
    """Return the percent rusted at a place in a grade's interval.

    ``lightest`` is the lower limit itself. Taken strictly that still belongs to the next better grade (limits are
    lower exclusive): the picture shows the boundary that a surface must exceed. ``middle`` is `middle_percent`;
    ``heaviest`` the upper limit, the most the grade allows.

    Raises:
        InputError: no such grade.
    """
    lower, upper = limits_percent(grade)
    return {"lightest": lower, "middle": middle_percent(grade), "heaviest": upper}[at]


def reference_panel(grade: int, distribution: Distribution, at: At = "middle") -> Panel:
    """Return the reference picture on bare steel, `PANEL_SHAPE` pixels.

    Grades 10 and 0 carry no letter; ``distribution`` then only says how the rust is strewn in the picture.

    Raises:
        InputError: no such grade.
    """
    percent = percent_at(grade, at)
    order = _whole_order(distribution)
    return _panel(_steel(), order, percent, grade, distribution, at)


def panel_on_coupon(
    ground_rgb: Rgb, counted: NDArray[np.bool_], grade: int, distribution: Distribution, at: At
) -> Panel:
    """Return the same areas painted on the user's own coupon, inside its significant surface.

    A small picture is enlarged until a million pixels count (short of `MOST_PIXELS` in all), so that the stated
    percent is met to 1 % of its value even for the least rust of grade 10.

    Args:
        ground_rgb: H x W x 3, 0-255, the coupon on day zero.
        counted: H x W, the significant surface (see `surface.significant_surface`).
        grade: 10 to 0.
        distribution: how the rust is strewn.
        at: place in the grade's interval.

    Raises:
        InputError: no such grade, or no pixel counts.
        ValueError: picture and surface differ in size.
    """
    percent = percent_at(grade, at)
    ground, order = _on_coupon(ground_rgb, counted, distribution)
    return _panel(ground, order, percent, grade, distribution, at)


def growing_panel(distribution: Distribution) -> GrowingRust:
    """Return the panel on bare steel made ready to be painted at any percent."""
    return growing_rust(_steel(), _whole_order(distribution), _SEED)


def growing_on_coupon(
    ground_rgb: Rgb, counted: NDArray[np.bool_], shown: NDArray[np.bool_], distribution: Distribution
) -> GrowingRust:
    """Return the user's own coupon made ready to be painted at any percent, as `panel_on_coupon` paints it.

    Args:
        ground_rgb: H x W x 3, 0-255, the coupon on day zero.
        counted: H x W, the significant surface.
        shown: H x W, where the coupon is; nothing else is seen.
        distribution: how the rust is strewn.

    Raises:
        InputError: no pixel counts.
        ValueError: picture and surface differ in size.
    """
    ground, order = _on_coupon(ground_rgb, counted, distribution)
    rows, columns = sampled_rows(shown.shape[0], order.shape[0]), sampled_rows(shown.shape[1], order.shape[1])
    return growing_rust(ground, order, _SEED, shown[rows][:, columns])


def _on_coupon(ground_rgb: Rgb, counted: NDArray[np.bool_], distribution: Distribution) -> tuple[Rgb, Order]:
    if ground_rgb.shape != (*counted.shape, 3):
        raise ValueError(f"picture {ground_rgb.shape} and counted surface {counted.shape} do not match")
    if not counted.any():
        raise InputError("Nothing of this coupon counts; make its outline larger or its edge margin smaller.")
    small = (counted.shape[0], counted.shape[1])
    large = _enlarged_shape(small, int(np.count_nonzero(counted)))
    order = _coupon_order(small, np.packbits(counted).tobytes(), large, distribution)
    return (ground_rgb if large == small else enlarge(ground_rgb, large[1], large[0])), order


def _panel(ground: Rgb, order: Order, percent: float, grade: int, distribution: Distribution, at: At) -> Panel:
    rgb = paint_rust(ground, order, percent, _SEED)
    rgb.flags.writeable = False
    letter = distribution if carries_letter(grade) else ""
    return Panel(rgb, percent, rusted_count(order, percent), rusted_count(order, 100), grade, letter, at)


def _enlarged_shape(shape: tuple[int, int], counted: int) -> tuple[int, int]:
    # Two in a hundred more than needed, because sampling the surface at another size may lose some of its rim.
    factor = (1.02 * LEAST_COUNTED / counted) ** 0.5
    factor = max(1.0, min(factor, (MOST_PIXELS / (shape[0] * shape[1])) ** 0.5))
    return (ceil(shape[0] * factor), ceil(shape[1] * factor))


@lru_cache(maxsize=1)
def _steel() -> Rgb:
    return bare_steel(PANEL_SHAPE, _STEEL_SEED)


@lru_cache(maxsize=3)
def _whole_order(distribution: Distribution) -> Order:
    return growth_order(PANEL_SHAPE, np.ones(PANEL_SHAPE, np.bool_), distribution, _SEED)


@lru_cache(maxsize=3)
def _coupon_order(small: tuple[int, int], packed: bytes, large: tuple[int, int], distribution: Distribution) -> Order:
    """Return the order on an enlarged surface; three are kept, the letters of the coupon being graded."""
    pixels = np.unpackbits(np.frombuffer(packed, np.uint8), count=small[0] * small[1])
    counted = pixels.reshape(small).astype(np.bool_)
    if large != small:
        counted = counted[sampled_rows(small[0], large[0])][:, sampled_rows(small[1], large[1])]
    return growth_order(large, counted, distribution, _SEED)
