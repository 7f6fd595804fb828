"""A million readings taken over, against bare pandas and bare SQLite.

Run it: ``python tests/benchmarks/weather_import.py [ROWS]``. Ours: the file's bytes decoded, its writing guessed,
read, packed, and written as one BLOB. Bare: ``pandas.read_csv`` of the same file, and ``executemany`` of them into a
table of SQLite. The budget is twice the bare time; a ratio of 1 or less keeps it.
"""

from __future__ import annotations

import gc
import math
import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve()
sys.path[:0] = [str(HERE.parents[2])]

ROWS = 1_000_000
RUNS = 3
ALLOWED = 2.0
MOMENT = "%Y-%m-%d %H:%M"
SHAPES = {
    "plain, ISO dates": (",", ".", MOMENT),
    "semicolons, decimal commas, day first": (";", ",", "%d.%m.%Y %H:%M"),
}


def say(line: str) -> None:
    """Write a line."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def write_file(file: Path, rows: int, delimiter: str, mark: str, moment: str) -> None:
    """Write a logger's file: a reading every ten minutes."""
    random = np.random.default_rng(7)
    begin = datetime(2007, 1, 1)
    warm = 12 + 9 * np.sin(np.arange(rows) / 144 * 2 * math.pi) + random.normal(0, 1, rows)
    humid = np.clip(75 - 2 * (warm - 12) + random.normal(0, 5, rows), 5, 100)
    rain = np.where(random.random(rows) < 0.03, 0.2, 0.0)
    lines = [delimiter.join(("time", "temperature C", "humidity %", "rain mm"))]
    for number in range(rows):
        values = f"{warm[number]:.1f}{delimiter}{humid[number]:.1f}{delimiter}{rain[number]:.1f}".replace(".", mark)
        lines.append(f"{begin + timedelta(minutes=10 * number):{moment}}{delimiter}{values}")
    file.write_text("\n".join(lines) + "\n", encoding="utf-8")


def ours(file: Path, database: Path) -> int:
    """Take a file over as the program does; return how many readings there are."""
    from rustboard.weather.logger_file.decode import decode_logger_file
    from rustboard.weather.logger_file.guess import guess_options
    from rustboard.weather.logger_file.read import read_logger_file
    from rustboard.weather.packing import pack

    text = decode_logger_file(file.read_bytes(), file.name)
    read = read_logger_file(text, guess_options(text).options)
    with closing(sqlite3.connect(database)) as connection:
        connection.execute("CREATE TABLE content (bytes BLOB)")
        connection.execute("INSERT INTO content VALUES (?)", (pack(read.table),))
        connection.commit()
    return len(read.table)


def bare(file: Path, database: Path, delimiter: str, mark: str) -> tuple[float, float]:
    """Return seconds that pandas takes to read the file and SQLite to take the rows."""
    import pandas as pd

    began = time.perf_counter()
    frame = pd.read_csv(file, sep=delimiter, decimal=mark)
    read = time.perf_counter() - began
    rows = list(frame.itertuples(index=False, name=None))
    began = time.perf_counter()
    with closing(sqlite3.connect(database)) as connection:
        connection.execute("CREATE TABLE reading (time TEXT, temperature REAL, humidity REAL, rain REAL)")
        connection.executemany("INSERT INTO reading VALUES (?, ?, ?, ?)", rows)
        connection.commit()
    return read, time.perf_counter() - began


def seconds(work: Callable[[], object]) -> float:
    """Return how long something takes."""
    gc.collect()
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def main() -> None:
    """Compare the two for each shape of file."""
    import pandas  # noqa: F401 - loading it is no part of reading

    rows = int(sys.argv[1]) if len(sys.argv) > 1 else ROWS
    for name, (delimiter, mark, moment) in SHAPES.items():
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "logger.csv"
            write_file(file, rows, delimiter, mark, moment)
            own, reading, inserting = [], [], []
            for run in range(RUNS):
                database = Path(folder) / f"ours{run}.db"
                own.append(seconds(lambda file=file, database=database: ours(file, database)))  # type: ignore[misc]
                read, inserted = bare(file, Path(folder) / f"bare{run}.db", delimiter, mark)
                reading.append(read)
                inserting.append(inserted)
        took, alone = statistics.median(own), statistics.median(reading) + statistics.median(inserting)
        say(
            f"{rows:,} rows, {name}: {took:.2f} s; pandas {statistics.median(reading):.2f} s, "
            f"SQLite {statistics.median(inserting):.2f} s"
        )
        verdict = "kept" if took <= ALLOWED * alone else "MISSED"
        say(f"  {took / alone:.2f} x, allowed {ALLOWED:.1f} x: {took / alone / ALLOWED:.2f} of the budget, {verdict}")


if __name__ == "__main__":
    main()
