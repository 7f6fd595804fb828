"""When to look at a board: suggested days, done and missed looks, the next one."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.inspection_calendar import (
    LONGEST_GAP_DAYS,
    NextLook,
    PlannedLook,
    checked_days,
    look_at,
    next_look,
    planned_looks,
    read_days,
    suggested_days,
)
from rustboard.board.inspection_days import LONGEST_DAYS, MOST_DAYS, InspectionDays
from rustboard.support.problems import InputError

START = datetime(2026, 3, 2, 14, 0)
DOUBLING = InspectionDays((0, 1, 2, 4, 8, 16, 32, 64), time(9))

rising_days = st.lists(st.integers(0, 500), min_size=1, max_size=20, unique=True).map(
    lambda each: tuple(sorted(each))
)


def on_day(day: float) -> datetime:
    return START + timedelta(days=day)


@pytest.mark.parametrize(
    ("duration", "days"),
    [
        (0, (0,)),
        (1, (0, 1)),
        (3, (0, 1, 2, 3)),
        (64, (0, 1, 2, 4, 8, 16, 32, 64)),
        (100, (0, 1, 2, 4, 8, 16, 32, 64, 100)),
        (70, (0, 1, 2, 4, 8, 16, 32, 70)),  # 64 and 70 would tell one thing
        (365, (0, 1, 2, 4, 8, 16, 32, 64, 128, 207, 286, 365)),
    ],
)
def test_suggested_days_double_and_then_go_on_evenly(duration: int, days: tuple[int, ...]) -> None:
    assert suggested_days(duration) == days


@given(st.integers(1, LONGEST_DAYS))
def test_suggested_days_rise_from_day_zero_to_the_end_in_steps_of_about_twice(duration: int) -> None:
    days = suggested_days(duration)
    assert checked_days(days) == days
    assert (days[0], days[1], days[-1]) == (0, 1, duration)
    for one, other in pairwise(days[1:]):
        assert other / one <= 2.25
    if len(days) < MOST_DAYS:
        assert max(other - one for one, other in pairwise(days)) <= LONGEST_GAP_DAYS
    if duration > 4:
        assert len(days) <= 9 + max(0, duration - 128) / LONGEST_GAP_DAYS + 1


@pytest.mark.parametrize("duration", [-1, LONGEST_DAYS + 1])
def test_a_run_of_no_such_length_is_refused(duration: int) -> None:
    with pytest.raises(InputError, match="from 0 to 36,600 days"):
        suggested_days(duration)


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("1, 2, 4, 8", (1, 2, 4, 8)),
        (" 8;4 2\t1 ,", (1, 2, 4, 8)),
        ("0 0 7", (0, 7)),
        ("14.0", (14,)),
        ("", ()),
    ],
)
def test_typed_days_are_read_sorted_and_each_once(text: str, days: tuple[int, ...]) -> None:
    assert read_days(text) == days


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("1, two", "“two” is not a day"),
        ("1.5", "“1.5” is not a day"),
        ("-1", "Day -1 is not between"),
        ("36601", "Day 36601 is not between"),
        ("9" * 400, "is not"),
        (" ".join(map(str, range(MOST_DAYS + 1))), "too many"),
        ("1 " * 5_000, "too many"),
    ],
)
def test_what_is_no_day_is_named(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        read_days(text)


def test_days_that_do_not_rise_are_refused() -> None:
    with pytest.raises(InputError, match="Day 2 stands after day 4"):
        checked_days((1, 4, 2))
    with pytest.raises(InputError, match="Day 4 stands after day 4"):
        checked_days((4, 4))


@pytest.mark.parametrize(
    ("day", "counts_for"),
    [(-2, None), (-1, 0), (0, 0), (3, 2), (5, 4), (6, 4), (7, 8), (12, 8), (13, 16), (24, 16), (25, 32), (900, 64)],
)
def test_an_inspection_counts_for_the_nearest_planned_day(day: int, counts_for: int | None) -> None:
    number = look_at(DOUBLING.days, day)
    assert (None if number is None else DOUBLING.days[number]) == counts_for


@given(rising_days, st.integers(-50, 600))
def test_no_planned_day_is_nearer_than_the_one_an_inspection_counts_for(days: tuple[int, ...], day: int) -> None:
    number = look_at(days, day)
    if number is None:
        assert day < days[0] - 1
    else:
        assert abs(day - days[number]) == min(abs(day - each) for each in days)


@pytest.mark.parametrize(
    ("last", "now", "expected"),
    [
        (None, -5, NextLook(0, START, -5, 0)),
        (None, 0, NextLook(0, START, 0, 0)),
        (0, 0.1, NextLook(1, datetime(2026, 3, 3, 9), -1, 0)),
        (1, 5, NextLook(4, datetime(2026, 3, 6, 9), 1, 1)),
        (8, 16, NextLook(16, datetime(2026, 3, 18, 9), 0, 0)),
        (8, 19, NextLook(16, datetime(2026, 3, 18, 9), 3, 0)),
        (8, 25, NextLook(32, datetime(2026, 4, 3, 9), -7, 1)),
        (8, 400, NextLook(64, datetime(2026, 5, 5, 9), 336, 2)),
        (64, 400, None),
        (80, 81, None),
    ],
)
def test_the_next_look_is_the_one_a_visit_now_would_count_for(
    last: float | None, now: float, expected: NextLook | None
) -> None:
    assert next_look(DOUBLING, START, None if last is None else on_day(last), on_day(now)) == expected


def test_nothing_is_due_without_a_start_or_without_days() -> None:
    assert next_look(DOUBLING, None, None, START) is None
    assert next_look(InspectionDays(), START, None, START) is None


@given(rising_days, st.integers(-20, 700), st.integers(0, 700))
def test_a_visit_at_once_settles_the_look_that_is_due(days: tuple[int, ...], last: int, later: int) -> None:
    calendar = InspectionDays(days)
    now = on_day(last + later)
    due = next_look(calendar, START, on_day(last), now)
    if due is None:
        return
    assert due.day in days
    assert due.overdue_days == last + later - due.day
    if due.overdue_days >= 0:
        after = next_look(calendar, START, now, now)
        assert after is None or after.day > due.day
        assert after is None or after.overdue_days < 0


def test_planned_looks_name_the_nearest_inspection() -> None:
    calendar = InspectionDays((0, 7, 14, 28), time(16, 30))
    looks = planned_looks(calendar, START, [on_day(10), on_day(0), on_day(-1), on_day(6), on_day(27)])
    assert looks == [
        PlannedLook(0, START, on_day(0)),
        PlannedLook(7, datetime(2026, 3, 9, 16, 30), on_day(6)),
        PlannedLook(14, datetime(2026, 3, 16, 16, 30), None),
        PlannedLook(28, datetime(2026, 3, 30, 16, 30), on_day(27)),
    ]
    assert planned_looks(calendar, None, [on_day(1)])[1] == PlannedLook(7, None, None)
