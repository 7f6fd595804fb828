"""A list of the user's own, kept in one JSON file beside the settings and shared by all windows.

Written whole under a lock that all windows take in turn, so that none loses what another has just kept. What is
damaged is put aside under a name of its own before anything is written, and what is good stays.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, Generic, NamedTuple, TypeVar

from rustboard.store.shared_file import name_aside, taking_turns
from rustboard.support.files import copy_whole, disk_problem, read_bounded, shown_name, write_whole
from rustboard.support.problems import InputError

_LOG = logging.getLogger(__name__)
_WAIT_SECONDS: Final = 5.0
_DAMAGED = (ValueError, TypeError, KeyError, OverflowError, RecursionError)

T = TypeVar("T")


class Sentences(NamedTuple):
    """What is said of a list.

    Attributes:
        newer: a newer version of the program wrote it. too_many, too_large: it cannot hold more.
        damaged: what of it is damaged, told from how many items are (None = the file is none of ours) and its name.
    """

    newer: str
    too_many: str
    too_large: str
    damaged: Callable[[int | None, str], str]


@dataclass(frozen=True, slots=True)
class KeptList(Generic[T]):
    """How one kind of list is kept.

    Attributes:
        what: it is called when a window waits for its turn.
        key: of the list in the file. format: number of the way it is written.
        most, most_bytes: items and bytes it holds at most.
        item_from, item_to: JSON to item and back; ``item_from`` raises ValueError and the like for what is damaged.
        id_of: what tells two items apart; of two alike the first is good.
    """

    what: str
    key: str
    format: int
    most: int
    most_bytes: int
    item_from: Callable[[Any], T]
    item_to: Callable[[T], object]
    id_of: Callable[[T], Hashable]
    sentences: Sentences

    def read(self, path: Path) -> tuple[tuple[T, ...], str]:
        """Return what can be read, and a sentence about what cannot or an empty text; that is put aside.

        Raises:
            InputError: the file cannot be read just now, or a newer version of the program wrote it.
        """
        items, damaged = self._read(path)
        if damaged == 0:
            return items, ""
        try:
            with taking_turns(path, self.what, _WAIT_SECONDS):
                return self._mended(path)
        except InputError as error:
            _LOG.info("the damaged %s cannot be put aside: %s", self.what, error)
            told = self.sentences.damaged(damaged, shown_name(path))
            return items, f"{told} It could not be put aside: {error}"

    def change(self, path: Path, change: Callable[[tuple[T, ...]], tuple[T, ...]]) -> tuple[tuple[T, ...], str]:
        """Read the list, let ``change`` say what it holds from now on, and write that; as `read`.

        Args:
            path: the file; it need not be there yet.
            change: called with what the list holds at this moment, whoever wrote it; it may refuse with InputError.

        Raises:
            InputError: ``change`` or the disk refused; the file is as it was.
        """
        with taking_turns(path, self.what, _WAIT_SECONDS):
            before, problem = self._mended(path)
            items = change(before)
            if items != before:
                self._write(path, items)
            return items, problem

    def _read(self, path: Path) -> tuple[tuple[T, ...], int | None]:
        """Return the good items and how many are damaged: 0 = none, None = the file is none of ours at all."""
        try:
            data = self._bytes(path)
            if data is None:
                return (), 0
            content = json.loads(data)
            number, kept = content["format"], content[self.key]
            if isinstance(number, int) and not isinstance(number, bool) and number > self.format:
                raise InputError(self.sentences.newer, file=shown_name(path))
            if number != self.format or not isinstance(kept, list) or len(kept) > self.most:
                return (), None
        except _DAMAGED:
            return (), None
        items: dict[Hashable, T] = {}
        for each in kept:
            try:
                item = self.item_from(each)
                items.setdefault(self.id_of(item), item)
            except _DAMAGED as error:
                _LOG.info("an item of the %s is damaged: %s", self.what, error)
        return tuple(items.values()), len(kept) - len(items)

    def _bytes(self, path: Path) -> bytes | None:
        """Return what is in the file; None when there is no file yet."""
        try:
            return read_bounded(path, self.most_bytes)
        except InputError as error:
            if isinstance(error.__cause__, FileNotFoundError):
                return None
            if error.__cause__ is None:  # too large: nothing that this program writes
                raise ValueError("the file is too large") from None
            raise

    def _mended(self, path: Path) -> tuple[tuple[T, ...], str]:
        """Read under the lock; put aside what is damaged, so that the file holds only what can be read."""
        items, damaged = self._read(path)
        if damaged == 0:
            return items, ""
        try:
            aside = name_aside(path)
            copy_whole(path, aside)
        except OSError as error:
            raise disk_problem(error, path) from error
        self._write(path, items)
        told = self.sentences.damaged(damaged, shown_name(path))
        return items, f"{told} The file as it was is kept beside it as {shown_name(aside)}."

    def _write(self, path: Path, items: tuple[T, ...]) -> None:
        if len(items) > self.most:
            raise InputError(self.sentences.too_many)
        content = {"format": self.format, self.key: [self.item_to(each) for each in items]}
        data = json.dumps(content, indent=1, allow_nan=False).encode("ascii")
        if len(data) > self.most_bytes:
            raise InputError(self.sentences.too_large)
        write_whole(path, data)
