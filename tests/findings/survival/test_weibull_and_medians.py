"""Weibull fits and medians of times known as intervals."""

from math import inf, log

import numpy as np
import pytest
from cosmesis import RADIOTHERAPY, WITH_CHEMOTHERAPY
from judged_boards import judged_board, subject_for
from scipy import stats

from rustboard.findings.survival.curves import survival_findings
from rustboard.findings.survival.times import coverage, median_time
from rustboard.findings.survival.turnbull import Span, turnbull
from rustboard.findings.survival.weibull import common_shape, weibull_fit
from rustboard.findings.survival.words import survival_words


def test_twenty_values_of_which_some_were_cut_short():
    # Shape 2.149, scale 28.99: scipy's tests of fits to censored data.
    text = "3 5 6+ 8 10+ 11+ 15 20+ 22 23 27+ 29 32 35 40 26 28 33+ 21 24+"
    fit = weibull_fit([Span(float(each.rstrip("+")), inf if "+" in each else float(each)) for each in text.split()])
    assert (fit.shape, fit.scale) == (pytest.approx(2.149, abs=5e-4), pytest.approx(28.99, abs=7e-3))


def test_the_cosmesis_data():
    # Worked out with scipy from the published data: shape, scale and log-likelihood of either arm.
    alone, more = weibull_fit(RADIOTHERAPY), weibull_fit(WITH_CHEMOTHERAPY)
    assert (alone.shape, alone.scale) == (pytest.approx(1.1216, abs=5e-5), pytest.approx(57.513, abs=5e-4))
    assert (more.shape, more.scale) == (pytest.approx(2.0302, abs=5e-5), pytest.approx(28.042, abs=5e-4))
    assert alone.log_likelihood == pytest.approx(-64.7315, abs=5e-5)
    assert more.log_likelihood == pytest.approx(-75.7151, abs=5e-5)


def test_a_shape_shared_by_both_arms():
    # Accelerated failure time: shape 1.6146, log-likelihood -143.3208, difference of log scales -0.5676.
    shape = common_shape([RADIOTHERAPY, WITH_CHEMOTHERAPY])
    assert shape == pytest.approx(1.6146, abs=5e-5)
    alone, more = weibull_fit(RADIOTHERAPY, shape), weibull_fit(WITH_CHEMOTHERAPY, shape)
    assert alone.log_likelihood + more.log_likelihood == pytest.approx(-143.3208, abs=5e-5)
    assert log(more.scale / alone.scale) == pytest.approx(-0.5676, abs=5e-5)


def test_intervals_agree_with_scipys_own_fit():
    chance = np.random.default_rng(8)
    times = 30 * chance.weibull(1.7, 40)
    low, high = np.floor(times / 5) * 5, np.floor(times / 5) * 5 + 5
    data = stats.CensoredData(interval=np.column_stack([low, high]))
    shape, _, scale = stats.weibull_min.fit(data, floc=0)  # scipy as source
    fit = weibull_fit([Span(*map(float, each)) for each in zip(low, high, strict=True)])
    assert (fit.shape, fit.scale) == (pytest.approx(shape, rel=2e-3), pytest.approx(scale, rel=2e-3))


def test_the_interval_of_the_median_drops_the_likelihood_by_half_a_chi_square():
    fit = weibull_fit(WITH_CHEMOTHERAPY)
    shapes = np.linspace(0.5, 5, 3_000)

    def best(median):
        found = [
            sum(
                np.log(np.exp(-((a / scale) ** k)) - (np.exp(-((b / scale) ** k)) if b < inf else 0.0))
                for a, b in WITH_CHEMOTHERAPY
            )
            for k in shapes[::40]
            for scale in [median / log(2) ** (1 / k)]
        ]
        return max(found)

    for end in (fit.low, fit.high):
        assert fit.log_likelihood - best(end) == pytest.approx(stats.chi2.ppf(0.95, 1) / 2, abs=0.02)


def test_too_little_to_fit():
    assert weibull_fit([Span(3, 5), Span(8, inf)]) is None
    assert weibull_fit([Span(3, 5), Span(3, 5)]) is None
    assert weibull_fit([Span(5, inf)]) is None


def test_times_that_are_all_but_one_and_the_same_have_no_shape():
    # The likelihood grows without end as the shape does.
    assert weibull_fit([Span(8.0, 8.0), Span(8.0, 8.0), Span(8.0, 8.5)]) is None


def test_how_sure_so_few_coupons_make_a_median():
    # Binomial with one half: between the least and the largest of n lies the median 1 - 2 / 2**n of the time.
    assert [coverage(each, 1) for each in (1, 2, 3, 5, 6)] == [0.0, 0.5, 0.75, 0.9375, 0.96875]
    spans = [Span(float(10 * each), float(10 * each + 10)) for each in range(6)]
    found = median_time(turnbull(spans), spans)
    assert (found.value, found.low, found.high, found.confidence) == (30.0, 0.0, 60.0, 0.96875)


def test_curves_of_a_board_and_their_words():
    record = judged_board(
        {"wax": [[9, 8, 8], [9, 9, 8], [9, 8, 8]], "oil": [[8, 7, 5], [8, 6, 4], [9, 8, 7]]},
        control=[[6, 4, 2], [5, 3, 1], [7, 3, 1]],
        days=(10, 20, 30),
    )
    subject = subject_for(record, failing_grade=7)
    wax, oil, control = survival_findings(subject).curves
    assert (wax.failed, wax.median.value, wax.followed) == (0, None, 30.0)
    assert (oil.failed, oil.median.value) == (3, 20.0)
    assert [(each.after, each.before, round(each.share, 6)) for each in control.masses] == [(0.0, 10.0, 1.0)]
    assert survival_words(wax, "wax", "days").text() == "None of the 3 coupons of wax had failed at day 30."
    assert survival_words(oil, "oil", "days").text() == (
        "Half of the coupons of oil had failed by day 20 (3 of 3 so far); the true middle lies between day 10 and "
        "day 30 (75 % sure)."
    )


def test_coupons_last_graded_on_different_days_are_not_said_to_have_held_until_the_last():
    record = judged_board({"wax": [[9, 9, 9], [9, 9, None]]}, days=(10, 20, 30))
    (wax,) = survival_findings(subject_for(record)).curves
    assert survival_words(wax, "wax", "days").text() == (
        "None of the 2 coupons of wax had failed when last graded, from day 20 to day 30."
    )


def test_nothing_graded_has_no_survival():
    assert survival_findings(subject_for(judged_board({"wax": [None]}))) is None


@pytest.mark.parametrize("grade", [0, 10])
def test_all_alike_is_no_trouble(grade):
    record = judged_board({"wax": [[grade] * 3] * 3}, control=[[grade] * 3] * 2, days=(10, 20, 30))
    for curve in survival_findings(subject_for(record)).curves:
        assert curve.weibull is None
        assert sum(each.share for each in curve.masses) == pytest.approx(1.0)
        assert survival_words(curve, "wax", "rain").text().endswith(".")
