"""Where on a drawing there is room for something, beside all that is drawn already."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rustboard.report.paper.shapes import Area

_ROUNDING = 1e-9


def free_place(room: Area, wide: float, high: float, taken: Iterable[Area]) -> Area | None:
    """Return the leftmost of the topmost places in a room that touch nothing taken; None when there is none.

    Such a place, pushed up and left, ends at an edge of the room or of something taken; so only those are tried.
    """
    near = [each for each in taken if each.overlap(room) is not None]
    best: Area | None = None
    for left in sorted({room.left, *(each.right for each in near)}):
        if left < room.left or left + wide > room.right + _ROUNDING:
            continue
        column = [each for each in near if each.left < left + wide - _ROUNDING and each.right > left + _ROUNDING]
        top = _first_gap(column, room.top, high)
        if top + high <= room.bottom + _ROUNDING and (best is None or top < best.top - _ROUNDING):
            best = Area(left, top, wide, high)
    return best


def _first_gap(column: Sequence[Area], top: float, high: float) -> float:
    for each in sorted(column, key=lambda area: area.top):
        if each.top >= top + high - _ROUNDING:
            break
        top = max(top, each.bottom)
    return top
