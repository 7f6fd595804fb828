"""Logger files written for tests: what was read, and how a file says it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from rustboard.weather.logger_file.decode import decode_logger_file
from rustboard.weather.logger_file.guess import Guess, guess_options
from rustboard.weather.logger_file.read import ReadLoggerFile, read_logger_file

EPOCH = datetime(1970, 1, 1)
Reading = tuple[datetime, dict[str, float]]


def guessed(text: str | bytes, encoding: str = "utf-8") -> Guess:
    data = text if isinstance(text, bytes) else text.encode(encoding)
    return guess_options(decode_logger_file(data, "log.csv"))


def read_as_guessed(text: str | bytes, encoding: str = "utf-8") -> ReadLoggerFile:
    data = text if isinstance(text, bytes) else text.encode(encoding)
    decoded = decode_logger_file(data, "log.csv")
    return read_logger_file(decoded, guess_options(decoded).options)


def readings(read: ReadLoggerFile) -> list[tuple[str, dict[str, float]]]:
    """Return what was read: the times as text and the numbers that are there, to a thousandth."""
    found = []
    for place, seconds in enumerate(read.table.seconds):
        values = {name: float(numbers[place]) for name, numbers in read.table.values.items()}
        when = (EPOCH + timedelta(seconds=int(seconds))).strftime("%Y-%m-%d %H:%M:%S")
        found.append((when, {name: round(value, 3) for name, value in values.items() if not np.isnan(value)}))
    return found


@dataclass(frozen=True)
class Shape:
    """How a file is written."""

    delimiter: str = ","
    mark: str = "."
    moment: str = "%Y-%m-%d %H:%M:%S"
    apart: bool = False
    temperature: str = "Temperature (°C)"
    humidity: str = "Humidity (%)"
    rain: str = "Rain (mm)"
    above: tuple[str, ...] = ()
    encoding: str = "utf-8"
    ends: str = "\n"
    quoted: bool = False


def written(shape: Shape, rows: list[Reading]) -> bytes:
    """Write readings, whose numbers are in the units of the shape, as a file."""
    when = ["Date", "Time"] if shape.apart else ["Date/Time"]
    lines = [*shape.above, shape.delimiter.join([*when, shape.temperature, shape.humidity, shape.rain])]
    for moment, values in rows:
        text = moment.strftime(shape.moment)
        cells = text.split(" ", 1) if shape.apart else [text]
        for name in ("temperature", "humidity", "rain"):
            cells.append(f"{values[name]:.2f}".replace(".", shape.mark) if name in values else "")
        if shape.quoted:
            cells = [f'"{each}"' for each in cells]
        lines.append(shape.delimiter.join(cells))
    return (shape.ends.join(lines) + shape.ends).encode(shape.encoding)
