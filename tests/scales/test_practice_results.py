"""What an exercise says of a grader, against figures computed by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.scales.practice import TOTAL
from rustboard.scales.practice_results import Answer, Habit, could_be_chance, habits, of_part, results
from rustboard.scales.rust_grade import middle_percent

grades = st.integers(0, 10)


def answers(*pairs: tuple[int, int]) -> list[Answer]:
    """Return answers from pairs of true and given grade, numbered from 0."""
    return [Answer(number, middle_percent(true), grade) for number, (true, grade) in enumerate(pairs)]


def test_offset_spread_and_hits_of_a_small_example() -> None:
    # By hand: differences +1, 0, +2, -1; mean 0.5; squares about it 0.25, 0.25, 2.25, 2.25, sum 5, over 3.
    found = results(answers((5, 6), (7, 7), (3, 5), (9, 8)))
    assert found is not None
    assert (found.n, found.offset, found.exact, found.within_one) == (4, 0.5, 1, 3)
    assert found.spread == pytest.approx(math.sqrt(5 / 3))


def test_fewer_than_two_answers_have_no_spread() -> None:
    assert results([]) is None
    assert results(answers((5, 5))) is None


def test_the_true_grade_follows_the_limits_of_the_scale() -> None:
    assert Answer(0, 0.03, 9).off == 0  # ASTM D610: 0.03 % is a 9, more than it an 8
    assert Answer(0, 0.0301, 9).off == 1


@given(st.lists(st.tuples(grades, grades), min_size=2, max_size=44))
def test_a_grader_who_is_always_off_by_the_same_has_no_spread_and_hits_are_counted(pairs) -> None:
    found = results(answers(*pairs))
    assert found is not None
    assert -10 <= found.offset <= 10
    assert found.spread >= 0
    assert 0 <= found.exact <= found.within_one <= found.n == len(pairs)
    assert found.exact == sum(true == given for true, given in pairs)
    constant = results(answers(*((true, max(0, true - 1)) for true, _ in pairs if true)))
    if constant is not None:
        assert (constant.offset, constant.spread) == (-1, 0)


def test_the_parts_are_told_apart_by_number() -> None:
    all_of_them = [Answer(number, 1.0, 6) for number in reversed(range(TOTAL))]
    numbers = {part: [each.number for each in of_part(all_of_them, part)] for part in ("before", "learning", "after")}
    assert sorted(numbers["before"]) == list(range(12))
    assert sorted(numbers["learning"]) == list(range(12, 32))
    assert sorted(numbers["after"]) == list(range(32, 44))
    with pytest.raises(ValueError, match="no part"):
        of_part([], "later")  # type: ignore[arg-type]


def test_what_chance_can_do_is_twice_the_standard_error_of_the_difference() -> None:
    # By hand: both parts have differences +1, 0, 0, -1: spread sqrt(2/3); 2 * sqrt(2 * (2/3) / 4).
    part = results(answers((5, 6), (5, 5), (7, 7), (4, 3)))
    assert part is not None
    assert could_be_chance(part, part) == pytest.approx(2 * math.sqrt(1 / 3))


def test_the_worst_grades_come_first_and_at_most_three() -> None:
    found = habits(
        answers(
            *[(5, 7)] * 3,
            *[(2, 3)] * 2,
            *[(8, 8)] * 4,
            *[(9, 10)] * 2,
            *[(1, 0)] * 2,
            (4, 10),  # once only: says nothing
            *[(6, 7), (6, 6)],  # half a grade: too little
        )
    )
    assert found == [Habit(5, 7, 2.0, 3), Habit(1, 0, -1.0, 2), Habit(2, 3, 1.0, 2)]


@given(st.lists(st.tuples(grades, grades), max_size=44))
def test_a_habit_never_tells_the_right_grade_nor_one_off_the_scale(pairs) -> None:
    for each in habits(answers(*pairs)):
        assert 0 <= each.given <= 10
        assert each.given != each.true_grade
        assert (each.given > each.true_grade) == (each.off > 0)
