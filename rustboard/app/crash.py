"""When the program itself is at fault: a crash file for whoever mends it, and one sentence for the user.

A crash file holds versions, where in the source it happened, and the last log lines. It holds nothing of the user's:
no text from a board, no names of files or folders of theirs. It stays on this computer.
"""

from __future__ import annotations

import itertools
import logging
import os
import platform
import sys
import sysconfig
import threading
import traceback
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Final

import rustboard
from rustboard.support import paths
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.files import write_whole
from rustboard.support.problems import InputError

LOG_LINES: Final = 200
FILES_KEPT: Final = 20
DEBUG_VARIABLE: Final = "RUSTBOARD_DEBUG"
"""When this environment variable is set, a fault is also shown on standard error, with all it says."""

_FRAMES_SHOWN: Final = 100
_FAULTS_REMEMBERED: Final = 50
_PACKAGE: Final = Path(rustboard.__file__).parent

# What these say about themselves is names of our own modules, attributes and types. KeyError, ValueError, OSError and
# the like quote what they stumbled over, which may be the user's.
_HARMLESS: Final = frozenset(
    {
        AttributeError,
        ImportError,
        IndexError,
        MemoryError,
        ModuleNotFoundError,
        NameError,
        NotImplementedError,
        RecursionError,
        TypeError,
        UnboundLocalError,
        ZeroDivisionError,
    }
)


class LastLines(logging.Handler):
    """Keeps the last log lines in memory, without what was filled into them.

    Attributes:
        lines: oldest first.
    """

    def __init__(self) -> None:
        super().__init__(logging.INFO)
        self.lines: deque[str] = deque(maxlen=LOG_LINES)

    def emit(self, record: logging.LogRecord) -> None:
        """Keep a record: our own with its wording, other libraries' only as having been there."""
        ours = record.name == "rustboard" or record.name.startswith("rustboard.")
        at = datetime.fromtimestamp(record.created)
        said = _wording(record) if ours else ""
        self.lines.append(f"{at:%H:%M:%S} {record.levelname} {record.name} {said}".rstrip())


def _wording(record: logging.LogRecord) -> str:
    pattern = str(record.msg)
    if not isinstance(record.args, tuple):
        return pattern
    try:
        return pattern % tuple(each if isinstance(each, int | float) else "…" for each in record.args)
    except (TypeError, ValueError):
        return pattern


_LAST_LINES: Final = LastLines()
_NUMBERS: Final = itertools.count(1)


def keep_log_lines() -> None:
    """Begin to keep log lines for a crash file. With this the log is quiet: nothing goes to standard error."""
    logging.getLogger().addHandler(_LAST_LINES)  # adding it twice does nothing
    logging.getLogger("rustboard").setLevel(logging.INFO)


def crash_text(error: BaseException, at: datetime, log_lines: Iterable[str] = ()) -> str:
    """Return the content of a crash file."""
    lines = [
        f"Rustboard {rustboard.__version__}, a fault of its own, {at.isoformat(' ', 'seconds')}",
        f"Python {platform.python_version()} ({platform.python_implementation()})",
        f"System {platform.platform()}",
        f"Window library {_qt_versions()}",
        "",
        *_told(error),
        "",
        "Last log lines:",
        *log_lines,
    ]
    return "\n".join(lines) + "\n"


def _qt_versions() -> str:
    binding, core = sys.modules.get("PySide6"), sys.modules.get("PySide6.QtCore")
    if binding is None or core is None:
        return "not loaded"
    return f"PySide6 {getattr(binding, '__version__', '?')}, Qt {core.qVersion()}"


def _told(error: BaseException) -> Iterator[str]:
    """Yield an error and the errors it came from, first cause first."""
    chain: list[BaseException] = []
    link: BaseException | None = error
    while link is not None and link not in chain and len(chain) < 10:
        chain.append(link)
        link = link.__cause__ or (None if link.__suppress_context__ else link.__context__)
    for each in reversed(chain):
        yield from _frames(each)
        yield _name_and_message(each)


def _frames(error: BaseException) -> list[str]:
    lines = [
        f"  {shortened(frame.f_code.co_filename)}:{line} in {frame.f_code.co_qualname}"
        for frame, line in traceback.walk_tb(error.__traceback__)
    ]
    if len(lines) > _FRAMES_SHOWN:
        half = _FRAMES_SHOWN // 2
        lines[half:-half] = [f"  ... {len(lines) - 2 * half} more ..."]
    return lines


def _name_and_message(error: BaseException) -> str:
    kind = type(error)
    name = f"{kind.__module__}.{kind.__qualname__}".removeprefix("builtins.")
    frames = list(traceback.walk_tb(error.__traceback__))
    # Libraries written in Python put values into any message; the interpreter and those written in C do not.
    raised_by_us = bool(frames) and Path(frames[-1][0].f_code.co_filename).is_relative_to(_PACKAGE)
    if kind in _HARMLESS and raised_by_us:
        return f"{name}: {error}"
    number = getattr(error, "errno", None)
    return f"{name} (errno {number})" if isinstance(number, int) else name


def shortened(filename: str) -> str:
    """Return a source file's name without the folders of this computer."""
    if filename.startswith("<"):
        return filename
    path = Path(filename)
    roots = [
        _PACKAGE.parent if path.is_relative_to(_PACKAGE) else None,
        *(sysconfig.get_path(name) for name in ("purelib", "platlib", "stdlib", "platstdlib")),
    ]
    for root in roots:
        if root is not None and path.is_relative_to(root):
            return path.relative_to(root).as_posix()
    return "(another file)"


def write_crash_file(error: BaseException, clock: Clock = wall_clock) -> Path | None:
    """Write a crash file and drop the oldest ones; return where it is, or None when it could not be written."""
    at = clock()
    folder = paths.log_folder()
    target = folder / f"crash-{at:%Y-%m-%d-%H%M%S}-{os.getpid()}-{next(_NUMBERS):04}.txt"
    try:
        write_whole(target, crash_text(error, at, tuple(_LAST_LINES.lines)).encode("utf-8", "backslashreplace"))
    except InputError:
        return None
    with suppress(OSError):
        for old in sorted(folder.glob("crash-*.txt"))[:-FILES_KEPT]:
            old.unlink()
    return target


def report_fault(error: BaseException) -> str:
    """Write the crash file for a fault of ours; return the sentence for the user."""
    if os.environ.get(DEBUG_VARIABLE) and sys.stderr is not None:
        traceback.print_exception(error)
    file = write_crash_file(error)
    if file is None:
        return "Rustboard made a mistake of its own and could not write down which; what was saved before is safe."
    return (
        f"Rustboard made a mistake of its own; what was saved before is safe. "
        f"To have it mended, send the file {file}, which holds nothing of your boards."
    )


class _FaultHook:
    """Tells of each fault once: a fault in painting would come again sixty times a second."""

    def __init__(self, tell: Callable[[str], None]) -> None:
        self._tell = tell
        self._seen: set[str] = set()
        self._lock = threading.Lock()

    def on_error(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """Stand in for ``sys.excepthook``."""
        if isinstance(error, InputError):
            self._tell(error.problem.sentence())
        elif isinstance(error, KeyboardInterrupt):
            sys.__excepthook__(kind, error, trace)
        elif self._is_new(error.with_traceback(trace)):
            self._tell(report_fault(error))

    def on_thread_error(self, what: threading.ExceptHookArgs) -> None:
        """Stand in for ``threading.excepthook``."""
        if what.exc_value is not None and not isinstance(what.exc_value, SystemExit):
            self.on_error(what.exc_type, what.exc_value, what.exc_traceback)

    def _is_new(self, error: BaseException) -> bool:
        mark = "\n".join(_told(error))
        with self._lock:
            if mark in self._seen or len(self._seen) >= _FAULTS_REMEMBERED:
                return False
            self._seen.add(mark)
        return True


def install_crash_hook(window_callback: Callable[[str], None]) -> None:
    """From now on, write a crash file for every error that nothing caught, in this thread or another.

    Args:
        window_callback: shows one sentence to the user. It is called in the thread of the error, so a window must
            hand it over to its own thread. A user's error (`InputError`) comes as its sentence, without a file.
    """
    hook = _FaultHook(window_callback)
    sys.excepthook = hook.on_error
    threading.excepthook = hook.on_thread_error
