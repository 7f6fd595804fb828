"""Reading a whole board that is not opened: for commands that change nothing, and for the shelf."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TypeVar

from rustboard.board.record import BoardRecord
from rustboard.session.weather import WeatherRequest, request_of
from rustboard.store.database import database_problem, for_looking
from rustboard.store.folder import board_file_of
from rustboard.store.reading import read_record
from rustboard.store.weather_content import read_content
from rustboard.support.files import disk_problem, shown_name
from rustboard.support.problems import InputError

T = TypeVar("T")


def look_at_board(path: Path) -> BoardRecord:
    """Return what a board (its folder or its file) holds, also while a window has it open.

    Nothing in its folder is touched, and no lock is taken.

    Raises:
        InputError: there is no sound board.
    """
    return look(path, read_record)


def look_at_weather(path: Path) -> tuple[BoardRecord, WeatherRequest]:
    """Return what a board holds, and all it knows of its weather, of one moment; else as `look_at_board`.

    Raises:
        InputError: there is no sound board, or the readings are damaged.
    """
    return look(path, _with_weather)


def _with_weather(connection: sqlite3.Connection) -> tuple[BoardRecord, WeatherRequest]:
    record = read_record(connection)
    return record, request_of(record, partial(read_content, connection))


def look(path: Path, read: Callable[[sqlite3.Connection], T]) -> T:
    """Return what ``read`` makes of a board that nobody needs to have open; as `look_at_board`."""
    file = board_file_of(path)
    try:
        with for_looking(file) as connection:
            return read(connection)
    except sqlite3.Error as error:
        raise database_problem(error, file) from error
    except InputError as error:
        raise error.located(file=shown_name(file)) from error
    except OSError as error:
        raise disk_problem(error, file) from error
