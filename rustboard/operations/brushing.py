"""The brush: what a person adds to the measured rust of one photo, or takes away."""

from __future__ import annotations

import math
from dataclasses import replace

from rustboard.board.measured import MOST_STROKE_POINTS, MOST_STROKES, Stroke
from rustboard.operations.lookup import the_coupon, the_photo
from rustboard.store.measuring_tables import STROKES
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary

LARGEST_RADIUS_MM = 200.0


def add_stroke(tx: Transaction, stroke: Stroke) -> Summary:
    """Record a stroke of the brush.

    Raises:
        InputError: photo or coupon are not there, or the stroke has no points, too many, or no width.
    """
    coupon = the_coupon(tx, stroke.coupon)
    the_photo(tx, stroke.photo)
    if not 0 < stroke.radius_mm <= LARGEST_RADIUS_MM:
        raise InputError("A brush is more than 0 and at most 200 mm wide; choose another width.")
    if not 1 <= len(stroke.points_mm) <= MOST_STROKE_POINTS:
        raise InputError(f"A stroke has 1 to {MOST_STROKE_POINTS} points; lift the brush more often.")
    if not all(math.isfinite(x) and math.isfinite(y) for x, y in stroke.points_mm):
        raise InputError("A stroke has a point that is not a number; draw it again.")
    if tx.count(STROKES) >= MOST_STROKES:
        raise InputError("This board has as many strokes of the brush as it can hold; take some away first.")
    tx.put(STROKES, replace(stroke, key=0))
    pattern = "Add rust by brush on {0}" if stroke.adds else "Take rust away by brush on {0}"
    return Summary(pattern, (coupon.id,))


def remove_strokes(tx: Transaction, photo: int, coupon: int) -> Summary:
    """Take back all strokes on a coupon in one photo, so that the measured mask stands again.

    Raises:
        InputError: there are none.
    """
    found = tx.find(STROKES, photo=photo, coupon=coupon)
    if not found:
        raise InputError("There is no stroke of the brush on this coupon in this photo.")
    for each in found:
        tx.drop(STROKES, each.key)
    return Summary("Take back all strokes on {0}", (the_coupon(tx, coupon).id,))
