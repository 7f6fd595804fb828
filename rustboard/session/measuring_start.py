"""What all photos are compared with: the first photo's light, and each coupon's own unrusted look."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Protocol

from rustboard.board.measured import Disturbance
from rustboard.board.record import BoardRecord
from rustboard.photo.evidence.board_look import LightPlan
from rustboard.photo.looks import CouponFrame, Motion, Rgb
from rustboard.photo.one_photo import (
    ALGORITHM,
    FIRST_LOOKS,
    BoardSeen,
    bases_of,
    first_picture,
    light_plan,
    see_board,
)
from rustboard.photo.packing import packed
from rustboard.photo.placement import Placement
from rustboard.session.measuring_cache import MeasuringCache, hash_of
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
    placement: Placement | None


@dataclass(slots=True)
class Start:
    """What all photos are compared with.

    Attributes:
        place: of the first photo in which the board is found, among all dated ones.
        frames: the coupons' grids.
        plan: what can witness the light.
        starts: for each coupon and each photo from the first on, the place of the photo its stretch begins with.
        board: the board's small picture in the first photo. motions: how the coupons hung in it.
        bases, pictures: unrusted looks and first pictures, by coupon and the place its stretch begins with.
    """

    place: int
    frames: Mapping[int, CouponFrame]
    plan: LightPlan
    starts: Mapping[int, Sequence[int]]
    board: Kept = field(default_factory=lambda: Kept(""))
    motions: tuple[tuple[int, Motion], ...] = ()
    bases: dict[tuple[int, int], Kept] = field(default_factory=dict)
    pictures: dict[tuple[int, int], Kept] = field(default_factory=dict)

    def begin_of(self, coupon: int, place: int) -> int:
        """Return the place of the photo with which the stretch begins in which a coupon's photo at a place lies."""
        return self.starts[coupon][place - self.place]


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
    names = _names(start, photos)
    if names is not None and _is_kept(start, names, cache):
        return start
    seen = _Seen(start, picture)
    first = seen.at(place)
    if first is None:
        raise InputError("The first photo of the board cannot be read; put a sound copy back, or take it off.")
    start.motions = tuple((key, hang.motion) for key, hang in first.hangs.items())
    for begin, those in _stretches(start):
        group = seen.group(begin, [starts[frame.coupon] for frame in those]) or [first]
        for key, base in bases_of(first.board, group, those, plan).items():
            start.bases[key, begin] = Kept("", packed(base))
            start.pictures[key, begin] = Kept("", packed(first_picture(group[0].cuts[key], frames[key])))
    start.board = Kept("", packed(first.board))
    _keep(start, _names(start, photos), cache)
    return start


def _stretches(start: Start) -> list[tuple[int, list[CouponFrame]]]:
    """Return the places with which a stretch begins, and the coupons whose stretch that is."""
    begins = sorted({each for places in start.starts.values() for each in places})
    return [(begin, [start.frames[key] for key in start.frames if begin in start.starts[key]]) for begin in begins]


def _names(start: Start, photos: Mapping[int, DatedPhoto]) -> dict[tuple[int, int], str] | None:
    """Return under which names the start is kept, by coupon and stretch; None while a photo is yet to be placed."""
    names: dict[tuple[int, int], str] = {}
    for begin, those in _stretches(start):
        same = [start.starts[frame.coupon] for frame in those]
        group = [
            place
            for place in range(begin, begin + FIRST_LOOKS)
            if place in photos and all(each[place - start.place] == begin for each in same)
        ]
        if any(photos[place].placement is None for place in (start.place, *group)):
            return None
        seen = [(photos[place].file.photo.sha256, photos[place].placement) for place in (start.place, *group)]
        common = (ALGORITHM, tuple(start.frames.values()), start.plan, seen)
        names.update({(frame.coupon, begin): hash_of((common, frame.coupon)) for frame in those})
    return names


def _is_kept(start: Start, names: Mapping[tuple[int, int], str], cache: Path) -> bool:
    """Take a start from the cache; return whether it is there, whole."""
    kept = MeasuringCache(cache)
    data = kept.look(_whole(names))
    if data is None or not all(kept.has_look(each) for name in names.values() for each in _both(name)):
        return False
    try:
        board, motions = json.loads(data)
        start.motions = tuple((int(key), Motion(*map(float, motion))) for key, motion in motions)
    except (ValueError, TypeError):
        return False
    start.board = Kept(str(board))
    start.bases = {place: Kept(_both(name)[0]) for place, name in names.items()}
    start.pictures = {place: Kept(_both(name)[1]) for place, name in names.items()}
    return kept.has_look(start.board.name)


def _keep(start: Start, names: Mapping[tuple[int, int], str] | None, cache: Path) -> None:
    """Put a start into the cache, under its lasting names where all its photos have their places."""
    for place, base in start.bases.items():
        picture = start.pictures[place].data or b""
        data = base.data or b""
        own, its = _both((names or {}).get(place) or hash_of((ALGORITHM, place, data, picture)))
        start.bases[place], start.pictures[place] = keep(cache, own, data), keep(cache, its, picture)
    data = start.board.data or b""
    start.board = keep(cache, hash_of((ALGORITHM, "board", data)), data)
    if names is not None and start.board.data is None:
        motions = [(key, (each.dx_mm, each.dy_mm, each.turn_deg, each.scale)) for key, each in start.motions]
        MeasuringCache(cache).keep_look(_whole(names), json.dumps([start.board.name, motions]).encode())


def _both(name: str) -> tuple[str, str]:
    """Return the names of a coupon's unrusted look and of its first picture."""
    return name, hash_of((name, "picture"))


def _whole(names: Mapping[tuple[int, int], str]) -> str:
    return hash_of(("start", sorted(names.items())))


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
