"""A painted series of photos of one board, with what is true of every coupon in every photo.

The painter has its own optics, colours and growth of rust and uses nothing of the program that measures, so that the
two cannot share an error.
"""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

import cv2
import numpy as np

from scenes.boards import drawn_kind, painted_board, surroundings
from scenes.camera import Matrix, mapped, shifted
from scenes.colour import Plane
from scenes.conditions import Conditions, drawn_conditions
from scenes.debris import Debris, drawn_debris
from scenes.layout import Board, Coupon, drawn_board, plan_of
from scenes.options import Options
from scenes.photographing import SURROUNDINGS_MM, Hung, developed, exposed, jpeg
from scenes.randomness import chance, dice_for
from scenes.rust_growth import PIXELS_PER_MM, Growth, grown
from scenes.surfaces import Art, painted, prepared

PAINTER_VERSION = 3
"""Goes up whenever a scene of the same seed looks different or is true otherwise."""


@dataclass(frozen=True, slots=True)
class TrueMotion:
    """How a coupon appears on the board's plane against its planned outline, the view from the camera included.

    Turned about the outline's middle, scaled about it, then shifted; clockwise with y downward.
    """

    dx_mm: float
    dy_mm: float
    turn_deg: float
    scale: float


@dataclass(frozen=True, slots=True)
class CouponTruth:
    """What is true of one place on the board in one photo.

    Attributes:
        percent: of the significant surface rusted, also where debris hides it; nan when missing.
        debris_percent: of the significant surface hidden by debris.
        missing: nothing hangs there. hanging: id of the coupon that hangs there, another one after a swap.
        motion: how it appears.
    """

    percent: float
    debris_percent: float
    missing: bool
    hanging: str
    motion: TrueMotion


@dataclass(frozen=True, slots=True)
class ScenePhoto:
    """One photo.

    Attributes:
        name, taken, jpeg: the file. size_px: width and height when upright.
        mm_to_px, lens: where the upright photo shows the board, as nine numbers row by row and the lens's bend.
        truth: by coupon id. conditions: for reports, what was difficult.
    """

    name: str
    taken: datetime
    jpeg: bytes
    size_px: tuple[int, int]
    mm_to_px: tuple[float, ...]
    lens: float
    truth: dict[str, CouponTruth]
    conditions: dict[str, object]


class Scene:
    """A board and its photos; paints a photo when it is asked for."""

    def __init__(self, seed: int, megapixels: float, photos: int, hard: bool, options: Options) -> None:
        self.seed, self.megapixels, self.count, self.hard, self.options = seed, megapixels, photos, hard, options
        self.board: Board = drawn_board(seed, hard, options)
        self.plan = plan_of(self.board)
        self.by_id = {each.id: each for each in self.board.coupons}
        self.conditions = drawn_conditions(seed, self.board, megapixels, photos, hard, options)
        dice = dice_for(seed, "scene")
        self.board_kind = options.board or drawn_kind(dice)
        trace = chance(dice, 0.12) if options.day_zero_rust is None else options.day_zero_rust
        stains = chance(dice, 0.3 if hard else 0.05) if options.stains is None else options.stains
        self._trace, self._stains = trace, float(dice.uniform(0.4, 1.0)) if stains else 0.0
        self._growths: dict[str, Growth] = {}
        self._kept: OrderedDict[int, ScenePhoto] = OrderedDict()

    def growth(self, coupon: str) -> Growth:
        """Return how a coupon rusts."""
        if coupon not in self._growths:
            dice = dice_for(self.seed, "rust", coupon)
            rust = self.options.rust is not False
            margin = self.board.edge_margin_mm
            self._growths[coupon] = grown(
                self.by_id[coupon], margin, self.count, dice, rust=rust, trace_at_start=self._trace
            )
        return self._growths[coupon]

    @cached_property
    def debris(self) -> dict[str, tuple[Debris, ...]]:
        """Everything that ever lies on each coupon."""
        if self.options.debris is False:
            return {each.id: () for each in self.board.coupons}
        return {
            each.id: tuple(drawn_debris(each, self.count, dice_for(self.seed, "debris", each.id), self.hard))
            for each in self.board.coupons
        }

    @cached_property
    def _pixels_per_mm(self) -> float:
        """How finely coupons are painted: half as fine again as the photos show them."""
        width = round((self.megapixels * 1e6 * 4 / 3) ** 0.5 / 8) * 8
        return float(np.clip(np.ceil(1.5 * 0.92 * width / self.board.width_mm * 2) / 2, 1, PIXELS_PER_MM))

    @property
    def _board_scale(self) -> float:
        return self._pixels_per_mm * 0.8

    @cached_property
    def _art(self) -> dict[str, Art]:
        return {
            each.id: prepared(self.seed, each, self.growth(each.id), self._pixels_per_mm, self.hard)
            for each in self.board.coupons
        }

    @cached_property
    def _bare(self) -> Plane:
        return painted_board(self.board, self.board_kind, self._board_scale, dice_for(self.seed, "board"))

    @cached_property
    def _behind(self) -> Plane:
        size = (self.board.width_mm + 2 * SURROUNDINGS_MM, self.board.height_mm + 2 * SURROUNDINGS_MM)
        return surroundings(size, min(1.5, self._pixels_per_mm), dice_for(self.seed, "behind"))

    def hanging(self, number: int, place: str) -> str:
        """Return the id of the coupon that hangs at a place in a photo."""
        return self.conditions[number].swapped.get(place, place)

    def coupon_to_plane(self, number: int, place: str) -> Matrix:
        """Return the matrix from mm on the plan of what hangs at a place to mm on that coupon's own plane."""
        here, there = self.by_id[place], self.by_id[self.hanging(number, place)]
        moved = np.subtract(here.middle_mm, there.middle_mm)
        hung = self.conditions[number].hangings[place].matrix(here.middle_mm)
        return hung @ shifted(float(moved[0]), float(moved[1]))

    def coupon_to_px(self, number: int, place: str) -> Matrix:
        """Return the homography from mm on the plan of what hangs at a place to ideal pixels (before the lens)."""
        coupon = self.by_id[self.hanging(number, place)]
        return self.conditions[number].camera.plane(coupon.height_mm) @ self.coupon_to_plane(number, place)

    def true_mask(self, number: int, coupon: str, pixels_per_mm: float) -> np.ndarray:
        """Return where a coupon is rusted in a photo, on a grid over its planned outline's bounding box."""
        coverage = self.growth(coupon).coverage(number)
        rows, columns = self.by_id[coupon].shape(pixels_per_mm)
        return cv2.resize(coverage, (columns, rows), interpolation=cv2.INTER_AREA) >= 128

    def significant(self, coupon: str) -> np.ndarray:
        """Return the surface that counts, on the finest grid (`rust_growth.PIXELS_PER_MM`)."""
        return self.growth(coupon).significant

    def picture(self, number: int) -> np.ndarray:
        """Return the upright photo before JPEG, H x W x 3."""
        conditions = self.conditions[number]
        size = (self.board.width_mm, self.board.height_mm)
        wet = conditions.wet
        board = self._bare if wet == 0 else self._bare / (1 + np.float32(1.1 * wet) * (1 - self._bare))
        light = exposed(board, self._board_scale, size, self._behind, self._hung(number), conditions)
        return developed(conditions.camera.through_lens(light), conditions, self.seed, self.megapixels)

    def _hung(self, number: int) -> list[Hung]:
        conditions, hung = self.conditions[number], []
        for place in self.by_id:
            if place in conditions.missing:
                continue
            art = self._art[self.hanging(number, place)]
            surface, glare = painted(art, self.seed, conditions, self._stains)
            matrix = self.coupon_to_plane(number, place)
            lying = self._lying(number, art.coupon.id)
            hung.append(Hung(art.coupon, matrix, surface, glare, art.opaque, art.pixels_per_mm, lying))
        return hung

    def _lying(self, number: int, coupon: str) -> tuple[Debris, ...]:
        return tuple(each for each in self.debris[coupon] if each.first <= number <= each.last)

    def name(self, number: int) -> str:
        """Return the file name of a photo."""
        return f"IMG_{self.seed:04d}_{number + 1:02d}.jpg"

    def photo(self, number: int) -> ScenePhoto:
        """Return a photo; the last one asked for is kept."""
        if number not in self._kept:
            conditions = self.conditions[number]
            file = jpeg(self.picture(number), conditions)
            camera = conditions.camera
            self._kept[number] = ScenePhoto(
                name=self.name(number),
                taken=conditions.taken,
                jpeg=file,
                size_px=camera.size_px,
                mm_to_px=tuple(float(each) for each in camera.plane().ravel()),
                lens=camera.lens,
                truth=self.truth(number),
                conditions=self._told(conditions),
            )
            while len(self._kept) > 1:
                self._kept.popitem(last=False)
        return self._kept[number]

    def truth(self, number: int) -> dict[str, CouponTruth]:
        """Return what is true of every place on the board in a photo, without painting it."""
        return {place: self._true_of(number, place) for place in self.by_id}

    def _true_of(self, number: int, place: str) -> CouponTruth:
        coupon = self.by_id[self.hanging(number, place)]
        missing = place in self.conditions[number].missing
        motion = self._motion(number, place, coupon)
        if missing:
            return CouponTruth(float("nan"), 0.0, True, "", motion)
        growth = self.growth(coupon.id)
        hidden = np.zeros(growth.significant.shape, bool)
        for thing in self._lying(number, coupon.id):
            hidden |= thing.cover(coupon)
        share = 100.0 * float((hidden & growth.significant).sum()) / float(growth.significant.sum())
        return CouponTruth(growth.percent(number), share, False, coupon.id, motion)

    def _motion(self, number: int, place: str, coupon: Coupon) -> TrueMotion:
        """Return the similarity that comes nearest to how the outline appears on the board's plane."""
        camera = self.conditions[number].camera
        planned = np.array(self.by_id[place].outline_mm)
        moved = np.subtract(coupon.middle_mm, self.by_id[place].middle_mm)
        to_px = camera.plane(coupon.height_mm) @ self.coupon_to_plane(number, place)
        seen = mapped(np.linalg.inv(camera.plane()) @ to_px, planned + moved)
        middle = np.array(self.by_id[place].middle_mm)
        before, after = planned - planned.mean(axis=0), seen - seen.mean(axis=0)
        real = float(np.sum(before * after))
        turned = float(np.sum(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]))
        square = float(np.sum(before**2))
        scale, turn = float(np.hypot(real, turned)) / square, float(np.arctan2(turned, real))
        rotation = scale * np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
        shift = seen.mean(axis=0) - (rotation @ (planned.mean(axis=0) - middle) + middle)
        return TrueMotion(float(shift[0]), float(shift[1]), float(np.degrees(turn)), scale)

    def _told(self, conditions: Conditions) -> dict[str, object]:
        wish, camera = conditions.development, conditions.camera
        return {
            "board": self.board_kind,
            "light": conditions.light.kind,
            "wet": round(conditions.wet, 2),
            "drops_per_cm2": round(conditions.drops_per_cm2, 1),
            "tilt_deg": round(float(np.degrees(np.arccos(abs(camera.rotation[2, 2])))), 1),
            "lens": round(camera.lens, 4),
            "defocus_px": round(wish.defocus_px, 1),
            "motion_px": round(wish.motion_px, 1),
            "exposure": round(wish.exposure, 2),
            "quality": wish.quality,
            "orientation": wish.orientation,
            "stains": self._stains > 0,
        }


def scene(
    seed: int, *, megapixels: float = 12.0, photos: int = 8, hard: bool = False, options: Options | None = None
) -> Scene:
    """Return the scene of a seed; the same arguments always give the same bytes and truth.

    Args:
        seed: of everything that is left to chance.
        megapixels: size of the photos; board, rust and light are the same at every size.
        photos: how many.
        hard: stronger light, blur, water and debris, and more of it together.
        options: what is told instead of drawn.
    """
    return Scene(seed, megapixels, photos, hard, options or Options())
