"""Coupons that do not behave like their replicates: flagged with the test's figure, never dropped."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, sqrt
from statistics import fmean, variance
from typing import Final

from rustboard.findings.amounts import amount_unit, p_is, shown, shown_p
from rustboard.findings.coupons.groups import Group
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.doubts.residuals import CouponModel
from rustboard.findings.doubts.results import Doubt, OddCoupon
from rustboard.findings.doubts.wording import coupon_names
from rustboard.findings.sentence import Sentence
from rustboard.findings.smallest_p import LEVEL

STUDENTIZED: Final = "studentized residual"
GRUBBS: Final = "Grubbs"
SMALLEST_GROUP: Final = 5
"""Grubbs' test of a group of its own asks for so many: of three or four coupons it could hardly ever flag one."""


_ALIKE: Final = 1e-12
"""Of the largest value: what differs by less is equal, as 0.1 + 0.2 and 0.3 are."""


@dataclass(frozen=True, slots=True)
class Grubbs:
    """The value of a group that is farthest from its mean.

    Attributes:
        place: of the value in the group. statistic: its distance from the mean in standard deviations.
        p: two-sided, for whichever of the values is the farthest.
    """

    place: int
    statistic: float
    p: float


def grubbs(values: Sequence[float], least_variance: float = 0.0) -> Grubbs | None:
    """Return Grubbs' test for one outlier among values; None below three values or where all are alike.

    The statistic T of ASTM E178. Its p is Bonferroni's bound of the t that T stands for (Grubbs 1950, from memory),
    which is exact wherever it matters. The spread of the other values never counts as less than rounding makes.
    """
    count = len(values)
    if count < 3 or max(values) - min(values) <= _ALIKE * max(map(abs, values)):
        return None
    mean = fmean(values)
    place = max(range(count), key=lambda each: (abs(values[each] - mean), -each))
    distance = abs(values[place] - mean)
    others = max(variance([value for number, value in enumerate(values) if number != place]), least_variance)
    # The variance of all values, from that of the others and the distance: what T divides by.
    spread = ((count - 2) * others + distance**2 * count / (count - 1)) / (count - 1)
    if spread == 0:  # squares too small for any number
        return None
    t = inf if others == 0 else distance * sqrt(count / (count - 1)) / sqrt(others)
    return Grubbs(place, distance / sqrt(spread), min(1.0, count * _two_sided(t, count - 2)))


def grubbs_critical(count: int, level: float, *, sides: int = 1) -> float:
    """Return the T of ASTM E178 that the farthest of ``count`` values passes by luck with chance ``level``."""
    from scipy.special import stdtrit

    t = float(stdtrit(count - 2, 1 - level / sides / count))
    return (count - 1) / sqrt(count) * sqrt(t**2 / (count - 2 + t**2))


def _two_sided(t: float, freedom: int) -> float:
    from scipy.special import stdtr

    return 2 * float(stdtr(freedom, -abs(t)))


def odd_coupons(subject: Subject, model: CouponModel) -> tuple[OddCoupon, ...]:
    """Return the coupons unlike their replicates, those that stand out most first.

    Two looks share the chance of a false flag on the whole board (5 in 100): every coupon against the spread of all
    groups (studentized residual, Bonferroni over the coupons), and in large groups the farthest coupon against the
    spread of its own (Grubbs, Bonferroni over the groups), which still holds where groups scatter unequally.
    """
    group_of = {key: each for each in subject.groups for key in each.coupons}
    groups: dict[Group, list[int]] = defaultdict(list)
    for number, key in enumerate(model.coupons):
        groups[group_of[key]].append(number)
    large = {group: mine for group, mine in groups.items() if len(mine) >= SMALLEST_GROUP}
    looks = 2 if large else 1
    found = [
        OddCoupon(model.coupons[number], group_of[model.coupons[number]].id, STUDENTIZED, scaled, p)
        for number, scaled, p in _studentized(model, looks)
    ]
    for group, mine in large.items():
        # Residuals are judged, so that a good or bad row does not count against a coupon.
        tested = grubbs([float(model.residuals[each]) for each in mine], model.least_variance)
        if tested is not None:
            key = model.coupons[mine[tested.place]]
            found.append(OddCoupon(key, group.id, GRUBBS, tested.statistic, min(1.0, tested.p * len(large) * looks)))
    best: dict[int, OddCoupon] = {}
    for each in sorted(found, key=lambda each: (each.p, each.coupon)):
        if each.p <= LEVEL:
            best.setdefault(each.coupon, each)
    return tuple(best.values())


def _studentized(model: CouponModel, looks: int) -> list[tuple[int, float, float]]:
    known = [(number, each) for number, each in enumerate(model.studentized) if each is not None]
    return [
        (number, scaled, min(1.0, len(known) * looks * _two_sided(scaled, model.freedom))) for number, scaled in known
    ]


def odd_coupon_doubts(subject: Subject, model: CouponModel, odd: Sequence[OddCoupon]) -> list[Doubt]:
    """Return a doubt for each coupon unlike its replicates."""
    names = {each.id: each.name for each in subject.groups}
    return [_doubt(subject, model, each, names[each.group]) for each in odd]


def _doubt(subject: Subject, model: CouponModel, odd: OddCoupon, group: str) -> Doubt:
    far = float(model.residuals[model.coupons.index(odd.coupon)])
    amount = abs(shown(far))
    if odd.test == GRUBBS:
        test = (
            f"Grubbs' test: {{4}} standard deviations from the mean of its group, {p_is(odd.p)} {{5}} for the board"
        )
    else:
        test = f"{{4}} times the usual scatter, its studentized residual; {p_is(odd.p)} {{5}} for the board"
    above = "above" if far > 0 else "below"
    parts = (coupon_names(subject.record, [odd.coupon]), amount, amount_unit(subject, amount), group)
    return Doubt(
        "odd coupon",
        "caution",
        Sentence(
            f"{{0}} is unlike the other coupons of {{3}}: {{1}} {{2}} {above} what they lead one to expect ({test}).",
            (*parts, round(abs(odd.statistic), 1), shown_p(odd.p)),
        ),
        Sentence(
            "It stays in all figures. Look at it, and leave it out only for a reason that is known from elsewhere, "
            "such as damage: that it stands out is no reason."
        ),
        frozenset({odd.coupon}),
    )
