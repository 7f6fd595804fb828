"""What lies on a coupon and is neither rust nor steel."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np

from rustboard.photo.evidence.differences import Differences
from rustboard.photo.evidence.planes import narrowed, split, widened
from rustboard.photo.looks import Mask

_LEAST_STRANGE: Final = 0.45
_RIM: Final = 5  # pixels, side of a square: where a leaf's edge and steel mix into anything
_MOSTLY_FOREIGN: Final = 0.25
"""Share of a thing that must be foreign for the rust-coloured rest to be part of it."""

_NEAR: Final = 17
_GAP: Final = 5
_FEWEST: Final = 20  # pixels
_MOST_THINGS: Final = 12
_SAME_COLOUR: Final = 0.3
_SAME_LIGHT: Final = 0.6
_CHANGED: Final = 0.3
_ACROSS: Final = 0.3
"""Share of the board around the part at the edge that must have become like it."""


def foreign_of(found: Differences, rusty: Mask) -> Mask:
    """Return the pixels (h x w) of what is neither rust nor steel.

    That is what is far from the coupon's own colour and not on the side of rust (green, yellow, bluer), with the
    rust-coloured rest of the same thing, and what goes on beyond the coupon's edge in the same colour.

    Args:
        found: the coupon against its base.
        rusty: the pixels that look rusted.
    """
    _, red, yellow = split(found.parts)
    green = yellow - np.float32(2.2) * np.maximum(red, 0) - np.float32(0.3)
    limit = np.maximum(np.float32(4) * found.noise, np.float32(_LEAST_STRANGE))
    strange = ((green > limit) | (-red > limit)) & found.surface
    foreign = _opened(strange)
    if foreign.any():
        foreign = widened(foreign, _RIM) & found.surface
        foreign |= _of_the_same_thing(foreign, rusty)
    return foreign | _across_the_edge(found, rusty & ~foreign)


def _opened(mask: Mask) -> Mask:
    return np.asarray(cv2.morphologyEx(mask.astype(np.uint8), cv2.MORPH_OPEN, np.ones((3, 3), np.uint8)), np.bool_)


def _of_the_same_thing(foreign: Mask, rusty: Mask) -> Mask:
    """Return the rust-coloured parts of things that are foreign by a good part."""
    count, labels = cv2.connectedComponents((foreign | rusty).astype(np.uint8), connectivity=4)
    flat = labels.ravel()
    share = np.bincount(flat[foreign.ravel()], minlength=count) / np.maximum(np.bincount(flat, minlength=count), 1)
    whole = share > _MOSTLY_FOREIGN
    whole[0] = False
    return np.asarray(whole[labels], np.bool_)


def _across_the_edge(found: Differences, rusty: Mask) -> Mask:
    """Return the rust-coloured things at the coupon's edge that go on over the board: leaves, twigs, soil."""
    foreign = np.zeros_like(rusty)
    edge = found.surface & ~narrowed(found.surface, 5)
    if not (rusty & edge).any():
        return foreign
    beyond = ~widened(found.surface, _GAP)
    count, labels, stats, _ = cv2.connectedComponentsWithStats(rusty.astype(np.uint8), connectivity=8)
    at_edge = np.bincount(labels[edge & rusty], minlength=count) >= 3
    at_edge &= stats[:, cv2.CC_STAT_AREA] >= _FEWEST
    at_edge[0] = False
    things = np.flatnonzero(at_edge)
    for thing in things[np.argsort(-stats[things, cv2.CC_STAT_AREA])][:_MOST_THINGS]:
        left, top, width, height = (int(each) for each in stats[thing, :4])
        box = (slice(max(top - _NEAR, 0), top + height + _NEAR), slice(max(left - _NEAR, 0), left + width + _NEAR))
        part = labels[box] == thing
        outside = widened(part & edge[box], 2 * _NEAR - 3) & beyond[box]
        if np.count_nonzero(outside) < _FEWEST:
            continue
        here = np.median(found.seen[box][part & edge[box]], axis=0)
        apart = np.abs(found.seen[box][outside] - here)
        changed = np.abs(found.parts[box][outside]).max(axis=1) > _CHANGED
        alike = (apart[:, 1:].max(axis=1) < _SAME_COLOUR) & (apart[:, 0] < _SAME_LIGHT) & changed
        if alike.mean() > _ACROSS:
            foreign[box] |= part
    return foreign
