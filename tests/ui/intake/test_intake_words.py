"""Spans of a wrong clock, times in file names, and which inspection a photo will join."""

from __future__ import annotations

from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from window_driving import START, made_board

from rustboard.board.model import Board, Inspection, Photo
from rustboard.board.record import BoardRecord
from rustboard.operations.photos import add_photos
from rustboard.session.photo_names import time_in_name
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.ui.intake.joining import joined
from rustboard.ui.intake.rows import TimesInHand
from rustboard.ui.intake.spans import read_span, span_text
from rustboard.ui.wording import date_time


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("+1 h 03 min", 3_780),
        ("1h3m", 3_780),
        ("-2:15", -8_100),
        ("0:00:30", 30),
        ("−3 days", -259_200),
        ("1,5 hours", 5_400),
        ("2 days 1 h, 5 min 10 s", 2 * 86_400 + 3_600 + 310),
        ("  12 min ", 720),
    ],
)
def test_a_span_is_read_as_people_write_it(text: str, seconds: int) -> None:
    assert read_span(text) == seconds


@pytest.mark.parametrize(
    "text", ["", "+", "soon", "5", "1 h and a bit", "1:99", "3 fortnights", "9" * 400, "1 h -5 min"]
)
def test_what_is_no_span_says_how_to_write_one(text: str) -> None:
    with pytest.raises(InputError, match=r"\+1 h 03 min"):
        read_span(text)


def test_a_shift_by_centuries_is_a_slip() -> None:
    with pytest.raises(InputError, match="century"):
        read_span("999999 days")


@given(st.integers(-3_000_000_000, 3_000_000_000))
def test_a_span_that_is_shown_can_be_read_again(seconds: int) -> None:
    assert read_span(span_text(seconds)) == seconds


@pytest.mark.parametrize(
    ("name", "when"),
    [
        ("IMG_20260309_101500.jpg", datetime(2026, 3, 9, 10, 15)),
        ("PXL_20260309_101500123.jpg", datetime(2026, 3, 9, 10, 15)),
        ("2026-03-09 10.15.30.png", datetime(2026, 3, 9, 10, 15, 30)),
        ("Photo 2026-03-09 at 10.15.30.jpeg", datetime(2026, 3, 9, 10, 15, 30)),
        ("20260309T101500.heic", datetime(2026, 3, 9, 10, 15)),
        ("IMG-20260309-0001.jpg", None),
        ("IMG_0012.jpg", None),
        ("20261399_101500.jpg", None),
        ("20260230_101500.jpg", None),
        ("1234567890123456789012.jpg", None),
    ],
)
def test_a_time_is_read_from_names_as_phones_give_them(name: str, when: datetime | None) -> None:
    assert time_in_name(name) == when


MORNING = datetime(2026, 3, 9, 8)


def test_a_photo_joins_the_nearest_inspection_of_its_day_or_makes_one() -> None:
    record = BoardRecord(
        Board("b"),
        inspections={1: Inspection(MORNING, "Ann", key=1), 2: Inspection(MORNING + timedelta(hours=8), "Ann", key=2)},
    )
    next_day = MORNING + timedelta(days=1)
    said = joined(
        record,
        {
            0: MORNING + timedelta(hours=3),
            1: MORNING + timedelta(hours=6),
            2: next_day,
            3: next_day + timedelta(minutes=20),
            4: next_day + timedelta(hours=2),
            5: None,
        },
    )
    assert said[0] == f"joins {date_time(MORNING)}"
    assert said[1] == f"joins {date_time(MORNING + timedelta(hours=8))}"
    assert said[2] == said[3] == f"makes a new one, {date_time(next_day)}"
    assert said[4] == f"makes a new one, {date_time(next_day + timedelta(hours=2))}"
    assert said[5] == "none: it has no time"


minutes_of_three_days = st.lists(st.integers(0, 3 * 24 * 6).map(lambda tens: 10 * tens), max_size=5, unique=True)


@settings(max_examples=15)  # each makes a board on the disk
@given(minutes_of_three_days, minutes_of_three_days)
def test_what_is_said_before_is_what_happens(
    tmp_path_factory: pytest.TempPathFactory, earlier: list[int], minutes: list[int]
) -> None:
    folder: Path = made_board(tmp_path_factory.mktemp("b") / "Yard")
    with closing(Session(folder)) as session:
        if earlier:
            session.do(add_photos, taken_at(earlier, "e"))
        photos = taken_at(minutes, "p")
        said = joined(session.record, {number: each.taken for number, each in enumerate(photos)})
        if photos:
            session.do(add_photos, photos)
        record = session.record
        for number, each in enumerate(photos):
            photo = next(found for found in record.photos.values() if found.name == each.name)
            assert said[number].endswith(date_time(record.inspections[photo.inspection or 0].at))


def taken_at(minutes: list[int], letter: str) -> list[Photo]:
    return [
        Photo(f"{letter}{n}", f"{letter}{n}", f"{letter}{n:063}", 10, 10, taken=START + timedelta(minutes=each))
        for n, each in enumerate(minutes)
    ]


def test_one_photo_really_taken_at_a_time_shifts_all_that_have_a_clock() -> None:
    times = TimesInHand({0: MORNING, 1: MORNING + timedelta(hours=1), 2: None})
    assert times.really_at(1, MORNING + timedelta(hours=3), ())
    assert times.time_of(0) == MORNING + timedelta(hours=2)
    assert times.time_of(2) is None
    assert not times.really_at(2, MORNING, ())
    assert times.time_of(2) == MORNING
    times.shift_seconds = 60
    assert times.time_of(2) == MORNING, "what a person said is not shifted"
