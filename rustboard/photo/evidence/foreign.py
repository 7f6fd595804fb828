"""What lies on a coupon and is neither rust nor steel."""

from __future__ import annotations

from functools import cached_property
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.evidence.differences import Box, Differences
from rustboard.photo.evidence.light import LocalLight
from rustboard.photo.evidence.planes import highest, lowest, narrowed, quantile_of, split, widened
from rustboard.photo.evidence.tables import Plane
from rustboard.photo.looks import Mask
from rustboard.photo.pieces import pieces_of

_LEAST_STRANGE: Final = 0.45
_RIM: Final = 5  # pixels, side of a square: where a leaf's edge and steel mix into anything
_MOSTLY_FOREIGN: Final = 0.25
"""Share of a thing that must be foreign for the rust-coloured rest to be part of it."""

_APART: Final = {1.0: 0.4, -1.0: 0.5}
"""Least difference of luminance (nats) of what is lighter, and darker."""
_BEYOND_LIGHT: Final = 0.3
_STEEP: Final = 0.25
"""Change of luminance (nats) across three pixels at the rim of a thing; of glare and of soft shadows it is less."""
_OF_HEIGHT: Final = 0.4
"""The same as a share of the whole difference: on dark steel even soft glare is a steep change of its logarithm."""
_REDDISH: Final = 0.1
_SHARP_AROUND: Final = 0.6
"""Share of a thing's rim that must be sharp."""
_HOLE: Final = np.ones((9, 9), np.uint8)
_PAD: Final = 5  # pixels; more than half of a hole
_NEW: Final = 0.7
"""Share of a thing that must differ from most of the coupon, where that did not differ before."""
_FEWEST_APART: Final = 15  # pixels
_MOST_APART: Final = 8
_MOST_OF_IT: Final = 0.25
"""What is lighter or darker over more of a coupon is light."""

_NEAR: Final = 17
_GAP: Final = 5
_FEWEST: Final = 20  # pixels
_MOST_THINGS: Final = 12
_SAME_COLOUR: Final = 0.3
_SAME_LIGHT: Final = 0.6
_CHANGED: Final = 0.3
_SOME: Final = 7
_ACROSS: Final = 0.3
"""Share of the board around the part at the edge that must have become like it."""


def foreign_of(found: Differences, rusty: Mask, light: LocalLight) -> Mask:
    """Return the pixels (h x w) of what is neither rust nor steel.

    That is what is far from the coupon's own colour and not on the side of rust (green, yellow, bluer), what is
    lighter or darker than light explains and sharply bounded (droppings, feathers, dirt), with the rust-coloured
    rest of the same thing, and what goes on beyond the coupon's edge in the same colour.

    Args:
        found: the coupon against its base.
        rusty: the pixels that look rusted.
        light: of the photo at the coupon.
    """
    _, red, yellow = split(found.parts)
    limit = np.multiply(found.noise, np.float32(4))
    np.maximum(limit, np.float32(_LEAST_STRANGE), out=limit)
    green = np.maximum(red, np.float32(0))
    green *= np.float32(-2.2)
    green += yellow
    green -= np.float32(0.3)
    bluer = np.negative(red, out=red)
    strange = ((green > limit) | (bluer > limit)) & found.surface
    foreign = _opened(strange) if np.count_nonzero(strange) else strange
    if foreign.any():
        foreign = widened(foreign, _RIM) & found.surface
        foreign |= _of_the_same_thing(foreign, rusty)
    usual = _Usual(found)
    for side in (1.0, -1.0):
        things = _sharply_bounded(found, rusty, side, light.darker + light.brighter, usual)
        if things.any():
            foreign |= widened(things, _RIM) & found.surface & ~rusty
    return foreign | _across_the_edge(found, rusty & ~foreign)


def _sharply_bounded(found: Differences, rusty: Mask, side: float, explained: float, usual: _Usual) -> Mask:
    """Return things without rust's colour that are lighter (side 1) or darker (-1) than light makes steel.

    Glare, the sun and its shadows change slowly over a coupon, or by no more than they do on the board; and what only
    shows again where the first photo had ink or glare has the coupon's own luminance.
    """
    things = np.zeros_like(rusty)
    limit = max(_APART[side], explained + _BEYOND_LIGHT)
    apart = found.lightness > np.float32(limit) if side > 0 else found.lightness < np.float32(-limit)
    apart &= found.surface
    if np.count_nonzero(apart) < _FEWEST_APART:
        return things
    core = _opened(apart & ~rusty)
    if np.count_nonzero(core) < _FEWEST_APART:
        return things
    labels, area, boxes = pieces_of(core)
    large = np.flatnonzero((area >= _FEWEST_APART) & (area < _MOST_OF_IT * np.count_nonzero(found.surface)))
    large = large[large > 0]
    if not large.size:
        return things
    for thing in large[np.argsort(-area[large])][:_MOST_APART]:
        left, top, width, height = (int(each) for each in boxes[thing])
        box = (slice(max(top - _PAD, 0), top + height + _PAD), slice(max(left - _PAD, 0), left + width + _PAD))
        part = labels[box] == thing
        if _is_a_thing(found, box, part, side, usual):
            # The dark middle of a dropping is a part of it.
            things[box] |= np.asarray(cv2.morphologyEx(part.view(np.uint8), cv2.MORPH_CLOSE, _HOLE), np.bool_)
    return things & found.surface


class _Usual:
    """Most of a coupon: its luminance in the photo, and without what changed; looked at when first asked for."""

    def __init__(self, found: Differences) -> None:
        self._found = found

    @cached_property
    def _some(self) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
        some = (slice(None, None, 5), slice(None, None, 5))
        surface = self._found.surface[some]
        return self._found.seen[some][:, :, 0][surface], self._found.lightness[some][surface]

    @cached_property
    def seen(self) -> float:
        """Luminance in the photo."""
        seen, _ = self._some
        return quantile_of(seen, 0.5) if seen.size else 0.0

    @cached_property
    def before(self) -> float:
        """Luminance without what changed."""
        seen, lightness = self._some
        return quantile_of(seen - lightness, 0.5) if seen.size else 0.0


def _is_a_thing(found: Differences, box: Box, part: Mask, side: float, usual: _Usual) -> bool:
    """Return whether a part of a box (lighter than steel on side 1, else darker) is sharply bounded and new there."""
    if float(found.departure[box][part].mean()) > _REDDISH:
        return False
    seen, lightness = np.ascontiguousarray(found.seen[:, :, 0][box]), found.lightness[box]
    new = side * (seen - np.float32(usual.seen)) > _BEYOND_LIGHT
    if new[part].mean() < _NEW:
        return False
    # Lettering in the first photo, or what was left of it when that was put together, may hang a little aside.
    new &= ~widened(_opened(side * (seen - lightness - np.float32(usual.before)) > _BEYOND_LIGHT), 5)
    if new[part].mean() < _NEW:
        return False
    rim = widened(part, 3) & ~narrowed(part, 3) & narrowed(found.surface[box], 5)
    if not rim.any():
        return False
    # In the photo itself: a base put together of several photos has seams of its own.
    steep = highest(seen, 3) - lowest(seen, 3)
    inner = steep[narrowed(part, 5)]
    grain = min(float(np.median(inner)), _STEEP) if inner.size else 0.0
    least = max(_STEEP + grain, _OF_HEIGHT * float(np.abs(lightness[part]).mean()))
    return bool((steep[rim] > least).mean() > _SHARP_AROUND)


def _opened(mask: Mask) -> Mask:
    return np.asarray(cv2.morphologyEx(mask.view(np.uint8), cv2.MORPH_OPEN, np.ones((3, 3), np.uint8)), np.bool_)


def _of_the_same_thing(foreign: Mask, rusty: Mask) -> Mask:
    """Return the rust-coloured parts of things that are foreign by a good part."""
    count, labels = cv2.connectedComponents((foreign | rusty).astype(np.uint8), connectivity=4)
    flat = labels.ravel()
    share = np.bincount(flat[foreign.ravel()], minlength=count) / np.maximum(np.bincount(flat, minlength=count), 1)
    whole = share > _MOSTLY_FOREIGN
    whole[0] = False
    return np.asarray(whole[labels], np.bool_)


def _across_the_edge(found: Differences, rusty: Mask) -> Mask:
    """Return the rust-coloured things at the coupon's edge that go on over the board: leaves, twigs, soil.

    Where the board has that colour all around, that it has it beside such a thing says nothing.
    """
    foreign = np.zeros_like(rusty)
    edge = found.surface & ~narrowed(found.surface, 5)
    if not (rusty & edge).any():
        return foreign
    beyond = ~widened(found.surface, _GAP)
    labels, areas, boxes = pieces_of(rusty)
    at_edge = np.bincount(labels[edge & rusty], minlength=len(areas)) >= 3
    at_edge &= areas >= _FEWEST
    at_edge[0] = False
    things = np.flatnonzero(at_edge)
    if not things.size or not beyond.any():
        return foreign
    board = found.seen[beyond][::_SOME]
    for thing in things[np.argsort(-areas[things])][:_MOST_THINGS]:
        left, top, width, height = (int(each) for each in boxes[thing])
        box = (slice(max(top - _NEAR, 0), top + height + _NEAR), slice(max(left - _NEAR, 0), left + width + _NEAR))
        part = labels[box] == thing
        outside = widened(part & edge[box], 2 * _NEAR - 3) & beyond[box]
        if np.count_nonzero(outside) < _FEWEST:
            continue
        luminance, red, yellow = np.abs(found.parts[box][outside]).T
        changed = (luminance > _CHANGED) | (red > _CHANGED) | (yellow > _CHANGED)
        if changed.mean() <= _ACROSS:
            continue
        here = np.median(found.seen[box][part & edge[box]], axis=0)
        alike = _alike(found.seen[box][outside], here) & changed
        if alike.mean() > _ACROSS and _alike(board, here).mean() < _ACROSS:
            foreign[box] |= part
    return foreign


def _alike(seen: Plane, here: Plane) -> Mask:
    apart = np.abs(seen - here)
    return np.asarray((apart[:, 1:].max(axis=1) < _SAME_COLOUR) & (apart[:, 0] < _SAME_LIGHT), np.bool_)
