"""Photographed boards with made-up measurements, and masks in the cache as measuring leaves them."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

import numpy as np
from photographed_boards import photographed

from rustboard.board.measured import Measurement
from rustboard.board.record import BoardRecord
from rustboard.operations.measuring import keep_measuring
from rustboard.photo.cutting import significant
from rustboard.photo.judging.masks import Masks, pack
from rustboard.session.coupon_frames import first_placed, frames_of
from rustboard.session.measuring_cache import MeasuringCache, hash_of
from rustboard.session.out_of_date import OutOfDate
from rustboard.session.photo_days import photos_in_order
from rustboard.session.session import Session
from rustboard.support.paths import cache_folder


def measurement(photo: int, coupon: int, percent: float | None = 0.12, **more: object) -> Measurement:
    """Return a measurement; without more said a confident one of 0.12 %, between 0.05 and 0.30 %."""
    plain = Measurement(
        key=0,
        photo=photo,
        coupon=coupon,
        algorithm=1,
        inputs=hash_of((photo, coupon)),
        percent=percent,
        low=0.05,
        high=0.30,
        spots=3,
        largest_mm2=1.5,
        distribution="S",
        debris_percent=0.4,
        unseen_percent=0.1,
        resolvable_percent=0.004,
        confident=True,
        newest=False,
        motion=(0.0, 0.0, 0.0, 1.0),
        present="there",
        warnings=(),
        measured="",
    )
    return plain._replace(**more)


def measured_board(folder: Path, *changed: Measurement, photos: int = 2) -> Path:
    """Make a board of four coupons, measured in every photo; ``changed`` take the place of the plain measurements.

    The masks of every measurement hold rust in the upper left, dirt in the middle, something unseen below.
    """
    photographed(folder, tuple(200 - 40 * number for number in range(photos)))
    given = {(each.photo, each.coupon): each for each in changed}
    with closing(Session(folder)) as session:
        record = session.record
        measurements = [
            fitting(record, given.get((photo, coupon), measurement(photo, coupon)))
            for photo in record.photos
            for coupon in record.coupons
        ]
        session.do(keep_measuring, (), measurements)
        first = first_placed(record)
        assert first is not None
        cache = MeasuringCache(cache_folder())
        shapes = {coupon: significant(frame).shape for coupon, frame in frames_of(record, first).items()}
        for each in measurements:
            if each.coupon in shapes:
                cache.keep_masks(each.inputs, pack(painted_masks(shapes[each.coupon])))
    return folder


def fitting(record: BoardRecord, found: Measurement) -> Measurement:
    """Return a measurement as one of the board as it is now."""
    first = first_placed(record)
    assert first is not None
    frame = frames_of(record, first).get(found.coupon)
    if frame is None:
        return found
    settings = OutOfDate(record).settings(found.photo, frame, found.algorithm)
    last = photos_in_order(record)[-1].key == found.photo
    return found._replace(inputs=settings + found.inputs[len(settings) :], newest=found.newest or last)


def painted_masks(shape: tuple[int, int]) -> Masks:
    """Return masks of three boxes, in twelfths of height and width."""
    planes = [np.zeros(shape, np.bool_) for _ in range(3)]
    height, width = shape
    for plane, (top, bottom) in zip(planes, ((3, 4), (5, 6), (7, 8)), strict=True):
        plane[height * top // 12 : height * bottom // 12, width * 4 // 12 : width * 6 // 12] = True
    return Masks(*planes)
