"""What the drawn coupons of an exercise are made like: steels and finishes, and outlines.

Colours and textures were set by eye to look like steel as makers know it; no other source. None has the orange of
rust, and the darkest still differs from old rust in hue.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

Rgb8 = tuple[int, int, int]
Lay = Literal["brushed", "blasted", "rolled"]


@dataclass(frozen=True, slots=True)
class Look:
    """How bare steel looks before it rusts.

    Attributes:
        name: for tests and messages, not for the window.
        colour: middle sRGB colour.
        lay: brushed, in fine lines; blasted, matt and even all over; rolled, in soft clouds as mill scale has them.
        strength: of the texture, relative to brushed steel.
        clouds: how far light and dark patches differ, in steps of 0-255.
    """

    name: str
    colour: Rgb8
    lay: Lay
    strength: float = 1.0
    clouds: float = 4.0


LOOKS: Final = (
    Look("bright", (201, 204, 208), "brushed", 1.0, 5.0),
    Look("grey", (152, 155, 158), "brushed", 1.1),
    Look("blasted", (131, 131, 128), "blasted", 1.0, 3.0),
    Look("blue-black", (72, 77, 89), "rolled", 0.7, 6.0),
    Look("brown", (126, 114, 102), "rolled", 0.8, 6.0),
    Look("oiled", (108, 108, 104), "brushed", 0.7, 7.0),
    Look("straw", (183, 174, 150), "brushed", 0.9, 5.0),
)


@dataclass(frozen=True, slots=True)
class Shape:
    """The outline of a coupon; all of it counts but its hole.

    Attributes:
        name: for tests and messages.
        height_to_width: of the rectangle around it.
        round: a disc instead of a rectangle.
        hole: whether it hangs by a hole near its top, which is no part of the surface.
    """

    name: str
    height_to_width: float
    round: bool = False
    hole: bool = False


SHAPES: Final = (
    Shape("tall", 2.0),
    Shape("panel", 1.5, hole=True),
    Shape("square", 1.0),
    Shape("disc", 1.0, round=True, hole=True),
    Shape("wide", 0.62),
)
