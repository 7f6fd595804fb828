"""The parts of a measurement that may run in another process: values in, values out, and files in the cache.

What is large goes through the cache; where the cache cannot be written, it comes along in the answer.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np

from rustboard.board.measured import PhotoPlacing
from rustboard.board.model import Board, Marker
from rustboard.photo.contrast import LITTLE, colour_contrast
from rustboard.photo.cutting import significant
from rustboard.photo.decode import upright_pixels
from rustboard.photo.evidence.base import Base
from rustboard.photo.evidence.board_look import BoardLook, LightPlan
from rustboard.photo.finding.board import find_board
from rustboard.photo.finding.view import PlacedView
from rustboard.photo.hanging.fit import Hang
from rustboard.photo.hanging.presence import Presence
from rustboard.photo.judging.judge import Look, Reset, judge_coupon
from rustboard.photo.judging.strokes import Stroke
from rustboard.photo.looks import CouponFinding, CouponFrame, Evidence, Motion, Rgb
from rustboard.photo.one_photo import ALGORITHM, FirstPicture, evidence_in, see_board, who_is_there
from rustboard.photo.packing import packed_evidence, unpacked, unpacked_evidence
from rustboard.photo.placement import Placement
from rustboard.photo.source import Source, source_of
from rustboard.session.measuring_cache import GoneFromCacheError, MeasuringCache, hash_of
from rustboard.session.photo_files import PhotoFile
from rustboard.support.problems import InputError, Problem


@dataclass(frozen=True, slots=True)
class Kept:
    """Something packed: in the cache under its name, or here where the cache could not keep it."""

    name: str
    data: bytes | None = None

    def read(self, cache: Path) -> bytes | None:
        """Return it, or None when it is gone."""
        return self.data if self.data is not None else MeasuringCache(cache).look(self.name)


def keep(cache: Path, name: str, data: bytes) -> Kept:
    """Keep something packed."""
    return Kept(name) if MeasuringCache(cache).keep_look(name, data) else Kept(name, data)


@dataclass(frozen=True, slots=True)
class Finder:
    """By what the board is found in a photo."""

    board: Board
    markers: tuple[Marker, ...]
    views: tuple[PlacedView, ...] = ()


@dataclass(frozen=True, slots=True)
class LookTask:
    """One photo to look at.

    Attributes:
        placement: where the board is, or None when it is to be found.
        first: the board's small picture in the first photo.
        bases, pictures: the unrusted look and the first picture of each coupon, in the order of ``frames``.
        motions: how the coupons hung in the first photo.
        fresh: do not use what was kept of this photo before.
    """

    file: PhotoFile
    placement: Placement | None
    finder: Finder
    frames: tuple[CouponFrame, ...]
    plan: LightPlan
    first: Kept
    bases: tuple[Kept, ...]
    pictures: tuple[Kept, ...]
    motions: tuple[tuple[int, Motion], ...]
    cache: Path
    fresh: bool = False


@dataclass(frozen=True, slots=True)
class CouponLook:
    """One coupon in one photo.

    Attributes:
        evidence: packed, or None when the coupon cannot be measured in this photo.
    """

    coupon: int
    motion: tuple[float, float, float, float]
    certain: bool
    present: str
    pixels_per_mm: float
    evidence: Kept | None
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LookAnswer:
    """What a photo said, or why it said nothing.

    Attributes:
        placing: where the board was found, or why it was not; None when that was known before.
        problem: why the photo could not be read.
        coupons: in the order of the task's frames; none when the photo said nothing.
    """

    photo: int
    placing: PhotoPlacing | None = None
    problem: Problem | None = None
    coupons: tuple[CouponLook, ...] = ()
    warnings: tuple[str, ...] = ()
    blur_px: float = 0.0


def placed(file: PhotoFile, picture: Rgb | Source, finder: Finder) -> tuple[PhotoPlacing, Placement | None]:
    """Find the board in a photo; what cannot be found comes back with its reason."""
    try:
        found = find_board(picture, finder.board, finder.markers, finder.views)
    except InputError as error:
        return PhotoPlacing(file.photo.key, None, because=error.problem.what), None
    place = found.placement
    placing = PhotoPlacing(
        file.photo.key, place.mm_to_px, place.lens, found.method, found.error_px, warnings=found.warnings
    )
    return placing, place


def look_at_photo(task: LookTask) -> LookAnswer:
    """Look at one photo."""
    if task.placement is not None and not task.fresh:
        known = _remembered(task, _name(task, task.placement))
        if known is not None:
            return known
    photo = task.file.photo
    try:
        picture = source_of(upright_pixels(task.file.read(), photo.name))
        placing, placement = None, task.placement
        if placement is None:
            placing, placement = placed(task.file, picture, task.finder)
        if placement is None:
            return LookAnswer(photo.key, placing)
        return _looked(task, picture, placing, placement)
    except GoneFromCacheError:
        raise
    except InputError as error:
        located = error if error.problem.file else error.located(file=photo.name)
        return LookAnswer(photo.key, problem=located.problem)


def _name(task: LookTask, placement: Placement) -> str:
    bases = tuple(each.name for each in task.bases)
    return hash_of((ALGORITHM, task.file.photo.sha256, placement, task.frames, task.plan, task.first.name, bases))


def _looked(task: LookTask, picture: Source, placing: PhotoPlacing | None, placement: Placement) -> LookAnswer:
    seen = see_board(picture, placement, task.frames, task.plan, dict(task.motions))
    first, bases, pictures = _start(task)
    found, light = evidence_in(seen, first, bases, task.frames, task.plan)
    name = _name(task, placement)
    present = who_is_there(seen, pictures, task.frames)
    names = {frame.coupon: frame.name for frame in task.frames}
    coupons = []
    for frame in task.frames:
        hang, key, there = seen.hangs[frame.coupon], frame.coupon, present[frame.coupon]
        kept = None
        if there.state not in ("missing", "other"):
            kept = keep(task.cache, hash_of((name, key)), packed_evidence(found[key]))
        motion = (hang.motion.dx_mm, hang.motion.dy_mm, hang.motion.turn_deg, hang.motion.scale)
        told = (*_told_of(hang, there, names), *_told_of_colour(seen.cuts[key].rgb, found[key], frame))
        coupons.append(CouponLook(key, motion, hang.certain, there.state, seen.scales[key], kept, told))
    answer = LookAnswer(task.file.photo.key, placing, None, tuple(coupons), light.warnings, seen.board.blur_px)
    _remember(task, name, answer)
    return answer


def _told_of(hang: Hang, there: Presence, names: dict[int, str]) -> tuple[str, ...]:
    """Return what to tell of how a coupon hangs, and whether it is the one."""
    if there.state == "missing":
        return ("it does not hang in its place in this photo",)
    if there.state == "other":
        name = names.get(there.whose or 0, "another coupon")
        return (f"{name} seems to hang in its place; if they were exchanged, move them on the board as well",)
    if not hang.certain or there.state == "unsure":
        return ("its edge could not be seen well; it is taken to hang as its neighbours do",)
    return ()


def _told_of_colour(rgb: Rgb, evidence: Evidence, frame: CouponFrame) -> tuple[str, ...]:
    """Return a warning where rust and finish look much alike."""
    contrast = colour_contrast(rgb, evidence, np.asarray(significant(frame)))
    if contrast is None or contrast >= LITTLE:
        return ()
    return (f"its rust differs little in colour from its finish (CIEDE2000 {contrast:.0f}); look at the mask",)


def _start(task: LookTask) -> tuple[BoardLook, dict[int, Base], dict[int, FirstPicture]]:
    first = unpacked(BoardLook, _there(task.first, task.cache))
    keys = [frame.coupon for frame in task.frames]
    bases = {key: _base(each, task.cache) for key, each in zip(keys, task.bases, strict=True)}
    pictures = {key: _first_picture(each, task.cache) for key, each in zip(keys, task.pictures, strict=True)}
    return first, bases, pictures


@lru_cache(maxsize=400)
def _base(kept: Kept, cache: Path) -> Base:
    return unpacked(Base, _there(kept, cache))


@lru_cache(maxsize=400)
def _first_picture(kept: Kept, cache: Path) -> FirstPicture:
    return unpacked(FirstPicture, _there(kept, cache))


def _there(kept: Kept, cache: Path) -> bytes:
    data = kept.read(cache)
    if data is None:
        raise GoneFromCacheError
    return data


def _remember(task: LookTask, name: str, answer: LookAnswer) -> None:
    """Keep what a photo said beside its pixels, so that the photo need not be decoded again."""
    if any(each.evidence is not None and each.evidence.data is not None for each in answer.coupons):
        return
    coupons = [
        [c.coupon, c.motion, c.certain, c.present, c.pixels_per_mm, c.evidence and c.evidence.name, c.warnings]
        for c in answer.coupons
    ]
    content = {"warnings": answer.warnings, "blur_px": answer.blur_px, "coupons": coupons}
    MeasuringCache(task.cache).keep_look(name, json.dumps(content).encode())


def _remembered(task: LookTask, name: str) -> LookAnswer | None:
    cache = MeasuringCache(task.cache)
    data = cache.look(name)
    if data is None:
        return None
    try:
        content = json.loads(data)
        coupons = tuple(_coupon_look(*each) for each in content["coupons"])
        whole = [each.coupon for each in coupons] == [frame.coupon for frame in task.frames]
        whole = whole and all(each.evidence is None or cache.has_look(each.evidence.name) for each in coupons)
        answer = LookAnswer(
            task.file.photo.key, None, None, coupons, tuple(content["warnings"]), float(content["blur_px"])
        )
    except (ValueError, TypeError, KeyError):
        return None
    return answer if whole else None


def _coupon_look(
    coupon: int, motion: Sequence[float], certain: bool, present: str, scale: float, name: str | None, told: Any
) -> CouponLook:
    dx, dy, turn, size = motion
    evidence = None if name is None else Kept(name)
    return CouponLook(coupon, (dx, dy, turn, size), certain, present, scale, evidence, tuple(told))


@dataclass(frozen=True, slots=True)
class JudgeTask:
    """One coupon to judge over all its photos.

    Attributes:
        looks: by time: days, the evidence or None, pixels of the photo a millimetre, its blur, strokes of the brush.
    """

    frame: CouponFrame
    looks: tuple[tuple[float, Kept | None, float, float, tuple[Stroke, ...]], ...]
    resets: tuple[Reset, ...]
    settings: tuple[str, ...]
    cache: Path


def judge(task: JudgeTask) -> list[tuple[CouponFinding, str]]:
    """Judge one coupon; return the finding and the name of the masks for each of its photos.

    Raises:
        InputError: the cache was emptied meanwhile.
    """

    def looks() -> Any:
        for days, kept, scale, blur_px, strokes in task.looks:
            evidence = None if kept is None else unpacked_evidence(_there(kept, task.cache))
            yield Look(days, evidence, scale, blur_px, strokes)

    surface = np.asarray(significant(task.frame))
    cache, found = MeasuringCache(task.cache), []
    for judged, settings in zip(judge_coupon(looks(), surface, task.frame, task.resets), task.settings, strict=True):
        name = settings + hash_of((judged.packed,))[: 40 - len(settings)]
        cache.keep_masks(name, judged.packed)
        found.append((judged.finding, name))
    return found
