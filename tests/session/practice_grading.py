"""Somebody who practises: coupons that take no time to draw, and answers that are off by as much as wanted."""

from __future__ import annotations

import numpy as np

from rustboard.scales.practice import PracticeCoupon
from rustboard.scales.practice_coupons import PaintedCoupon
from rustboard.session.practice import Practice


def painting(coupon: PracticeCoupon) -> PaintedCoupon:
    """Return a coupon of ten pixels that says of itself what the real one would, to the last digit or so."""
    rust = np.zeros((2, 5), np.bool_)
    rust[0, 0] = True
    return PaintedCoupon(coupon, np.zeros((2, 5, 3), np.uint8), ~np.zeros_like(rust), rust, coupon.percent)


def rather(coupon: PracticeCoupon, off: int) -> int:
    """Return a grade that is off by so much, or as far as the scale goes."""
    return min(10, max(0, coupon.grade + off))


def grade_on(practice: Practice, count: int, off: int = 0) -> None:
    """Grade some more coupons."""
    for _ in range(count):
        for each in practice.wanted():
            practice.take(painting(each))
        shown = next(each for each in practice._coupons if each.number == practice.number)
        practice.answer(rather(shown, off))
