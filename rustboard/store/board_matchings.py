"""Which treatments of several boards are the same, as the user confirmed it: one JSON file beside the settings.

Written whole under a lock that all windows take in turn. A damaged file is put aside under a name of its own before
anything is written, and what is good stays.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from rustboard.store import values
from rustboard.store.kept_list import KeptList, Sentences

FORMAT: Final = 1
MOST_MATCHINGS: Final = 500
MOST_BYTES: Final = 16 << 20
MOST_BOARDS: Final = 50
MOST_ROWS: Final = 5_000
_LONGEST_PATH: Final = 4_096


@dataclass(frozen=True, slots=True)
class KeptRow:
    """One treatment as several boards have it.

    Attributes:
        name: over all boards.
        treatments: its id on each board, in the order of the boards; empty = not there.
        controls: whether it is the controls.
    """

    name: str
    treatments: tuple[str, ...]
    controls: bool = False


@dataclass(frozen=True, slots=True)
class KeptMatching:
    """What was confirmed for one set of boards.

    Attributes:
        boards: their folders, in the order of the rows' treatments.
        rows: every treatment of every board.
    """

    boards: tuple[str, ...]
    rows: tuple[KeptRow, ...]

    @property
    def of(self) -> frozenset[str]:
        """The set of boards, whatever their order."""
        return frozenset(self.boards)


Matchings = tuple[KeptMatching, ...]


@dataclass(frozen=True, slots=True)
class KeptMatchings:
    """All matchings.

    Attributes:
        matchings: those that can be read, the newest last.
        problem: a sentence about what cannot, or an empty text.
    """

    matchings: Matchings = ()
    problem: str = ""


def read_matchings(path: Path) -> KeptMatchings:
    """Return what was confirmed; what is damaged is put aside on the way.

    Raises:
        InputError: the file cannot be read just now, or a newer version of the program wrote it.
    """
    return KeptMatchings(*_LIST.read(path))


def change_matchings(path: Path, change: Callable[[Matchings], Matchings]) -> KeptMatchings:
    """Read the matchings, let ``change`` say which there are from now on, and write those; see `KeptList.change`.

    Raises:
        InputError: ``change`` or the disk refused; the file is as it was.
    """
    return KeptMatchings(*_LIST.change(path, change))


def _matching_from(kept: Any) -> KeptMatching:
    boards, rows = kept["boards"], kept["rows"]
    if not isinstance(boards, list) or not isinstance(rows, list) or len(rows) > MOST_ROWS:
        raise ValueError("a matching is damaged")
    if not 2 <= len(boards) <= MOST_BOARDS or len(set(boards)) < len(boards):
        raise ValueError("a matching is of no boards")
    return KeptMatching(tuple(map(_folder, boards)), tuple(_row_from(each, len(boards)) for each in rows))


def _folder(kept: object) -> str:
    if not isinstance(kept, str) or not 0 < len(kept) <= _LONGEST_PATH:
        raise ValueError("a board is damaged")
    return kept


def _row_from(kept: Any, boards: int) -> KeptRow:
    treatments, controls = kept["treatments"], kept["controls"]
    if not isinstance(treatments, list) or len(treatments) != boards or not isinstance(controls, bool):
        raise ValueError("a row is damaged")
    return KeptRow(values.needed(kept["name"]), tuple(map(values.line, treatments)), controls)


def _matching_to(each: KeptMatching) -> dict[str, object]:
    rows = [{"name": row.name, "treatments": list(row.treatments), "controls": row.controls} for row in each.rows]
    return {"boards": list(each.boards), "rows": rows}


def _of(each: KeptMatching) -> frozenset[str]:
    return each.of


def _told(damaged: int | None, name: str) -> str:
    return f"Your list of matched treatments {name} is damaged; what can be read of it is used."


_LIST: Final = KeptList(
    "list of matched treatments",
    "matchings",
    FORMAT,
    MOST_MATCHINGS,
    MOST_BYTES,
    _matching_from,
    _matching_to,
    _of,
    Sentences(
        "A newer version of the program wrote the list of matched treatments; use that one, or move the file away.",
        f"At most {MOST_MATCHINGS} sets of boards can be kept.",
        "The list of matched treatments is full; move its file away to begin a new one.",
        _told,
    ),
)
