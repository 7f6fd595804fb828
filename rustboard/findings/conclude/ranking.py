"""Groups ranked, with the letters of the comparisons and the medians of the survival curves."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from math import sqrt

from rustboard.findings.compare.model import ErrorSpread
from rustboard.findings.coupons.groups import GroupResult
from rustboard.findings.smallest_p import LEVEL
from rustboard.findings.survival.results import SurvivalFindings


def ranked_groups(
    groups: Iterable[GroupResult],
    letters: Mapping[str, str],
    survival: SurvivalFindings | None,
    by_days: SurvivalFindings | None,
    error: ErrorSpread | None,
    units: Mapping[str, int],
) -> tuple[GroupResult, ...]:
    """Return the groups, the best first; those without a graded coupon last.

    Args:
        groups: in any order.
        letters: by id of group.
        survival: on the clock of the view.
        by_days: on the clock of days.
        error: spread within groups, for intervals of the means; None where it is not this board's own.
        units: how many coupons, or columns, the mean of each group rests on, by id.
    """
    medians = {} if survival is None else {each.group: each.median for each in survival.curves}
    days = {} if by_days is None else {each.group: each.median.value for each in by_days.curves}
    found = []
    for each in groups:
        median, reach = medians.get(each.group.id), _reach(units.get(each.group.id, 0), error)
        found.append(
            replace(
                each,
                rank_group=letters.get(each.group.id, ""),
                median_to_failure=None if median is None else median.value,
                median_low=None if median is None else median.low,
                median_high=None if median is None else median.high,
                days_to_failure=days.get(each.group.id),
                mean_low=None if reach is None or each.mean is None else each.mean - reach,
                mean_high=None if reach is None or each.mean is None else each.mean + reach,
            )
        )
    return tuple(
        sorted(found, key=lambda each: (each.mean is None, -(each.mean or 0.0), each.group.role == "control"))
    )


def _reach(units: int, error: ErrorSpread | None) -> float | None:
    """Return half the interval of a mean alone: Student's t with the spread of all groups."""
    from scipy.special import stdtrit

    if error is None or error.borrowed or not units:
        return None
    t = float(stdtrit(error.degrees_of_freedom, 1 - LEVEL / 2))
    return t * error.sd / sqrt(units)
