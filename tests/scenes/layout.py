"""A board as somebody would plan it: its size, markers, treatments, and coupons with their outlines."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from scenes.options import Options
from scenes.randomness import Dice, chance, dice_for, pick

Point = tuple[float, float]

FINISH_WEIGHTS = {
    "bright": 3.0,
    "blasted": 2.5,
    "blue-black": 1.5,
    "etched": 1.5,
    "oiled": 1.5,
    "mill scale": 2.0,
    "waxed": 2.0,
}


@dataclass(frozen=True)
class Coupon:
    """One piece of steel.

    Attributes:
        id, position, treatment, role: as in the plan.
        finish: how its surface looks, one of `FINISH_WEIGHTS`.
        outline_mm: on the board, the shape it has when it hangs straight.
        height_mm: of its face above the board.
        hole_mm: centre and radius of its hanging hole, on the board; radius 0 = none.
        lettering: what is written on it, "" = nothing.
        protection: 0 = none, 1 = never rusts; of its treatment and of its own luck together.
    """

    id: str
    position: str
    treatment: str
    role: str
    finish: str
    outline_mm: tuple[Point, ...]
    height_mm: float
    hole_mm: tuple[float, float, float]
    lettering: str
    protection: float

    @property
    def box_mm(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom."""
        xs, ys = zip(*self.outline_mm, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def middle_mm(self) -> Point:
        left, top, right, bottom = self.box_mm
        return (left + right) / 2, (top + bottom) / 2

    def shape(self, pixels_per_mm: float) -> tuple[int, int]:
        """Return height and width of a grid over the bounding box."""
        left, top, right, bottom = self.box_mm
        return int(np.ceil((bottom - top) * pixels_per_mm - 1e-6)), int(
            np.ceil((right - left) * pixels_per_mm - 1e-6)
        )

    def filled(self, pixels_per_mm: float, pad: int = 0, smooth: int = 4) -> np.ndarray:
        """Return how much of each pixel (0-255) of the bounding box's grid, and ``pad`` more around, is within."""
        left, top, _, _ = self.box_mm
        rows, columns = self.shape(pixels_per_mm)
        canvas = np.zeros(((rows + 2 * pad) * smooth, (columns + 2 * pad) * smooth), np.uint8)
        points = (np.array(self.outline_mm) - (left, top)) * pixels_per_mm + pad
        # fillPoly counts pixel centres as whole numbers, in sixteenths (shift 4)
        cv2.fillPoly(canvas, [np.round((points * smooth - 0.5) * 16).astype(np.int32)], 255, shift=4)
        return cv2.resize(canvas, (columns + 2 * pad, rows + 2 * pad), interpolation=cv2.INTER_AREA)


@dataclass(frozen=True)
class Board:
    """The board that is photographed; lengths in mm."""

    name: str
    width_mm: float
    height_mm: float
    rows: int
    columns: int
    edge_margin_mm: float
    markers: tuple[tuple[int, float, float, float], ...]
    treatments: tuple[tuple[str, str, float], ...]
    coupons: tuple[Coupon, ...]


def drawn_board(seed: int, hard: bool, options: Options) -> Board:
    """Return a board drawn by chance."""
    dice = dice_for(seed, "layout")
    grids = [(8, 3), (8, 3), (8, 3), (6, 4), (6, 3), (5, 3), (4, 3), (7, 4), (10, 3)]
    columns, rows = options.coupons or grids[int(dice.integers(len(grids)))]
    width, height = float(np.round(dice.uniform(640, 760), 0)), float(np.round(dice.uniform(420, 490), 0))
    margin = float(pick(dice, {"2": 1, "3": 4, "4": 1}))
    size = float(np.round(dice.uniform(30, 40), 1))
    inset = size * 0.5 * 8 / 6 + float(dice.uniform(2, 8))
    places = [(inset, inset), (width - inset, inset), (width - inset, height - inset), (inset, height - inset)]
    markers = tuple((number, round(x, 2), round(y, 2), size) for number, (x, y) in enumerate(places))
    treatments = _treatments(dice, columns * rows)
    side = 2 * inset
    coupons = _coupons(dice, (columns, rows), (side, 8.0, width - side, height - 8.0), treatments, options, seed)
    return Board(
        f"Scene {seed}{' hard' if hard else ''}",
        width,
        height,
        rows,
        columns,
        margin,
        markers if options.markers else (),
        treatments,
        coupons,
    )


def _treatments(dice: Dice, coupons: int) -> tuple[tuple[str, str, float], ...]:
    """Return (id, finish, protection) of each; about three coupons a treatment, the first is the bare control."""
    count = max(3, round(coupons / 3))
    finishes = [pick(dice, FINISH_WEIGHTS) for _ in range(count)]
    # From bare (0) to rusting not at all (1), spread evenly so that treatments can be told apart.
    levels = np.linspace(0, 1.05, count) + dice.normal(0, 0.04, count)
    levels[0] = 0
    dice.shuffle(levels[1:])
    return tuple((f"T{i + 1}", finishes[i], float(levels[i])) for i in range(count))


def _coupons(
    dice: Dice,
    grid: tuple[int, int],
    area: tuple[float, float, float, float],
    treatments: tuple[tuple[str, str, float], ...],
    options: Options,
    seed: int,
) -> tuple[Coupon, ...]:
    columns, rows = grid
    left, top, right, bottom = area
    pitch = ((right - left) / columns, (bottom - top) / rows)
    size = (min(pitch[0] * dice.uniform(0.66, 0.78), 64), min(pitch[1] * dice.uniform(0.66, 0.78), 115))
    order = [treatments[i % len(treatments)] for i in range(columns * rows)]
    dice.shuffle(order)
    one_finish = chance(dice, 0.25)
    coupons = []
    for number, (treatment, finish, protection) in enumerate(order):
        row, column = divmod(number, columns)
        middle = (left + pitch[0] * (column + 0.5), top + pitch[1] * (row + 0.5))
        own = dice_for(seed, "coupon", number)
        coupons.append(
            Coupon(
                id=f"C{number + 1:02d}",
                position=f"{'ABCDEFGH'[row]}{column + 1}",
                treatment=treatment,
                role="control" if protection == 0 else "test",
                finish=options.finish or (order[0][1] if one_finish else finish),
                outline_mm=_outline(own, middle, size, options.shapes),
                height_mm=float(own.uniform(2, 6)),
                hole_mm=(0.0, 0.0, 0.0),
                lettering=f"C{number + 1:02d}" if chance(own, 0.45) else "",
                protection=float(protection + own.normal(0, 0.05)),
            )
        )
    holes = chance(dice, 0.7)
    return tuple(_holed(each, dice_for(seed, "hole", each.id)) for each in coupons) if holes else tuple(coupons)


def _outline(dice: Dice, middle: Point, size: Point, shapes: bool) -> tuple[Point, ...]:
    (x, y), (width, height) = middle, size
    kind = pick(dice, {"rectangle": 8, "disc": 1, "polygon": 1}) if shapes else "rectangle"
    if kind == "disc":
        radius = min(width, height) / 2
        angles = np.arange(48) * 2 * np.pi / 48
        points = np.column_stack([x + radius * np.cos(angles), y + radius * np.sin(angles)])
    elif kind == "polygon":
        cut = float(dice.uniform(0.12, 0.3)) * width
        points = np.array([(cut, 0), (width, 0), (width, height - cut), (width - cut, height), (0, height), (0, cut)])
        points = points + np.array([x - width / 2, y - height / 2])
    else:
        points = np.array([(0, 0), (width, 0), (width, height), (0, height)])
        points = points + np.array([x - width / 2, y - height / 2])
    return tuple((round(float(px), 2), round(float(py), 2)) for px, py in points)


def _holed(coupon: Coupon, dice: Dice) -> Coupon:
    """Return the coupon with a small hole in the strip along its upper edge, which does not count."""
    left, top, right, _ = coupon.box_mm
    radius = float(dice.uniform(1.1, 1.5))
    x = (left + right) / 2 + float(dice.uniform(-2, 2)) * (len(coupon.outline_mm) < 12)
    return Coupon(**{**coupon.__dict__, "hole_mm": (x, top + radius + 0.9, radius)})


def plan_of(board: Board) -> dict[str, object]:
    """Return the plan as the program's plan JSON has it."""
    return {
        "board": {
            "name": board.name,
            "rows": board.rows,
            "columns": board.columns,
            "width_mm": board.width_mm,
            "height_mm": board.height_mm,
            "edge_margin_mm": board.edge_margin_mm,
        },
        "markers": [{"id": number, "centre_mm": [x, y], "size_mm": size} for number, x, y, size in board.markers],
        "treatments": [
            {"id": name, "name": f"{finish} {name}", "finish": finish} for name, finish, _ in board.treatments
        ],
        "coupons": [
            {
                "id": each.id,
                "position": each.position,
                "treatment": each.treatment,
                "role": each.role,
                "substrate": "mild steel",
                "outline_mm": [list(point) for point in each.outline_mm],
            }
            for each in board.coupons
        ],
    }
