"""Inks and dashes that tell groups apart, the same in the window's light scheme and on paper."""

from __future__ import annotations

from typing import Final

SERIES: Final[tuple[str, ...]] = (
    "#1f5c94", "#b3541e", "#3f7d4e", "#7a4a9c", "#8a6d00", "#0f7f8c", "#a8324f", "#4d4d4d",
)  # fmt: skip
"""Told apart by colour-blind eyes as well as eight can be."""

DASHES: Final[tuple[tuple[float, ...], ...]] = ((), (4.0, 3.0), (1.5, 2.5), (7.0, 2.5, 1.5, 2.5))
"""Lengths in line widths; the first is a solid line. With them lines stay apart without colour."""

TEXT: Final = "#1b1e21"
MUTED: Final = "#565c62"
LINE: Final = "#c9c4ba"
FAINT: Final = "#e6e2d9"
ACCENT: Final = "#1f5c94"
GROUND: Final = "#ffffff"
