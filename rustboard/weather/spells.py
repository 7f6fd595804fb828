"""Wet spells: when a surface that was wet by the ISO rule had dried."""

from __future__ import annotations

from typing import Final

import numpy as np

from rustboard.weather.clocks import Truths
from rustboard.weather.readings import Numbers
from rustboard.weather.segments import Segments

SHORTEST_PAUSE_S: Final = 3_600.0
"""A dry pause shorter than this does not end a spell (own rule, no source)."""
_TOUCHING_S: Final = 1.0


def ends_of_spells(segments: Segments, wet: Truths) -> Numbers:
    """Return the moments at which a wet spell ended by drying, in order.

    A spell that a gap cuts off ends nothing, because nobody saw it dry.
    """
    if not len(segments):
        return np.zeros(0)
    apart = segments.start[1:] - segments.end[:-1] > _TOUCHING_S
    first = np.flatnonzero(np.concatenate([[True], apart | (wet[1:] != wet[:-1])]))
    start, is_wet = segments.start[first], wet[first]
    end = segments.end[np.concatenate([first[1:], [len(segments)]]) - 1]
    if len(first) < 2:
        return np.zeros(0)
    follows = np.concatenate([start[1:] - end[:-1] <= _TOUCHING_S, [False]])
    pause = ~is_wet & (end - start < SHORTEST_PAUSE_S)
    # A short dry pause is part of the spell around it, or the record breaks off in it: nothing has dried then.
    ended: Numbers = end[is_wet & follows & ~np.concatenate([pause[1:], [True]])]
    return ended
