"""What a grade may be."""

import math

import pytest

from rustboard.board.grade import GRADES, carries_letter, check_grade, written
from rustboard.support.problems import InputError


def sentence_of(*arguments):
    with pytest.raises(InputError) as caught:
        check_grade(*arguments)
    return caught.value.problem.sentence()


# ASTM D610: letters go with grades 9 to 1 only.
def test_only_grades_9_to_1_carry_a_letter():
    assert [grade for grade in GRADES if carries_letter(grade)] == list(range(1, 10))


@pytest.mark.parametrize("letter", ["", "S", "G", "P", "H"])
def test_every_letter_of_the_scale_is_accepted(letter):
    check_grade(5, letter, 3.0)
    assert written(5, letter) == (f"5-{letter}" if letter else "5")


@pytest.mark.parametrize("grade", [-1, 11, True])
def test_what_the_scale_does_not_have_is_refused(grade):
    assert sentence_of(grade) == (f"column grade: {grade} is not a grade; grades are whole numbers from 0 to 10.")


def test_a_letter_is_refused_at_the_ends_of_the_scale():
    assert sentence_of(0, "S") == (
        "column distribution: Grade 0 carries no distribution letter; letters go with grades 9 to 1."
    )


def test_an_unknown_letter_is_refused_and_shown_safely():
    assert sentence_of(5, "s\x07") == (
        "column distribution: “s\ufffd” is not a distribution letter; use S, G, P or H, or leave it out."
    )


@pytest.mark.parametrize("percent", [-0.1, 100.1, math.nan, math.inf])
def test_a_percentage_beyond_the_surface_is_refused(percent):
    assert sentence_of(5, "", percent) == "column percent: Percent rusted is from 0 to 100."
