"""Tests on ranks: published tables, scipy as a second source, and boards."""

from itertools import permutations, product

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

# Three ways to round first base, 22 players: Hollander and Wolfe, Nonparametric Statistical Methods (1973), page 140;
# data as in the examples of R's friedman.test.
ROUNDING = np.array([
    [5.40, 5.50, 5.55], [5.85, 5.70, 5.75], [5.20, 5.60, 5.50], [5.55, 5.50, 5.40], [5.90, 5.85, 5.70],
    [5.45, 5.55, 5.60], [5.40, 5.40, 5.35], [5.45, 5.50, 5.35], [5.25, 5.15, 5.00], [5.85, 5.80, 5.70],
    [5.25, 5.20, 5.10], [5.65, 5.55, 5.45], [5.60, 5.35, 5.45], [5.05, 5.00, 4.95], [5.50, 5.50, 5.40],
    [5.45, 5.55, 5.50], [5.55, 5.55, 5.35], [5.45, 5.50, 5.55], [5.50, 5.45, 5.25], [5.65, 5.60, 5.40],
    [5.70, 5.65, 5.55], [6.30, 6.30, 6.25],
])  # fmt: skip
# Zar, Biostatistical Analysis, example 12.6, and a table with ties; data as in scipy's own tests.
ZAR = np.array([
    [7.0, 9.9, 8.5, 5.1, 10.3], [5.3, 5.7, 4.7, 3.5, 7.7], [4.9, 7.6, 5.5, 2.8, 8.4], [8.8, 8.9, 8.1, 3.3, 9.1],
]).T  # fmt: skip
TIED = np.array([
    [4, 3, 5, 3, 5, 3, 2, 5, 4, 4, 4, 3], [2, 2, 1, 2, 3, 1, 2, 3, 2, 1, 1, 3],
    [2, 4, 3, 3, 4, 3, 3, 4, 4, 1, 2, 1], [3, 5, 4, 3, 4, 4, 3, 3, 3, 4, 4, 4],
]).T  # fmt: skip


def test_rounding_first_base():
    assert friedman_statistic(ROUNDING) == pytest.approx(11.142857, abs=5e-7)  # R: 11.143, p = 0.003805
    assert stats.chi2.sf(friedman_statistic(ROUNDING), 2) == pytest.approx(0.00380504, abs=5e-9)


def test_an_exact_p_of_friedman_is_far_below_the_usual_one_with_few_rows():
    assert friedman_statistic(ZAR) == pytest.approx(10.68)  # Zar
    assert friedman_exact_p(ZAR) == pytest.approx(0.0054585, abs=5e-8)  # all 24 ** 5 arrangements counted, by hand
    assert stats.chi2.sf(10.68, 3) == pytest.approx(0.0135882729582176)  # scipy's own tests: 2.5 times as much


def test_ties_within_rows_are_corrected_for():
    assert friedman_statistic(TIED) == pytest.approx(18.9428571428571)  # scipy's own tests
    assert friedman_statistic(np.ones((4, 3))) == 0.0
    assert friedman_exact_p(np.ones((4, 3))) == 1.0


@settings(max_examples=20)
@given(st.integers(0, 10_000), st.integers(2, 4), st.integers(3, 4))
def test_friedman_is_that_of_scipy_and_of_all_arrangements_written_out(seed, blocks, groups):
    table = np.random.default_rng(seed).integers(0, 6, (blocks, groups)).astype(float)
    if any(len(set(row)) > 1 for row in table.tolist()):
        assert friedman_statistic(table) == pytest.approx(stats.friedmanchisquare(*table.T).statistic)
    if groups == 3:
        ranks = [stats.rankdata(row) for row in table]
        sums = [np.add.reduce(each) for each in product(*(list(permutations(row)) for row in ranks))]
        sizes = [float(np.square(each - np.mean(each)).sum()) for each in sums]
        seen = float(np.square(np.sum(ranks, axis=0) - blocks * 2).sum())
        expected = np.mean(np.array(sizes) >= seen - 1e-9)
        assert friedman_exact_p(table) == pytest.approx(expected)


def test_an_exact_friedman_gives_up_where_there_are_too_many_arrangements():
    draw = np.random.default_rng(1)
    assert friedman_exact_p(draw.random((3, 8))) is None
    assert friedman_exact_p(draw.random((12, 7))) is None


# Evaluation of 3 teaching methods, in the order in which they are expected to rise: scipy's page_trend_test.
TEACHING = [
    [3, 4, 3],
    [2, 2, 4],
    [3, 3, 5],
    [1, 3, 2],
    [2, 3, 2],
    [2, 4, 5],
    [1, 2, 4],
    [3, 4, 4],
    [2, 4, 5],
    [1, 3, 4],
]
# Hollander and Wolfe's example of Page's test as scipy's own tests have it, a row for each block.
AMES = np.array([
    [101, 117, 111], [91, 90, 107], [103, 133, 121], [136, 140, 144], [190, 161, 201], [146, 120, 116],
]).T  # fmt: skip


@pytest.mark.parametrize(
    ("table", "statistic", "p"),
    [
        # From scipy's own tests, made with R's cultevo.
        (
            [[1.5, 4.0, 8.3, 5, 19, 11], [5, 4, 3.5, 10, 20, 21], [8.4, 3.2, 10, 12, 14, 15]],
            266,
            4.121656378600823e-05,
        ),
        ([[6, 5, 4, 3, 2, 1], [6, 5, 4, 3, 2, 1], [1, 3, 4, 5, 2, 6]], 197, 0.9619432897162209),
        ([[4, 3, 2, 1]] * 8 + [[3, 4, 1, 2]] + [[1, 2, 3, 4]] * 5, 332, 0.9566400920502488),
        ([[7, 6, 5, 4, 3, 2, 1]] * 2 + [[6, 5, 7, 4, 3, 2, 1], [1, 2, 3, 4, 5, 6, 7]], 395, 0.991530289351305),
        ([[3, 2, 1]] * 9 + [[2, 1, 3], [1, 2, 3]], 117, 0.9997817843373017),
    ],
)
def test_pages_trend_is_that_of_r(table, statistic, p):
    assert page_statistic(np.array(table, dtype=float)) == statistic
    assert page_exact_p(np.array(table, dtype=float)) == pytest.approx(p, rel=1e-9)


def test_pages_exact_p_counts_ties_as_they_fall():
    table = np.array(TEACHING, dtype=float)
    assert page_statistic(table) == 133.5
    # Scipy's exact p, 0.0018191, is that of ranks without ties; the same where the ties are taken from the counting.
    assert stats.page_trend_test(table, method="exact").pvalue == pytest.approx(0.0018191161948127822)
    totals = {0.0: 1.0}
    for row in table:
        grown = {}
        for order in permutations(stats.rankdata(row)):
            for total, share in totals.items():
                more = total + float(np.dot(order, (1, 2, 3)))
                grown[more] = grown.get(more, 0.0) + share / 6
        totals = grown
    assert page_exact_p(table) == pytest.approx(sum(share for total, share in totals.items() if total >= 133.5))
    assert page_exact_p(table) < 0.0018


def test_pages_trend_of_a_published_example():
    assert page_statistic(AMES) == 257
    assert page_exact_p(AMES) == pytest.approx(0.0023, abs=5e-5)  # Hollander and Wolfe (scipy's own tests)


def test_pages_exact_p_gives_up_with_too_many_columns():
    assert page_exact_p(np.random.default_rng(2).random((2, 9))) is None


def kruskal(*groups):
    values = np.array([each for group in groups for each in group], dtype=float)
    return kruskal_statistic(values, np.repeat(np.arange(len(groups)), [len(each) for each in groups]))


def test_kruskal_and_wallis_as_published():
    assert kruskal((1, 1, 1), (2, 2, 2), (2, 2)) == pytest.approx(7.0)  # scipy's own tests
    # Mucociliary efficiency, Hollander and Wolfe (1973), page 115; R: chi-squared 0.77143, p = 0.68.
    mucociliary = (2.9, 3.0, 2.5, 2.6, 3.2), (3.8, 2.7, 4.0, 2.4), (2.8, 3.4, 3.7, 2.2, 2.0)
    assert kruskal(*mucociliary) == pytest.approx(0.7714286, abs=5e-8)
    assert stats.chi2.sf(kruskal(*mucociliary), 2) == pytest.approx(0.6799648, abs=5e-8)
    assert kruskal((5, 5), (5,)) == 0.0


@settings(max_examples=20)
@given(st.lists(st.lists(st.integers(0, 10), min_size=1, max_size=5), min_size=2, max_size=4))
def test_kruskal_and_wallis_are_those_of_scipy(groups):
    if len({each for group in groups for each in group}) > 1:
        assert kruskal(*groups) == pytest.approx(stats.kruskal(*groups).statistic)


def overall(record):
    subject = subject_for(record)
    return overall_test(subject, subject.values)


def test_rows_that_are_blocks_are_ranked_within_and_counted_out():
    found = overall(judged_board({"wax": [9, 8, 10], "oil": [6, 5, 7], "film": [3, 2, 1]}, method="rows"))
    # By hand: the same order in all 3 rows, as 6 of the 216 arrangements have it; statistic rows * (groups - 1).
    assert (found.test, found.statistic, found.sampled, found.groups) == ("Friedman", pytest.approx(6.0), 0, 3)
    assert found.p == pytest.approx(6 / 216)


def test_lots_over_the_whole_board_are_ranked_over_it():
    grades = {"wax": [9, 8, 10], "oil": [6, 5, 7]}
    found = overall(judged_board(grades))
    assert (found.test, found.statistic) == (
        "Kruskal-Wallis",
        pytest.approx(stats.kruskal(*grades.values()).statistic),
    )
    # By hand 2 of 20 arrangements; 4 standard errors of so many draws.
    assert found.p == pytest.approx(0.1, abs=4 * (0.1 * 0.9 / found.sampled) ** 0.5)


def test_a_row_that_lacks_a_group_makes_it_a_test_over_the_board_within_rows():
    found = overall(judged_board({"wax": [9, 8, 10], "oil": [6, None, 7], "film": [3, 2, 1]}, method="rows"))
    assert found.test == "Kruskal-Wallis"
    ways = product(permutations((7, 4, 3)), permutations((6, 2)), permutations((8, 5, 1)))  # ranks over the board
    rows = 14 / 3, 4, 14 / 3  # means of the rows, which exchanging cannot change
    middles = np.mean(rows), (rows[0] + rows[2]) / 2, np.mean(rows)
    sizes = []
    for (wax, oil, film), (wax_too, film_too), (more_wax, more_oil, more_film) in ways:
        means = np.mean([wax, wax_too, more_wax]), np.mean([oil, more_oil]), np.mean([film, film_too, more_film])
        sizes.append(np.dot(np.square(np.subtract(means, middles)), (3, 2, 3)))
    expected = np.mean(np.array(sizes) >= sizes[0] - 1e-9)
    assert found.p == pytest.approx(expected, abs=4 * (expected * (1 - expected) / found.sampled) ** 0.5)


def test_groups_that_are_all_alike_do_not_differ():
    found = overall(judged_board({"wax": [8, 8], "oil": [8, 8]}))
    assert (found.statistic, found.p) == (0.0, 1.0)


@pytest.mark.parametrize("grades", [{"wax": [9, 8]}, {"wax": [9], "oil": [3]}, {"wax": [9, 8], "oil": [None]}])
def test_nothing_can_be_asked_of_one_group_or_of_one_coupon_each(grades):
    assert overall(judged_board(grades)) is None
