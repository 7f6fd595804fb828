"""The weather of a board for whoever asks: what is kept of it handed over, and its track worked out in a job."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from rustboard.board.record import BoardRecord, site_of
from rustboard.board.weather import MOST_BOARD_READINGS, DayNote, Site
from rustboard.session.jobs import Progress
from rustboard.session.session import Session
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    from rustboard.weather.track import WeatherTrack

WEATHER_TABLES: Final = ("weather_file", "day_note", "site")
"""What the track of the weather is made from."""


@dataclass(frozen=True, slots=True)
class PackedFile:
    """The readings of one file as the board keeps them.

    Attributes:
        name: of the file. logger, clock, count: as `WeatherFile` has them. content: hash of ``packed``.
    """

    name: str
    logger: str
    clock: str
    count: int
    content: str
    packed: bytes


@dataclass(frozen=True, slots=True)
class WeatherRequest:
    """All that a board knows of its weather, not looked into yet."""

    files: tuple[PackedFile, ...]
    day_notes: tuple[DayNote, ...]
    site: Site


def has_weather(record: BoardRecord) -> bool:
    """Return whether anything is known of the board's weather."""
    return bool(record.weather_files or record.day_notes)


def request_of(record: BoardRecord, content: Callable[[str], bytes]) -> WeatherRequest:
    """Return what the track of a board's weather is made from.

    Args:
        record: the board.
        content: returns the readings kept under a hash.

    Raises:
        InputError: the readings are damaged.
    """
    files = [each for _, each in sorted(record.weather_files.items())]
    if sum(each.count for each in files) > MOST_BOARD_READINGS:  # a file that was altered; nobody adds so many
        raise InputError(
            f"The board's weather files hold more than {MOST_BOARD_READINGS:,} readings together; take some off."
        )
    packed = {each: content(each) for each in dict.fromkeys(each.content for each in files)}
    return WeatherRequest(
        tuple(
            PackedFile(each.name, each.logger, each.clock, each.count, each.content, packed[each.content])
            for each in files
        ),
        tuple(sorted(record.day_notes.values(), key=lambda each: each.day)),
        site_of(record),
    )


def weather_request(session: Session) -> WeatherRequest:
    """Return what the track of an open board's weather is made from.

    Raises:
        InputError: the readings are damaged, or the disk refused.
    """
    return request_of(session.record, session.weather_content)


def work_out_track(request: WeatherRequest, progress: Progress) -> WeatherTrack:
    """Merge all readings and notes of a board; a job.

    Raises:
        InputError: the readings of a file are damaged.
    """
    from rustboard.weather.packing import unpack
    from rustboard.weather.readings import BoardWeather, LoggerReadings
    from rustboard.weather.track import make_track

    files: list[LoggerReadings] = []
    for number, each in enumerate(request.files):
        progress.step(number, len(request.files) + 1)
        try:
            files.append(LoggerReadings(each.logger, each.clock, unpack(each.packed, each.count)))
        except ValueError as error:
            raise InputError(
                f"The readings of {each.name} are damaged; take that file out and add it again."
            ) from error
    progress.step(len(request.files), len(request.files) + 1)
    return make_track(BoardWeather(tuple(files), request.day_notes, request.site))
