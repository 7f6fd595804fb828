"""Survival from intervals: published data, scipy as a second source, invariants."""

from math import inf

import numpy as np
import pytest
from cosmesis import RADIOTHERAPY, WITH_CHEMOTHERAPY
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from rustboard.findings.survival.scores import interval_scores
from rustboard.findings.survival.turnbull import Span, survival_after, turnbull


def known(text):
    """Times known to the point; + = not failed by then."""
    return [
        Span(float(each.rstrip("+")), inf if each.endswith("+") else float(each.rstrip("+"))) for each in text.split()
    ]


# 6-MP against placebo in leukaemia, weeks of remission: lifelines' copy of the data.
TREATED = known("6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+")
PLACEBO = known("1 1 2 2 3 4 4 5 5 8 8 8 8 11 11 12 12 15 17 22 23")


def masses(spans):
    estimate = turnbull(spans)
    return {tuple(span): round(share, 4) for span, share in zip(estimate.spans, estimate.shares, strict=True)}


def test_masses_of_the_cosmesis_data_under_radiotherapy():
    # From memory of Fay and Shaw 2010, worked out anew by expectation and maximisation to 1e-12.
    assert masses(RADIOTHERAPY) == {
        (4, 5): 0.0463, (6, 7): 0.0334, (7, 8): 0.0887, (11, 12): 0.0708, (24, 25): 0.0926, (33, 34): 0.0818,
        (38, 40): 0.1209, (46, 48): 0.4656,
    }  # fmt: skip
    assert turnbull(RADIOTHERAPY).log_likelihood == pytest.approx(-58.0600, abs=5e-5)


def test_masses_of_the_cosmesis_data_with_chemotherapy():
    # The same sources.
    assert masses(WITH_CHEMOTHERAPY) == {
        (4, 5): 0.0433, (5, 8): 0.0433, (11, 12): 0.0692, (16, 17): 0.1454, (18, 19): 0.1411, (19, 20): 0.1157,
        (24, 25): 0.0999, (30, 31): 0.0709, (35, 36): 0.1608, (44, 48): 0.0552, (48, 60): 0.0552,
    }  # fmt: skip
    assert turnbull(WITH_CHEMOTHERAPY).log_likelihood == pytest.approx(-65.6370, abs=5e-5)
    left = [survival_after(turnbull(WITH_CHEMOTHERAPY), place)[0] for place in (5, 8, 12, 17, 19, 20, 25, 31, 36)]
    assert left == pytest.approx([0.9567, 0.9134, 0.8442, 0.6988, 0.5577, 0.4420, 0.3421, 0.2712, 0.1104], abs=6e-5)


def test_with_times_known_to_the_point_it_is_the_estimate_of_kaplan_and_meier():
    # Published for the 6-MP data: treated .8571 .8067 .7529 .6902 .6275 .5378 .4482, placebo .9048 .3810 .1905.
    treated = [survival_after(turnbull(TREATED), place)[0] for place in (6, 7, 10, 13, 16, 22, 23)]
    assert treated == pytest.approx([0.8571, 0.8067, 0.7529, 0.6902, 0.6275, 0.5378, 0.4482], abs=5e-5)
    placebo = [survival_after(turnbull(PLACEBO), place)[0] for place in (1, 8, 12)]
    assert placebo == pytest.approx([0.9048, 0.3810, 0.1905], abs=5e-5)


def test_fan_belts():
    # Conover, from scipy's tests of ecdf: .875 at 47, .75 at 56, .5 at 77, .25 at 80, 0 at 81.
    belts = known("77 47 81 56 80 62+ 60+ 43+ 71+ 37+")
    found = [survival_after(turnbull(belts), place)[0] for place in (47, 56, 77, 80, 81)]
    assert found == pytest.approx([0.875, 0.75, 0.5, 0.25, 0.0], abs=1e-9)


def test_scores_add_up_to_the_log_rank_test():
    # Observed less expected, and with the hypergeometric variance z -4.0979, chi-square 16.793 (6-MP, textbooks).
    spans = dict(enumerate([*TREATED, *PLACEBO]))
    scores = interval_scores(spans)
    late = sum(scores[each] for each in range(len(TREATED)))
    failed, variance = sorted({each.before for each in spans.values() if each.before < inf}), 0.0
    for place in failed:
        at_risk = [key for key, each in spans.items() if each.after >= place]
        dying = sum(each.before == place for each in spans.values())
        share = sum(key < len(TREATED) for key in at_risk) / len(at_risk)
        if len(at_risk) > 1:
            variance += dying * share * (1 - share) * (len(at_risk) - dying) / (len(at_risk) - 1)
    assert late / variance**0.5 == pytest.approx(4.0979, abs=5e-5)
    assert late**2 / variance == pytest.approx(16.793, abs=5e-4)


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 10**6))
def test_right_censored_data_agree_with_scipy(seed):
    chance = np.random.default_rng(seed)
    times, failed = chance.integers(1, 15, 12).astype(float), chance.random(12) < 0.7
    spans = [Span(time, time if dead else inf) for time, dead in zip(times, failed, strict=True)]
    data = stats.CensoredData(uncensored=times[failed], right=times[~failed])
    theirs = stats.ecdf(data).sf  # scipy as source
    estimate = turnbull(spans)
    last = times[failed].max(initial=0.0)
    for place, left in zip(theirs.quantiles, theirs.probabilities, strict=True):
        if place <= last:
            assert survival_after(estimate, place)[0] == pytest.approx(left, abs=1e-7)


spans = st.lists(
    st.tuples(st.integers(0, 20), st.integers(1, 8), st.booleans()).map(
        lambda x: Span(float(x[0]), float(x[0] + x[1]) if x[2] else inf)
    ),
    min_size=1,
    max_size=12,
)


@settings(max_examples=40, deadline=None)
@given(spans, st.randoms(use_true_random=False))
def test_shares_add_up_and_the_order_of_coupons_changes_nothing(given_spans, chance):
    estimate = turnbull(given_spans)
    assert sum(estimate.shares) == pytest.approx(1.0)
    shuffled = given_spans[:]
    chance.shuffle(shuffled)
    assert turnbull(shuffled).log_likelihood == pytest.approx(estimate.log_likelihood, abs=1e-7)


@settings(max_examples=40, deadline=None)
@given(spans)
def test_no_share_can_be_moved_to_a_better_place(given_spans):
    # At a maximum no place gains by more mass: the mean of held share over reached share is at most 1.
    estimate = turnbull(given_spans)
    reached = [
        sum(
            share
            for span, share in zip(estimate.spans, estimate.shares, strict=True)
            if span.after >= each.after and span.before <= each.before
        )
        for each in given_spans
    ]
    for span in estimate.spans:
        gain = sum(
            1 / here
            for each, here in zip(given_spans, reached, strict=True)
            if span.after >= each.after and span.before <= each.before
        )
        assert gain / len(given_spans) == pytest.approx(1.0, abs=1e-3)


@settings(max_examples=30, deadline=None)
@given(spans)
def test_scores_add_up_to_nothing(given_spans):
    assert sum(interval_scores(dict(enumerate(given_spans))).values()) == pytest.approx(0.0, abs=1e-6)


def test_a_clock_in_other_units_moves_the_masses_and_nothing_else():
    doubled = [Span(2 * each.after, 2 * each.before) for each in RADIOTHERAPY]
    one, other = turnbull(RADIOTHERAPY), turnbull(doubled)
    assert other.shares == pytest.approx(one.shares)
    assert [span.before for span in other.spans] == [2 * span.before for span in one.spans]
