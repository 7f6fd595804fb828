"""The sheets of what was told of the weather: loggers' files, and the log of days."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, time
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.measured import Disturbance
from rustboard.board.record import BoardRecord
from rustboard.board.weather import DayNote, WeatherFile
from rustboard.report.cells import Value
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import TABLE_NUMBER, WHEN, Look
from rustboard.report.tables import Column, write_table

DAY_LOG: Final = "Day log"
WEATHER_FILES: Final = "Weather files"

_UP_TO_ONE: Final = Look(alignment=TABLE_NUMBER.alignment, number_format="0.#")
_DAY: Final = Look(number_format="yyyy-mm-dd")
_MOST_TOLD: Final = 20

_DAY_COLUMNS: Final = (
    Column("Day", 12, _DAY),
    Column("Time", 9, Look(number_format="hh:mm")),
    Column("About", 16),
    Column("What", 26),
    Column("Rain mm", 9, _UP_TO_ONE),
    Column("Highest °C", 9, _UP_TO_ONE),
    Column("Lowest °C", 9, _UP_TO_ONE),
    Column("Wet h, noted", 9, _UP_TO_ONE),
    Column("Note", 56),
)
_FILE_COLUMNS: Final = (
    Column("Logger", 18),
    Column("File", 26),
    Column("From", 17, WHEN),
    Column("To", 17, WHEN),
    Column("Readings", 10, TABLE_NUMBER),
    Column("Left out", 9, TABLE_NUMBER),
    Column("Clock", 18),
    Column("Read", 24),
    Column("Added", 17, WHEN),
    Column("Rows left out", 34),
)


def has_day_log(record: BoardRecord) -> bool:
    """Return whether anything was noted of days or of what happened to the board."""
    return bool(record.day_notes or record.disturbances)


def has_weather_files(record: BoardRecord) -> bool:
    """Return whether readings of loggers are on the board."""
    return bool(record.weather_files)


def write_day_log(sheet: Worksheet, record: BoardRecord, page: PageStyle) -> None:
    """Write the weather noted by hand and what happened to the board, by time, in one table."""
    write_table(sheet, "DayLog", _DAY_COLUMNS, [row for _, row in sorted(_log(record), key=lambda each: each[0])])
    set_page(sheet, page, landscape=True, repeat_rows="1:1")


def write_weather_files(sheet: Worksheet, record: BoardRecord, page: PageStyle) -> None:
    """Write one row for each logger's file, in the order in which they were added."""
    rows = [_file_row(each) for _, each in sorted(record.weather_files.items())]
    write_table(sheet, "WeatherFiles", _FILE_COLUMNS, rows)
    set_page(sheet, page, landscape=True, repeat_rows="1:1")


_Sorted = tuple[datetime, int, int]


def _log(record: BoardRecord) -> Iterator[tuple[_Sorted, tuple[Value, ...]]]:
    for note in record.day_notes.values():
        day = datetime.combine(note.day, time())
        yield (day, 0, note.key), _note_row(note, day)
    for each in record.disturbances.values():
        yield (each.at, 1, each.key), _disturbance_row(record, each)


def _note_row(note: DayNote, day: datetime) -> tuple[Value, ...]:
    return (
        day, None, "weather", ", ".join(note.conditions), note.rain_mm, note.highest_c, note.lowest_c,
        note.wet_hours, note.note,
    )  # fmt: skip


def _disturbance_row(record: BoardRecord, each: Disturbance) -> tuple[Value, ...]:
    coupon = record.coupons.get(each.coupon or 0)
    about = "the whole board" if coupon is None else coupon.id
    return (each.at, each.at, about, each.kind, None, None, None, None, each.note)


def _file_row(file: WeatherFile) -> tuple[Value, ...]:
    told = list(file.told[:_MOST_TOLD])
    if file.left_out > len(told) and told:
        told.append(f"and {file.left_out - len(told)} more")
    return (
        file.logger,
        file.name,
        file.first,
        file.last,
        file.count,
        file.left_out,
        file.clock or "the board's own",
        ", ".join(file.quantities),
        _moment(file.added),
        "\n".join(told),
    )


def _moment(text: str) -> Value:
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        return text
