"""One colour for each grade, the same in window, workbook and pictures.

Grade is always shown as a digit; colour is only a second cue. The ramp runs from a cool dark blue (10, no rust)
over pale sand to a dark rust brown (0). Blue against orange-brown stays apart for the common forms of colour
blindness, and lightness runs up and down again, so that the digit's own ink must be chosen by `ink_on`.
"""

from __future__ import annotations

from typing import Final

GRADE_COLOURS: Final[tuple[str, ...]] = (
    "#5a1a06",  # 0
    "#7d2a0b",
    "#9c3f14",
    "#b85a24",
    "#cf7a40",
    "#e09e69",
    "#ecc49b",
    "#dfe0dc",
    "#a9c4d8",
    "#5f93bd",
    "#1f5c94",  # 10
)
"""``#rrggbb`` by grade, 0 first."""


def _linear(channel: int) -> float:
    value = channel / 255
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def relative_luminance(colour: str) -> float:
    """Return the relative luminance 0-1 of an ``#rrggbb`` sRGB colour (WCAG 2.2 definition, from memory)."""
    red, green, blue = (_linear(int(colour[at : at + 2], 16)) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast_ratio(one: str, other: str) -> float:
    """Return the WCAG contrast ratio of two ``#rrggbb`` colours, 1 to 21."""
    light, dark = sorted((relative_luminance(one), relative_luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def ink_on(colour: str) -> str:
    """Return the ink, near black or white, that reads best on an ``#rrggbb`` ground."""
    return max(("#101418", "#ffffff"), key=lambda ink: contrast_ratio(ink, colour))
