"""The history of grading practice: one file of lines beside the settings, for all graders and all windows.

Every line is one JSON object and is never changed: an exercise begun, or one answer. Lines are added under a lock
that all windows take in turn and are on the disk before the next coupon is shown. A line that cannot be read (torn by
a power cut, or a stranger's) is left out and stays where it is; a file without any line of ours is put aside.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any, Final

from rustboard.board.grade import GRADES
from rustboard.scales.practice import TOTAL
from rustboard.scales.practice_results import Answer
from rustboard.store import values
from rustboard.store.shared_file import name_aside, taking_turns
from rustboard.support.files import disk_problem, read_bounded, shown_name, write_whole
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

FORMAT: Final = 1
GRADER_LIMIT: Final = 200
MOST_BYTES: Final = 8 << 20
"""Well over a thousand exercises."""

MOST_LINE_BYTES: Final = 2_048
_WAIT_SECONDS: Final = 5.0
_WHAT: Final = "practice history"
_LARGEST_SEED: Final = 2**62
_LARGEST_PLAN: Final = 1_000_000
_DAMAGED = (ValueError, TypeError, KeyError, OverflowError, RecursionError)


@dataclass(frozen=True, slots=True)
class Begun:
    """An exercise that was begun.

    Attributes:
        id: its own name. grader: who grades, one safe line.
        seed, plan: what its coupons follow from.
        at: when it was begun.
    """

    id: str
    grader: str
    seed: int
    plan: int
    at: datetime


@dataclass(frozen=True, slots=True)
class Given:
    """One answer.

    Attributes:
        exercise: id of the exercise. answer: what was given. at: when.
    """

    exercise: str
    answer: Answer
    at: datetime


Entry = Begun | Given


@dataclass(slots=True)
class KeptExercise:
    """An exercise as the file has it.

    Attributes:
        begun: how it began.
        answers: in the order of their numbers; of two answers to one coupon the first counts.
        last: when the last answer was given, or the exercise begun.
    """

    begun: Begun
    answers: tuple[Answer, ...] = ()
    last: datetime = field(default=datetime.min)


@dataclass(frozen=True, slots=True)
class History:
    """What the file holds.

    Attributes:
        exercises: in the order in which they were begun.
        problem: a sentence about what cannot be read, or an empty text.
    """

    exercises: tuple[KeptExercise, ...] = ()
    problem: str = ""


# ---- reading


def read_history(path: Path) -> History:
    """Return all exercises; what cannot be read is left out and told of. Nothing is written.

    Raises:
        InputError: the disk does not let the file be read just now.
    """
    data = _bytes(path)
    if data is None:
        return History(problem=_told_foreign(path))
    entries, damaged = _entries(data)
    exercises: dict[str, KeptExercise] = {}
    for each in entries:
        damaged += not _take(exercises, each)
    if damaged and not exercises:
        return History(problem=_told_foreign(path))
    return History(tuple(exercises.values()), _told(damaged, path))


def _bytes(path: Path) -> bytes | None:
    """Return what is in the file, nothing where there is none; None of a file too large to be ours."""
    try:
        return read_bounded(path, MOST_BYTES)
    except InputError as error:
        if isinstance(error.__cause__, FileNotFoundError):
            return b""
        if error.__cause__ is None:  # too large
            return None
        raise


def _entries(data: bytes) -> tuple[list[Entry], int]:
    found: list[Entry] = []
    damaged = 0
    for line in data.split(b"\n"):
        if not line.strip():
            continue
        try:
            found.append(_entry_from(line))
        except _DAMAGED:
            damaged += 1
    return found, damaged


def _entry_from(line: bytes) -> Entry:
    if len(line) > MOST_LINE_BYTES:
        raise ValueError("a line is too long")
    kept = json.loads(line)
    values.one_of(kept["format"], (FORMAT,))
    exercise, at = values.needed(kept["exercise"]), values.moment(kept["at"])
    if values.one_of(kept["is"], ("begun", "given")) == "begun":
        return Begun(
            exercise,
            one_line(values.needed(kept["grader"]), GRADER_LIMIT),
            _whole(kept["seed"], _LARGEST_SEED),
            _whole(kept["plan"], _LARGEST_PLAN),
            at,
        )
    answer = Answer(
        _whole(kept["number"], TOTAL - 1), values.percent(kept["percent"]), _whole(kept["grade"], len(GRADES) - 1)
    )
    return Given(exercise, answer, at)


def _whole(value: object, most: int) -> int:
    if isinstance(value, bool):  # JSON's true is no 1
        raise ValueError("a number is damaged")
    return values.whole(value, 0, most)


def _take(exercises: dict[str, KeptExercise], entry: Entry) -> bool:
    """Put an entry to its exercise; return False for one that belongs to none."""
    if isinstance(entry, Begun):
        exercises.setdefault(entry.id, KeptExercise(entry, last=entry.at))
        return True
    exercise = exercises.get(entry.exercise)
    if exercise is None:
        return False
    if all(each.number != entry.answer.number for each in exercise.answers):
        exercise.answers = tuple(sorted((*exercise.answers, entry.answer), key=_by_number))
        exercise.last = max(exercise.last, entry.at)
    return True


def _by_number(answer: Answer) -> int:
    return answer.number


def _told(damaged: int, path: Path) -> str:
    if damaged == 0:
        return ""
    name = shown_name(path)
    if damaged == 1:
        return f"One line of your practice history {name} cannot be read and is left out."
    return f"{damaged} lines of your practice history {name} cannot be read and are left out."


def _told_foreign(path: Path) -> str:
    return f"Your practice history {shown_name(path)} cannot be read; it is put aside when you next grade."


# ---- writing


def add_entries(path: Path, entries: Sequence[Entry], whole: Sequence[Entry] = ()) -> None:
    """Add lines at the end of the file, all of them or none, and see that they are on the disk.

    Args:
        path: the file; it need not be there yet.
        entries: what to add.
        whole: what to write instead where the file begins anew, because somebody moved it away or it was damaged: the
            exercise from its beginning.

    Raises:
        InputError: the disk refused, the file is full, or another window is busy with it.
    """
    data, all_data = (b"".join(_lines(each)) for each in (entries, whole or entries))
    with taking_turns(path, _WHAT, _WAIT_SECONDS):
        try:
            if _begins_anew(path):
                write_whole(path, all_data)
            else:
                _append(path, data)
        except (OSError, ValueError) as error:
            raise disk_problem(error, path) from error


def _lines(entries: Iterable[Entry]) -> Iterator[bytes]:
    for each in entries:
        line = json.dumps(_entry_to(each), ensure_ascii=False, allow_nan=False).encode()
        if len(line) >= MOST_LINE_BYTES:
            raise InputError("This name is too long for the practice history; give a shorter one.")
        yield line + b"\n"


def _entry_to(entry: Entry) -> dict[str, Any]:
    at = entry.at.isoformat()
    if isinstance(entry, Begun):
        return {
            "format": FORMAT,
            "is": "begun",
            "exercise": entry.id,
            "grader": entry.grader,
            "seed": entry.seed,
            "plan": entry.plan,
            "at": at,
        }
    answer = entry.answer
    return {
        "format": FORMAT,
        "is": "given",
        "exercise": entry.exercise,
        "number": answer.number,
        "percent": answer.percent,
        "grade": answer.grade,
        "at": at,
    }


def _begins_anew(path: Path) -> bool:
    """Return whether there is no file, or none any more because it held nothing of ours and was put aside."""
    if not path.exists():
        return True
    if _is_ours(path):
        return False
    os.replace(path, name_aside(path))
    return True


def _append(path: Path, data: bytes) -> None:
    # Without a buffer, so that nothing half written is tried again when the file is closed.
    with path.open("r+b", buffering=0) as stream:
        size = stream.seek(0, os.SEEK_END)
        if size:
            stream.seek(-1, os.SEEK_END)
            if stream.read(1) != b"\n":  # the last line was torn; ours begin on one of their own
                data = b"\n" + data
        if size + len(data) > MOST_BYTES:
            raise InputError(
                "The practice history is full; move the file away to begin a new one.", file=shown_name(path)
            )
        try:
            rest = memoryview(data)
            while rest:
                rest = rest[stream.write(rest) :]
            os.fsync(stream.fileno())
        except OSError:
            with contextlib.suppress(OSError):  # half a line more harms nobody: it is left out when read
                os.ftruncate(stream.fileno(), size)
            raise


def _is_ours(path: Path) -> bool:
    """Return whether there is any line of ours in a file, or nothing at all."""
    with path.open("rb") as stream:
        first = stream.read(MOST_LINE_BYTES)
    if not first or _entries(first.split(b"\n", 1)[0])[0]:
        return True
    data = _bytes(path)
    return data is not None and bool(_entries(data)[0])
