"""Whether it is time to stop, in words."""

from dataclasses import replace
from datetime import timedelta

import pytest
from benchmarks.stopping_early import found_on_independent_news, found_on_rust
from exposed_boards import START, exposed_board
from numpy.random import default_rng

from rustboard.board.comparisons import Comparison
from rustboard.board.inspection_days import InspectionDays
from rustboard.board.question import Question
from rustboard.findings.growth.advice import (
    ALL_FAILED,
    FALSE_AT_LOOKS,
    NO_FAVOURITE,
    Situation,
    advice,
    told_amount,
)
from rustboard.findings.growth.planned_end import PlannedEnd, planned_end
from rustboard.findings.growth.results import Expected

NONE = frozenset()


def expected(a, b, outlook, chance=None, **rest):
    values = {"then": 1.0, "low": 0.0, "high": 2.5, "needed": 1.5} | rest
    return Expected(Comparison("pair", a, b, NONE, NONE, ()), a, b, 0.5, **values, chance=chance, outlook=outlook)


SITUATION = Situation("days", 45.0, (), False, True, 2.0, None, (), True)


def words(**changes):
    return [each.text() for each in advice(replace(SITUATION, **changes))]


def test_each_outlook_is_told_with_its_comparison_and_chance():
    found = words(
        expected=[
            expected("wax", "oil", "settled", 0.99),
            expected("wax", "tar", "likely", 0.87),
            expected("oil", "tar", "open", 0.5),
            expected("tar", "soap", "unlikely", 0.02),
            expected("tar", "paint", "unknown", then=None, low=None, high=None, needed=None),
        ]
    )
    assert found[:5] == [
        "1 of 5 comparisons is settled already.",
        "After 45 more days, wax against tar is likely to be told from luck: 87 chances in 100.",
        "After 45 more days, oil against tar may be told from luck or not: 50 chances in 100.",
        "After 45 more days, tar will probably still not be told from soap: more coupons would help rather than more "
        "time.",
        "What more exposure would do to tar against paint, nobody can say yet.",
    ]


def test_more_than_three_of_a_kind_are_counted():
    many = [expected("a", str(number), "likely", 0.9) for number in range(4)]
    assert words(expected=many)[0] == "After 45 more days, 4 further comparisons are likely to be told from luck."
    unknown = [expected("a", str(number), "unknown", then=None) for number in range(4)]
    assert words(expected=unknown)[0] == "Of 4 comparisons nobody can say yet what more exposure would do."


def test_differences_too_small_to_matter_need_no_more_coupons():
    assert words(expected=[expected("a", "b", "unlikely", 0.1, low=-1.0, high=1.5)])[0] == (
        "After 45 more days, a will probably still not be told from b, and their difference is expected to stay "
        "below the 2 grades that matter to you."
    )
    assert (
        "the 1 grade that matters"
        in words(expected=[expected("a", "b", "unlikely", 0.1, low=-0.5, high=0.5)], worthwhile=1.0)[0]
    )


def test_a_forecast_is_never_told_as_certain():
    assert "99 chances" in words(expected=[expected("a", "b", "likely", 1.0)])[0]


@pytest.mark.parametrize(
    ("clock", "more", "start"),
    [
        ("days", 1.0, "After 1 more day,"),
        ("wet hours", 300.4, "After 300 more wet hours,"),
        ("rain", 12.6, "After 13 more mm of rain,"),
        ("controls", 1.0, "By the time the controls have lost 1 more grade,"),
        ("controls", 2.5, "By the time the controls have lost 2.5 more grades,"),
    ],
)
def test_how_far_the_forecast_looks_is_told_by_the_clock(clock, more, start):
    assert words(clock=clock, more=more, expected=[expected("a", "b", "open", 0.4)])[0].startswith(start)


def test_amounts_are_told_in_round_numbers():
    assert [told_amount(each) for each in (45.25, 9.96, 2.0, 0.123)] == [45, 10, 2, 0.12]
    assert isinstance(told_amount(9.96), int)


def test_stopping_loses_little_when_all_is_settled_or_everything_has_failed():
    both = [expected("a", "b", "settled", 1.0), expected("a", "c", "settled", 1.0)]
    assert words(expected=both)[0] == "All 2 comparisons are settled already: stopping now loses little."
    assert NO_FAVOURITE.text() not in words(expected=both)
    assert any("with 5 looks" in each for each in words(expected=both))  # it may have been one look too many
    assert words(expected=both[:1])[0] == "a against b is settled already: stopping now loses little."
    failed = words(expected=[expected("a", "b", "open", 0.5)], all_failed=True)
    assert failed[0] == ALL_FAILED.text()
    assert NO_FAVOURITE.text() not in failed


def test_the_planned_end_is_the_fair_moment_and_until_then_a_favourite_is_no_reason():
    ahead = words(end=PlannedEnd(180, False, False))
    assert ahead[0] == "The planned end, day 180, is not reached yet; it is the fair moment to stop and judge."
    assert NO_FAVOURITE.text() in ahead
    reached = words(end=PlannedEnd(180, True, True))
    assert reached == [
        "The planned end, day 180, is reached: this is the fair moment to stop and judge.",
        "The question was written or changed after the exposure began, so the planned end alone does not keep the "
        "judgement fair.",
    ]
    assert words()[0].startswith("No end was planned for this board.")


def test_the_planned_end_is_read_from_the_calendar():
    record = exposed_board([10, 88], {"T1": [[10, 9]]})
    assert planned_end(record) is None
    record.calendars[1] = InspectionDays((0, 30, 90), key=1)
    assert planned_end(record) == PlannedEnd(90, True, False)
    record.calendars[1] = InspectionDays((0, 90, 180), key=1)
    assert planned_end(record) == PlannedEnd(180, False, False)
    record.questions[1] = Question(written=START + timedelta(days=3), key=1)
    assert planned_end(record) == PlannedEnd(180, False, True)
    record.calendars[1] = InspectionDays((0,), key=1)
    assert planned_end(record) is None


def test_the_figures_of_looking_again_and_again_are_those_of_the_simulation():
    for looks, told in FALSE_AT_LOOKS:
        last, any_look = found_on_rust(default_rng(looks), 6_000, 5, looks, 0.4, 0.2)
        assert 100 * last == pytest.approx(5, abs=1)
        assert 100 * any_look == pytest.approx(told, abs=2)
    # Armitage, McPherson and Rowe 1969 (from memory): 0.142 after 5 looks, 0.193 after 10.
    for looks, published in ((5, 14.2), (10, 19.3)):
        assert 100 * found_on_independent_news(default_rng(looks), 20_000, looks) == pytest.approx(published, abs=1)
