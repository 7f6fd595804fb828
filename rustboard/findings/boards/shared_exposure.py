"""The part of the exposure that all boards went through, and boards cut to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rustboard.findings.coupons.subject import FindingsRequest

_TINY = 1e-9


def reached(request: FindingsRequest) -> float:
    """Return the last place on the clock at which any coupon of a board was graded; 0 without a grade."""
    graded = {inspection for given in request.record.current.values() for inspection in given}
    places = [
        place
        for each, place in zip(request.record.inspections_in_order(), request.clock.places, strict=True)
        if each.key in graded
    ]
    return max(places, default=0.0)


def shared_place(requests: Sequence[FindingsRequest]) -> float:
    """Return how far on the clock all boards were graded; 0 without boards."""
    return min(map(reached, requests), default=0.0)


def cut_to(request: FindingsRequest, place: float) -> FindingsRequest:
    """Return a board as it was when its clock showed ``place``: inspections beyond it are dropped.

    Last and mean grades of boards that were watched for different lengths compare fairly only over the part that all
    of them reached. Where a board was not inspected at the place itself, its last inspection before it counts, so
    its exposure may still be a little shorter than that of the others.

    Args:
        request: the board.
        place: on its clock.
    """
    inspections = request.record.inspections_in_order()
    slack = _TINY * max(abs(place), 1.0)
    kept = {each.key: each for each, at in zip(inspections, request.clock.places, strict=True) if at <= place + slack}
    if len(kept) == len(inspections):
        return request
    record = request.record.snapshot()
    started = record.board.started or record.day_zero()
    record.board = replace(record.board, started=started)  # the days stay what they were
    record.inspections = kept
    current = {
        coupon: {inspection: grading for inspection, grading in given.items() if inspection in kept}
        for coupon, given in record.current.items()
    }
    record.current = {coupon: given for coupon, given in current.items() if given}
    places = tuple(at for at in request.clock.places if at <= place + slack)
    return replace(request, record=record, clock=replace(request.clock, places=places))
