"""Reading a board for a command that changes nothing."""

from __future__ import annotations

import os
from pathlib import Path

from rustboard.board.record import BoardRecord
from rustboard.session.looking import look_at_board
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
    return look_at_board(existing(path))
