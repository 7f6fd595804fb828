"""What more exposure is expected to do to each comparison: the same test, made on grades that may come.

Every course that the rust may take is graded at the end of the forecast and tested there as the board is tested now:
the model of means with rows as blocks, its pooled error, and the critical size of t that all comparisons of the
question together ask for. The share of courses on which the difference passes is the chance that it is told from
luck.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from rustboard.board.comparisons import Comparison
from rustboard.findings.compare.results import Compared, Comparing
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.design_model import Design, Numbers
from rustboard.findings.growth.board_growth import BoardGrowth
from rustboard.findings.growth.curves import band_of
from rustboard.findings.growth.results import Expected, Outlook
from rustboard.findings.power import WHOLE_GRADES
from rustboard.findings.simulation import Side, contrast
from rustboard.findings.smallest_p import LEVEL
from rustboard.findings.units import HungUnit

LIKELY: Final = 0.8
UNLIKELY: Final = 0.2


@dataclass(frozen=True, eq=False)
class _Ahead:
    """The units of which something is forecast.

    Attributes:
        units, design: those units.
        then: a row for each course, a column for each unit: mean grade at the end of the forecast.
        variance: of each course, pooled within cells and never below that of rounding; None without replicates.
    """

    units: tuple[HungUnit, ...]
    design: Design
    then: Numbers
    variance: Numbers | None


def expected_of(
    subject: Subject, growth: BoardGrowth, comparing: Comparing, until: float, doubtful: Collection[int] = ()
) -> tuple[Expected, ...]:
    """Return what is expected of each comparison, in last grades whatever the measure of the question.

    Args:
        subject: the board.
        growth: fitted.
        comparing: the comparisons with what is known of them now.
        until: place on the clock at the end of the forecast.
        doubtful: coupons whose growth the law does not describe; what rests on them is open at best.
    """
    ahead = _ahead(subject, growth, until)
    return tuple(_expected(subject, each, ahead, frozenset(doubtful)) for each in comparing.compared)


def _ahead(subject: Subject, growth: BoardGrowth, until: float) -> _Ahead:
    units = tuple(each for each in subject.units if all(growth.knows(coupon) for coupon in each.coupons))
    columns = [sorted(each.coupons) for each in units]
    coupons = [key for column in columns for key in column]
    grades = growth.grades(coupons, [until] * len(coupons))
    ends = np.cumsum([len(each) for each in columns])
    parts = np.split(grades, ends[:-1], axis=1) if columns else []
    then = np.stack([part.mean(axis=1) for part in parts], axis=1) if parts else np.zeros((growth.draws, 0))
    design = Design(tuple(each.cell for each in units), tuple(each.block for each in units))
    return _Ahead(units, design, then, _pooled(design, then))


def _pooled(design: Design, values: Numbers) -> Numbers | None:
    if not design.cells or design.degrees_of_freedom < 1:
        return None
    about = values - values.mean(axis=1, keepdims=True)
    fitted = about @ design.basis
    left = (about**2).sum(axis=1) - (fitted**2).sum(axis=1)
    pooled: Numbers = np.maximum(left / design.degrees_of_freedom, WHOLE_GRADES.least_variance)
    return pooled


def _expected(subject: Subject, compared: Compared, ahead: _Ahead, doubtful: frozenset[int]) -> Expected:
    comparison = compared.comparison
    weights = _weights(comparison, ahead)
    now = _difference_now(subject, compared)
    if weights is None:
        settled: Outlook = "settled" if compared.standing in ("better", "worse") else "unknown"
        return Expected(comparison, compared.id_a, compared.id_b, now, None, None, None, None, None, settled)
    differences = ahead.then @ weights
    then, low, high = band_of(differences)
    errors = _errors(subject, compared, ahead, weights)
    needed = chance = None
    if errors is not None:
        needed = float(np.median(errors))
        chance = 0.0 if _lots_forbid(compared) else float((np.abs(differences) > errors).mean())
    rests_on_doubt = not doubtful.isdisjoint(comparison.coupons_a | comparison.coupons_b)
    outlook = _outlook(compared, chance, rests_on_doubt=rests_on_doubt)
    return Expected(comparison, compared.id_a, compared.id_b, now, then, low, high, needed, chance, outlook)


def _weights(comparison: Comparison, ahead: _Ahead) -> Numbers | None:
    """Return the weight of every unit in the difference, or None where part of it is not forecast."""
    known = frozenset().union(*(each.coupons for each in ahead.units))
    if not comparison.coupons_a | comparison.coupons_b <= known:
        return None
    sides = [
        Side(
            Counter(each.cell for each in ahead.units if not each.coupons.isdisjoint(level.a)),
            Counter(each.cell for each in ahead.units if not each.coupons.isdisjoint(level.b)),
        )
        for level in comparison.levels
    ]
    return ahead.design.weights(contrast(sides))


def _errors(subject: Subject, compared: Compared, ahead: _Ahead, weights: Numbers) -> Numbers | None:
    """Return for each course the difference that would be told from luck; None where nobody can say."""
    model = compared.model
    if model is None or not model.standard_error > 0:
        return None
    half = (model.high - model.low) / 2
    if compared.borrowed:  # with one coupon each nothing is ever told from luck, however long it hangs
        return None
    if ahead.variance is None:
        return None
    return half / model.standard_error * np.sqrt(ahead.variance * float(weights @ weights))


def _difference_now(subject: Subject, compared: Compared) -> float:
    """Return the difference in last grades as it is: the model's where it compares those, else that of the means."""
    if subject.question.measure == "last grade" and compared.model is not None:
        return compared.model.difference
    levels = compared.comparison.levels
    shares = [len(each.a) * len(each.b) / (len(each.a) + len(each.b)) for each in levels]
    gaps = [_mean(subject, each.a) - _mean(subject, each.b) for each in levels]
    return sum(share * gap for share, gap in zip(shares, gaps, strict=True)) / sum(shares)


def _mean(subject: Subject, coupons: Collection[int]) -> float:
    return sum(subject.measures[each].last_grade for each in coupons) / len(coupons)


def _lots_forbid(compared: Compared) -> bool:
    """Return whether the exact test has the say, and the lots leave it too few arrangements ever to be sure."""
    return bool(compared.doubts) and compared.exact is not None and compared.exact.smallest > LEVEL


def _outlook(compared: Compared, chance: float | None, *, rests_on_doubt: bool) -> Outlook:
    if compared.standing in ("better", "worse"):
        return "settled"
    if chance is None:
        return "unknown"
    if chance <= UNLIKELY and (not rests_on_doubt or (chance == 0.0 and _lots_forbid(compared))):
        return "unlikely"
    return "likely" if chance >= LIKELY and not rests_on_doubt else "open"


def named(expected: Sequence[Expected], outlook: Outlook) -> list[Expected]:
    """Return the comparisons of one outlook, in their order."""
    return [each for each in expected if each.outlook == outlook]
