"""Tests on ranks: published examples, scipy as a second source, boards."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from judged_boards import judged_board, subject_for
from scipy import stats

from rustboard.findings.compare.ranks import (
    friedman_exact_p,
    friedman_statistic,
    kruskal_statistic,
    overall_test,
    page_exact_p,
    page_statistic,
)

# Zar, Biostatistical Analysis, example 12.6, blocks down and groups across: scipy's tests of friedmanchisquare.
ZAR = np.array(
    [[7.0, 9.9, 8.5, 5.1, 10.3], [5.3, 5.7, 4.7, 3.5, 7.7], [4.9, 7.6, 5.5, 2.8, 8.4], [8.8, 8.9, 8.1, 3.3, 9.1]]
).T


def test_friedman_of_a_textbook_table_counted_and_by_the_usual_approximation():
    assert friedman_statistic(ZAR) == pytest.approx(10.68)
    assert stats.chi2.sf(friedman_statistic(ZAR), 3) == pytest.approx(0.0135882729582176)
    # All 7,962,624 arrangements counted: 0.0054585, two and a half times less.
    assert friedman_exact_p(ZAR) == pytest.approx(0.0054585, abs=5e-8)


def test_friedman_with_ties():
    # 18.942857, p 0.000280938: scipy's tests of friedmanchisquare.
    table = np.array(
        [
            [4, 3, 5, 3, 5, 3, 2, 5, 4, 4, 4, 3],
            [2, 2, 1, 2, 3, 1, 2, 3, 2, 1, 1, 3],
            [2, 4, 3, 3, 4, 3, 3, 4, 4, 1, 2, 1],
            [3, 5, 4, 3, 4, 4, 3, 3, 3, 4, 4, 4],
        ]
    ).T
    assert friedman_statistic(table) == pytest.approx(18.9428571428571)
    assert stats.chi2.sf(18.9428571428571, 3) == pytest.approx(0.000280938375189499)


def test_page_counted():
    # L 257, exact p .0023: from scipy's sources of page_trend_test, three rows of six.
    table = np.array([[101, 117, 111], [91, 90, 107], [103, 133, 121], [136, 140, 144], [190, 161, 201],
                      [146, 120, 116]]).T  # fmt: skip
    assert page_statistic(table) == 257
    assert page_exact_p(table) == pytest.approx(0.0023, abs=5e-5)


def test_page_of_the_teaching_example():
    # L 133.5, exact p .0018191: scipy's documentation of page_trend_test, its columns in the expected order.
    table = np.array([[3, 4, 3], [2, 2, 4], [3, 3, 5], [1, 3, 2], [2, 3, 2], [2, 4, 5], [1, 2, 4], [3, 4, 4],
                      [2, 4, 5], [1, 3, 4]])  # fmt: skip
    assert page_statistic(table) == 133.5
    assert page_exact_p(table, ties=False) == pytest.approx(0.0018191161948127822)
    assert page_exact_p(table) < 0.0018  # with the ties that there are, which scipy does not count


def test_kruskal_and_wallis():
    # H 7.0 and .7714286: scipy's documentation and tests of kruskal.
    values, groups = np.array([1, 1, 1, 2, 2, 2, 2, 2.0]), np.array([0, 0, 0, 1, 1, 1, 2, 2])
    assert kruskal_statistic(values, groups) == pytest.approx(7.0)
    clearance = (2.9, 3.0, 2.5, 2.6, 3.2), (3.8, 2.7, 4.0, 2.4), (2.8, 3.4, 3.7, 2.2, 2.0)
    labels = np.repeat(np.arange(3), [len(each) for each in clearance])
    assert kruskal_statistic(np.concatenate(clearance), labels) == pytest.approx(0.7714286, abs=5e-8)


tables = st.lists(st.lists(st.integers(0, 5), min_size=3, max_size=3), min_size=2, max_size=5).map(np.array)


@settings(max_examples=30, deadline=None)
@given(tables)
def test_statistics_agree_with_scipy(table):
    if all(len(set(row)) == 1 for row in table.tolist()):
        assert friedman_statistic(table) == 0.0
        return
    assert friedman_statistic(table) == pytest.approx(stats.friedmanchisquare(*table.T).statistic)
    theirs = stats.page_trend_test(table, method="exact")
    assert page_statistic(table) == theirs.statistic
    if all(len(set(row)) == 3 for row in table.tolist()):  # scipy counts no ties
        assert page_exact_p(table) == pytest.approx(theirs.pvalue)


@settings(max_examples=20, deadline=None)
@given(tables)
def test_renaming_groups_changes_nothing(table):
    assert friedman_exact_p(table[:, [2, 0, 1]]) == pytest.approx(friedman_exact_p(table))


def test_a_board_with_rows_as_blocks_is_judged_within_rows():
    record = judged_board({"wax": [8, 7, 9, 8], "oil": [5, 5, 6, 4]}, control=[2, 1, 3, 1], method="rows")
    subject = subject_for(record)
    found = overall_test(subject, subject.values)
    assert (found.test, found.sampled, found.groups) == ("Friedman", 0, 3)
    # Every row in the same order: 3! ways to be so, of 3! ** 4.
    assert found.p == pytest.approx(6 / 6**4)


def test_a_board_without_blocks_is_judged_as_a_whole():
    subject = subject_for(judged_board({"wax": [8, 7, 9], "oil": [5, 5, 6]}, control=[2, 1, 3]))
    found = overall_test(subject, subject.values)
    assert found.test == "Kruskal-Wallis"
    # Groups wholly apart: 3! of the 9! / 3! ** 3 = 1680 splits are.
    assert found.p == pytest.approx(6 / 1680, abs=0.002)


def test_one_coupon_each_has_no_overall_test():
    subject = subject_for(judged_board({"wax": [8], "oil": [5]}))
    assert overall_test(subject, subject.values) is None
