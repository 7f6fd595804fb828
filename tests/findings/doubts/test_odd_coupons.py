"""Residuals and coupons unlike their replicates: against ASTM E178, statsmodels and luck itself."""

from math import sqrt

import numpy as np
import pandas as pd
import pytest
import statsmodels.formula.api as smf
from asked_boards import asked, placed_board, treatment
from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.findings.doubts.odd_coupons import GRUBBS, STUDENTIZED, grubbs, grubbs_critical, odd_coupons
from rustboard.findings.doubts.residuals import coupon_model, residuals_of

WIRES = [568, 570, 570, 570, 572, 572, 572, 578, 584, 596]
"""Breaking strengths of hard-drawn copper wire, ASTM E178 (facts.md, section 7)."""


def three_treatments():
    return {key: treatment(key, name) for key, name in ((1, "oil"), (2, "wax"), (3, "paint"))}


def board_of(rows, grades, **rules):
    return asked(placed_board(rows, [grades], treatments=three_treatments(), **rules))


def with_values(subject, values):
    subject.__dict__["values"] = dict(zip(sorted(subject.record.coupons), map(float, values), strict=True))
    return subject


def test_grubbs_on_the_wires_of_the_standard():
    found = grubbs(WIRES)
    assert found.place == 9
    assert found.statistic == pytest.approx(2.390, abs=0.0005)  # ASTM E178 example, facts.md section 7
    assert 2 * 0.01 < found.p < 2 * 0.05  # one-sided: an outlier at 5 %, not at 1 % (facts.md section 7)


@pytest.mark.parametrize(("level", "expected"), [(0.05, 2.176), (0.025, 2.290), (0.01, 2.410)])
def test_critical_values_of_grubbs(level, expected):
    assert grubbs_critical(10, level) == pytest.approx(expected, abs=0.0005)  # ASTM E178 table, facts.md section 7
    assert grubbs_critical(10, 2 * level, sides=2) == pytest.approx(expected, abs=0.0005)


@given(st.lists(st.floats(-100, 100), min_size=4, max_size=9))
def test_p_of_grubbs_passes_the_level_where_the_statistic_passes_the_critical_value(values):
    found = grubbs(values)
    if found is None or found.statistic > (len(values) - 1) / sqrt(len(values)) - 1e-6:
        return
    assert found.statistic == pytest.approx(
        np.abs(np.subtract(values, np.mean(values))).max() / np.std(values, ddof=1)
    )
    assert (found.p <= 0.05) == (found.statistic >= grubbs_critical(len(values), 0.05, sides=2))


def test_two_equal_grades_and_one_other_are_no_outlier():
    # Without the spread of rounding, T of (10, 10, 9) is the largest that three values can have, whatever they are.
    assert grubbs([10, 10, 9]).p == 0
    assert grubbs([10, 10, 9], 1 / 12).p > 0.5


def test_alike_or_few_values_have_no_outlier():
    assert grubbs([7, 7, 7, 7]) is None
    assert grubbs([7, 3]) is None


def table(subject, model):
    return pd.DataFrame(
        {
            "y": model.values,
            "cell": [str(each) for each in model.design.cells],
            "row": [subject.record.coupons[key].position.row for key in model.coupons],
        }
    )


@pytest.mark.parametrize("method", ["complete", "rows"])
def test_studentized_residuals_are_those_of_statsmodels(method):
    draw = np.random.default_rng(3)
    subject = with_values(
        board_of(["1230", "2103", "3021"], [5] * 12, method=method), draw.normal(50, 8, 12) + np.repeat([0, 9, 3], 4)
    )
    model = coupon_model(subject)
    formula = "y ~ C(cell) + C(row)" if method == "rows" else "y ~ C(cell)"
    influence = smf.ols(formula, table(subject, model)).fit().get_influence()
    assert model.residuals == pytest.approx(influence.resid, abs=1e-9)
    assert model.studentized == pytest.approx(influence.resid_studentized_external, rel=1e-7)
    assert model.freedom == (5 if method == "rows" else 7)


def test_the_map_has_every_coupon_that_counts_in_reading_order():
    subject = board_of(["123", "231"], [9, 5, 3, 6, None, 8])
    found = residuals_of(subject, coupon_model(subject))
    assert [each.coupon for each in found] == [1, 2, 3, 4, 6]
    assert [each.expected for each in found] == pytest.approx([8.5, 5.5, 3.0, 5.5, 8.5])
    assert [each.residual for each in found] == pytest.approx([0.5, -0.5, 0.0, 0.5, -0.5])
    assert [each.position for each in found] == [subject.record.coupons[each.coupon].position for each in found]
    assert found[2].scaled is None  # alone in its group


def test_rounding_to_whole_grades_is_never_taken_for_no_spread():
    # Nothing else differs: by itself the one grade would be infinitely many standard deviations off.
    subject = board_of(["1112", "2233", "3000"], [8, 8, 9, 6, 6, 6, 3, 3, 3, 1, 1, 1])
    model = coupon_model(subject)
    # By hand: residual 2/3, of which rounding alone has the variance 1/12, times 2/3 for a group of three.
    assert model.studentized[2] == pytest.approx((2 / 3) / sqrt(2 / 3 / 12))
    assert odd_coupons(subject, model) == ()


def test_groups_wholly_at_the_end_of_the_scale_do_not_make_others_look_odd():
    grades = [10] * 8 + [7, 6, 5, 4, 6, 7, 5, 8]
    subject = board_of(["11112222", "33330000"], grades)
    model = coupon_model(subject)
    assert model.studentized[:8] == (None,) * 8
    assert model.freedom == 5
    assert odd_coupons(subject, model) == ()


def test_a_coupon_far_from_its_replicates_is_flagged_with_its_figure():
    subject = board_of(["111222", "333000"], [9, 8, 9, 6, 7, 1, 5, 5, 4, 2, 3, 2])
    (found,) = odd_coupons(subject, coupon_model(subject))
    assert (found.coupon, found.group, found.test) == (6, "T2", STUDENTIZED)
    assert found.statistic < -5
    assert found.p < 0.05


def test_in_a_large_steady_group_beside_wild_ones_grubbs_sees_what_the_common_spread_hides():
    steady, wild = [50.0, 51, 50, 49, 51, 50, 49, 60], [10.0, 90, 30, 70, 20, 80, 50, 40]
    subject = with_values(board_of(["11111111", "22222222"], [5] * 16), steady + wild)
    (found,) = odd_coupons(subject, coupon_model(subject))
    assert (found.coupon, found.test) == (8, GRUBBS)
    # Two looks and two groups share the level.
    assert found.p == pytest.approx(4 * grubbs(steady).p)


def test_by_luck_alone_at_most_one_board_in_twenty_has_an_odd_coupon():
    draw = np.random.default_rng(12)
    flagged, boards = 0, 150
    for _ in range(boards):
        grades = np.clip(np.rint(draw.normal(np.repeat([8, 6, 5, 3], 6), 1.0)), 0, 10).astype(int)
        subject = board_of(["111111", "222222", "333333", "000000"], grades.tolist())
        flagged += bool(odd_coupons(subject, coupon_model(subject)))
    assert flagged <= 14  # 5 % of 150 are 7.5; 14 or fewer with probability 0.99 (binomial)


@settings(max_examples=15)
@given(st.lists(st.integers(0, 10), min_size=9, max_size=9))
def test_relabelling_treatments_changes_nothing_but_labels(grades):
    one = board_of(["123", "231", "312"], grades)
    other = board_of(["231", "312", "123"], grades)
    found, relabelled = (residuals_of(each, coupon_model(each)) for each in (one, other))
    assert [each.residual for each in found] == pytest.approx([each.residual for each in relabelled], abs=1e-9)
    assert [each.coupon for each in odd_coupons(one, coupon_model(one))] == [
        each.coupon for each in odd_coupons(other, coupon_model(other))
    ]


@settings(max_examples=15)
@given(st.lists(st.integers(0, 10), min_size=9, max_size=9))
def test_mirrored_grades_mirror_the_residuals(grades):
    one, other = (board_of(["123", "231", "312"], each) for each in (grades, [10 - each for each in grades]))
    assert coupon_model(one).residuals == pytest.approx(-coupon_model(other).residuals, abs=1e-9)
