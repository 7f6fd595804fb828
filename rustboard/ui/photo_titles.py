"""What a photo is called in a list to choose from: its time; the name of its file only where that is not enough."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.session.photo_days import time_of
from rustboard.support.text import one_line
from rustboard.ui.wording import date_time, day_text

_LONGEST_NAME = 60


def photo_titles(record: BoardRecord, photos: Sequence[Photo]) -> list[str]:
    """Return the title of each photo; no two photos of different times or names are called the same."""
    times = [_time_words(record, each) for each in photos]
    often = Counter(times)
    names = [one_line(each.name, _LONGEST_NAME) for each in photos]
    return [
        time if time and often[time] == 1 else " · ".join(each for each in (time, name) if each)
        for time, name in zip(times, names, strict=True)
    ]


def _time_words(record: BoardRecord, photo: Photo) -> str:
    when = time_of(record, photo)
    if when is None:
        return ""
    return date_time(when) if record.day_zero() is None else f"{day_text(record.day_of(when))} · {date_time(when)}"
