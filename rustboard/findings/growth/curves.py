"""Growth as a picture: the mean grade of every group with its band, fitted where it was seen and forecast beyond."""

from __future__ import annotations

from typing import Final

import numpy as np

from rustboard.findings.coupons.groups import Group
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.design_model import Numbers
from rustboard.findings.growth.board_growth import BoardGrowth
from rustboard.findings.growth.results import BandPlace, GrowthCurve

BAND: Final = 0.90
_SEEN_PLACES: Final = 16
_FORECAST_PLACES: Final = 9
_STRAYS: Final = 0.005


def growth_curves(subject: Subject, growth: BoardGrowth, until: float) -> tuple[GrowthCurve, ...]:
    """Return the curve of every group that was graded, up to a place on the clock."""
    found = []
    for group in subject.groups:
        coupons = [each for each in group.coupons if each in subject.measures]
        if not coupons:
            continue
        seen = max(subject.measures[each].last_place for each in coupons)
        reason = growth.why_none.get(group.id)
        band = () if reason is not None else _band(subject, growth, coupons, until)
        found.append(GrowthCurve(group.id, seen, band, reason))
    return tuple(found)


def _band(subject: Subject, growth: BoardGrowth, coupons: list[int], until: float) -> tuple[BandPlace, ...]:
    measures = [subject.measures[each] for each in coupons]
    seen = max(each.last_place for each in measures)
    first = min((each.first_place for each in measures if each.first_place > 0), default=seen / _SEEN_PLACES)
    places = list(np.linspace(first, seen, _SEEN_PLACES))
    if until > seen:
        places += list(np.linspace(seen, until, _FORECAST_PLACES + 1)[1:])
    # Where a group was graded once after the start its places fall together.
    return tuple(_band_place(growth, coupons, float(place)) for place in dict.fromkeys(places))


def _band_place(growth: BoardGrowth, coupons: list[int], place: float) -> BandPlace:
    means = growth.grades(coupons, [place] * len(coupons)).mean(axis=1)
    return BandPlace(place, *band_of(means))


def band_of(values: Numbers) -> tuple[float, float, float]:
    """Return the mean of values, and between which values 90 in 100 lie; the band reaches to the mean at least."""
    low, high = np.quantile(values, [(1 - BAND) / 2, (1 + BAND) / 2])
    # Where nearly all values are the same, the few others may pull the mean out of the band.
    middle = float(values.mean())
    return middle, min(float(low), middle), max(float(high), middle)


def straying(subject: Subject, growth: BoardGrowth) -> tuple[Group, ...]:
    """Return the groups whose last grades lie where the law would put them less than once in 100 times."""
    found = []
    for group in subject.groups:
        coupons = [each for each in group.coupons if each in growth.coupons and subject.measures[each].last_place > 0]
        if not coupons:
            continue
        measures = [subject.measures[each] for each in coupons]
        means = growth.grades(coupons, [each.last_place for each in measures]).mean(axis=1)
        seen = sum(each.last_grade for each in measures) / len(measures)
        low, high = np.quantile(means, [_STRAYS, 1 - _STRAYS])
        if not low <= seen <= high:
            found.append(group)
    return tuple(found)
