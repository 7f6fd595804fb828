"""How a board stands on the shelf: its tags, whether it is archived, and which earlier board it follows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Final

MOST_TAGS: Final = 20
"""Tags of one board."""

MOST_TAG: Final = 40
"""Characters of a tag."""

MOST_WORDS: Final = 500
"""Characters of what was kept or changed since an earlier board."""


@dataclass(frozen=True, slots=True)
class Tag:
    """A word under which the user finds a board again.

    Attributes:
        word: never empty; no two of a board differ only in capitals.
        key: 0 = not on the disk yet.
    """

    word: str
    key: int = 0


@dataclass(frozen=True, slots=True)
class Shelving:
    """Whether a board is put away: the shelf then shows it only when asked, and nothing else changes."""

    archived: bool
    key: int = 1


@dataclass(frozen=True, slots=True)
class Forerunner:
    """The earlier board that this one follows, with one thing changed.

    Attributes:
        name: of the earlier board, as it was called then.
        started: when its exposure began, or None.
        kept: which treatments were kept, in words; may be empty.
        changed: the one thing that was changed, in words; never empty.
        folder: name of the earlier board's folder (the name alone, not the path), by which it is found again.
    """

    name: str
    started: datetime | None
    kept: str
    changed: str
    folder: str = ""
    key: int = 1


def same_word(word: str) -> str:
    """Return what two spellings of one tag have in common."""
    return " ".join(word.split()).casefold()


def words_once(words: Iterable[str]) -> list[str]:
    """Return the words that are not empty, each once, the first spelling of each, in the order given."""
    found: dict[str, str] = {}
    for word in words:
        even = " ".join(word.split())
        if even:
            found.setdefault(same_word(even), even)
    return list(found.values())
