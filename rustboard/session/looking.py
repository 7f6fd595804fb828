"""Reading a whole board that is not opened: for commands that change nothing, and for the shelf."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from rustboard.board.record import BoardRecord
from rustboard.store.database import database_problem, for_looking
from rustboard.store.folder import board_file_of
from rustboard.store.reading import read_record
from rustboard.support.files import disk_problem, shown_name
from rustboard.support.problems import InputError


def look_at_board(path: Path) -> BoardRecord:
    """Return what a board (its folder or its file) holds, also while a window has it open.

    Nothing in its folder is touched, and no lock is taken.

    Raises:
        InputError: there is no sound board.
    """
    file = board_file_of(path)
    try:
        with for_looking(file) as connection:
            return read_record(connection)
    except sqlite3.Error as error:
        raise database_problem(error, file) from error
    except InputError as error:
        raise error.located(file=shown_name(file)) from error
    except OSError as error:
        raise disk_problem(error, file) from error
