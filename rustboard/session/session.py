"""One open board: every change goes through `Session.do`, and is on the disk when that returns."""

from __future__ import annotations

import logging
from pathlib import Path
from typing import Any

from rustboard.board.measured import Measurement
from rustboard.board.model import Grading
from rustboard.board.record import BoardRecord
from rustboard.operations.blind_steps import FINAL_STEPS
from rustboard.session.changes import ChangeFeed, ChangeSet
from rustboard.session.following import FIELDS, WITH_HISTORY, follow
from rustboard.session.selection import Selection
from rustboard.store.board_store import BoardStore, Operation
from rustboard.store.folder import photo_path
from rustboard.store.journal import Direction
from rustboard.store.transaction import RowChange
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary

_LOG = logging.getLogger(__name__)


class Session:
    """One open board.

    Attributes:
        record: what the board holds, kept in step with the disk. Read it; change it only through `do`.
        feed: where changes are told.
        selection: what the window looks at.
        who: name written into the audit.
    """

    def __init__(self, path: Path, *, who: str = "", clock: Clock = wall_clock, read_only: bool = False) -> None:
        """Open a board (its folder or its board file).

        Raises:
            InputError: there is no sound board.
        """
        self._clock = clock
        self._store = BoardStore(path, now=clock(), read_only=read_only)
        self.who = who
        self.feed = ChangeFeed()
        self.selection = Selection()
        try:
            self._outside = self._store.outside_changes()
            self.record: BoardRecord = self._store.read()
        except BaseException:
            self._store.close()
            raise

    @property
    def folder(self) -> Path:
        """The board folder."""
        return self._store.folder

    @property
    def file(self) -> Path:
        """The board file: one of the dated copies when that is what was opened."""
        return self._store.file

    @property
    def read_only_reason(self) -> str:
        """Why this window may only read, or an empty text."""
        return self._store.read_only_reason

    def close(self) -> None:
        """Close the board."""
        self._store.close()

    def do(self, operation: Operation, *arguments: Any, origin: object = None, joins: int = 0) -> ChangeSet:
        """Run an operation; when this returns, its result is on the disk and in `record`.

        With ``joins``, a key from `newest_step`, it is one step with that to undo while nothing else came between.

        Raises:
            InputError: the operation or the disk refused; nothing was changed.
        """
        self.feed.refuse_inside_listener()
        summary, changes = self._store.apply(operation, *arguments, now=self._clock(), who=self.who, joins=joins)
        return self._told(summary, changes, "do", origin)

    def newest_step(self) -> int:
        """Return the key of the step that undo would take back, 0 when there is none."""
        return self._store.newest_step()

    def undo(self, origin: object = None) -> ChangeSet | None:
        """Take the last step back, also one from before the program was last closed; None when there is none.

        Raises:
            InputError: the step cannot be taken back, or the disk refused.
        """
        return self._step("undo", origin)

    def redo(self, origin: object = None) -> ChangeSet | None:
        """Do the last undone step again; None when there is none."""
        return self._step("redo", origin)

    def undo_summary(self) -> Summary | None:
        """Return what undo would take back, or None when there is nothing, or nothing that can be read."""
        summary = _next_step(self._store, "undo")
        return None if summary is not None and summary.pattern in FINAL_STEPS else summary

    def redo_summary(self) -> Summary | None:
        """Return what redo would do, or None when there is nothing, or nothing that can be read."""
        return _next_step(self._store, "redo")

    def can_go_back(self) -> bool:
        """Return whether steps, done or undone since this window opened the board, can be taken back."""
        try:
            direction = None if self.read_only_reason else self._store.step_towards_opening()
            return direction is not None and not self._is_final(direction)
        except InputError as error:
            _LOG.info("the way back to the opening cannot be read: %s", error)
            return False

    def go_back_to_opening(self) -> int:
        """Take back, step by step, all that was done since the board was opened; return how many steps.

        Steps from before the opening that were undone here are done again, as far as no other step has taken
        their place.
        """
        steps = 0
        while not self.read_only_reason and (direction := self._store.step_towards_opening()) is not None:
            if self._is_final(direction) or self._step(direction, None) is None:
                break  # what was revealed stays so; or another window took it back first
            steps += 1
        return steps

    def gradings(self, coupon: int, inspection: int) -> list[Grading]:
        """Return every grading of a coupon at an inspection, superseded and withdrawn ones too, oldest first."""
        return self._store.gradings(coupon, inspection)

    def measurements(self, photo: int, coupon: int) -> list[Measurement]:
        """Return every measurement of a coupon in a photo, superseded ones too, oldest first."""
        return self._store.measurements(photo, coupon)

    def weather_content(self, sha256: str) -> bytes:
        """Return the readings of a logger's file as the board keeps them.

        Raises:
            InputError: they are damaged.
        """
        return self._store.weather_content(sha256)

    def audit(self, most: int = 1_000) -> list[tuple[str, str, str, Summary]]:
        """Return the newest audit lines, newest first: time, who, operation, what."""
        return self._store.audit(most)

    def photo_file(self, key: int) -> Path | None:
        """Return where a photo is, or None when it is missing or recorded outside the board folder."""
        photo = self.record.photos.get(key)
        path = None if photo is None else photo_path(self.folder, photo.file)
        return path if path is not None and path.is_file() else None

    def keep_alive(self) -> None:
        """Renew the note that says who has the board open; call it about once a minute."""
        self._store.renew_lock(self._clock())

    def photos_came_back(self, keys: frozenset[int]) -> None:
        """Tell everyone that the files of these photos are in the folder again; the board itself is as it was."""
        if keys:
            said = Summary("Photos were found again")
            self._publish(ChangeSet({"photo": keys}, frozenset(self.record.coupons), said, "outside"))

    def look_for_outside_changes(self) -> bool:
        """Read the board again when another window has changed it; return whether it had."""
        version = self._store.outside_changes()
        if version == self._outside:
            return False
        self.record = self._store.read()
        self._outside = version
        tables = {name: frozenset(getattr(self.record, field)) for name, field in FIELDS.items()}
        tables["board"] = frozenset({1})
        tables.update((name, frozenset({0})) for name in WITH_HISTORY)
        self._publish(
            ChangeSet(tables, frozenset(self.record.coupons), Summary("Another window changed the board"), "outside")
        )
        return True

    def _step(self, direction: Direction, origin: object) -> ChangeSet | None:
        self.feed.refuse_inside_listener()
        if self._is_final(direction):
            raise InputError(
                "What was revealed cannot be hidden again, so this is not taken back; correct or withdraw grades "
                "instead."
            )
        done = self._store.step(direction, now=self._clock(), who=self.who)
        return None if done is None else self._told(*done, direction, origin)

    def _is_final(self, direction: Direction) -> bool:
        """Return whether the next step back is one that is never taken back."""
        summary = self._store.next_step(direction) if direction == "undo" else None
        return summary is not None and summary.pattern in FINAL_STEPS

    def _told(self, summary: Summary, changes: list[RowChange], direction: str, origin: object) -> ChangeSet:
        touched: dict[str, set[int]] = {}
        for each in changes:
            touched.setdefault(each.table, set()).add(each.key)
        regraded, inspections = follow(self.record, changes)
        coupons = touched.get("coupon", set()) | regraded
        tables = {table: frozenset(keys) for table, keys in touched.items()}
        result = ChangeSet(tables, frozenset(coupons), summary, direction, origin, frozenset(inspections))
        if tables:
            self._publish(result)
        return result

    def _publish(self, changes: ChangeSet) -> None:
        forgotten = self.selection.keep_only(self.record.coupons, self.record.inspections)
        self.feed.publish(changes)
        if forgotten:
            self.selection.tell()


def _next_step(store: BoardStore, direction: Direction) -> Summary | None:
    # Asked whenever the window shows how things stand: a disk that refuses is told to whoever does something.
    try:
        return store.next_step(direction)
    except InputError as error:
        _LOG.info("the next step cannot be read: %s", error)
        return None
