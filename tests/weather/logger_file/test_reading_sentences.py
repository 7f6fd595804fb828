"""What a file of readings is, in sentences."""

from __future__ import annotations

import numpy as np

from rustboard.weather.logger_file.summary import gaps, length_shown, reading_sentences, usual_interval
from rustboard.weather.readings import ReadingTable

BEGIN = 1_772_445_600  # 2026-03-02 10:00


def table(minutes: list[int]) -> ReadingTable:
    return ReadingTable(BEGIN + 60 * np.array(minutes, np.int64), {"temperature": np.zeros(len(minutes))})


def test_readings_with_two_gaps_in_any_order() -> None:
    minutes = [*range(0, 60, 10), *range(200, 260, 10), *range(1_000, 1_060, 10)]
    assert reading_sentences(table(minutes[::-1])) == (
        "18 readings from 2026-03-02 10:00 to 2026-03-03 03:30, of temperature.",
        "There is usually one every 10 minutes.",
        "There are 2 gaps; the longest is from 2026-03-02 14:10 to 2026-03-03 02:40 (12.5 hours).",
    )


def test_one_gap_and_repeated_times() -> None:
    assert reading_sentences(table([0, 0, 10, 10, 20, 60, 70]))[2:] == (
        "There is one gap from 2026-03-02 10:20 to 2026-03-02 11:00 (40 minutes).",
    )


def test_few_readings() -> None:
    assert reading_sentences(table([])) == ("There are no readings.",)
    assert reading_sentences(table([0])) == ("1 reading from 2026-03-02 10:00 to 2026-03-02 10:00, of temperature.",)
    assert usual_interval(table([5, 5]).seconds) is None
    assert gaps(table([5]).seconds) == []


def test_lengths_in_words() -> None:
    assert [length_shown(each) for each in (1, 30, 60, 600, 3_600, 5_400, 86_400, 172_800)] == [
        "1 second", "30 seconds", "1 minute", "10 minutes", "1 hour", "1.5 hours", "1 day", "2 days",
    ]  # fmt: skip
