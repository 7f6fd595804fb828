"""Outlines suggested from a picture of the board, where the record has none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi, sin
from typing import Final, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.board.model import Outline
from rustboard.board.outline import area_mm2
from rustboard.board.position import Position
from rustboard.photo.hanging.profiles import log_colours
from rustboard.photo.looks import Mask, Rgb

Shape = Literal["any", "rectangle", "disc", "polygon"]

_SCALE: Final = 1.5  # pixels a millimetre; finer the edges need not be known before they are fitted
_FIT_MM: Final = 0.7
_LEAST_SHARE: Final = 0.04  # of a place's area that a coupon takes
_MOST_SHARE: Final = 0.92
_BORDER: Final = 0.06  # of a place's width: there the board is seen
_CLOSE_MM: Final = 2.0
_MOST_POINTS: Final = 12
_CIRCLE_POINTS: Final = 48
_SEPARATE: Final = 2.5


@dataclass(frozen=True, slots=True)
class Suggestion:
    """An outline that a picture suggests.

    Attributes:
        position: place on the board. outline_mm: on the board as the picture shows it.
        shape: what it was snapped to. certainty: 0 to 1.
    """

    position: Position
    outline_mm: Outline
    shape: Literal["rectangle", "disc", "polygon"]
    certainty: float


def suggest_outlines(
    board: Rgb, pixels_per_mm: float, rows: int, columns: int, positions: Sequence[Position], shape: Shape = "any"
) -> list[Suggestion]:
    """Return at most one outline for each position, of what stands out from the board there.

    Args:
        board: the whole board straightened, H x W x 3.
        pixels_per_mm: of it.
        rows: places of the board from top to bottom.
        columns: places of the board from left to right.
        positions: where a coupon is expected.
        shape: what the coupons are, where known.
    """
    scale = min(_SCALE, pixels_per_mm)
    height_mm, width_mm = board.shape[0] / pixels_per_mm, board.shape[1] / pixels_per_mm
    size = (max(1, round(width_mm * scale)), max(1, round(height_mm * scale)))
    small = np.asarray(cv2.resize(board, size, interpolation=cv2.INTER_AREA), np.uint8)
    cell = (size[0] / columns, size[1] / rows)
    found = []
    for position in positions:
        left, top = round(position.column * cell[0]), round(position.row * cell[1])
        piece = small[top : round((position.row + 1) * cell[1]), left : round((position.column + 1) * cell[0])]
        suggestion = _suggested(piece, (left, top), scale, position, shape)
        if suggestion is not None:
            found.append(suggestion)
    return found


def _suggested(
    piece: Rgb, origin: tuple[int, int], scale: float, position: Position, shape: Shape
) -> Suggestion | None:
    mask, certainty = _standing_out(piece, scale)
    contours, _ = cv2.findContours(mask.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    if not contours:
        return None
    contour = max(contours, key=cv2.contourArea)
    share = cv2.contourArea(contour) / max(1, mask.size)
    if not _LEAST_SHARE <= share <= _MOST_SHARE:
        return None
    # The contour runs through the middles of the outermost pixels: half a pixel inside of the edge.
    hull = cv2.convexHull(contour)
    solid = cv2.contourArea(contour) / max(cv2.contourArea(hull), 1.0)
    points = contour[:, 0, :].astype(np.float64) + 0.5
    kind, outline = _snapped(points / scale, 0.5 / scale, shape)
    corners = np.asarray(outline) + np.array(origin) / scale
    placed = tuple((float(x), float(y)) for x, y in corners)
    if len(placed) < 3 or area_mm2(placed) < 1:
        return None
    return Suggestion(position, placed, kind, float(np.clip(certainty * solid, 0, 1)))


def _standing_out(piece: Rgb, scale: float) -> tuple[Mask, float]:
    """Return what differs from the board seen along the border of a place, and how clearly (0 to 1)."""
    colours = log_colours(piece)
    smooth = np.asarray(cv2.GaussianBlur(colours, (0, 0), 0.8), np.float32)
    height, width = piece.shape[:2]
    rim = max(2, round(_BORDER * min(height, width)))
    border = np.ones((height, width), np.bool_)
    border[rim:-rim, rim:-rim] = False
    sample = smooth[border]
    middle = np.median(sample, axis=0)
    spread = np.cov((sample - middle).T) + np.eye(3) * 0.05**2
    away = smooth - middle
    distance = np.sqrt(np.einsum("hwi,ij,hwj->hw", away, np.linalg.inv(spread), away))
    levels = np.clip(np.log1p(distance) * 60, 0, 255).astype(np.uint8)
    limit, _ = cv2.threshold(levels, 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
    mask = (levels > max(limit, np.log1p(_SEPARATE) * 60)).astype(np.uint8)
    width_px = max(3, round(_CLOSE_MM * scale) | 1)
    brush = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (width_px, width_px))
    mask = cv2.morphologyEx(mask, cv2.MORPH_CLOSE, brush)
    mask = cv2.morphologyEx(mask, cv2.MORPH_OPEN, brush)
    inner = mask.astype(np.bool_)
    if not inner.any() or inner.all():
        return inner, 0.0
    apart = float(np.median(distance[inner]) - np.median(distance[~inner]))
    return inner, apart / (apart + 3.0)


def _snapped(
    points: NDArray[np.float64], out_mm: float, shape: Shape
) -> tuple[Literal["rectangle", "disc", "polygon"], NDArray[np.float64]]:
    """Return a clean rectangle or disc where it fits the edge, else a polygon of few points."""
    rectangle = _rectangle(points, out_mm)
    middle = (points.min(axis=0) + points.max(axis=0)) / 2
    radius = float(np.median(np.hypot(*(points - middle).T)))
    turns = np.arange(_CIRCLE_POINTS) * 2 * pi / _CIRCLE_POINTS
    circle = middle + (radius + out_mm) * np.array([(cos(turn), sin(turn)) for turn in turns])
    misfits = {"rectangle": _misfit(points, rectangle) - out_mm / 2, "disc": _misfit(points, circle) - out_mm / 2}
    kind = min(misfits, key=lambda each: misfits[each]) if shape == "any" else shape
    if kind == "rectangle" and (shape != "any" or misfits["rectangle"] < _FIT_MM):
        return "rectangle", rectangle
    if kind == "disc" and (shape != "any" or misfits["disc"] < _FIT_MM):
        return "disc", circle
    away = points - middle
    grown = middle + away * (1 + out_mm / np.maximum(np.hypot(*away.T), out_mm))[:, None]
    loose = _FIT_MM
    while True:
        simple = cv2.approxPolyDP(grown.astype(np.float32), loose, True)[:, 0, :]
        if len(simple) <= _MOST_POINTS:
            return "polygon", np.asarray(simple, np.float64)
        loose *= 1.3


def _rectangle(points: NDArray[np.float64], out_mm: float) -> NDArray[np.float64]:
    """Return the rectangle of any angle whose sides run through the points near them, grown by a little."""
    (x, y), (width, height), angle = cv2.minAreaRect(points.astype(np.float32))
    middle, half, turn = np.array([x, y]), np.array([width, height]) / 2 + 1e-6, float(np.radians(angle))
    for _ in range(3):
        axes = np.array([[cos(turn), sin(turn)], [-sin(turn), cos(turn)]])
        local = (points - middle) @ axes.T
        upright = np.abs(local[:, 0]) / half[0] > np.abs(local[:, 1]) / half[1]
        sides, slopes = np.zeros((2, 2)), []
        for axis in (0, 1):
            across, along = local[:, axis], local[:, 1 - axis]
            for end, sign in enumerate((-1, 1)):
                near = (upright == (axis == 0)) & (across * sign > 0) & (np.abs(along) < 0.85 * half[1 - axis])
                if near.sum() < 4:
                    return np.asarray(cv2.boxPoints(((x, y), (width, height), angle)), np.float64)
                sides[axis, end] = np.median(across[near])
                line = cv2.fitLine(
                    np.column_stack([along[near], across[near]]).astype(np.float32), cv2.DIST_HUBER, 0, 0.01, 0.01
                )
                vx, vy = (float(each) for each in np.ravel(line)[:2])
                # A turn towards y tilts the upright sides and the level ones in opposite ways.
                slopes.append((vy / vx if abs(vx) > 1e-6 else 0.0) * (1 if axis else -1))
        middle = middle + sides.mean(axis=1) @ axes
        half = (sides[:, 1] - sides[:, 0]) / 2
        turn += float(np.median(slopes))
    axes = np.array([[cos(turn), sin(turn)], [-sin(turn), cos(turn)]])
    corners = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * (half + out_mm)
    return np.asarray(middle + corners @ axes, np.float64)


def _misfit(points: NDArray[np.float64], outline: NDArray[np.float64]) -> float:
    """Return how far nine in ten of the points lie from an outline at most, mm."""
    corners = outline.astype(np.float32).reshape(-1, 1, 2)
    thin = points[:: max(1, len(points) // 200)]
    return float(np.quantile([abs(cv2.pointPolygonTest(corners, (float(x), float(y)), True)) for x, y in thin], 0.9))
