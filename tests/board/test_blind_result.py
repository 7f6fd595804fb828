"""The board's grade from the graders' grades, by the rule as it is stated."""

from __future__ import annotations

from datetime import datetime
from statistics import median_low

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.blind import BlindGrade, BlindRound, Showing
from rustboard.board.blind_result import RULE, board_grade, first_looks, grades_by_coupon

NOW = datetime(2026, 3, 2, 9)


def grade(value, letter="", percent=None, *, number=0, coupon=1, of_round=1):
    return BlindGrade(1, of_round, number, coupon, value, letter, percent, "", "2026-03-02T09:00:00")


def by_graders(*grades):
    return [(f"G{number}", each) for number, each in enumerate(grades, start=1)]


def plain(*values):
    return board_grade(by_graders(*(grade(each) for each in values))).grade


@pytest.mark.parametrize(("given_grades", "boards"), [
    ((7,), 7),
    ((7, 7), 7),
    ((8, 7), 7),  # of two middle ones, the worse: the lower grade is more rust
    ((7, 9), 7),
    ((10, 0), 0),
    ((9, 7, 8), 8),
    ((10, 3, 3), 3),
    ((9, 8, 6, 5), 6),
    ((9, 9, 8, 2), 8),
    ((10, 9, 8, 7, 0), 8),
])  # fmt: skip
def test_the_middle_grade_counts_and_of_two_the_worse(given_grades, boards):
    assert plain(*given_grades) == boards


@given(st.lists(st.integers(0, 10), min_size=1, max_size=20), st.randoms())
def test_the_boards_grade_is_the_lower_middle_whoever_began(values, dice):
    shuffled = list(values)
    dice.shuffle(shuffled)
    assert plain(*values) == plain(*shuffled) == median_low(values)


@pytest.mark.parametrize(("grades", "letter"), [
    ([grade(7, "S")], "S"),
    ([grade(7, "S"), grade(7, "G"), grade(7, "G")], "G"),
    ([grade(7, "S"), grade(7, "G")], "G"),  # as many: the first in the alphabet
    ([grade(7, "S"), grade(7)], "S"),
    ([grade(8, "S"), grade(7, "G")], "G"),  # letters of other grades do not count
    ([grade(8, "S"), grade(8, "S"), grade(7, "G"), grade(7)], "G"),
    ([grade(7), grade(7)], ""),
    ([grade(10), grade(0)], ""),
])  # fmt: skip
def test_the_letter_is_that_of_most_graders_of_that_grade(grades, letter):
    assert board_grade(by_graders(*grades)).distribution == letter


def test_a_letter_that_the_grade_does_not_carry_is_left_out():
    assert board_grade(by_graders(grade(10, "S"))).distribution == ""


@pytest.mark.parametrize(("grades", "percent"), [
    ([grade(7, percent=0.2)], 0.2),
    ([grade(7, percent=0.2), grade(8, percent=0.05)], 0.2),
    ([grade(7, percent=0.12), grade(7, percent=0.28)], 0.28),  # of two middle ones, the worse
    ([grade(7, percent=0.12), grade(7, percent=0.28), grade(7, percent=0.2)], 0.2),
    ([grade(7, percent=0.2), grade(8)], None),
    ([grade(7), grade(7)], None),
])  # fmt: skip
def test_a_percent_is_kept_where_every_grader_stated_one(grades, percent):
    assert board_grade(by_graders(*grades)).percent == percent


def test_the_graders_are_named_in_their_order():
    assert board_grade([("Bo", grade(3)), ("Ann", grade(9))]).graders == ("Bo", "Ann")


SHOWN = (Showing(1), Showing(2), Showing(1, "mirrored", again=True))


def test_the_first_look_counts_and_the_second_where_the_first_has_no_grade():
    one = BlindRound(1, "Ann", 7, SHOWN, NOW, key=1)
    first, second = grade(8), grade(6, number=2)
    assert first_looks(one, {2: second, 0: first}) == {1: first}
    assert first_looks(one, {2: second}) == {1: second}
    assert first_looks(one, {}) == {}


def test_graders_who_left_a_coupon_out_are_not_counted_at_it():
    rounds = [BlindRound(1, name, 7, SHOWN, NOW, key=key) for key, name in enumerate(("Ann", "Bo", "Cy"), 1)]
    given_grades = {
        1: {0: grade(8), 1: grade(5, number=1, coupon=2)},
        2: {0: grade(7, of_round=2)},
    }
    assert grades_by_coupon(rounds, given_grades) == {
        1: [("Ann", grade(8)), ("Bo", grade(7, of_round=2))],
        2: [("Ann", grade(5, number=1, coupon=2))],
    }


def test_the_rule_says_what_is_done():
    assert RULE == (
        "Every grader counts once, by his first look at the coupon. The board's grade is the middle one of the "
        "graders'; of two middle ones, the worse."
    )
