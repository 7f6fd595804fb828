"""Intraclass correlations: how much of the differences between grades is of the coupons, not of the graders.

Shrout & Fleiss 1979, "Intraclass correlations: uses in assessing rater reliability". Computed in fractions, so that
what is exactly nothing is found to be nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import isfinite
from typing import Final

from rustboard.findings.agreement.kappa import Interval

_TAIL: Final = 0.975


@dataclass(frozen=True, slots=True)
class MeanSquares:
    """Two-way analysis of variance of grades, each coupon graded once by each grader.

    Attributes:
        coupons: how many.
        graders: how many.
        between_coupons: mean square (BMS) with ``coupons - 1`` degrees of freedom.
        within_coupons: mean square (WMS), differences between graders and error together.
        between_graders: mean square (JMS) with ``graders - 1`` degrees of freedom.
        error: mean square (EMS) with ``(coupons - 1) * (graders - 1)`` degrees of freedom.
    """

    coupons: int
    graders: int
    between_coupons: Fraction
    within_coupons: Fraction
    between_graders: Fraction
    error: Fraction


@dataclass(frozen=True, slots=True)
class Intraclass:
    """The six intraclass correlations.

    Each is 1 at most. None = no such figure exists, because grades show no differences it could share out (all are
    equal, say) or, for a mean, because error alone outweighs all there is. Below 0 = coupons differ less than the
    graders' error makes them differ; it means what 0 means: the grades do not tell the coupons apart.

    Attributes:
        one_way, one_way_mean: ICC(1,1) and ICC(1,k): who graded which coupon is not known.
        absolute, absolute_mean: ICC(2,1) and ICC(2,k): of one grade, and of the mean of all graders; a grader who is
            milder than others counts as error. It is the one for grading.
        consistent, consistent_mean: ICC(3,1) and ICC(3,k): a grader's constant offset is forgiven.
        interval: of ``absolute``, 95 %, approximate; None where the formula gives none, as after full agreement, or
            one that does not hold ``absolute``, as can be far below 0.
        coupons, graders: how many.
    """

    one_way: float | None
    absolute: float | None
    consistent: float | None
    one_way_mean: float | None
    absolute_mean: float | None
    consistent_mean: float | None
    interval: Interval | None
    coupons: int
    graders: int


def mean_squares(rows: Sequence[Sequence[float]]) -> MeanSquares | None:
    """Return the analysis of variance; None with fewer than two coupons or two graders.

    Args:
        rows: a row for each coupon, in it a grade for each grader; all of one length.
    """
    if len(rows) < 2 or len(rows[0]) < 2:
        return None
    values = [[Fraction(each) for each in row] for row in rows]
    n, k = len(values), len(values[0])
    coupon_means = [sum(row, Fraction()) / k for row in values]
    grader_means = [sum(column, Fraction()) / n for column in zip(*values, strict=True)]
    mean = sum(coupon_means, Fraction()) / n
    of_coupons = k * _squares(coupon_means, mean)
    of_graders = n * _squares(grader_means, mean)
    within = sum((_squares(row, its_mean) for row, its_mean in zip(values, coupon_means, strict=True)), Fraction())
    return MeanSquares(
        n,
        k,
        of_coupons / (n - 1),
        within / (n * (k - 1)),
        of_graders / (k - 1),
        (within - of_graders) / ((n - 1) * (k - 1)),
    )


def _squares(values: Sequence[Fraction], mean: Fraction) -> Fraction:
    return sum(((each - mean) ** 2 for each in values), Fraction())


def intraclass(rows: Sequence[Sequence[float]]) -> Intraclass | None:
    """Return the intraclass correlations; None with fewer than two coupons or two graders.

    Args:
        rows: a row for each coupon, in it a grade for each grader; all of one length.
    """
    found = mean_squares(rows)
    if found is None:
        return None
    n, k = found.coupons, found.graders
    bms, wms, jms, ems = found.between_coupons, found.within_coupons, found.between_graders, found.error
    absolute = _ratio(bms - ems, bms + (k - 1) * ems + k * (jms - ems) / n)
    return Intraclass(
        one_way=_float(_ratio(bms - wms, bms + (k - 1) * wms)),
        absolute=_float(absolute),
        consistent=_float(_ratio(bms - ems, bms + (k - 1) * ems)),
        one_way_mean=_float(_ratio(bms - wms, bms)),
        absolute_mean=_float(_ratio(bms - ems, bms + (jms - ems) / n)),
        consistent_mean=_float(_ratio(bms - ems, bms)),
        interval=None if absolute is None else _absolute_interval(found, absolute),
        coupons=n,
        graders=k,
    )


def _ratio(part: Fraction, whole: Fraction) -> Fraction | None:
    return part / whole if whole > 0 else None


def _float(value: Fraction | None) -> float | None:
    return None if value is None else float(value)


def _absolute_interval(found: MeanSquares, value: Fraction) -> Interval | None:
    """Return the interval of ICC(2,1): Shrout & Fleiss 1979 and McGraw & Wong 1996 (Satterthwaite's approximation).

    The degrees of freedom of what graders and error make together are those of the weighted sum of both mean squares.
    """
    from scipy.special import fdtri

    n, k = found.coupons, found.graders
    of_graders = k * value * found.between_graders
    of_error = (n * (1 - value) + k * value * (n - 1)) * found.error
    squares = of_graders**2 / (k - 1) + of_error**2 / ((n - 1) * (k - 1))
    if not squares or of_graders + of_error <= 0:
        return None  # full agreement: there is no error to reckon with
    freedom = float((of_graders + of_error) ** 2 / squares)
    upper, lower = float(fdtri(n - 1, freedom, _TAIL)), float(fdtri(freedom, n - 1, _TAIL))
    if not (isfinite(upper) and isfinite(lower)):
        return None
    bms, jms, ems = float(found.between_coupons), float(found.between_graders), float(found.error)
    rest = k * jms + (k * n - k - n) * ems
    whole_low, whole_high = upper * rest + n * bms, rest + n * lower * bms
    if whole_low <= 0 or whole_high <= 0:
        return None
    low, high = n * (bms - upper * ems) / whole_low, n * (lower * bms - ems) / whole_high
    return Interval(low, min(high, 1.0)) if low <= value <= high else None  # far below 0 it can miss the figure
