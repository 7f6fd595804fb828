"""What measuring brings: places of photos, measurements, their revision; and taking them over as grades."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from rustboard.board.measured import SETTINGS_DIGITS, Measurement, PhotoPlacing
from rustboard.board.model import Coupon, Photo
from rustboard.operations.grading import GivenGrade, current_grading, grade_coupon
from rustboard.operations.lookup import the_coupon, the_photo
from rustboard.scales.rust_grade import grade_from_percent
from rustboard.store.measuring_tables import MEASUREMENTS
from rustboard.store.tables import PHOTOS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import counted, one_line

_NUMBERS = frozenset({"percent", "low", "high", "largest_mm2", "debris_percent", "unseen_percent", "spots"})
_NOT_SAID = frozenset({"key", "measured", "state", "replaces", "reason", "inputs", "motion", "resolvable_percent"})
_SAME_SHARE = 0.05
_NAMED = 12
"""How many revised answers the record of changes names one by one."""


def place_photo(tx: Transaction, placing: PhotoPlacing) -> Summary:
    """Record where the board is in a photo, or why it was not found.

    Raises:
        InputError: the photo is not on the board.
    """
    photo = _place(tx, placing)
    if placing.mm_to_px is None:
        return Summary("The board was not found in {0}", (photo.name,))
    return Summary("Find the board in {0}", (photo.name,))


def keep_measuring(tx: Transaction, placings: Sequence[PhotoPlacing], measurements: Sequence[Measurement]) -> Summary:
    """Record what one run of measuring found, in one step.

    A measurement that says the same as the one that counts is not recorded again; one that says something else
    supersedes it, and the older one is kept.

    Args:
        tx: the transaction.
        placings: of photos that were looked for.
        measurements: with keys of photos and coupons; state, time and what they replace are filled in here.

    Raises:
        InputError: a photo or a coupon is not on the board (any more).
    """
    for placing in placings:
        _place(tx, placing)
    revised: list[str] = []
    photos = {each.photo for each in measurements}
    coupons = {key: the_coupon(tx, key) for key in {each.coupon for each in measurements}}
    names = {key: the_photo(tx, key) for key in photos}
    counting = _counting(tx, coupons)
    new, superseded = [], []
    for found in measurements:
        each = (
            found._replace(warnings=tuple(one_line(words) for words in found.warnings)) if found.warnings else found
        )
        old = counting.get((each.photo, each.coupon))
        if old is None:
            new.append(_recorded(tx, each))
        elif not says_the_same(old, each):
            superseded.append(old.key)
            new.append(_recorded(tx, each, old))
            if old.percent != each.percent:
                revised.append(_revision(old, new[-1], names[each.photo], coupons[each.coupon]))
    tx.set_all(MEASUREMENTS, superseded, "state", "superseded")
    tx.add_all(MEASUREMENTS, new)
    done = (counted(len(photos), "photo"),)
    if not revised:
        return Summary("Measure {0}", done)
    more = f" and {len(revised) - _NAMED} more" if len(revised) > _NAMED else ""
    return Summary("Measure {0}; revised: {1}", (*done, "; ".join(revised[:_NAMED]) + more))


def _counting(tx: Transaction, coupons: Iterable[int]) -> dict[tuple[int, int], Measurement]:
    """Return the measurements that count, by photo and coupon: a coupon's together, for there may be many."""
    found = [each for key in coupons for each in tx.find(MEASUREMENTS, coupon=key, state="current")]
    return {(each.photo, each.coupon): each for each in found}


def _place(tx: Transaction, placing: PhotoPlacing) -> Photo:
    photo = the_photo(tx, placing.photo)
    tx.put(
        PHOTOS,
        replace(
            photo,
            mm_to_px=placing.mm_to_px,
            lens=placing.lens,
            placed_by=placing.placed_by if placing.mm_to_px is not None else "",
            placing_error_px=placing.error_px,
            unplaced_because=one_line(placing.because),
            warnings=tuple(one_line(each) for each in placing.warnings),
        ),
    )
    return photo


def _recorded(tx: Transaction, found: Measurement, old: Measurement | None = None) -> Measurement:
    """Return a measurement as it is recorded, in the place of the one that counted."""
    return found._replace(
        measured=tx.now.isoformat(),
        state="current",
        replaces=None if old is None else old.key,
        reason="" if old is None else one_line(found.reason),
    )


def _revision(old: Measurement, new: Measurement, photo: Photo, coupon: Coupon) -> str:
    """Return in words what a measurement revises."""
    day = "undated" if photo.taken is None else photo.taken.date().isoformat()
    why = f" ({new.reason})" if new.reason else ""
    return f"{coupon.id} on {day} {percent_words(old.percent)} to {percent_words(new.percent)}{why}"


def says_the_same(old: Measurement, new: Measurement) -> bool:
    """Return whether two measurements say the same.

    Every later photo moves the figures of the earlier ones by a hair; what moves by less than a twentieth of itself,
    or by less than could be seen, is no revision. How to measure must be the same, too.
    """
    if old.inputs[:SETTINGS_DIGITS] != new.inputs[:SETTINGS_DIGITS]:
        return False
    for name, was in old._asdict().items():
        now = getattr(new, name)
        if name in _NOT_SAID or was == now:
            continue
        if name not in _NUMBERS or was is None or now is None:
            return False
        if name in {"spots", "largest_mm2"}:
            continue  # they follow from the masks, whose percent is looked at
        if abs(now - was) > max(_SAME_SHARE * was, old.resolvable_percent / 4):
            return False
    return True


def percent_words(percent: float | None) -> str:
    """Return a percentage in words of three figures at most."""
    return "not measured" if percent is None else f"{percent:.3g} %"


def current_measurement(tx: Transaction, photo: int, coupon: int) -> Measurement | None:
    """Return the measurement that counts, or None."""
    found = tx.find(MEASUREMENTS, photo=photo, coupon=coupon, state="current")
    return found[0] if found else None


def accept_measurement(tx: Transaction, photo_key: int, coupon_key: int, grader: str) -> Summary:
    """Take a measurement over as the coupon's grade at the photo's inspection, as a photo's grade confirmed by eye.

    A grade given there before is superseded and kept.

    Raises:
        InputError: nothing was measured, or the photo belongs to no inspection.
    """
    return grade_coupon(tx, _given(tx, photo_key, coupon_key, grader))


def accept_measurements(tx: Transaction, photo_key: int, coupons: Iterable[int], grader: str) -> Summary:
    """Take the measurements of several coupons over in one step; a coupon graded at this inspection is left as it is.

    Raises:
        InputError: as `accept_measurement`, or there is nothing to take over.
    """
    photo = the_photo(tx, photo_key)
    taken = 0
    for coupon in coupons:
        given = _given(tx, photo_key, coupon, grader)
        if current_grading(tx, coupon, given.inspection) is None:
            grade_coupon(tx, given)
            taken += 1
    if taken == 0:
        raise InputError("There is nothing to take over: these coupons are graded at this inspection already.")
    return Summary("Take over {0} from {1}", (counted(taken, "measured grade"), photo.name))


def _given(tx: Transaction, photo_key: int, coupon_key: int, grader: str) -> GivenGrade:
    photo = the_photo(tx, photo_key)
    found = current_measurement(tx, photo_key, coupon_key)
    if found is None or found.percent is None:
        raise InputError("There is no measurement of this coupon in this photo to take over; measure it first.")
    if photo.inspection is None:
        raise InputError("This photo belongs to no inspection; give it a date first.", file=photo.name)
    return GivenGrade(
        coupon=coupon_key,
        inspection=photo.inspection,
        grade=grade_from_percent(found.percent),
        distribution=found.distribution,
        percent=found.percent,
        grader=grader,
        source="photo confirmed",
    )
