"""Boards with painted photos of known truth, small enough for quick tests."""

from __future__ import annotations

import json
import sys
from functools import lru_cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "board"))

from plan_reading import read_plan_json
from scenes.options import Options
from scenes.scene import scene

from rustboard.board.model import Photo
from rustboard.operations.measuring import keep_measuring
from rustboard.operations.photos import add_photo, add_photos
from rustboard.operations.plans import carry_out_plan
from rustboard.photo.decode import size_of
from rustboard.session.jobs import Progress
from rustboard.session.measuring import MeasureRequest, measure
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.photos import keep_photo
from rustboard.store.tables import BoardRow

PHOTOS = 4


class Painted:
    """A scene with its photos, painted once for all tests."""

    def __init__(self, seed, **options):
        source = scene(seed, megapixels=1.5, photos=PHOTOS, options=Options(coupons=(3, 2), shapes=False, **options))
        self.plan = source.plan
        self.photos = [source.photo(number) for number in range(PHOTOS)]


@lru_cache(maxsize=4)
def painted(seed=3, **options):
    """Return a painted scene."""
    return Painted(seed, **{"debris": False, "missing": 0.0, "turned": False, "light": "overcast", **options})


def board_of(folder, scenery, photos=PHOTOS):
    """Write a board with the first photos of a scene and open it."""
    plan, problems = read_plan_json(json.dumps(scenery.plan).encode(), "plan.json")
    assert problems == []
    create_board(folder, BoardRow(plan.board, plan.markers))
    session = Session(folder)
    session.do(carry_out_plan, plan)
    for each in scenery.photos[:photos]:
        add(session, each)
    return session


def add(session, photo, taken=None):
    """Add a photo of a scene; return its key."""
    when = taken or photo.taken
    file, digest = keep_photo(session.folder, photo.name, photo.jpeg, when)
    width, height = size_of(photo.jpeg)
    (key,) = session.do(add_photo, Photo(photo.name, file, digest, width, height, taken=when)).tables["photo"]
    return key


def add_tied(session, photos):
    """Add photos of a scene in one step, each with an inspection."""
    kept = []
    for each in photos:
        file, digest = keep_photo(session.folder, each.name, each.jpeg, each.taken)
        kept.append(Photo(each.name, file, digest, *size_of(each.jpeg), taken=each.taken))
    session.do(add_photos, kept)


def request_of(session, cache, **parts):
    """Return a request to measure in this process."""
    return MeasureRequest(session.record.snapshot(), session.folder, cache, **parts)


def measured(session, cache, progress=None, **parts):
    """Measure and record; return the result."""
    result = measure(request_of(session, cache, **parts), progress or Progress())
    session.do(keep_measuring, result.placings, result.measurements)
    return result


def percents(session):
    """Return percent by photo name and coupon id."""
    record = session.record
    return {
        (record.photos[photo].name, record.coupons[coupon].id): each.percent
        for photo, found in record.measured.items()
        for coupon, each in found.items()
    }
