"""Holm's step-down over exact tests."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from judged_boards import judged_board, subject_for
from statsmodels.stats.multitest import multipletests

from rustboard.findings.compare.exact_pairs import exact_result
from rustboard.findings.compare.step_down import discrete_holm, step_down


@settings(max_examples=15)
@given(st.lists(st.floats(1e-6, 1.0), min_size=1, max_size=6))
def test_tests_that_could_have_any_p_are_adjusted_as_by_holm(p_values):
    expected = multipletests(p_values, method="holm")[1]  # statsmodels as a second source
    assert discrete_holm(p_values, [None] * len(p_values)) == pytest.approx(list(expected))


def test_tests_that_cannot_come_so_low_cost_the_others_nothing():
    # By hand. The second can only be 0.3, 0.6 or 1, so it adds nothing to the first; the third can be 0.02 at 0.03.
    attainable = [[0.03, 0.5, 1.0], [0.3, 0.6, 1.0], [0.02, 0.2, 1.0]]
    assert discrete_holm([0.03, 0.3, 0.2], attainable) == pytest.approx([0.05, 0.3, 0.2])
    assert discrete_holm([0.03, 0.6], attainable[:2]) == pytest.approx([0.03, 0.6])


levels = st.lists(st.integers(1, 99), min_size=1, max_size=5, unique=True).map(
    lambda each: sorted({*(number / 100 for number in each), 1.0})
)


@settings(max_examples=40)
@given(st.lists(levels, min_size=1, max_size=5), st.data())
def test_adjusted_p_never_fall_below_their_own_never_rise_above_holm_and_keep_their_order(attainable, data):
    p_values = [data.draw(st.sampled_from(each)) for each in attainable]
    found = discrete_holm(p_values, attainable)
    by_holm = discrete_holm(p_values, [None] * len(p_values))
    for p, adjusted, plain in zip(p_values, found, by_holm, strict=True):
        assert p <= adjusted + 1e-12
        assert adjusted <= plain + 1e-12
        assert adjusted <= 1.0
    ordered = [adjusted for _, adjusted in sorted(zip(p_values, found, strict=True))]
    assert ordered == sorted(ordered)


def test_on_a_board_the_smallest_p_is_not_paid_for_by_comparisons_that_could_never_be_so_small():
    record = judged_board({"wax": [9, 9, 8, 9], "oil": [3, 2, 3, 4], "film": [9, None, None, None]})
    subject = subject_for(record, compared="chosen", pairs=(("T1", "T2"), ("T3", "T2")))
    results = [(each, exact_result(subject, each, subject.values)) for each in subject.comparisons]
    found = step_down(subject, results, subject.values)
    assert [each.p for each in found] == [pytest.approx(2 / 70), pytest.approx(1 / 5)]
    assert [each.p_family for each in found] == [pytest.approx(2 / 70), pytest.approx(1 / 5)]
