"""The law of growth: found again in simulated rust, and the same as others find it."""

import numpy as np
import pytest
from rust_courses import Truth, looks_at, random_truth
from scipy.optimize import minimize
from scipy.stats import norm

from rustboard.findings.growth import fit as fit_module
from rustboard.findings.growth.fit import fit_growth, fit_with
from rustboard.findings.growth.looks import Look, thinned


def log_posterior(looks, look_sd, coupon_sd, values):
    """Level, slope and own level of all, and the common slope: the joint log posterior, written anew with scipy."""
    groups, coupons = int(looks.group_of.max()) + 1, len(looks.group_of)
    level, slope = values[:groups], values[groups : 2 * groups]
    own, common = values[2 * groups : 2 * groups + coupons], values[-1]
    if (slope <= 0).any():
        return -np.inf
    group = looks.group_of[looks.coupon]
    centre = level[group] + slope[group] * looks.place + own[looks.coupon]
    upper, lower = norm.logcdf((looks.high - centre) / look_sd), norm.logcdf((looks.low - centre) / look_sd)
    likelihood = (upper + np.log1p(-np.exp(lower - upper))).sum()
    prior = norm.logpdf(slope, common, fit_module.SLOPES_SD).sum() + 0.1 * np.log(slope).sum()
    prior += norm.logpdf(common, fit_module.SLOPE_GUESS, fit_module.SLOPE_GUESS_SD)
    return likelihood + prior + norm.logpdf(own, 0, coupon_sd).sum()


def small_looks(seed):
    return looks_at(random_truth(seed, groups=2, each=2, last=60), np.geomspace(5, 60, 5))


def as_values(fit):
    return np.concatenate([fit.level, fit.slope, fit.own, [fit.common_slope]])


@pytest.mark.parametrize("seed", range(4))
def test_no_independent_search_finds_more_probable_values(seed):
    looks = small_looks(seed)
    ours = as_values(fit_with(looks, 0.25, 0.4))

    def badness(values):
        return -max(log_posterior(looks, 0.25, 0.4, values), -1e9)

    theirs = minimize(badness, ours + 0.2, method="BFGS", options={"gtol": 1e-6})
    assert -badness(ours) >= -theirs.fun - 1e-6
    assert ours == pytest.approx(theirs.x, abs=0.02)


def test_courses_are_drawn_with_the_inverse_of_the_curvature():
    looks = small_looks(1)
    fit = fit_with(looks, 0.25, 0.4)
    at, step = as_values(fit), 1e-3
    size = len(at)

    def height(*moves):
        there = at.copy()
        for place, length in moves:
            there[place] += length
        return log_posterior(looks, 0.25, 0.4, there)

    hessian = np.empty((size, size))
    for i in range(size):
        for j in range(size):
            hessian[i, j] = (
                height((i, step), (j, step)) - height((i, step), (j, -step))
                - height((i, -step), (j, step)) + height((i, -step), (j, -step))
            ) / (4 * step**2)  # fmt: skip
    covariance = np.linalg.inv(-hessian)
    # Of each coupon at the place 80: level + slope * log10(80) + own.
    groups = len(fit.level)
    rows = np.zeros((len(fit.own), size))
    for coupon, group in enumerate(fit.group_of):
        rows[coupon, [group, groups + group, 2 * groups + coupon]] = 1.0, np.log10(80), 1.0
    wanted = rows @ covariance @ rows.T
    courses = fit.draws(40_000, 7)
    drawn = courses.log_percent(80.0) - courses.scatter
    assert np.cov(drawn.T) == pytest.approx(wanted, rel=0.06, abs=0.004)
    assert drawn.mean(axis=0) == pytest.approx(rows @ at, abs=0.02)


def test_parameters_come_out_of_simulated_grades():
    # 6 treatments of 20 coupons, 20 looks: slopes to 0.15, levels at the end to 0.3, scatter to a tenth.
    truth = random_truth(5, groups=6, each=20, last=180)
    fit = fit_growth(looks_at(truth, np.geomspace(3, 180, 20)))
    assert fit.slope == pytest.approx(truth.slope, abs=0.15)
    end = np.log10(180)
    assert fit.level + fit.slope * end == pytest.approx(truth.level + truth.slope * end, abs=0.3)
    assert fit.look_sd == pytest.approx(0.2, rel=0.1)
    assert fit.coupon_sd == pytest.approx(0.4, rel=0.2)


def test_of_stated_percent_scatter_and_slope_are_those_of_a_mixed_model():
    import pandas as pd
    import statsmodels.formula.api as smf

    truth = Truth(np.array([-4.0]), np.array([1.7]), each=40, seed=8)
    looks = looks_at(truth, np.geomspace(2, 180, 12), exact=True)
    table = pd.DataFrame({"percent": looks.high, "place": looks.place, "coupon": looks.coupon})
    theirs = smf.mixedlm("percent ~ place", table, groups="coupon").fit(reml=True)
    ours = fit_growth(looks)
    assert ours.look_sd == pytest.approx(np.sqrt(theirs.scale), rel=0.02)
    assert ours.coupon_sd == pytest.approx(np.sqrt(theirs.cov_re.iloc[0, 0]), rel=0.04)
    assert ours.slope[0] == pytest.approx(theirs.params["place"], abs=0.003)
    assert ours.level[0] == pytest.approx(theirs.params["Intercept"], abs=0.02)


def test_slopes_of_treatments_with_few_looks_lean_on_the_others():
    many = Truth(np.array([-3.0, -3.0]), np.array([2.0, 2.0]), each=10, seed=2)
    looks = looks_at(many, [5.0, 10.0, 20.0, 40.0])
    few = looks.coupon < 19  # of the second group one coupon
    few |= looks.place < 1.01
    kept = type(looks)(looks.place[few], looks.low[few], looks.high[few], looks.coupon[few], looks.group_of)
    assert fit_growth(kept).slope[1] == pytest.approx(2.0, abs=0.6)


def test_rust_that_seems_to_go_back_has_a_slope_of_nearly_nothing_and_never_below():
    improving = Truth(np.array([1.0]), np.array([-1.0]), each=4, coupon_sd=0.1, look_sd=0.1, seed=3)
    fit = fit_growth(looks_at(improving, [2.0, 5.0, 10.0, 30.0, 90.0]))
    assert 0 < fit.slope[0] < 0.1
    courses = fit.draws(500, 1)
    assert (courses.slope >= 0).all()


def test_thinning_keeps_the_ends_and_both_sides_of_every_change():
    grades = [10] * 100 + [9] * 100 + [7] * 165
    looks = [Look(float(day), 0.0, 0.0, grade) for day, grade in enumerate(grades, 1)]
    kept = {look.place for look in thinned(looks)}
    assert len(kept) == 40
    assert {1.0, 100.0, 101.0, 200.0, 201.0, 365.0} <= kept
    assert max(np.diff(sorted(kept))) < 20  # spread evenly over the rest


def test_thinning_takes_no_more_than_asked_of_grades_that_change_at_every_look():
    looks = [Look(float(day), 0.0, 0.0, day % 2) for day in range(1, 366)]
    kept = thinned(looks)
    assert len(kept) == 40
    assert (kept[0].place, kept[-1].place) == (1.0, 365.0)
    assert thinned(looks[:40]) == looks[:40]
