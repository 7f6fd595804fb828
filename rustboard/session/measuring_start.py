"""What all photos are compared with: the first photo's light, and each coupon's own unrusted look."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Protocol

from rustboard.board.measured import Disturbance
from rustboard.board.record import BoardRecord
from rustboard.photo.evidence.board_look import LightPlan
from rustboard.photo.looks import CouponFrame, Motion, Rgb
from rustboard.photo.one_photo import ALGORITHM, FIRST_LOOKS, BoardSeen, bases_of, light_plan, see_board
from rustboard.photo.packing import packed
from rustboard.photo.placement import Placement
from rustboard.session.measuring_cache import hash_of
from rustboard.session.measuring_plan import stretch_starts
from rustboard.session.measuring_tasks import Kept, keep
from rustboard.session.photo_files import PhotoFile
from rustboard.support.problems import InputError

Picture = Callable[[int], "tuple[Rgb, Placement] | None"]
"""Returns the photo at a place in time, decoded, and where the board is in it; None when it is not to be had."""


class DatedPhoto(Protocol):
    """A photo with its time."""

    file: PhotoFile
    when: datetime


@dataclass(slots=True)
class Start:
    """What all photos are compared with.

    Attributes:
        place: of the first photo in which the board is found, among all dated ones.
        frames: the coupons' grids.
        plan: what can witness the light.
        starts: for each coupon and each photo from the first on, the place of the photo its stretch begins with.
        board: the board's small picture in the first photo. motions: how the coupons hung in it.
        bases: unrusted looks, by coupon and the place its stretch begins with.
    """

    place: int
    frames: Mapping[int, CouponFrame]
    plan: LightPlan
    starts: Mapping[int, Sequence[int]]
    board: Kept = field(default_factory=lambda: Kept(""))
    motions: tuple[tuple[int, Motion], ...] = ()
    bases: dict[tuple[int, int], Kept] = field(default_factory=dict)

    def base_of(self, coupon: int, place: int) -> Kept:
        """Return a coupon's unrusted look for the photo at a place."""
        return self.bases[coupon, self.starts[coupon][place - self.place]]


def plan_of(record: BoardRecord, frames: Mapping[int, CouponFrame]) -> LightPlan:
    """Return what on a board can witness the light; a board without a size is as large as its coupons need."""
    board = record.board
    outlines = [frame.outline_mm for frame in frames.values()]
    cards = [each.outline_mm for each in record.cards.values()]
    right = max(x for outline in outlines for x, _ in outline)
    bottom = max(y for outline in outlines for _, y in outline)
    return light_plan(board.width_mm or right, board.height_mm or bottom, outlines, record.markers, cards)


def made_start(
    place: int,
    frames: Mapping[int, CouponFrame],
    happened: Mapping[int, Sequence[Disturbance]],
    plan: LightPlan,
    photos: Mapping[int, DatedPhoto],
    picture: Picture,
    cache: Path,
) -> Start:
    """Return the start of a run, from the first photo and the first few of every stretch.

    Args:
        place: of the first photo.
        frames: the coupons' grids.
        happened: the day log's entries about each coupon.
        plan: what can witness the light.
        photos: all photos from the first on, by place.
        picture: how a photo is read.
        cache: folder of what can be made again.

    Raises:
        InputError: the first photo cannot be read.
    """
    times = [photos[each].when for each in sorted(photos)]
    starts = {key: [place + each for each in stretch_starts(happened[key], times)] for key in frames}
    start = Start(place, frames, plan, starts)
    seen = _Seen(start, picture)
    first = seen.at(place)
    if first is None:
        raise InputError("The first photo of the board cannot be read; put it back, or place another one.")
    start.board = _kept(cache, "board", photos[place], packed(first.board))
    start.motions = tuple((key, hang.motion) for key, hang in first.hangs.items())
    for begin in sorted({each for places in starts.values() for each in places}):
        those = [frames[key] for key in frames if begin in starts[key]]
        group = seen.group(begin, [starts[frame.coupon] for frame in those]) or [first]
        for key, base in bases_of(first.board, group, those, plan).items():
            start.bases[key, begin] = _kept(cache, f"base {key}", photos[begin], packed(base))
    return start


def _kept(cache: Path, what: str, photo: DatedPhoto, data: bytes) -> Kept:
    return keep(cache, hash_of((ALGORITHM, what, photo.file.photo.sha256, data)), data)


class _Seen:
    """The first photos, each looked at once."""

    def __init__(self, start: Start, picture: Picture) -> None:
        self._start, self._picture = start, picture
        self._seen: dict[int, BoardSeen | None] = {}

    def at(self, place: int) -> BoardSeen | None:
        """Return the board in a photo, or None when it is not to be had."""
        if place not in self._seen:
            found = self._picture(place)
            frames = tuple(self._start.frames.values())
            self._seen[place] = (
                None if found is None else see_board(*found, frames, self._start.plan, dict(self._start.motions))
            )
        return self._seen[place]

    def group(self, begin: int, starts: Iterable[Sequence[int]]) -> list[BoardSeen]:
        """Return the first photos, at most `FIRST_LOOKS`, of a stretch that begins at a place."""
        first, group = self._start.place, list[BoardSeen]()
        for place in range(begin, first + min(len(each) for each in starts)):
            if any(each[place - first] != begin for each in starts):
                break
            found = self.at(place)
            if found is not None:
                group.append(found)
            if len(group) == FIRST_LOOKS:
                break
        return group
