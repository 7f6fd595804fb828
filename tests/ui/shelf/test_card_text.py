"""What a card says."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.session.shelf import ShelfEntry
from rustboard.ui.shelf.card_painter import strip_widths
from rustboard.ui.shelf.card_text import counts, dates, describe, title
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
