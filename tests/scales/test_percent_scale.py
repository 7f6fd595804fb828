"""The scale of percents under the slider."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.scales.percent_scale import (
    MARKS,
    STOPS,
    STRAIGHT,
    percent_at,
    place_of,
    stepped,
    stepped_by_grade,
    written_middle,
)
from rustboard.scales.rust_grade import UPPER_LIMITS, grade_from_percent
from rustboard.support.problems import InputError

PERCENTS = st.floats(0, 100)
PLACES = st.floats(0, 1)


def test_the_scale_begins_at_nothing_and_ends_at_all():
    assert (place_of(0), place_of(0.01), place_of(100)) == (0, STRAIGHT, 1)
    assert (percent_at(0), percent_at(STRAIGHT), percent_at(1)) == (0, 0.01, 100)
    assert (percent_at(-3), percent_at(7)) == (0, 100)


def test_each_decade_has_the_same_length():
    places = [place_of(each) for each in (0.01, 0.1, 1, 10, 100)]
    lengths = [later - earlier for earlier, later in pairwise(places)]
    assert lengths == pytest.approx([lengths[0]] * 4)


@given(PERCENTS, PERCENTS)
def test_more_percent_stands_further_on(one, other):
    assert (place_of(one) <= place_of(other)) == (one <= other) or place_of(one) == place_of(other)


@given(PLACES, PLACES)
def test_further_on_is_never_less_percent(one, other):
    if one <= other:
        assert percent_at(one) <= percent_at(other)


@given(PLACES)
def test_the_percent_at_a_place_stands_within_half_a_written_step_of_it(place):
    percent = percent_at(place)
    assert float(f"{percent:.2g}") == percent, "in two digits"
    # Half a unit in the second digit is at most 5 % of the value: a share of log10(1.05) of a decade.
    assert place_of(percent) == pytest.approx(place, abs=0.006)


@given(st.sampled_from(STOPS))
def test_every_stop_can_be_reached_with_the_slider(stop):
    assert percent_at(place_of(stop)) == stop


def test_every_limit_of_a_grade_is_a_stop_and_the_stops_are_near_each_other():
    assert set(UPPER_LIMITS) <= set(STOPS)
    assert list(STOPS) == sorted(set(STOPS))
    above = [each for each in STOPS if each >= 0.01]
    assert all(later / earlier < 1.35 for earlier, later in pairwise(above))
    assert set(MARKS) <= set(STOPS)


@given(PERCENTS)
def test_a_step_on_and_a_step_back_enclose_the_percent(percent):
    on, back = stepped(percent, 1), stepped(percent, -1)
    assert on > percent or percent == on == 100
    assert back < percent or percent == back == 0
    assert not [each for each in STOPS if back < each < on and each != percent]


def test_steps_end_at_the_ends():
    assert stepped(99, 5) == 100
    assert stepped(0.001, -5) == 0


@given(PERCENTS, st.sampled_from([-1, 1]))
def test_a_step_by_a_grade_is_one_grade(percent, by):
    grade = grade_from_percent(percent)
    wanted = min(10, max(0, grade - by))
    assert grade_from_percent(stepped_by_grade(percent, by)) == wanted


def test_beyond_the_first_and_the_last_grade_lie_nothing_and_all():
    assert stepped_by_grade(0.005, -1) == 0
    assert stepped_by_grade(70, 1) == 100


@pytest.mark.parametrize("grade", range(11))
def test_the_middle_of_a_grade_as_written_is_of_that_grade(grade):
    assert grade_from_percent(written_middle(grade)) == grade


@pytest.mark.parametrize("percent", [-0.1, 100.1, float("nan"), float("inf")])
def test_what_is_no_percent_is_refused(percent):
    for ask in (place_of, lambda value: stepped(value, 1), lambda value: stepped_by_grade(value, 1)):
        with pytest.raises(InputError):
            ask(percent)
