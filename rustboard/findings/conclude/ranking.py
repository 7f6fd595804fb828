"""Groups ranked, with the letters of the comparisons and the medians of the survival curves."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from rustboard.findings.coupons.groups import GroupResult
from rustboard.findings.survival.results import SurvivalFindings


def ranked_groups(
    groups: Iterable[GroupResult],
    letters: Mapping[str, str],
    survival: SurvivalFindings | None,
    by_days: SurvivalFindings | None,
) -> tuple[GroupResult, ...]:
    """Return the groups, the best first; those without a graded coupon last.

    Args:
        groups: in any order.
        letters: by id of group.
        survival: on the clock of the view.
        by_days: on the clock of days.
    """
    medians = {} if survival is None else {each.group: each.median for each in survival.curves}
    days = {} if by_days is None else {each.group: each.median.value for each in by_days.curves}
    found = []
    for each in groups:
        median = medians.get(each.group.id)
        found.append(
            replace(
                each,
                rank_group=letters.get(each.group.id, ""),
                median_to_failure=None if median is None else median.value,
                median_low=None if median is None else median.low,
                median_high=None if median is None else median.high,
                days_to_failure=days.get(each.group.id),
            )
        )
    return tuple(
        sorted(found, key=lambda each: (each.mean is None, -(each.mean or 0.0), each.group.role == "control"))
    )
