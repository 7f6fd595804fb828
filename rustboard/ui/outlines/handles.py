"""What of a shape can be taken hold of on the screen: its points, its inside, and the knob that turns it."""

from __future__ import annotations

from math import atan2, degrees, hypot
from typing import Final

from PySide6.QtCore import QPointF

from rustboard.board.model import Outline
from rustboard.ui.outlines.shapes import DISC_POINTS, centre_of, holds, kind_of
from rustboard.ui.zooming.ink import GRAB_PX
from rustboard.ui.zooming.view import ZoomView

INSIDE: Final = -1
"""Number of the handle that moves a whole shape."""
KNOB: Final = -2
"""Number of the handle that turns it."""
NOTHING: Final = -3

_KNOB_AWAY_PX: Final = 34.0


def handle_points(outline: Outline) -> list[int]:
    """Return the numbers of the points that can be dragged: all, or four of a disc's."""
    if kind_of(outline) == "disc":
        step = len(outline) // 4
        return [0, step, 2 * step, 3 * step]
    return list(range(len(outline)))


def knob_at(view: ZoomView, outline: Outline) -> QPointF | None:
    """Return where the knob that turns a shape is on the widget; a disc has none."""
    if kind_of(outline) == "disc":
        return None
    x, y = centre_of(outline)
    middle = view.to_widget(x, y)
    if kind_of(outline) == "rectangle":
        (ax, ay), (bx, by) = outline[0], outline[1]
        top = view.to_widget((ax + bx) / 2, (ay + by) / 2)
    else:
        points = [view.to_widget(*each) for each in outline]
        top = QPointF(middle.x(), min(each.y() for each in points))
    away = top - middle
    length = hypot(away.x(), away.y()) or 1.0
    knob = middle + away * ((length + _KNOB_AWAY_PX) / length)
    if view.rect().adjusted(8, 8, -8, -8).contains(knob.toPoint()):
        return knob
    return middle - away * ((length + _KNOB_AWAY_PX) / length)  # on the other side, where it can be reached


def handle_under(view: ZoomView, outline: Outline, point: QPointF) -> int:
    """Return what of a shape is under a point of the widget: a point's number, `KNOB`, `INSIDE` or `NOTHING`."""
    near: list[tuple[float, int]] = []
    for number in handle_points(outline):
        away = view.to_widget(*outline[number]) - point
        near.append((hypot(away.x(), away.y()), number))
    knob = knob_at(view, outline)
    if knob is not None:
        near.append((hypot((knob - point).x(), (knob - point).y()), KNOB))
    away_px, number = min(near)
    place = view.to_picture(point)
    inside = holds(outline, (place.x(), place.y()))
    # In a small shape the inside must stay within reach of the finger.
    reach = GRAB_PX if not inside else min(GRAB_PX, room_px(view, outline) / 4)
    if away_px <= reach:
        return number
    return INSIDE if inside else NOTHING


def room_px(view: ZoomView, outline: Outline) -> float:
    """Return the shorter side of a shape on the widget."""
    points = [view.to_widget(*each) for each in outline]
    xs, ys = [each.x() for each in points], [each.y() for each in points]
    return min(max(xs) - min(xs), max(ys) - min(ys))


def angle_of(outline: Outline, place: QPointF) -> float:
    """Return the direction of a place from a shape's middle, degrees clockwise from the right."""
    x, y = centre_of(outline)
    return degrees(atan2(place.y() - y, place.x() - x))


def is_few_points(outline: Outline) -> bool:
    """Return whether single points may be added and taken away: not from a disc."""
    return kind_of(outline) != "disc" and len(outline) < DISC_POINTS * 8
