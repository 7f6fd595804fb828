"""How sure a percent is: the program's own 90 % range, and whether it may be taken over without a closer look."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot
from typing import Final

from rustboard.scales.rust_grade import grade_from_percent

# Set on drawn scenes so that about nine ranges in ten hold the truth; no other source.
_RIM_PX: Final = (0.6, 0.9)
"""How far inward and outward of the mask all rims may lie together, in pixels of the photo."""
_COLOUR: Final = 0.2
"""Share of the rust that may be wrong through colour alone."""
_FAINT: Final = (0.25, 0.5)
"""Times the root of the percent, downward and upward: the less rust, the more of it is in spots hardly seen."""
_WEAK: Final = 0.6
"""Share of the weakly evident rust that may be none."""
_FRESH: Final = 0.5
"""Share of what no later photo confirms that may be dirt."""
_LOOSE: Final = 0.5
"""Share of what looked a little like rust and was not counted that may be rust."""
_HIDDEN_FACTOR: Final = 3.0
_HIDDEN_LEAST: Final = 0.01
"""The unseen part may be this many times as rusty as the rest, and if that has none has at most this share."""

_LEAST_SEEN: Final = 0.3
MOST_UNSEEN: Final = 0.15
"""More of the surface unknown than this, and a finding is not confident."""
_MOST_UNPROVED: Final = 0.1
"""More of the rust than this seen in the newest photo alone, and a finding is not confident."""


@dataclass(frozen=True, slots=True)
class Areas:
    """Parts of the significant surface in one photo, all in pixels of the grid.

    Attributes:
        surface: all of it.
        rust: counted as rust, by how much of each pixel is covered.
        weak: of that, what has little evidence.
        fresh: of that, what showed first in this photo and was not seen again.
        suspect: not counted: large and new, more likely something that lies there.
        loose: not counted: looked a little like rust.
        unknown: hidden in this photo, and no later one tells.
        never: of that, what no earlier photo showed either.
        grown: share of what was unrusted before and is seen now that is rusty now.
        rim: length of all rims, in pixels of the grid.
        photo_pixel: size of a pixel of the photo in pixels of the grid.
        resolvable: the least area that could have been seen.
    """

    surface: float
    rust: float
    weak: float = 0.0
    fresh: float = 0.0
    suspect: float = 0.0
    loose: float = 0.0
    unknown: float = 0.0
    never: float = 0.0
    grown: float = 0.0
    rim: float = 0.0
    photo_pixel: float = 1.0
    resolvable: float = 0.0

    @property
    def percent(self) -> float:
        """Percent rusted; the unknown part is taken to have rusted like the rest, if there is enough of a rest.

        Where an earlier photo showed steel, only what has come since is to be expected.
        """
        if self.surface <= 0:
            return 0.0
        expected = 0.0
        if self.unknown <= (1 - _LEAST_SEEN) * self.surface:
            never = min(self.never, self.unknown)
            expected = never * self.rust / (self.surface - self.unknown) + (self.unknown - never) * self.grown
        return min(100.0, 100 * (self.rust + expected) / self.surface)

    @property
    def unknown_share(self) -> float:
        """Share of the surface that is unknown, 0 to 1."""
        return min(1.0, self.unknown / self.surface) if self.surface > 0 else 1.0


def range_of(areas: Areas, percent: float) -> tuple[float, float]:
    """Return the low and high percent of the 90 % range about ``percent``.

    What can be wrong independently adds up by squares; what is left out as suspect is added whole.
    """
    if areas.surface <= 0:
        return 0.0, 100.0
    share = 100 / areas.surface
    inward, outward = (pixels * areas.photo_pixel * areas.rim * share for pixels in _RIM_PX)
    colour = _COLOUR * percent
    lost, gained = (factor * percent**0.5 for factor in _FAINT)
    down = hypot(inward, lost, colour, _WEAK * areas.weak * share, _FRESH * areas.fresh * share)
    unknown = 100 * areas.unknown_share
    hidden = unknown * min(1.0, max(_HIDDEN_FACTOR * percent / 100, _HIDDEN_LEAST))
    extrapolated = max(0.0, percent - areas.rust * share)
    up = hypot(outward, gained, colour, hidden, _LOOSE * areas.loose * share, areas.resolvable * share)
    low = percent - hypot(down, extrapolated)
    high = percent + up + areas.suspect * share
    return min(percent, max(0.0, low)), max(percent, min(100.0, high))


def is_confident(areas: Areas, low: float, high: float) -> bool:
    """Return whether a finding may be taken over unseen.

    It keeps within one grade, little is hidden, nothing is suspect, and not much of it is still to be proved.
    """
    within = grade_from_percent(low) - grade_from_percent(high) <= 1
    suspect = areas.suspect > max(areas.resolvable, 0.001 * areas.surface)
    return within and areas.unknown_share <= MOST_UNSEEN and not suspect and not is_unproved(areas)


def is_unproved(areas: Areas) -> bool:
    """Return whether more than a small share of the rust is new since the photo before, and no later one confirms it.

    It may be a leaf: what lies on the newest photo looks like rust until it is gone.
    """
    return areas.fresh > max(areas.resolvable, _MOST_UNPROVED * areas.rust)


def never_falling(percents: Sequence[float], weights: Sequence[float]) -> list[float]:
    """Return the closest series (least squares, weighted) that never falls, because rust does not shrink.

    Pool adjacent violators (M. Ayer et al., Annals of Mathematical Statistics 26, 1955).
    """
    blocks: list[tuple[float, float, int]] = []  # mean, weight, length
    for value, given in zip(percents, weights, strict=True):
        mean, weight, length = value, max(given, 1e-9), 1
        while blocks and blocks[-1][0] > mean:
            earlier, earlier_weight, earlier_length = blocks.pop()
            total = weight + earlier_weight
            mean = (mean * weight + earlier * earlier_weight) / total
            weight, length = total, length + earlier_length
        blocks.append((mean, weight, length))
    return [mean for mean, _, length in blocks for _ in range(length)]
