"""What of a board is compared: grades of revealed blind inspections, first looks and second ones."""

from __future__ import annotations

import pytest
from graded_blind import bare_record, grade_blind, hidden_again, put_blind, put_grade
from hypothesis import given
from hypothesis import strategies as st
from session_boards import prepared

from rustboard.board.blind import MOST_ROUNDS
from rustboard.operations.blind import agree_grade
from rustboard.session.agreement import (
    ALL_BLIND,
    OPEN,
    AgreementRequest,
    Given,
    Scope,
    anything_to_compare,
    graders_at,
    how_it_counts,
    is_worth_comparing,
    revealed,
    scopes,
    study_grades,
)
from rustboard.session.agreement_figures import compared
from rustboard.session.jobs import Progress

ONE = Scope("one", 1)


def studied(record, scope=ALL_BLIND, days=None):
    return study_grades(AgreementRequest(record, scope, days), Progress())


def differing(record, scope=ALL_BLIND):
    return {each.coupon: each for each in studied(record, scope).differing}


# ---- what there is to choose


def test_a_board_that_was_never_graded_blind_has_nothing_to_choose():
    record = bare_record()
    put_grade(record, 1, 1, 7)
    assert scopes(record) == []
    assert not anything_to_compare(record)
    found = studied(record)
    assert (found.looks, found.differing, found.words.all()) == (0, (), ())


def test_what_is_hidden_never_enters():
    record = put_blind(bare_record(), 1, {"Ann": [7, 7, 7, 7], "Bo": [1, 2, 3, 4]}, revealed=False)
    for scope in (ALL_BLIND, OPEN, ONE):
        found = studied(record, scope)
        assert (found.looks, found.graders, found.differing, found.words.all()) == (0, (), (), ())
    assert revealed(record) == scopes(record) == graders_at(record, 1) == []
    assert not is_worth_comparing(record, 1)


def test_a_hidden_inspection_adds_nothing_to_what_was_revealed_before():
    record = put_blind(bare_record(inspections=2), 1, {"Ann": [7, 7, 7, 7], "Bo": [6, 7, 7, 7]})
    before = studied(record)
    put_blind(record, 2, {"Ann": [1, 1, 1, 1], "Cy": [9, 9, 9, 9]}, revealed=False)
    assert studied(record) == before


def test_every_revealed_inspection_can_be_chosen_the_newest_first_and_all_of_several():
    record = put_blind(bare_record(inspections=3), 3, {"Ann": [7]})
    assert scopes(record) == [Scope("one", 3)]
    put_blind(record, 1, {"Ann": [7], "Bo": [8]})
    assert scopes(record) == [Scope("one", 3), Scope("one", 1), ALL_BLIND]
    assert graders_at(record, 1) == ["Ann", "Bo"]


@pytest.mark.parametrize(
    ("first", "again", "worth"),
    [
        ({"Ann": [7, 8]}, {}, False),
        ({"Ann": [7, 8]}, {"Ann": [None, None]}, False),  # left before anything came a second time
        ({"Ann": [7, 8]}, {"Ann": [None, 8]}, True),
        ({"Ann": [7, 8], "Bo": [7, None]}, {}, True),
        ({"Ann": [7, 8], "Bo": [None, None]}, {}, False),  # began and gave nothing
    ],
)
def test_an_inspection_is_worth_comparing_with_two_graders_or_second_looks(first, again, worth):
    record = put_blind(bare_record(2), 1, first, again)
    assert is_worth_comparing(record, 1) is anything_to_compare(record) is worth
    assert not is_worth_comparing(record, 99)
    assert not is_worth_comparing(hidden_again(record), 1)


# ---- looks


def test_second_looks_are_compared_with_first_ones_of_the_same_grader():
    record = put_blind(bare_record(3), 1, {"Ann": [7, 5, 9]}, {"Ann": [7, 8, None]})
    (repeat,) = studied(record).study.repeats
    assert (repeat.agreement.pairs, repeat.agreement.exact) == (2, 1)
    assert differing(record)[2].given == (Given("Ann", 5, 8),)


def test_a_second_look_counts_as_the_first_where_that_has_no_grade_as_on_the_board():
    record = put_blind(bare_record(2), 1, {"Ann": [None, 5], "Bo": [6, 5]}, {"Ann": [9, None]})
    found = studied(record)
    assert found.study.repeats == ()
    assert differing(record)[1].given == (Given("Ann", 9), Given("Bo", 6))
    assert differing(record)[1].by_rule.grade == 6


def test_one_name_in_two_spellings_is_one_grader_over_inspections():
    record = put_blind(bare_record(2, inspections=2), 1, {"Ann": [7, 8], "Bo": [7, 8]})
    put_blind(record, 2, {"ANN": [6, 7], "bo": [6, 8]})
    found = studied(record)
    assert found.graders == ("Ann", "Bo")
    (pair,) = found.study.pairs
    assert (pair.agreement.pairs, pair.agreement.exact) == (4, 3)
    assert studied(record, Scope("one", 2)).study.pairs[0].agreement.pairs == 2


def test_inspections_are_named_where_there_are_several():
    record = put_blind(bare_record(1, inspections=2), 1, {"Ann": [9], "Bo": [5]})
    assert [each.text() for each in studied(record).words.look_again] == ["Look again at C01: Ann 9, Bo 5."]
    put_blind(record, 2, {"Ann": [8], "Bo": [8]})
    said = [each.text() for each in studied(record).words.look_again]
    assert said == ["Look again at C01 (2026-03-02): Ann 9, Bo 5."]
    named = studied(record, days={1: "Monday", 2: "the next"}).words.look_again
    assert [each.text() for each in named] == ["Look again at C01 (Monday): Ann 9, Bo 5."]


# ---- differing coupons


def test_the_widest_differences_come_first_then_as_one_reads_the_board():
    record = put_blind(bare_record(4), 1, {"Ann": [7, 8, 5, 6], "Bo": [8, 8, 9, 7]})
    found = studied(record).differing
    assert [(each.coupon, each.width) for each in found] == [(3, 4), (1, 1), (4, 1)]
    assert all(each.among_graders for each in found)
    assert [each.by_rule.grade for each in found] == [5, 7, 6]


def test_who_differs_with_himself_is_among_them():
    record = put_blind(bare_record(2), 1, {"Ann": [7, 7], "Bo": [7, 7]}, {"Bo": [7, 4]})
    (found,) = studied(record).differing
    assert (found.coupon, found.width) == (2, 3)
    assert found.given == (Given("Ann", 7), Given("Bo", 7, 4))


def test_where_all_agree_there_is_none():
    found = studied(put_blind(bare_record(3), 1, {"Ann": [10, 10, 10], "Bo": [10, 10, 10]}))
    assert found.differing == ()
    assert found.study.pairs[0].agreement.quadratic is None  # all in one grade: no figure beyond chance


def test_a_coupon_that_was_removed_is_left_out_of_the_list():
    record = put_blind(bare_record(2), 1, {"Ann": [7, 2], "Bo": [2, 7]})
    del record.coupons[2]
    assert [each.coupon for each in studied(record).differing] == [1]


def test_the_grades_of_two_are_kept_for_the_table_of_grade_by_grade():
    record = put_blind(bare_record(3), 1, {"Bo": [7, 8, None], "Ann": [7, 6, 5]})
    assert studied(record).pairs == {("Ann", "Bo"): ((7, 7), (6, 8))}


def test_agreeing_on_a_grade_keeps_both_and_can_be_undone(tmp_path):
    session = prepared(tmp_path / "b")
    grade_blind(session, 1, {"Ann": {"C1": 9, "C2": 7, "C3": 7}, "Bo": {"C1": 5, "C2": 7, "C3": 7}})
    rule = differing(session.record)[1].by_rule
    assert rule.grade == 5  # of two middle ones the worse
    assert how_it_counts(rule, session.record.grading(1, 1)) == "rule"
    session.do(agree_grade, 1, 1, 8, "S")
    assert how_it_counts(rule, session.record.grading(1, 1)) == "agreed"
    assert differing(session.record)[1].by_rule == rule
    assert [(each.grade, each.source, each.state) for each in session.gradings(1, 1)] == [
        (5, "blind", "superseded"),
        (8, "agreed", "current"),
    ]
    session.undo()
    assert how_it_counts(rule, session.record.grading(1, 1)) == "rule"
    session.close()


def test_a_grade_given_openly_afterwards_or_withdrawn_is_told_apart():
    record = put_blind(bare_record(1), 1, {"Ann": [7], "Bo": [9]})
    (found,) = studied(record).differing
    put_grade(record, 1, 1, 7)
    assert how_it_counts(found.by_rule, record.grading(1, 1)) == "other"
    assert how_it_counts(found.by_rule, None) == "none"


# ---- figures as one list


def test_all_comparisons_stand_in_one_list():
    record = put_blind(bare_record(3), 1, {"Ann": [7, 5, 9], "Bo": [7, 6, 9], "Cy": [6, 5, 8]}, {"Ann": [7, 6, 8]})
    found = [(each.kind, each.a, each.b, each.coupons) for each in compared(studied(record).study)]
    assert found == [
        ("repeat", "Ann", "", 3),
        ("graders", "Ann", "Bo", 3),
        ("graders", "Ann", "Cy", 3),
        ("graders", "Bo", "Cy", 3),
        ("together", "", "", 3),
        ("others", "Ann", "", 3),
        ("others", "Bo", "", 3),
        ("others", "Cy", "", 3),
    ]
    assert compared(studied(put_blind(bare_record(3), 1, {"Ann": [7, 5, 9]})).study) == []


# ---- anything whatever

SERIES = st.lists(st.one_of(st.none(), st.integers(0, 10)), min_size=5, max_size=5)
NAMES = st.sampled_from(["Ann", "Bo", "Cy", "photo", "the others", "{0}", ""])


@given(st.dictionaries(NAMES, SERIES, max_size=min(5, MOST_ROUNDS)), st.dictionaries(NAMES, SERIES, max_size=3))
def test_exactly_the_coupons_with_different_grades_are_listed(first, again):
    record = put_blind(bare_record(5), 1, first, again)
    found = studied(record)
    widths = [each.width for each in found.differing]
    assert widths == sorted(widths, reverse=True)
    assert all(width > 0 for width in widths)
    assert {each.coupon for each in found.differing} == {
        coupon for coupon in record.coupons if len(_all_grades(record, coupon)) > 1
    }
    assert all(sentence.text() for sentence in found.words.all())


def _all_grades(record, coupon):
    """Return every grade that a coupon got, at whichever look."""
    return {
        each.grade for given_in in record.blind_grades.values() for each in given_in.values() if each.coupon == coupon
    }
