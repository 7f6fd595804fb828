"""One photo, all coupons: how each hangs, and what the photo says of its surface."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import cv2
import numpy as np

from rustboard.board.model import Marker, Outline
from rustboard.photo.cutting import GridCut, cut_grid, source_of
from rustboard.photo.evidence.base import Base, look_of, make_base
from rustboard.photo.evidence.board_look import BoardLook, LightPlan, look_at_board
from rustboard.photo.evidence.light import Light, light_between
from rustboard.photo.evidence.rust import evidence_of
from rustboard.photo.hanging.fit import Hang, fit_motions
from rustboard.photo.hanging.presence import COARSE, FirstLook, Presence, presence
from rustboard.photo.homography import LEAST_SCALE, MOST_SCALE, pixels_per_mm_at, unlikely_place
from rustboard.photo.looks import CouponFrame, Evidence, Motion, Rgb
from rustboard.photo.placement import Placement
from rustboard.support.problems import InputError

ALGORITHM: Final = 5
"""Version of the method; raised whenever the same photo would be measured otherwise."""

FIRST_LOOKS: Final = 3
"""How many photos, the first ones, a coupon's unrusted look is made from."""


@dataclass(frozen=True, slots=True, eq=False)
class BoardSeen:
    """A whole board in one photo, before anything is said of rust.

    Attributes:
        board: the board straightened and small, for its light.
        hangs: how each coupon hangs, by its key.
        cuts: each coupon on its grid, by its key.
        scales: pixels of the photo a millimetre, at each coupon.
    """

    board: BoardLook
    hangs: Mapping[int, Hang]
    cuts: Mapping[int, GridCut]
    scales: Mapping[int, float]


def light_plan(
    width_mm: float,
    height_mm: float,
    coupons: Sequence[Outline],
    markers: Sequence[Marker] = (),
    cards: Sequence[Outline] = (),
) -> LightPlan:
    """Return what on a board can witness the light of a photo."""
    papers = tuple(_square(each) for each in markers)
    return LightPlan(width_mm, height_mm, tuple(coupons), papers, tuple(cards))


def _square(marker: Marker) -> Outline:
    (x, y), half = marker.centre_mm, marker.size_mm / 2
    return ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))


def see_board(
    picture: Rgb,
    placement: Placement,
    frames: Sequence[CouponFrame],
    plan: LightPlan,
    before: Mapping[int, Motion] | None = None,
) -> BoardSeen:
    """Return how the coupons hang in an upright photo (H x W x 3), and each of them cut from it.

    Raises:
        InputError: the placement does not show the board from its front, or cannot be that of this picture.
    """
    _refuse_impossible(picture, placement, frames)
    hangs = fit_motions(picture, placement, frames, before or {})
    source = source_of(picture)
    cuts = {each.coupon: cut_grid(source, placement, each, hangs[each.coupon].motion) for each in frames}
    scales = {each.coupon: pixels_per_mm_at(placement.local(each.box_mm), each.middle_mm) for each in frames}
    return BoardSeen(look_at_board(picture, placement, plan), hangs, cuts, scales)


def _refuse_impossible(picture: Rgb, placement: Placement, frames: Sequence[CouponFrame]) -> None:
    """Refuse what no way of finding the board gives: a board file may be a stranger's."""
    if (picture.shape[1], picture.shape[0]) != placement.size_px:
        raise InputError("This photo is not of the size that the board file says; add it anew.")
    for each in frames:
        scale = pixels_per_mm_at(placement.local(each.box_mm), each.middle_mm)
        if not LEAST_SCALE <= scale <= MOST_SCALE:
            raise unlikely_place()


def bases_of(
    first: BoardLook, seen: Sequence[BoardSeen], frames: Sequence[CouponFrame], plan: LightPlan
) -> dict[int, Base]:
    """Return each coupon's unrusted look.

    Args:
        first: the board in the first photo of all, in whose light every photo is seen.
        seen: the first photos of a stretch, one to `FIRST_LOOKS`, by time.
        frames: the coupons.
        plan: what can witness the light.
    """
    lights = [light_between(first, each.board, plan) for each in seen]
    return {
        frame.coupon: make_base(
            [
                look_of(each.cuts[frame.coupon].rgb, each.cuts[frame.coupon].shown, light.at(frame))
                for each, light in zip(seen, lights, strict=True)
            ],
            frame,
        )
        for frame in frames
    }


@dataclass(frozen=True, slots=True, eq=False)
class FirstPicture:
    """A coupon's first picture of a stretch, coarse, by which it is known again."""

    rgb: Rgb


def coarse_frame(frame: CouponFrame) -> CouponFrame:
    """Return a coupon's grid as coarse as is enough to know the coupon again."""
    return replace(frame, pixels_per_mm=min(frame.pixels_per_mm, COARSE))


def first_picture(cut: GridCut, frame: CouponFrame) -> FirstPicture:
    """Return a coupon's picture on its coarse grid."""
    height, width = coarse_frame(frame).shape
    return FirstPicture(np.asarray(cv2.resize(cut.rgb, (width, height), interpolation=cv2.INTER_AREA), np.uint8))


def who_is_there(
    seen: BoardSeen, pictures: Mapping[int, FirstPicture], frames: Sequence[CouponFrame]
) -> dict[int, Presence]:
    """Return whether each coupon hangs where the record has it.

    Args:
        seen: the board in the photo.
        pictures: each coupon's first picture.
        frames: the coupons.
    """
    coarse = {frame.coupon: coarse_frame(frame) for frame in frames}
    looks = {key: FirstLook(coarse[key], pictures[key].rgb) for key in coarse}
    found = {}
    for frame in frames:
        key = frame.coupon
        cut, hang = seen.cuts[key], seen.hangs[key]
        now = first_picture(cut, frame).rgb
        height, width = now.shape[:2]
        shown = cv2.resize(cut.shown.astype(np.uint8), (width, height), interpolation=cv2.INTER_NEAREST) > 0
        others = {each: look for each, look in looks.items() if each != key}
        found[key] = presence(now, shown, coarse[key], pictures[key].rgb, hang.share_found, others)
    return found


def evidence_in(
    seen: BoardSeen, first: BoardLook, bases: Mapping[int, Base], frames: Sequence[CouponFrame], plan: LightPlan
) -> tuple[dict[int, Evidence], Light]:
    """Return what a photo says of each coupon, and the photo's light.

    Args:
        seen: the board in the photo.
        first: the board in the first photo of all.
        bases: each coupon's unrusted look.
        frames: the coupons.
        plan: what can witness the light.
    """
    light = light_between(first, seen.board, plan)
    found = {
        frame.coupon: evidence_of(seen.cuts[frame.coupon], bases[frame.coupon], light.at(frame), frame)
        for frame in frames
    }
    return found, light
