"""To which inspection a photo belongs: by its time, whatever the order in which photos are added.

A photo belongs to the nearest inspection of its calendar day. On a day without one, photos make inspections of their
own: those taken within half an hour of each other share one, at the time of the earliest. Such an inspection is
*loose* until somebody grades at it or edits it: as photos come, go or change their times, it moves, joins another or
goes. All others are *fixed*.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Final

from rustboard.board.model import Inspection, Photo
from rustboard.operations.lookup import inspection_was_used
from rustboard.store.tables import INSPECTIONS, PHOTOS
from rustboard.store.transaction import Transaction

FROM_A_PHOTO: Final = "Made from a photo."
"""The note of an inspection that photos made."""

TOGETHER: Final = timedelta(minutes=30)


@dataclass(slots=True)
class Loose:
    """The inspections that photos made and that still follow them; found before anything is changed.

    Attributes:
        inspections: by key, as they were.
    """

    inspections: dict[int, Inspection] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Settled:
    """How many inspections were made, moved and taken away."""

    made: int = 0
    moved: int = 0
    removed: int = 0


def loose_inspections(tx: Transaction) -> Loose:
    """Return the inspections that still follow the photos that made them."""
    return Loose({each.key: each for each in tx.find(INSPECTIONS, note=FROM_A_PHOTO) if _is_loose(tx, each)})


def _is_loose(tx: Transaction, inspection: Inspection) -> bool:
    times = [each.taken for each in tx.find(PHOTOS, inspection=inspection.key) if each.taken is not None]
    edited = inspection.grader or inspection.light or inspection.surface or min(times, default=None) != inspection.at
    return not edited and not inspection_was_used(tx, inspection.key)


def settle(tx: Transaction, loose: Loose, photo_keys: Iterable[int] = ()) -> Settled:
    """Tie photos anew by their times, and let the loose inspections follow.

    Args:
        tx: of the action.
        loose: what `loose_inspections` found before the photos were added or changed.
        photo_keys: the photos to tie; one without a time is tied to nothing.
    """
    wanted = [photo for photo in (tx.get(PHOTOS, key) for key in photo_keys) if photo is not None]
    before = {photo.key: photo.inspection for photo in wanted}
    for photo in wanted:
        if photo.inspection is not None:
            tx.put(PHOTOS, replace(photo, inspection=None))
    pool = _Pool(tx, loose)
    for photo in sorted(wanted, key=lambda each: (each.taken or datetime.max, each.sha256)):
        if photo.taken is not None:
            pool.tie(photo, photo.taken, before[photo.key])
    return pool.finish()


class _Pool:
    """Fixed and loose inspections while photos are being tied."""

    def __init__(self, tx: Transaction, loose: Loose) -> None:
        self._tx = tx
        self._loose = loose.inspections
        self._members: dict[int, list[Photo]] = {key: tx.find(PHOTOS, inspection=key) for key in self._loose}
        self._days: defaultdict[object, list[Inspection]] = defaultdict(list)
        for each in tx.find(INSPECTIONS):
            if each.key not in self._loose:
                self._days[each.at.date()].append(each)
        self._made: set[int] = set()

    def tie(self, photo: Photo, taken: datetime, before: int | None) -> None:
        """Tie one photo that is tied to nothing."""
        fixed = self._days.get(taken.date())
        if fixed:
            nearest = min(fixed, key=lambda each: (abs(each.at - taken), each.at, each.key))
            self._tx.put(PHOTOS, replace(photo, inspection=nearest.key))
            return
        near = [key for key, members in self._members.items() if _near(members, taken)]
        key = near[0] if near else self._empty_one(taken, before)
        for other in near[1:]:  # this photo stands between them
            for each in self._members[other]:
                self._join(each, key)
            self._members[other] = []
        self._join(photo, key)

    def _join(self, photo: Photo, key: int) -> None:
        tied = replace(photo, inspection=key)
        self._tx.put(PHOTOS, tied)
        self._members.setdefault(key, []).append(tied)

    def _empty_one(self, taken: datetime, before: int | None) -> int:
        """Return a loose inspection without photos: the one this photo had, so that it moves along, or a new one."""
        if before in self._members and not self._members[before]:
            return before
        # Not through `put_inspection`: another one may stand at this time that is about to move.
        key = self._tx.put(INSPECTIONS, Inspection(taken, note=FROM_A_PHOTO))
        self._made.add(key)
        self._members[key] = []
        return key

    def finish(self) -> Settled:
        """Put every loose inspection at the time of its earliest photo; those without photos go."""
        moved = removed = 0
        for key, members in self._members.items():
            inspection = self._tx.get(INSPECTIONS, key)
            if inspection is None:
                continue
            if not members:
                self._tx.drop(INSPECTIONS, key)
                removed += key not in self._made
                self._made.discard(key)
                continue
            at = min((each.taken for each in members if each.taken is not None), default=inspection.at)
            if at != inspection.at:
                self._tx.put(INSPECTIONS, replace(inspection, at=at))
                moved += key not in self._made
        return Settled(len(self._made), moved, removed)


def _near(members: Collection[Photo], taken: datetime) -> bool:
    return any(each.taken is not None and abs(each.taken - taken) <= TOGETHER for each in members)
