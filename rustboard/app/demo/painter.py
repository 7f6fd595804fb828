"""The demo's photos: a board on a wall, with its markers, tags and coupons, painted as it was at each visit."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from rustboard.app.demo import camera, timber
from rustboard.app.demo.fittings import (
    STUD_BESIDE_EDGE_MM,
    TAG_HEIGHT_MM,
    TAG_WIDTH_MM,
    Cover,
    marker_plate,
    number_tag,
    stud,
)
from rustboard.app.demo.rusting import PaintedCoupon, painted_coupon
from rustboard.app.demo.scenario import COUPON_HEIGHT_MM, COUPON_WIDTH_MM, DemoBoard
from rustboard.app.demo.texture import Light, lay, rounded_plate, softened
from rustboard.app.demo.weather import bird_dropping, with_beads
from rustboard.board.model import Board, Inspection, PlannedCoupon
from rustboard.photo.homography import Homography, Matrix
from rustboard.scales.resizing import Rgb, shrink

PLANE_PX_PER_MM: Final = 3
_AROUND_MM: Final = 36
"""How much of the wall is drawn around the board."""

_COUPON_SHAPE: Final = (round(COUPON_HEIGHT_MM * PLANE_PX_PER_MM), round(COUPON_WIDTH_MM * PLANE_PX_PER_MM))
_CORNER_RADIUS_MM: Final = 1.5
_STUDS_FROM_TOP_MM: Final = (18.0, 102.0)
_TAG_RIGHT_OF_IT_MM: Final = 3.5
_SHADOW_MM: Final = (2.4, 1.6)  # down and right
_WET_WOOD: Final = np.array([0.66, 0.63, 0.60], np.float32)

Report = Callable[[], None]


@dataclass(frozen=True, slots=True, eq=False)
class PaintedPhoto:
    """One photo, as its file, and what the camera knew.

    Attributes:
        jpeg: bytes of the file.
        mm_to_px: nine numbers, board millimetres to pixels.
    """

    jpeg: bytes
    width_px: int
    height_px: int
    mm_to_px: Homography


def coupon_seed(demo: DemoBoard, number: int) -> int:
    """Return the seed of a board's coupon, counted from 0 as one reads the board."""
    return 100 * demo.seed + number


def paint_faces(demo: DemoBoard, number: int, visits: Sequence[Inspection]) -> list[Rgb]:
    """Return one coupon's face at each visit, at the resolution of the drawing of the board."""
    coupon = demo.plan.coupons[number]
    letter = demo.behaviours[coupon.treatment].letter
    painted = painted_coupon(coupon.treatment, letter, coupon_seed(demo, number))
    return [_face(demo, painted, coupon, visit) for visit in visits]


def _face(demo: DemoBoard, painted: PaintedCoupon, coupon: PlannedCoupon, visit: Inspection) -> Rgb:
    day = demo.day_of(visit)
    height, width = _COUPON_SHAPE
    face = shrink(painted.face(demo.percent_at(coupon, day), day), width, height)
    odd = demo.odd(visit).get(coupon.id)
    if odd is not None and odd.kind == "dropping":
        face = bird_dropping(face, PLANE_PX_PER_MM, painted.seed)
    return with_beads(face, PLANE_PX_PER_MM, painted.seed) if visit.surface == "wet" else face


def painted_photos(demo: DemoBoard, visits: Sequence[Inspection], report: Report) -> Iterator[PaintedPhoto]:
    """Yield the photo of each visit, in order.

    Args:
        demo: the board.
        visits: which of its visits.
        report: called once for each coupon painted, before the first photo.
    """
    faces: list[list[Rgb]] = []
    for number in range(len(demo.plan.coupons)):
        faces.append(paint_faces(demo, number, visits))
        report()
    backdrops: dict[bool, Rgb] = {}
    for place, visit in enumerate(visits):
        wet = visit.surface == "wet"
        if wet not in backdrops:
            backdrops[wet] = backdrop(demo, wet=wet)
        plane = with_coupons(backdrops[wet], demo, [each[place] for each in faces])
        yield _photo(plane, demo, visit)


def _photo(plane: Rgb, demo: DemoBoard, visit: Inspection) -> PaintedPhoto:
    board = demo.plan.board
    number = demo.visits.index(visit)
    mm_to_px = camera.viewpoint(board.width_mm, board.height_mm, demo.seed, number)
    size = (camera.PHOTO_WIDTH_PX, camera.photo_height_px(board.height_mm))
    scene = camera.seen(plane, plane_to_mm(), mm_to_px, size)
    jpeg = camera.jpeg_file(camera.exposed(scene, visit.light, demo.seed, number), demo.photo_taken(visit))
    return PaintedPhoto(jpeg, *size, mm_to_px)


def plane_to_mm() -> Matrix:
    """Return the homography from pixels of the drawing to millimetres on the board."""
    return np.array([[1 / PLANE_PX_PER_MM, 0, -_AROUND_MM], [0, 1 / PLANE_PX_PER_MM, -_AROUND_MM], [0, 0, 1]])


def plane_shape(board: Board) -> tuple[int, int]:
    """Return height and width in pixels of the drawing of a board and the wall around it."""
    high, wide = (round((size + 2 * _AROUND_MM) * PLANE_PX_PER_MM) for size in (board.height_mm, board.width_mm))
    return high, wide


def backdrop(demo: DemoBoard, *, wet: bool) -> Rgb:
    """Return everything behind and beside the coupons: wall, planks, shadows, markers, tags."""
    board = demo.plan.board
    picture = timber.wall(plane_shape(board), _wall(board), PLANE_PX_PER_MM, demo.seed)
    left_top = round(_AROUND_MM * PLANE_PX_PER_MM)
    size = (round(board.height_mm * PLANE_PX_PER_MM), round(board.width_mm * PLANE_PX_PER_MM))
    planks = timber.weathered_planks(size, size[0] // _planks(board), PLANE_PX_PER_MM, demo.seed)
    picture *= _shadow([(left_top, left_top, np.ones(size, np.float32))], picture.shape, 5.0)
    picture[left_top : left_top + size[0], left_top : left_top + size[1]] = planks
    if wet:
        picture *= _WET_WOOD
    fittings = _fittings(demo)
    plates = [(top, left, cover) for top, left, _, cover in (*fittings, *_studs(demo))]
    plates += [(*_corner(each), _plate()) for each in demo.plan.coupons]
    picture *= _shadow(plates, picture.shape, 1.0)
    for top, left, light, cover in fittings:
        lay(picture, top, left, light, cover)
    return _as_bytes(picture)


def with_coupons(behind: Rgb, demo: DemoBoard, faces: Sequence[Rgb]) -> Rgb:
    """Return the drawing with the coupons' faces on it and the studs that hold them."""
    picture = behind.astype(np.float32)
    for coupon, face in zip(demo.plan.coupons, faces, strict=True):
        lay(picture, *_corner(coupon), face.astype(np.float32), _plate())
    for top, left, light, cover in _studs(demo):
        lay(picture, top, left, light, cover)
    return _as_bytes(picture)


def _as_bytes(picture: Light) -> Rgb:
    drawn: Rgb = np.clip(np.rint(picture), 0, 255).astype(np.uint8)
    return drawn


def _wall(board: Board) -> timber.Wall:
    return "stone" if board.shelter == "open" else "limewash"


def _planks(board: Board) -> int:
    return max(1, round(board.height_mm / 100))


def _plate() -> Cover:
    return rounded_plate(_COUPON_SHAPE, _CORNER_RADIUS_MM * PLANE_PX_PER_MM)


def _at(x_mm: float, y_mm: float) -> tuple[int, int]:
    """Return the row and column in the drawing of a place on the board."""
    return round((y_mm + _AROUND_MM) * PLANE_PX_PER_MM), round((x_mm + _AROUND_MM) * PLANE_PX_PER_MM)


def _corner(coupon: PlannedCoupon) -> tuple[int, int]:
    return _at(*coupon.outline_mm[0])


_Placed = tuple[int, int, Light, Cover]


def _fittings(demo: DemoBoard) -> list[_Placed]:
    placed: list[_Placed] = []
    for marker in demo.plan.markers:
        light, cover = marker_plate(marker.id, marker.size_mm, PLANE_PX_PER_MM)
        row, column = _at(*marker.centre_mm)
        placed.append((row - cover.shape[0] // 2, column - cover.shape[1] // 2, light, cover))
    for number, coupon in enumerate(demo.plan.coupons):
        left, top = coupon.outline_mm[0]
        row, column = _at(left - _TAG_RIGHT_OF_IT_MM - TAG_WIDTH_MM, top + (COUPON_HEIGHT_MM - TAG_HEIGHT_MM) / 2)
        placed.append((row, column, *number_tag(coupon.id, PLANE_PX_PER_MM, coupon_seed(demo, number))))
    return placed


def _studs(demo: DemoBoard) -> list[_Placed]:
    placed: list[_Placed] = []
    for coupon in demo.plan.coupons:
        left, top = coupon.outline_mm[0]
        for beside in (left - STUD_BESIDE_EDGE_MM, left + COUPON_WIDTH_MM + STUD_BESIDE_EDGE_MM):
            for down in _STUDS_FROM_TOP_MM:
                row, column = _at(beside, top + down)
                light, cover = stud(PLANE_PX_PER_MM, 30 * (len(placed) * len(placed) % 11))
                half = cover.shape[0] // 2
                placed.append((row - half, column - half, light, cover))
    return placed


def _shadow(plates: Sequence[tuple[int, int, Cover]], shape: tuple[int, ...], reach: float) -> Light:
    """Return the light that plates leave on what is behind them, H x W x 1; ``reach`` 1 is a coupon's thickness."""
    cast = np.zeros((shape[0], shape[1], 1), np.float32)
    down, right = (round(each * reach * PLANE_PX_PER_MM) for each in _SHADOW_MM)
    for top, left, cover in plates:
        lay(cast, top + down, left + right, np.ones((*cover.shape, 1), np.float32), cover)
    soft = softened(cast[:, :, 0], 1.5 * reach * PLANE_PX_PER_MM)
    return 1 - np.float32(0.62) * soft[:, :, None]
