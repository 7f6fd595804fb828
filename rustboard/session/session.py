"""One open board: every change goes through `Session.do`, and is on the disk when that returns."""

from __future__ import annotations

import logging
from pathlib import Path
from typing import Any

from rustboard.board.measured import Measurement
from rustboard.board.model import Grading
from rustboard.board.record import BoardRecord
from rustboard.session.changes import ChangeFeed, ChangeSet
from rustboard.session.selection import Selection
from rustboard.store.board_store import BoardStore, Operation
from rustboard.store.folder import photo_path
from rustboard.store.journal import Direction
from rustboard.store.measuring_tables import MEASUREMENTS
from rustboard.store.tables import BY_NAME, GRADINGS, BoardRow
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
        """Take the last step back, also one from before the program was last closed; None when there is none."""
        return self._step("undo", origin)

    def redo(self, origin: object = None) -> ChangeSet | None:
        """Do the last undone step again; None when there is none."""
        return self._step("redo", origin)

    def undo_summary(self) -> Summary | None:
        """Return what undo would take back, or None when there is nothing, or nothing that can be read."""
        return _next_step(self._store, "undo")

    def redo_summary(self) -> Summary | None:
        """Return what redo would do, or None when there is nothing, or nothing that can be read."""
        return _next_step(self._store, "redo")

    def can_go_back(self) -> bool:
        """Return whether steps, done or undone since this window opened the board, can be taken back."""
        try:
            return not self.read_only_reason and self._store.step_towards_opening() is not None
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
            if self._step(direction, None) is None:
                break  # another window took it back first
            steps += 1
        return steps

    def gradings(self, coupon: int, inspection: int) -> list[Grading]:
        """Return every grading of a coupon at an inspection, superseded and withdrawn ones too, oldest first."""
        return self._store.gradings(coupon, inspection)

    def measurements(self, photo: int, coupon: int) -> list[Measurement]:
        """Return every measurement of a coupon in a photo, superseded ones too, oldest first."""
        return self._store.measurements(photo, coupon)

    def audit(self) -> list[tuple[str, str, str, Summary]]:
        """Return the newest audit lines, newest first: time, who, operation, what."""
        return self._store.audit()

    def photo_file(self, key: int) -> Path | None:
        """Return where a photo is, or None when it is missing or recorded outside the board folder."""
        photo = self.record.photos.get(key)
        path = None if photo is None else photo_path(self.folder, photo.file)
        return path if path is not None and path.is_file() else None

    def keep_alive(self) -> None:
        """Renew the note that says who has the board open; call it about once a minute."""
        self._store.renew_lock(self._clock())

    def look_for_outside_changes(self) -> bool:
        """Read the board again when another window has changed it; return whether it had."""
        version = self._store.outside_changes()
        if version == self._outside:
            return False
        self.record = self._store.read()
        self._outside = version
        tables = {name: frozenset(getattr(self.record, field)) for name, field in _FIELDS.items()}
        tables["board"] = frozenset({1})
        tables["grading"] = tables["measurement"] = frozenset({0})
        self._publish(
            ChangeSet(tables, frozenset(self.record.coupons), Summary("Another window changed the board"), "outside")
        )
        return True

    def _step(self, direction: Direction, origin: object) -> ChangeSet | None:
        self.feed.refuse_inside_listener()
        done = self._store.step(direction, now=self._clock(), who=self.who)
        return None if done is None else self._told(*done, direction, origin)

    def _told(self, summary: Summary, changes: list[RowChange], direction: str, origin: object) -> ChangeSet:
        touched: dict[str, set[int]] = {}
        for each in changes:
            touched.setdefault(each.table, set()).add(each.key)
        regraded, inspections = self._refresh_gradings(changes)
        coupons = touched.get("coupon", set()) | regraded
        for each in changes:
            self._refresh(each)
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

    def _refresh(self, change: RowChange) -> None:
        # From the rows as written, not by reading again: after the commit nothing is left that the disk can refuse.
        if change.table == GRADINGS.name:
            return
        if change.table == MEASUREMENTS.name:
            self._refresh_measurement(change)
            return
        value = _value_after(change)
        if isinstance(value, BoardRow):
            self.record.board, self.record.markers = value.board, value.markers
            return
        held: dict[int, Any] = getattr(self.record, _FIELDS[change.table])
        if value is None:
            held.pop(change.key, None)
        else:
            held[change.key] = value

    def _refresh_measurement(self, change: RowChange) -> None:
        # There may be many thousands: rows that do not count any more are not read.
        measured = self.record.measured
        if change.before is not None:
            photo, coupon = (change.before[each] for each in _MEASURED_OF)
            held = measured.get(photo, {})
            if held.get(coupon) is not None and held[coupon].key == change.key:
                del held[coupon]
                if not held:
                    del measured[photo]
        if change.after is not None and change.after[_MEASURED_STATE] == "current":
            new: Measurement = _value_after(change)
            measured.setdefault(new.photo, {})[new.coupon] = new

    def _refresh_gradings(self, changes: list[RowChange]) -> tuple[set[int], set[int]]:
        """Bring the current grades up to date; return the coupons and the inspections they are of."""
        # Rows of the same coupon and inspection come and go in one step; what leaves must leave first.
        gradings = [each for each in changes if each.table == GRADINGS.name]
        befores = [GRADINGS.read(each.before) for each in gradings if each.before is not None]
        afters = [GRADINGS.read(each.after) for each in gradings if each.after is not None]
        current = self.record.current
        for old in befores:
            held = current.get(old.coupon, {}).get(old.inspection)
            if held is not None and held.key == old.key:
                del current[old.coupon][old.inspection]
                if not current[old.coupon]:
                    del current[old.coupon]
        for new in afters:
            if new.state == "current":
                current.setdefault(new.coupon, {})[new.inspection] = new
        changed = (*befores, *afters)
        return {each.coupon for each in changed}, {each.inspection for each in changed}


def _value_after(change: RowChange) -> Any:
    """Return what a row means now, or None where it is gone."""
    if change.after is None or change.value is not None:
        return change.value
    return BY_NAME[change.table].read(change.after)


def _next_step(store: BoardStore, direction: Direction) -> Summary | None:
    # Asked whenever the window shows how things stand: a disk that refuses is told to whoever does something.
    try:
        return store.next_step(direction)
    except InputError as error:
        _LOG.info("the next step cannot be read: %s", error)
        return None


_MEASURED_OF = tuple(1 + MEASUREMENTS.columns.index(each) for each in ("photo", "coupon"))
_MEASURED_STATE = 1 + MEASUREMENTS.columns.index("state")

_FIELDS = {
    "treatment": "treatments",
    "coupon": "coupons",
    "inspection": "inspections",
    "photo": "photos",
    "axis_label": "axis_labels",
    "recipe": "recipes",
    "question": "questions",
    "layout": "layouts",
    "lot": "lots",
    "calendar": "calendars",
    "stroke": "strokes",
    "excluded_area": "excluded_areas",
    "card": "cards",
    "disturbance": "disturbances",
}
