"""How the user's loggers write their files: named profiles in one JSON file beside the settings.

Written whole under a lock that all windows take in turn. A damaged file is put aside under a name of its own before
anything is written, and the good profiles stay. What a profile says is plain JSON here; who reads files knows what it
means and refuses what makes no sense.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from operator import attrgetter
from pathlib import Path
from typing import Any, Final

from rustboard.store import values
from rustboard.store.kept_list import KeptList, Sentences

FORMAT: Final = 1
MOST_PROFILES: Final = 500
MOST_BYTES: Final = 16 << 20
MOST_TITLES: Final = 1_000
_MOST_BYTES_OF_ONE: Final = 400_000


@dataclass(frozen=True, slots=True)
class KeptProfile:
    """How one kind of logger's file is read.

    Attributes:
        name: given by the user; no two profiles have one name.
        titles: of the columns in the files it fits.
        options: how they are read, as a text of JSON.
    """

    name: str
    titles: tuple[str, ...]
    options: str


Profiles = tuple[KeptProfile, ...]


@dataclass(frozen=True, slots=True)
class KeptProfiles:
    """All profiles.

    Attributes:
        profiles: those that can be read.
        problem: a sentence about what cannot, or an empty text.
    """

    profiles: Profiles = ()
    problem: str = ""


def read_profiles(path: Path) -> KeptProfiles:
    """Return the profiles; what is damaged is put aside on the way.

    Raises:
        InputError: the file cannot be read just now, or a newer version of the program wrote it.
    """
    return KeptProfiles(*_LIST.read(path))


def change_profiles(path: Path, change: Callable[[Profiles], Profiles]) -> KeptProfiles:
    """Read the profiles, let ``change`` say which there are from now on, and write those; see `KeptList.change`.

    Raises:
        InputError: ``change`` or the disk refused; the file is as it was.
    """
    return KeptProfiles(*_LIST.change(path, change))


def _profile_from(kept: Any) -> KeptProfile:
    titles, options = kept["titles"], kept["options"]
    if not isinstance(titles, list) or len(titles) > MOST_TITLES or not isinstance(options, dict):
        raise ValueError("a profile is damaged")
    text = json.dumps(options, allow_nan=False)
    if len(text) > _MOST_BYTES_OF_ONE:
        raise ValueError("a profile is too large")
    return KeptProfile(values.needed(kept["name"]), tuple(map(values.line, titles)), text)


def _profile_to(each: KeptProfile) -> dict[str, object]:
    return {"name": each.name, "titles": list(each.titles), "options": json.loads(each.options)}


def _told(damaged: int | None, name: str) -> str:
    return f"Your list of loggers {name} is damaged; what can be read of it is used."


_LIST: Final = KeptList(
    "list of loggers",
    "profiles",
    FORMAT,
    MOST_PROFILES,
    MOST_BYTES,
    _profile_from,
    _profile_to,
    attrgetter("name"),
    Sentences(
        "A newer version of the program wrote the list of loggers; use that one, or move the file away.",
        f"At most {MOST_PROFILES} loggers can be kept; delete one that is no longer needed.",
        "The list of loggers is full; delete one that is no longer needed.",
        _told,
    ),
)
