"""What photos are called in lists: short, and never two of them alike."""

from __future__ import annotations

from datetime import datetime, timedelta

from rustboard.board.model import Board, Photo
from rustboard.board.record import BoardRecord
from rustboard.ui.photo_titles import photo_titles

START = datetime(2026, 3, 2, 9)


def photo(name: str, taken: datetime | None) -> Photo:
    return Photo(name, f"photos/{name}", "0" * 64, 400, 300, taken)


def test_the_name_stands_only_where_the_time_does_not_tell(qapp: object) -> None:
    record = BoardRecord(Board("b", started=START))
    week = START + timedelta(days=7)
    photos = [photo("a.jpg", START), photo("b.jpg", week), photo("c.jpg", week), photo("d.jpg", None)]
    first, second, third, last = photo_titles(record, photos)
    assert first.startswith("day 0 · ")
    assert "a.jpg" not in first
    assert second.endswith(" · b.jpg")
    assert third.endswith(" · c.jpg")
    assert last == "d.jpg"
