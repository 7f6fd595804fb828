"""What is said of a logger's file, in the user's language and format."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from rustboard.board.record import BoardRecord
from rustboard.board.weather import Quantity, WeatherFile
from rustboard.session.exposure import Gap
from rustboard.support.text import printable
from rustboard.ui.weather.details import Section
from rustboard.ui.weather.exposure_words import gap_text
from rustboard.ui.wording import date_time, number

_MOST_GAPS: Final = 40
_SHORT: Final[dict[Quantity, str]] = {
    "rain": str(QT_TRANSLATE_NOOP("weather_files", "rain")),
    "rain total": str(QT_TRANSLATE_NOOP("weather_files", "rain")),
    "rain rate": str(QT_TRANSLATE_NOOP("weather_files", "rain")),
}
_NAMES: Final[dict[Quantity, str]] = {
    "temperature": str(QT_TRANSLATE_NOOP("weather_files", "temperature")),
    "humidity": str(QT_TRANSLATE_NOOP("weather_files", "humidity")),
    "rain": str(QT_TRANSLATE_NOOP("weather_files", "rain since the reading before")),
    "rain total": str(QT_TRANSLATE_NOOP("weather_files", "rain by a counter")),
    "rain rate": str(QT_TRANSLATE_NOOP("weather_files", "rain per hour")),
    "wind": str(QT_TRANSLATE_NOOP("weather_files", "wind")),
    "dew point": str(QT_TRANSLATE_NOOP("weather_files", "dew point")),
}


def say(text: str) -> str:
    """Return a text of this module's kind in the user's language."""
    return QCoreApplication.translate("weather_files", text)


def files_in_order(record: BoardRecord) -> list[WeatherFile]:
    """Return the files by logger, in the order in which loggers count, and of one logger by time."""
    files = [each for _, each in sorted(record.weather_files.items())]
    order = {name: place for place, name in enumerate(dict.fromkeys(each.logger for each in files))}
    return sorted(files, key=lambda each: (order[each.logger], each.first, each.key))


def file_row(file: WeatherFile) -> tuple[str, ...]:
    """Return what the table says of a file."""
    return (
        file.logger,
        file.name,
        date_time(file.first),
        date_time(file.last),
        number(file.count, 0),
        number(file.left_out, 0),
        file.clock or say("the board's own"),
        ", ".join(dict.fromkeys(say(_SHORT.get(each, _NAMES[each])) for each in file.quantities)),
    )


def file_sections(file: WeatherFile, gaps: Sequence[Gap] | None) -> list[Section]:
    """Return what is said beside the table: when the file was added, its rows left out, and what nobody knows."""
    lines = [say("{0} of logger {1}, added {2}.").format(printable(file.name), printable(file.logger), _added(file))]
    lines.append(say("Read: {0}.").format(", ".join(say(_NAMES[each]) for each in file.quantities)))
    if not file.left_out:
        lines.append(say("All its rows were used."))
    return [
        (say("This file"), lines),
        (say("Rows left out: {0}").format(number(file.left_out, 0)), list(_left_out(file))),
        (say("Not known by any source"), [] if gaps is None else list(_gaps(gaps))),
    ]


def _added(file: WeatherFile) -> str:
    try:
        return date_time(datetime.fromisoformat(file.added))
    except ValueError:
        return printable(file.added)


def _left_out(file: WeatherFile) -> Iterator[str]:
    if not file.left_out:
        return
    yield from (printable(each) for each in file.told)
    if file.left_out > len(file.told):
        yield say("And {0} more, which are not listed.").format(number(file.left_out - len(file.told), 0))


def _gaps(gaps: Sequence[Gap]) -> Iterator[str]:
    yield from (gap_text(each) for each in gaps[:_MOST_GAPS])
    if len(gaps) > _MOST_GAPS:
        yield say("And {0} more.").format(number(len(gaps) - _MOST_GAPS, 0))
    if not gaps:
        yield say("Nothing of an hour or longer, from the first moment known to the last.")
