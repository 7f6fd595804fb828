"""What a file of readings is, in a few sentences."""

from __future__ import annotations

from rustboard.weather.readings import ReadingTable, Seconds


def usual_interval(seconds: Seconds) -> int | None:
    """Return the most common number of seconds from one reading to the next, or None for fewer than two times."""
    raise NotImplementedError


def reading_sentences(table: ReadingTable) -> tuple[str, ...]:
    """Return plain sentences: how many readings, from when to when, how often, and the gaps."""
    raise NotImplementedError
