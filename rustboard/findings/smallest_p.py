"""The smallest p value an exact test could ever reach, whatever the grades turn out to be."""

from __future__ import annotations

from collections.abc import Sequence
from math import prod
from typing import Final

from rustboard.findings.exchange import Exchange

LEVEL: Final = 0.05
"""Chance of any false difference among all comparisons of the question (common practice)."""


def arrangements(exchanges: Sequence[Exchange]) -> int:
    """Return in how many ways, equally likely by the lots, the labels of a comparison could lie."""
    return prod(each.arrangements() for each in exchanges)


def smallest_p(exchanges: Sequence[Exchange]) -> float:
    """Return the smallest two-sided p: the share of arrangements as far from their mean as the most extreme one.

    The statistic is the sum of one group's values within every stratum; two-sided means its distance from its mean
    over all arrangements. The most extreme arrangement stands alone, unless every stratum has as many units of one
    group as of the other: then its mirror image is as far out on the other side.

    Args:
        exchanges: one for each level of the other factor; labels do not leave a level.
    """
    ways = arrangements(exchanges)
    mirrored = ways > 1 and all(each.has_mirror() for each in exchanges)
    return (2 if mirrored else 1) / ways
