"""Reading a board for a command that changes nothing."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path

from rustboard.board.record import BoardRecord
from rustboard.store.database import database_problem, for_looking
from rustboard.store.folder import board_file_of
from rustboard.store.reading import read_record
from rustboard.support.files import disk_problem, shown_name
from rustboard.support.problems import InputError


def existing(path: Path) -> Path:
    """Return the path that a user gave for a board when something is there.

    Raises:
        InputError: there is nothing, or nothing that this user may see.
    """
    if not os.path.exists(path):  # unlike Path.exists, this takes any name whatever
        raise InputError("There is no board here; choose a folder with a board.rustboard file.", file=str(path)[:200])
    return path


def read_board(path: Path) -> BoardRecord:
    """Return what a board holds, also while a window has it open; nothing in its folder is touched.

    Raises:
        InputError: there is no sound board.
    """
    file = board_file_of(existing(path))
    try:
        with for_looking(file) as connection:
            return read_record(connection)
    except sqlite3.Error as error:
        raise database_problem(error, file) from error
    except InputError as error:
        raise error.located(file=shown_name(file)) from error
    except OSError as error:
        raise disk_problem(error, file) from error
