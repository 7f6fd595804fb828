"""Constant differences between graders, in grades, with what chance alone could make of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import fmean, stdev

from rustboard.findings.agreement.kappa import Interval
from rustboard.findings.spread import ROUNDING_SD


@dataclass(frozen=True, slots=True)
class Offset:
    """A mean of differences between grades.

    Attributes:
        pairs: how many differences.
        mean: of them; above 0 = the first grades higher, that is milder.
        interval: of the mean, 95 %, by Student's t; None with fewer than two differences. Differences all alike do
            not make it narrower than rounding to whole grades allows (`findings.spread.ROUNDING_SD`).
    """

    pairs: int
    mean: float
    interval: Interval | None

    @property
    def could_be_chance(self) -> bool:
        """Whether the interval holds 0, or there is none."""
        return self.interval is None or self.interval.holds(0)


def offset_of(differences: Sequence[float], others: int = 1) -> Offset:
    """Return the mean of differences with its interval.

    Args:
        differences: each a whole grade less the mean of ``others`` grades; at least one.
        others: how many grades are in that mean.
    """
    from scipy.special import stdtrit

    count, mean = len(differences), fmean(differences)
    if count < 2:
        return Offset(count, mean, None)
    sd = max(stdev(differences), ROUNDING_SD * sqrt(1 + 1 / others))
    reach = float(stdtrit(count - 1, 0.975)) * sd / sqrt(count)
    return Offset(count, mean, Interval(mean - reach, mean + reach))
