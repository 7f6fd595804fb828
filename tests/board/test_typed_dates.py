"""Dates as typed: ISO ones mean one thing, others only when the file settles the order."""

from datetime import date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.typed_dates import Moment, agreed_order, moment_of, read_iso_moment, read_typed_date
from rustboard.support.problems import InputError


def sentence_of(function, *arguments):
    with pytest.raises(InputError) as caught:
        function(*arguments)
    return caught.value.problem.sentence()


def order_of(*texts):
    return agreed_order((row, read_typed_date(text)) for row, text in enumerate(texts, 2))


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("2026-03-02", Moment(datetime(2026, 3, 2), False)),
        ("2026-3-2", Moment(datetime(2026, 3, 2), False)),
        ("2026/03/02", Moment(datetime(2026, 3, 2), False)),
        ("2026-03-02T09:00", Moment(datetime(2026, 3, 2, 9), True)),
        ("2026-03-02 09:00:30", Moment(datetime(2026, 3, 2, 9, 0, 30), True)),
        ("2026-03-02T09:00:30.25", Moment(datetime(2026, 3, 2, 9, 0, 30, 250_000), True)),
        ("2026-03-02 00:00", Moment(datetime(2026, 3, 2), True)),
        ("2026-03-02 12:05 AM", Moment(datetime(2026, 3, 2, 0, 5), True)),
        ("2026-03-02 1:05pm", Moment(datetime(2026, 3, 2, 13, 5), True)),
        ("2024-02-29", Moment(datetime(2024, 2, 29), False)),
    ],
)
def test_iso_dates_are_read_with_or_without_a_time(text, moment):
    assert read_iso_moment(text) == moment


@pytest.mark.parametrize("offset", ["Z", "+02:00", "-0530", "+02"])
def test_an_offset_is_dropped_and_the_wall_clock_kept(offset):
    assert read_iso_moment(f"2026-03-02T09:00{offset}").when == datetime(2026, 3, 2, 9)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("2026-02-30", "The calendar has no 30 February 2026; mend the date."),
        ("2026-13-01", "“2026-13-01” has no month 13 in the calendar; mend the date."),
        ("2026-04-00", "The calendar has no 0 April 2026; mend the date."),
        ("02.03.26", "“02.03.26” has no year of four digits; write dates as year-month-day, such as 2026-03-02."),
        ("1026-03-02", "The year 1026 is not between 1900 and 2200; mend the date."),
        ("46083", "“46083” is not a date; write dates as year-month-day, such as 2026-03-02."),
        ("2 March", "“2 March” is not a date; write dates as year-month-day, such as 2026-03-02."),
        ("2026-03/02", "“2026-03/02” is not a date; write dates as year-month-day, such as 2026-03-02."),
        ("2026-03-02 25:00", "“25:00” is not a time of day; write hours and minutes, such as 09:00."),
        ("2026-03-02 13:00 pm", "“13:00 pm” is not a time of day; write hours and minutes, such as 09:00."),
        ("2026-03-02T9", "“9” is not a time of day; write hours and minutes, such as 09:00."),
        ("02.03.2026", "“02.03.2026” can be read in two ways; write dates as year-month-day, such as 2026-03-02."),
    ],
)
def test_what_is_no_iso_date_is_refused_with_the_way_to_mend_it(text, sentence):
    assert sentence_of(read_iso_moment, text) == sentence


@given(st.datetimes(datetime(1900, 1, 1), datetime(2200, 12, 31)))
def test_every_time_that_python_writes_is_read_back(when):
    assert read_iso_moment(when.isoformat()) == Moment(when, True)


@given(st.text(max_size=40))
def test_any_text_in_a_date_cell_is_a_date_or_is_refused(text):
    try:
        moment = moment_of(read_typed_date(text))
    except InputError:
        pass
    else:
        assert 1900 <= moment.when.year <= 2200


@given(st.dates(date(1900, 1, 1), date(2200, 12, 31)), st.sampled_from("./-"))
def test_a_settled_order_gives_each_date_back(day, mark):
    day_first = f"{day.day}{mark}{day.month}{mark}{day.year}"
    month_first = f"{day.month:02}{mark}{day.day:02}{mark}{day.year}"
    midnight = datetime(day.year, day.month, day.day)
    assert moment_of(read_typed_date(day_first), "day first").when == midnight
    assert moment_of(read_typed_date(month_first), "month first").when == midnight


def test_one_date_that_can_be_read_one_way_settles_the_file():
    assert order_of("02.03.2026", "13.03.2026") == "day first"
    assert order_of("03/02/2026", "03/13/2026", "2026-03-14") == "month first"


def test_a_day_that_no_order_makes_exist_settles_nothing_and_is_judged_by_the_others():
    assert order_of("31/02/2026", "03/13/2026") == "month first"
    assert (
        sentence_of(moment_of, read_typed_date("30.02.2026"))
        == "The calendar has no 30 February 2026; mend the date."
    )


def test_dates_that_can_all_be_read_both_ways_are_refused():
    assert sentence_of(order_of, "2026-03-01", "03/04/2026") == (
        "row 3: “03/04/2026” can be 3 April or 4 March, and no other date in the file settles it; "
        "write dates as year-month-day, such as 2026-03-02."
    )


def test_dates_in_two_orders_are_refused():
    assert sentence_of(order_of, "13.03.2026", "03/14/2026") == (
        "row 3: “03/14/2026” here and “13.03.2026” in row 2 put day and month in different order; "
        "write dates as year-month-day, such as 2026-03-02."
    )


def test_dates_that_mean_the_same_either_way_need_no_order():
    assert order_of("03.03.2026", "04.04.2026") == "day first"


@given(st.lists(st.integers(0, 400), min_size=1, max_size=10))
def test_an_order_is_never_guessed_wrong(days):
    dates = [date(2026, 1, 1) + timedelta(days=number) for number in days]
    try:
        order = order_of(*(f"{each.month}/{each.day}/{each.year}" for each in dates))
    except InputError:
        assert all(each.day <= 12 for each in dates)
    else:
        assert order == "month first" or all(each.day == each.month for each in dates)
