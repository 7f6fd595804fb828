"""Differences by the model: against statsmodels, at the ends of the scale, with what is borrowed."""

from dataclasses import replace

import numpy as np
import pytest
import statsmodels.formula.api as smf
from hypothesis import given, settings
from hypothesis import strategies as st
from judged_boards import judged_board, subject_for
from pandas import DataFrame
from scipy import stats

from rustboard.board.model import Coupon
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.findings.compare.assumptions import unequal_spread_p
from rustboard.findings.compare.comparing import compare
from rustboard.findings.compare.model import BoardModel
from rustboard.findings.spread import Spread


def figures(comparing):
    return {
        (each.id_a, each.id_b): (round(each.model.difference, 6), round(each.model.p, 6), each.standing)
        for each in comparing.compared
    }


def test_rows_as_blocks_and_pooled_error_agree_with_least_squares():
    record = judged_board(
        {"wax": [8, 7, 9, 7], "oil": [6, 6, 7, 4], "film": [5, 3, 6, 4]}, control=[2, 1, 4, 1], method="rows"
    )
    found = compare(subject_for(record))
    rows = [
        (record.treatments[each.treatment].id, each.position.row, record.current[key][1].grade)
        for key, each in record.coupons.items()
    ]
    table = DataFrame(rows, columns=["treatment", "row", "grade"])
    fit = smf.ols("grade ~ C(treatment, Treatment('T4')) + C(row)", table).fit()  # statsmodels as source
    for each in found.compared:
        name = f"C(treatment, Treatment('T4'))[T.{each.id_a}]"
        assert each.id_b == "control"
        assert each.model.difference == pytest.approx(fit.params[name])
        assert each.model.standard_error == pytest.approx(fit.bse[name])
        assert each.model.degrees_of_freedom == fit.df_resid
        assert each.model.method == "many to one"


def test_grades_that_are_all_alike_within_groups_keep_the_spread_of_rounding():
    found = compare(subject_for(judged_board({"wax": [8, 8, 8], "oil": [7, 7, 7]})))
    (pair,) = found.compared
    assert pair.model.sd == pytest.approx((1 / 12) ** 0.5)  # variance of a uniform distribution over one grade
    assert pair.model.p > 0.001


def test_a_group_at_the_end_of_the_scale_does_not_make_the_spread_of_the_others_small():
    apart = {"wax": [10, 10, 10, 10], "oil": [8, 5, 7, 4], "film": [6, 4, 7, 3]}
    with_wax = compare(subject_for(judged_board(apart)))
    without = compare(subject_for(judged_board({"oil": apart["oil"], "film": apart["film"]})))
    assert with_wax.compared[0].model.sd == pytest.approx(without.compared[0].model.sd)
    told = " ".join(note.text() for each in with_wax.compared for note in each.notes)
    assert "All coupons of wax are at grade 10" in told


def test_a_board_of_coupons_near_the_end_of_the_scale_leaves_the_say_to_the_exact_test():
    found = compare(subject_for(judged_board({"wax": [10, 10, 9], "oil": [10, 9, 10]}, control=[6, 6, 5])))
    assert any("where the scale ends" in each.text() for each in found.doubts)
    assert {each.standing for each in found.compared} == {"leans better"}


def test_unequal_spread_is_said_and_leaves_the_say_to_the_exact_test():
    found = compare(
        subject_for(judged_board({"wax": [6, 6, 6, 6, 6, 6, 6, 5], "oil": [1, 9, 2, 9, 1, 8, 2, 9]}, control=[1] * 8))
    )
    assert any("Brown-Forsythe" in each.text() for each in found.doubts)


@settings(max_examples=15, deadline=None)
@given(st.lists(st.lists(st.integers(1, 9), min_size=4, max_size=4), min_size=2, max_size=4))
def test_the_test_of_equal_spread_is_that_of_brown_and_forsythe(grades):
    subject = subject_for(judged_board(dict(zip("abcd", grades, strict=False))))
    found = unequal_spread_p(BoardModel(subject))
    if found is not None and any(len({abs(each - np.median(mine)) for each in mine}) > 1 for mine in grades):
        assert found == pytest.approx(stats.levene(*grades, center="median").pvalue)  # scipy as source


def test_one_coupon_each_borrows_the_spread_and_never_beats():
    record = judged_board({"wax": [9], "oil": [5], "film": [4]})
    found = compare(subject_for(record, earlier=Spread(0.8, 12, 4, ("Pier 2025",))))
    assert found.spread.boards == ("Pier 2025",)
    assert all(each.borrowed and each.model.sd == 0.8 for each in found.compared)
    assert {each.standing for each in found.compared} == {"leans better", "open"}
    assumed = compare(subject_for(record))
    assert assumed.compared[0].model.degrees_of_freedom == 0
    assert found.letters == {}


def test_one_coupon_each_in_several_rows_has_a_spread_of_its_own():
    record = judged_board({"wax": [9, 8, 9], "oil": [5, 4, 6]}, method="rows")
    found = compare(subject_for(record))
    assert not found.compared[0].borrowed


def test_times_lean_on_the_exact_test():
    record = judged_board(
        {"wax": [[9, 9, 8], [9, 8, 8], [9, 9, 9]]}, control=[[6, 4, 2], [5, 3, 1], [7, 3, 1]], days=(10, 20, 30)
    )
    found = compare(subject_for(record, measure="days to failing grade"))
    assert found.compared[0].model.difference == pytest.approx(30 - (5 + 5 + 5) / 3)
    assert any("only as intervals" in each.text() for each in found.compared[0].doubts)


def test_a_side_without_a_graded_coupon_is_not_compared():
    record = judged_board({"wax": [9, 8], "oil": [None, None]}, control=[3, 2])
    subject = subject_for(record)
    assert [each.a for each in subject.comparisons] == ["wax"]
    assert [each.a for each in subject.not_compared] == ["oil"]


boards = st.lists(st.lists(st.integers(0, 10), min_size=3, max_size=3), min_size=3, max_size=4)


@settings(max_examples=25, deadline=None)
@given(boards)
def test_mirrored_grades_mirror_the_result(grades):
    names = "abcd"[: len(grades)]
    one = compare(subject_for(judged_board(dict(zip(names, grades, strict=True)), method="rows")))
    other = compare(
        subject_for(
            judged_board(
                {name: [10 - each for each in mine] for name, mine in zip(names, grades, strict=True)}, method="rows"
            )
        )
    )
    for mine, mirrored in zip(one.compared, other.compared, strict=True):
        assert mine.model.difference == pytest.approx(-mirrored.model.difference)
        assert mine.model.low == pytest.approx(-mirrored.model.high)
        assert mine.model.p == pytest.approx(mirrored.model.p)
        swapped = mine.standing.replace("better", "?").replace("worse", "better").replace("?", "worse")
        assert mirrored.standing == swapped


@settings(max_examples=20, deadline=None)
@given(boards, st.randoms(use_true_random=False))
def test_relabelling_treatments_changes_nothing_but_labels(grades, chance):
    names = list("abcd"[: len(grades)])
    shuffled = names[:]
    chance.shuffle(shuffled)
    told = dict(zip(names, grades, strict=True))
    one = compare(subject_for(judged_board(told)))
    other = compare(subject_for(judged_board({name: told[name] for name in shuffled})))
    by_name = {frozenset((each.comparison.a, each.comparison.b)): each for each in other.compared}
    for mine in one.compared:
        same = by_name[frozenset((mine.comparison.a, mine.comparison.b))]
        sign = 1 if same.comparison.a == mine.comparison.a else -1
        assert mine.model.difference == pytest.approx(sign * same.model.difference)
        assert mine.model.p == pytest.approx(same.model.p)


@settings(max_examples=20, deadline=None)
@given(boards, st.booleans())
def test_a_coupon_that_was_never_graded_changes_nothing(grades, own_treatment):
    record = judged_board(dict(zip("abcd", grades, strict=False)), method="complete")
    record.layouts = {1: replace(record.layout, fair_edges=True)}
    before = figures(compare(subject_for(record)))
    record.board = replace(record.board, columns=record.board.columns + 1)
    treatment = None if own_treatment else 1
    record.coupons[999] = Coupon("new", Position(0, record.board.columns - 1), treatment, "test", key=999)
    assert figures(compare(subject_for(record))) == before


def test_ninety_six_coupons_in_twelve_groups_have_letters_and_all_pairs():
    chance = np.random.default_rng(3)
    grades = {f"t{number}": list(chance.integers(1, 10, 8)) for number in range(12)}
    found = compare(subject_for(judged_board({name: [int(each) for each in mine] for name, mine in grades.items()})))
    assert len(found.compared) == 66
    assert len(found.letters) == 12


@pytest.mark.parametrize("grade", [0, 10])
def test_all_alike_is_no_difference(grade):
    found = compare(subject_for(judged_board({"a": [grade] * 3, "b": [grade] * 3}, control=[grade] * 3)))
    assert {(round(each.model.difference, 9) + 0.0, each.standing) for each in found.compared} == {(0.0, "open")}
    assert found.letters == {}  # the scale ends there: nothing is known that letters could rest on


def test_a_single_graded_coupon_compares_nothing():
    subject = subject_for(judged_board({"a": [7], "b": [None]}, question=Question("pairs")))
    assert compare(subject).compared == ()
