"""How surely the mean of each group is known by itself."""

from __future__ import annotations

from collections.abc import Iterable

from rustboard.findings.compare.results import Comparing
from rustboard.findings.coupons.groups import GroupResult
from rustboard.findings.coupons.subject import Subject

_TWO_SIDED = 0.975


def mean_intervals(
    subject: Subject, groups: Iterable[GroupResult], comparing: Comparing
) -> dict[str, tuple[float, float]]:
    """Return the 95 % interval of the mean of each group by itself, by id; empty where the model has no spread.

    Mean and Student's t with the spread pooled over all groups (common practice, no source). These do not hold
    together, and two of them that overlap may still differ: what is compared has intervals of its own.
    """
    from scipy.stats import norm, t

    model = next((each.model for each in comparing.compared if each.model is not None), None)
    if model is None:
        return {}
    freedom = model.degrees_of_freedom
    wide = float(t.ppf(_TWO_SIDED, freedom)) if freedom else float(norm.ppf(_TWO_SIDED))
    found = {}
    for each in groups:
        counted = frozenset(each.counted)
        units = sum(not counted.isdisjoint(unit.coupons) for unit in subject.units)
        if each.mean is not None and units:
            half = wide * model.sd / units**0.5
            found[each.group.id] = (each.mean - half, each.mean + half)
    return found
