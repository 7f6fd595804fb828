"""Photos that were looked at before they are added, as the dialog lists them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Literal

from PySide6.QtGui import QImage

TimeFrom = Literal["camera", "name", "person", "nobody"]


@dataclass(frozen=True, slots=True)
class LookedAt:
    """One file that was looked at.

    Attributes:
        name: of the file. taken: as the camera or the name says, or None.
        time_from: who says so.
        refused: why it cannot be added (a duplicate, no picture), or empty.
        thumbnail: small picture, null where there is none.
        mark: what tells this photo from all others, whatever its place in the list; empty where that does not matter.
    """

    name: str
    taken: datetime | None = None
    time_from: TimeFrom = "nobody"
    refused: str = ""
    thumbnail: QImage = field(default_factory=QImage)
    mark: str = ""


@dataclass(slots=True)
class TimesInHand:
    """The times of a set of photos while they are put right.

    Attributes:
        given: by number, as the files say. shift_seconds: added to all of these.
        own: by number, times that a person gave; no shift moves them.
    """

    given: Mapping[int, datetime | None]
    shift_seconds: int = 0
    own: dict[int, datetime] = field(default_factory=dict)

    def time_of(self, number: int) -> datetime | None:
        """Return the time of one photo as it stands."""
        if number in self.own:
            return self.own[number]
        given = self.given.get(number)
        try:
            return None if given is None else given + timedelta(seconds=self.shift_seconds)
        except OverflowError:
            return None

    def really_at(self, number: int, when: datetime, others: Iterable[int]) -> bool:
        """Say that one photo was taken at a time, and so by how much the clock was wrong for all.

        Return False when the photo has no time of its own; then only this photo and ``others`` get that time.
        """
        given = self.given.get(number)
        if given is None:
            for each in {number, *others}:
                if self.given.get(each) is None:
                    self.own[each] = when
            return False
        self.shift_seconds = round((when - given).total_seconds())
        self.own.pop(number, None)
        return True
