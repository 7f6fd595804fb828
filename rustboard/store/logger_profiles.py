"""How the user's loggers write their files: named profiles in one JSON file beside the settings.

Written whole under a lock that all windows take in turn. A damaged file is put aside under a name of its own before
anything is written, and the good profiles stay. What a profile says is plain JSON here; who reads files knows what it
means and refuses what makes no sense.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from rustboard.store import values
from rustboard.store.shared_file import name_aside, taking_turns
from rustboard.support.files import copy_whole, disk_problem, read_bounded, shown_name, write_whole
from rustboard.support.problems import InputError

_LOG = logging.getLogger(__name__)
FORMAT: Final = 1
MOST_PROFILES: Final = 500
MOST_BYTES: Final = 16 << 20
MOST_TITLES: Final = 1_000
_MOST_BYTES_OF_ONE: Final = 400_000
_WAIT_SECONDS: Final = 5.0
_WHAT: Final = "list of loggers"
_DAMAGED = (ValueError, TypeError, KeyError, OverflowError, RecursionError)


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
    profiles, damaged = _read(path)
    if damaged == 0:
        return KeptProfiles(profiles)
    try:
        with taking_turns(path, _WHAT, _WAIT_SECONDS):
            return _mended(path)
    except InputError as error:
        _LOG.info("the damaged logger profiles cannot be put aside: %s", error)
        return KeptProfiles(profiles, f"{_told(path)} It could not be put aside: {error}")


def change_profiles(path: Path, change: Callable[[Profiles], Profiles]) -> KeptProfiles:
    """Read the profiles, let ``change`` say which there are from now on, and write those.

    Args:
        path: the file; it need not be there yet.
        change: called with the profiles of this moment, whoever wrote them; it may refuse with InputError.

    Raises:
        InputError: ``change`` or the disk refused; the file is as it was.
    """
    with taking_turns(path, _WHAT, _WAIT_SECONDS):
        kept = _mended(path)
        profiles = change(kept.profiles)
        if profiles != kept.profiles:
            _write(path, profiles)
        return KeptProfiles(profiles, kept.problem)


# ---- reading


def _read(path: Path) -> tuple[Profiles, int | None]:
    """Return the good profiles and how many are damaged: 0 = none, None = the file is none of ours at all."""
    try:
        data = _bytes(path)
        if data is None:
            return (), 0
        content = json.loads(data)
        number, kept = content["format"], content["profiles"]
        if isinstance(number, int) and not isinstance(number, bool) and number > FORMAT:
            raise InputError(
                "A newer version of the program wrote the list of loggers; use that one, or move the file away.",
                file=shown_name(path),
            )
        if number != FORMAT or not isinstance(kept, list) or len(kept) > MOST_PROFILES:
            return (), None
    except _DAMAGED:
        return (), None
    profiles: dict[str, KeptProfile] = {}
    for each in kept:
        try:
            profile = _profile_from(each)
            profiles.setdefault(profile.name, profile)
        except _DAMAGED as error:
            _LOG.info("a logger profile is damaged: %s", error)
    return tuple(profiles.values()), len(kept) - len(profiles)


def _bytes(path: Path) -> bytes | None:
    """Return what is in the file; None when there is no file yet."""
    try:
        return read_bounded(path, MOST_BYTES)
    except InputError as error:
        if isinstance(error.__cause__, FileNotFoundError):
            return None
        if error.__cause__ is None:  # too large: nothing that this program writes
            raise ValueError("the list of loggers is too large") from None
        raise


def _profile_from(kept: Any) -> KeptProfile:
    titles, options = kept["titles"], kept["options"]
    if not isinstance(titles, list) or len(titles) > MOST_TITLES or not isinstance(options, dict):
        raise ValueError("a profile is damaged")
    text = json.dumps(options, allow_nan=False)
    if len(text) > _MOST_BYTES_OF_ONE:
        raise ValueError("a profile is too large")
    return KeptProfile(values.needed(kept["name"]), tuple(map(values.line, titles)), text)


# ---- writing


def _mended(path: Path) -> KeptProfiles:
    """Read under the lock; put aside what is damaged, so that the file holds only what can be read."""
    profiles, damaged = _read(path)
    if damaged == 0:
        return KeptProfiles(profiles)
    try:
        aside = name_aside(path)
        copy_whole(path, aside)
    except OSError as error:
        raise disk_problem(error, path) from error
    _write(path, profiles)
    return KeptProfiles(profiles, f"{_told(path)} The file as it was is kept beside it as {shown_name(aside)}.")


def _told(path: Path) -> str:
    return f"Your list of loggers {shown_name(path)} is damaged; what can be read of it is used."


def _write(path: Path, profiles: Profiles) -> None:
    if len(profiles) > MOST_PROFILES:
        raise InputError(f"At most {MOST_PROFILES} loggers can be kept; delete one that is no longer needed.")
    content = {
        "format": FORMAT,
        "profiles": [
            {"name": each.name, "titles": list(each.titles), "options": json.loads(each.options)} for each in profiles
        ],
    }
    data = json.dumps(content, indent=1, allow_nan=False).encode("ascii")
    if len(data) > MOST_BYTES:
        raise InputError("The list of loggers is full; delete one that is no longer needed.")
    write_whole(path, data)
