"""What a card says."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.inspection_calendar import NextLook
from rustboard.session.shelf import ShelfEntry
from rustboard.store.shelf_row import ShelfFacts
from rustboard.ui.shelf.card_painter import strip_widths
from rustboard.ui.shelf.card_text import (
    counts,
    dates,
    describe,
    grades_in_words,
    hint,
    is_due,
    marks,
    reminder,
    short_reminder,
    title,
)
from rustboard.ui.wording import date_only

FIRST, LAST = datetime(2026, 3, 2, 9), datetime(2026, 4, 27, 9)


def entry(**fields: object) -> ShelfEntry:
    return ShelfEntry(Path("boards", "a"), "Harbour", **fields)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("started", "last", "text"),
    [
        (FIRST, LAST, f"{date_only(FIRST)} – {date_only(LAST)}"),
        (LAST, LAST, date_only(LAST)),
        (FIRST, None, f"From {date_only(FIRST)}"),
        (None, None, "Not begun yet"),
    ],
)
def test_dates_say_from_when_to_when(started: datetime | None, last: datetime | None, text: str) -> None:
    assert dates(entry(started=started, last_inspection=last)) == text


def test_counts_know_one_from_many() -> None:
    assert counts(entry(inspections=1, coupons=1)) == "1 inspection, 1 coupon"
    assert counts(entry(inspections=13, coupons=21)) == "13 inspections, 21 coupons"


def test_a_board_without_a_name_still_has_a_title() -> None:
    assert title(ShelfEntry(Path("a"), "")) == "A board without a name"


def test_a_board_without_grades_says_so() -> None:
    assert describe(entry()).endswith("No grades yet")


def test_a_board_being_graded_blind_says_so_and_no_grade_whatever_it_holds() -> None:
    last_grades = (0, 0, 0, 1, 0, 0, 0, 1, 0, 2, 2)
    card = entry(being_graded_blind=True, last_grades=last_grades)
    assert grades_in_words(card) == "Being graded blind: grades hidden"
    assert describe(card).endswith("Being graded blind: grades hidden")
    assert "grade 3" not in hint(card)


DUE = datetime(2026, 3, 18, 9)


@pytest.mark.parametrize(
    ("overdue", "short", "text"),
    [
        (0, "Look due today", "Look due today (day 16)"),
        (1, "Look was due yesterday", "Look was due yesterday (day 16)"),
        (3, "Look was due 3 days ago", "Look was due 3 days ago (day 16)"),
        (-1, "Next look tomorrow", "Next look tomorrow (day 16)"),
        (-5, "Next look in 5 days", f"Next look in 5 days ({date_only(DUE)})"),
    ],
)
def test_a_reminder_says_when_the_look_is_due(overdue: int, short: str, text: str) -> None:
    card = entry(next_look=NextLook(16, DUE, overdue, 0))
    assert (reminder(card), short_reminder(card), is_due(card)) == (text, short, overdue >= 0)
    assert text in describe(card)


def test_missed_looks_are_told_where_there_is_room() -> None:
    assert "1 planned look before it was missed" in describe(entry(next_look=NextLook(16, DUE, 0, 1)))
    assert "2 planned looks before it were missed" in hint(entry(next_look=NextLook(16, DUE, 0, 2)))
    assert "missed" not in describe(entry(next_look=NextLook(16, DUE, 0, 0)))


def test_without_a_planned_look_nothing_is_said() -> None:
    assert (reminder(entry()), short_reminder(entry()), is_due(entry())) == ("", "", False)
    assert "ook" not in describe(entry())


def test_the_archive_tags_and_the_earlier_board_are_told() -> None:
    facts = ShelfFacts(tags=("wax", "winter\u202e"), archived=True, forerunner="Shed\n")
    assert marks(entry(facts=facts)) == ["archived", "wax", "winter\ufffd"]
    assert describe(entry(facts=facts)).endswith("In the archive. Follows Shed . Tags: wax, winter\ufffd")
    assert marks(entry()) == []
    assert "Tags" not in describe(entry())


@given(
    st.lists(st.integers(0, 1_000), min_size=11, max_size=11).map(tuple),
    st.floats(10, 2_000),
    st.floats(1, 40),
)
def test_the_strip_is_full_and_every_grade_on_it_can_be_read(
    last_grades: tuple[int, ...], width: float, least: float
) -> None:
    parts = strip_widths(last_grades, width, least)
    assert [grade for grade, _ in parts] == [grade for grade in range(10, -1, -1) if last_grades[grade]]
    if parts:
        assert sum(each for _, each in parts) == pytest.approx(width)
        assert min(each for _, each in parts) >= min(least, width / len(parts)) - 1e-9
