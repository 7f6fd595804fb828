"""What a demo board is told of its weather: by a logger, by hand, by the balance."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from rustboard.app.demo.climate import Climate, as_logger_file
from rustboard.board.measured import DisturbanceKind
from rustboard.board.weather import DayNote, Site


@dataclass(frozen=True, slots=True)
class ToldDisturbance:
    """Something that happened to a coupon (by its id), or to the board."""

    at: datetime
    kind: DisturbanceKind
    coupon: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class ToldWeighing:
    """A bare control weighed after it was taken down: masses in g, by cleaning."""

    coupon: str
    before_g: float
    after_g: tuple[float, ...]
    blank_before_g: float
    blank_after_g: tuple[float, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class ToldWeather:
    """The weather of one demo board.

    Attributes:
        logger: what the logger is called. clock: what it tells the time by. title: first line of its file.
        first, last: of its readings, by its clock.
        file_name: of its file.
        thickness_mm: of the coupons that were weighed. taken_down: when.
    """

    climate: Climate
    logger: str
    title: str
    file_name: str
    clock: str
    first: datetime
    last: datetime
    site: Site
    days: tuple[DayNote, ...] = ()
    disturbances: tuple[ToldDisturbance, ...] = ()
    weighed: tuple[ToldWeighing, ...] = ()
    thickness_mm: float = 3.0
    taken_down: datetime | None = None

    def logger_file(self) -> bytes:
        """Return the file as the logger wrote it."""
        return as_logger_file(self.climate.readings(self.first, self.last), self.title)
