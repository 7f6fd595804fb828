"""A time of grace before rust begins."""

import numpy as np
import pytest
from rust_courses import Truth, grades_from_log, looks_at, random_truth

from rustboard.findings.growth.fit import fit_growth
from rustboard.findings.growth.looks import Look
from rustboard.findings.growth.onset import first_rust, fit_with_grace


def looks_and_groups(truth, places):
    """Looks by key of coupon, and the keys of each group."""
    arrays = looks_at(truth, places)
    by_coupon = {key: [] for key in range(len(truth.group_of))}
    for coupon, place, low, high in zip(arrays.coupon, arrays.place, arrays.low, arrays.high, strict=True):
        by_coupon[int(coupon)].append(Look(float(10**place), float(low), float(high), 0))
    groups = [tuple(map(int, np.flatnonzero(truth.group_of == number))) for number in range(len(truth.level))]
    return by_coupon, groups


def test_a_time_of_grace_is_found_where_there_was_one_and_none_where_there_was_none():
    slope = np.array([1.5, 1.5])
    truth = Truth(np.array([0.5, 0.5]) - slope * np.log10([80, 120]), slope, 6, grace=np.array([40.0, 0.0]), seed=2)
    found = fit_with_grace(*looks_and_groups(truth, np.geomspace(2, 120, 24)))
    grace = (found.weights * found.grace).sum(axis=0)
    assert 25 <= grace[0] <= 42
    assert grace[1] <= 2
    assert found.weights.sum(axis=0) == pytest.approx([1, 1])


def test_forecasts_of_coatings_that_held_for_long_hold_what_comes():
    # 24 boards of 3 treatments with 4 coupons, 12 looks, up to 48 of 120 days of grace, forecast to day 180.
    held, without, off = [], [], []
    for seed in range(24):
        truth = random_truth(seed, 3, 4, 120, grace=48.0)
        looks, groups = looks_and_groups(truth, np.geomspace(4, 120, 12))
        if any(first_rust([look for key in group for look in looks[key]])[0] == 0 for group in groups):
            continue
        fit = fit_with_grace(looks, groups)
        plain = fit_growth(looks_at(truth, np.geomspace(4, 120, 12)))
        came = grades_from_log(truth.log_percent(180.0))[:, 0]
        expected = grades_from_log(fit.draws(400, seed).log_percent(180.0))
        naive = grades_from_log(plain.draws(400, seed).log_percent(180.0))
        for group in groups:
            keys = list(group)
            mean = came[keys].mean()
            for grades, hits in ((expected, held), (naive, without)):
                low, high = np.quantile(grades[:, keys].mean(axis=1), [0.05, 0.95])
                hits.append(low <= mean <= high)
            off.append(expected[:, keys].mean() - mean)
    assert len(held) >= 60
    assert np.mean(held) >= 0.84
    assert np.mean(held) > np.mean(without) + 0.05
    assert abs(np.mean(off)) < 0.45


@pytest.mark.parametrize(
    ("looks", "between"),
    [
        ([(5, -2.0), (9, -2.0), (20, 1.0)], (9.0, 20.0)),
        ([(5, 0.5), (9, -2.0)], (0.0, 0.0)),
        ([(5, -2.0), (5, 0.5)], (0.0, 0.0)),
    ],
)
def test_the_first_rust_of_a_group_is_that_of_any_of_its_coupons(looks, between):
    assert first_rust([Look(float(place), -np.inf, high, 0) for place, high in looks]) == between
