"""Matched treatments as the user confirmed them, found again for the same boards in any order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from rustboard.board.record import BoardRecord
from rustboard.findings.boards.matching import Common, Matching, check_matching, suggest
from rustboard.findings.boards.matching_changes import judged
from rustboard.store.board_matchings import (
    MOST_MATCHINGS,
    KeptMatching,
    KeptRow,
    Matchings,
    change_matchings,
    read_matchings,
)
from rustboard.support import paths
from rustboard.support.problems import InputError


class BoardMatchings:
    """The matchings as they are on the disk; every question reads them again, another window may have changed them.

    Attributes:
        problem: a sentence about what could not be read, since it was last asked; or an empty text.
    """

    def __init__(self, path: Path | None = None) -> None:
        """Use the file at ``path``, or the user's own."""
        self._path = path or paths.matchings_file()
        self.problem = ""

    def confirmed(self, folders: Sequence[Path], records: Sequence[BoardRecord]) -> Matching | None:
        """Return what the user confirmed for these boards, or None.

        None also when it no longer fits: when a board has another treatment now, or lost one.

        Args:
            folders: of the boards, each once.
            records: the boards, in the same order.

        Raises:
            InputError: the file cannot be read.
        """
        kept = read_matchings(self._path)
        self.problem = kept.problem
        wanted = [_text(each) for each in folders]
        found = next((each for each in kept.matchings if each.of == frozenset(wanted)), None)
        return None if found is None else _fitted(found, wanted, records)

    def confirm(self, folders: Sequence[Path], matching: Matching) -> None:
        """Keep a matching; what was kept for the same boards gives way. Of very many the oldest goes.

        Raises:
            InputError: the disk refused.
        """
        rows = tuple(KeptRow(each.name, each.treatments, each.controls) for each in matching.common)
        mine = KeptMatching(tuple(map(_text, folders)), rows)

        def with_it(matchings: Matchings) -> Matchings:
            others = [each for each in matchings if each.of != mine.of]
            return (*others[-(MOST_MATCHINGS - 1) :], mine)

        self.problem = change_matchings(self._path, with_it).problem

    def follow_move(self, old: Path, new: Path) -> None:
        """Let what was confirmed for a board's folder hold for the folder that it is now.

        Args:
            old: as it was, with links followed before it was moved.
            new: as it is.

        Raises:
            InputError: the disk refused.
        """
        before, after = str(old), _text(new)

        def moved(matchings: Matchings) -> Matchings:
            changed = {
                each.of: replace(each, boards=tuple(after if one == before else one for one in each.boards))
                for each in matchings
                if after not in each.of  # of a board that was in this place once
            }
            return tuple(changed.values())

        if any(before in each.of for each in read_matchings(self._path).matchings):
            self.problem = change_matchings(self._path, moved).problem


def _fitted(kept: KeptMatching, wanted: Sequence[str], records: Sequence[BoardRecord]) -> Matching | None:
    order = [kept.boards.index(each) for each in wanted]
    rows = tuple(
        Common(each.name, tuple(each.treatments[at] for at in order), "chosen", controls=each.controls)
        for each in kept.rows
    )
    fresh = suggest(records)
    found = replace(fresh, common=rows)
    try:
        check_matching(found, records)
    except InputError:
        return None
    if _all_treatments(found) != _all_treatments(fresh):
        return None
    controls = [each for each in fresh.common if each.controls]  # what is known of them now
    return judged(replace(found, common=(*(each for each in rows if not each.controls), *controls)), records)


def _all_treatments(matching: Matching) -> set[tuple[int, str, bool]]:
    return {
        (number, treatment, each.controls)
        for each in matching.common
        for number, treatment in enumerate(each.treatments)
        if treatment
    }


def _text(folder: Path) -> str:
    try:
        return str(folder.resolve())
    except (OSError, RuntimeError):
        return str(folder.absolute())
