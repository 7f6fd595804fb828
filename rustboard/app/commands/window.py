"""``rustboard`` and ``rustboard BOARD``: the window on the shelf, or on one board."""

from __future__ import annotations

import argparse
import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path

from rustboard.app.commands.outcome import Outcome, Tell
from rustboard.app.commands.printing import tell as tell_on_stderr
from rustboard.app.crash import install_crash_hook
from rustboard.support.problems import InputError

_WINDOW_LIBRARY = ("PySide6", "shiboken6", "pyqtgraph")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Open the window, on the board when one is given.

    Raises:
        InputError: there is no such board, or no display.
    """
    board: Path | None = arguments.board
    if board is not None and not os.path.exists(board):
        raise InputError("There is no board here; check the name of its folder.", file=str(board)[:200])
    if not has_display():
        raise InputError(
            "There is no display here, so no window can open; the commands of “rustboard --help” work without one."
        )
    return Outcome("", None, afterwards=lambda: open_window_on(board))


def has_display() -> bool:
    """Return whether a window can be shown here, or the user said how to do without a display."""
    if os.environ.get("QT_QPA_PLATFORM") or sys.platform in {"win32", "darwin"}:
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def open_window_on(board: Path | None, *, demo: bool = False) -> int:
    """Open the main window, run it until it is closed, and return the exit code.

    Raises:
        InputError: the board cannot be opened, or the window library cannot be loaded.
    """
    try:
        from rustboard.ui import start
    except ImportError as error:
        raise window_library_problem(error) from error
    install_crash_hook(getattr(start, "show_fault", tell_on_stderr))
    # Qt's loop is not Python's: Ctrl-C in the terminal ends the program there and then, and all work is saved.
    before = signal.signal(signal.SIGINT, signal.SIG_DFL)
    try:
        return start.open_window(board, demo=demo, make_demo=_make_demo)
    finally:
        signal.signal(signal.SIGINT, before)


def _make_demo(folder: Path, progress: Callable[[str, int, int], None]) -> list[Path]:
    from rustboard.app.demo.build import build_demo  # brings the picture library, which takes its time

    return build_demo(folder, progress)


def window_library_problem(error: ImportError) -> InputError:
    """Return the sentence for a window library that is not there or lacks a part of the system.

    Raises:
        ImportError: the same error again, when something else is missing: a fault of ours.
    """
    ours = (error.name or "").startswith("rustboard")
    told = f"{error.name} {error}"
    if ours or not ("shared object" in told or "DLL" in told or any(name in told for name in _WINDOW_LIBRARY)):
        raise error
    return InputError(
        f"The window library cannot be loaded ({error}); packaging/start.py installs what it needs, and all "
        "commands but the window work without it."
    )
