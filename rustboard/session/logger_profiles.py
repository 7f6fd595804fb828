"""Named profiles of how the user's loggers write their files, and which of them fits a file."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from rustboard.board.cells import identity
from rustboard.store.logger_profiles import KeptProfile, KeptProfiles, Profiles, change_profiles, read_profiles
from rustboard.support import paths
from rustboard.support.problems import InputError
from rustboard.support.text import one_line
from rustboard.weather.logger_file.options import FileOptions, check_options, options_from_json, options_to_json


@dataclass(frozen=True, slots=True)
class LoggerProfile:
    """How one kind of logger's file is read.

    Attributes:
        name: given by the user.
        options: of the file it was kept for; `LoggerProfiles.fitting` fits them to another file.
    """

    name: str
    options: FileOptions


class LoggerProfiles:
    """The profiles as they are on the disk; every question reads them again, another window may have changed them.

    Attributes:
        problem: a sentence about what could not be read, since it was last asked; or an empty text.
    """

    def __init__(self, path: Path | None = None) -> None:
        """Use the file at ``path``, or the user's own."""
        self._path = path or paths.loggers_file()
        self.problem = ""

    def profiles(self) -> list[LoggerProfile]:
        """Return all profiles by name; one whose options make no sense is left out and told in `problem`.

        Raises:
            InputError: the file cannot be read.
        """
        found = []
        for each in self._heard(read_profiles(self._path)).profiles:
            try:
                found.append(LoggerProfile(each.name, options_from_json(json.loads(each.options))))
            except InputError as error:
                self.problem = f"The logger {each.name} cannot be used: {error.problem.what}"
        return sorted(found, key=lambda each: identity(each.name))

    def fitting(self, guessed: FileOptions) -> LoggerProfile | None:
        """Return the profile for a file with these columns, fitted to it, or None.

        Same titles in the same order and the same delimiter make a file fit. The lines above the titles may be more
        or fewer than in the file the profile was kept for: their number is as guessed, and so is a clock or logger
        that the file itself names where the profile has none. A file without titles fits no profile.

        Args:
            guessed: what `rustboard.weather.logger_file.guess.guess_options` made of the file.

        Raises:
            InputError: the profiles cannot be read.
        """
        titles = _titles(guessed)
        if not any(titles):
            return None
        for each in self.profiles():
            if _titles(each.options) == titles and each.options.delimiter == guessed.delimiter:
                return replace(each, options=_fitted(each.options, guessed))
        return None

    def keep(self, name: str, options: FileOptions) -> LoggerProfile:
        """Keep options under a name; a profile that has this name already gives way.

        Raises:
            InputError: the name is empty, no file can be read by the options, or the disk refused.
        """
        clean = one_line(name, 100)
        if not clean:
            raise InputError("Give the logger a name, such as garden.")
        check_options(options)
        kept = KeptProfile(clean, _titles(options), json.dumps(options_to_json(options)))

        def with_it(profiles: Profiles) -> Profiles:
            return (*_others(profiles, clean), kept)

        self._heard(change_profiles(self._path, with_it))
        return LoggerProfile(clean, options)

    def delete(self, name: str) -> None:
        """Delete the profile of this name; nothing happens when there is none.

        Raises:
            InputError: the disk refused.
        """

        def without_it(profiles: Profiles) -> Profiles:
            return tuple(_others(profiles, name))

        self._heard(change_profiles(self._path, without_it))

    def _heard(self, kept: KeptProfiles) -> KeptProfiles:
        self.problem = kept.problem
        return kept


def _others(profiles: Profiles, name: str) -> Sequence[KeptProfile]:
    return [each for each in profiles if identity(each.name) != identity(name)]


def _titles(options: FileOptions) -> tuple[str, ...]:
    return tuple(each.title for each in options.columns)


def _fitted(kept: FileOptions, guessed: FileOptions) -> FileOptions:
    return replace(
        kept,
        header_rows=guessed.header_rows,
        title_row=guessed.title_row,
        clock=kept.clock or guessed.clock,
        logger=kept.logger or guessed.logger,
    )
