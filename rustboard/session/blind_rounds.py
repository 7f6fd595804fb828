"""Questions the screens ask of a blind inspection. No Qt, nothing that reveals."""

from __future__ import annotations

from datetime import datetime

from rustboard.board.blind import BlindInspection, BlindRound
from rustboard.board.model import Coupon, Inspection, Photo
from rustboard.board.record import BoardRecord
from rustboard.session.nameless_pictures import NamelessPictures, coupons_shown, nameless_pictures
from rustboard.session.session import Session


def rounds_of(record: BoardRecord, blind: BlindInspection) -> list[BlindRound]:
    """Return the rounds of a blind inspection in the order in which they were begun."""
    return sorted(
        (each for each in record.blind_rounds.values() if each.blind == blind.key), key=lambda each: each.key
    )


def rounds_by_blind(record: BoardRecord) -> dict[int, list[BlindRound]]:
    """Return all rounds by key of the blind inspection, in the order in which they were begun."""
    found: dict[int, list[BlindRound]] = {}
    for each in sorted(record.blind_rounds.values(), key=lambda each: each.key):
        found.setdefault(each.blind, []).append(each)
    return found


def graded_in(record: BoardRecord, of_round: BlindRound) -> int:
    """Return how many showings of a round have a grade."""
    return len(record.blind_grades.get(of_round.key, {}))


def next_showing(record: BoardRecord, of_round: BlindRound, after: int) -> int | None:
    """Return the next showing without a grade: after ``after`` (-1: from the first), then from the start, or None."""
    given = record.blind_grades.get(of_round.key, {})
    count = len(of_round.showings)
    numbers = [(after + 1 + step) % count for step in range(count)]
    return next((number for number in numbers if number not in given), None)


def photos_to_grade_from(record: BoardRecord, inspection: Inspection) -> list[Photo]:
    """Return the photos of an inspection in which the board was found, the newest first."""
    found = [
        each for each in record.photos.values() if each.inspection == inspection.key and each.mm_to_px is not None
    ]
    return sorted(found, key=lambda each: (each.taken or datetime.min, each.key), reverse=True)


def graded_openly(record: BoardRecord, inspection: int) -> int:
    """Return how many coupons have a grade at an inspection already."""
    return sum(inspection in graded for graded in record.current.values())


def pictures_of(session: Session, blind: BlindInspection) -> NamelessPictures | None:
    """Return what to cut for the rounds of a blind inspection; None at the bench, or when the photo is away."""
    return nameless_pictures(session, blind.photo)


def coupons_to_grade(record: BoardRecord, blind: BlindInspection) -> tuple[int, ...] | None:
    """Return the keys of the coupons that a round shows: those that the photo shows, or None for all on the board."""
    photo = record.photos.get(blind.photo or 0)
    return None if photo is None else coupons_shown(record, photo)


def place_words(coupon: Coupon) -> str:
    """Return where a coupon hangs, as a person at the bench finds it: the label of its position."""
    return coupon.position.label if coupon.position is not None else ""
