"""Photos: recorded once their bytes are in the board folder; their times put right; tied to inspections; removed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final

from rustboard.board.grade import BY_PHOTO
from rustboard.board.model import Inspection, Photo
from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR
from rustboard.operations.inspections import put_inspection
from rustboard.operations.lookup import the_inspection, the_photo
from rustboard.operations.photo_ties import FROM_A_PHOTO, Settled, loose_inspections, settle
from rustboard.store.blind_tables import BLIND_INSPECTIONS
from rustboard.store.measuring_tables import MEASUREMENTS, STROKES
from rustboard.store.tables import GRADINGS, PHOTOS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import counted, one_line

ON_THE_BOARD: Final = "This photo is on the board already."

_MOST_SECONDS: Final = 400 * 366 * 86_400


def add_photo(tx: Transaction, photo: Photo) -> Summary:
    """Record a photo that `rustboard.store.photos.keep_photo` has kept, with the inspection it names, if any.

    Raises:
        InputError: the same photo is on the board already, its inspection is not there, or its time cannot be.
    """
    _put_new(tx, photo)
    return Summary("Add photo {0}", (_shown(photo),))


def add_photos(tx: Transaction, photos: Sequence[Photo]) -> Summary:
    """Record photos that have been kept, in one step; each is tied by its time (see `photo_ties`).

    One that names an inspection keeps it; one without a time is tied to none.

    Raises:
        InputError: as `add_photo`, or there are none; nothing is recorded.
    """
    if not photos:
        raise InputError("There is no photo to add; choose some.")
    loose = loose_inspections(tx)
    to_tie = []
    for photo in sorted(photos, key=lambda each: (each.taken is None, _wall(each.taken), each.sha256)):
        key = _put_new(tx, photo)
        if photo.inspection is None:
            to_tie.append(key)
    settled = settle(tx, loose, to_tie)
    made = counted(settled.made, "new inspection")
    if len(photos) > 1:
        return Summary("Add {0} photos, {1}", (str(len(photos)), made))
    if settled.made:
        return Summary("Add photo {0}, {1}", (_shown(photos[0]), made))
    return Summary("Add photo {0}", (_shown(photos[0]),))


def shift_clock(tx: Transaction, photo_keys: Iterable[int], seconds: int) -> Summary:
    """Put right the time of photos whose camera's clock was wrong; they are tied anew.

    What the camera wrote stays beside it. Inspections that photos made, and at which nobody has graded, move along. A
    photo of an inspection at which there are grades stays with it: they were given by what it shows.

    Args:
        tx: of the action.
        photo_keys: the photos; all must have a time.
        seconds: added to each time; negative where the clock was fast.

    Raises:
        InputError: a photo is not there or has no time, there is none, or a time would be in an impossible year.
    """
    photos = [the_photo(tx, key) for key in dict.fromkeys(photo_keys)]
    if not photos:
        raise InputError("There is no photo whose time could be shifted; choose some.")
    if not -_MOST_SECONDS <= seconds <= _MOST_SECONDS:
        raise InputError("The times cannot be shifted by centuries; check the number.")
    loose = loose_inspections(tx)
    for photo in photos:
        if photo.taken is None:
            raise InputError("This photo has no time that could be shifted; set its time.", file=_shown(photo))
        _retime(tx, photo, _later(photo.taken, seconds))
    free = [each.key for each in photos if not _is_held(tx, each)]
    settled = settle(tx, loose, free)
    number, became = counted(len(photos), "photo"), _what_became(settled)
    if len(free) < len(photos):
        became = f"{became}; {counted(len(photos) - len(free), 'photo')} kept with the grades of their inspection"
    return Summary("Shift the time of {0} by {1}; {2}", (number, _span(seconds), became))


def set_taken(tx: Transaction, key: int, when: datetime) -> Summary:
    """Say when a photo was taken; it is tied anew, as by `shift_clock`. What the camera wrote stays beside it.

    Raises:
        InputError: the photo is not there, or the year cannot be.
    """
    photo = the_photo(tx, key)
    loose = loose_inspections(tx)
    _retime(tx, photo, when)
    settle(tx, loose, [] if _is_held(tx, photo) else [key])
    return Summary("Set the time of photo {0} to {1}", (_shown(photo), when.isoformat(" ", "minutes")))


def tie_photo(tx: Transaction, key: int, inspection: int | None) -> Summary:
    """Say to which inspection a photo belongs, or to none. An inspection that only this photo had made goes.

    Raises:
        InputError: photo or inspection are not there, or a grade was taken over from the photo.
    """
    photo = the_photo(tx, key)
    if inspection == photo.inspection:
        return Summary("Photo {0} belongs where it did", (_shown(photo),))
    _refuse_if_graded_from(tx, photo)
    loose = loose_inspections(tx)
    at = None if inspection is None else the_inspection(tx, inspection).at
    tx.put(PHOTOS, replace(photo, inspection=inspection))
    if at is not None:
        loose.inspections.pop(inspection or 0, None)  # the one that was chosen stays where it is
    settle(tx, loose)
    if at is None:
        return Summary("Photo {0} belongs to no inspection", (_shown(photo),))
    return Summary("Photo {0} belongs to the inspection of {1}", (_shown(photo), at.isoformat(" ", "minutes")))


def tie_photo_alone(tx: Transaction, key: int) -> Summary:
    """Give a photo an inspection of its own, at its time. An inspection that only this photo had made goes.

    Raises:
        InputError: the photo is not there or has no time, there is an inspection at that time already, or a grade was
            taken over from the photo.
    """
    photo = the_photo(tx, key)
    if photo.taken is None:
        raise InputError("This photo has no time, so it can have no inspection of its own.", file=_shown(photo))
    others = [each for each in tx.find(PHOTOS, inspection=photo.inspection or 0) if each.key != key]
    loose = loose_inspections(tx)
    if photo.inspection in loose.inspections and not others:
        return Summary("Photo {0} belongs where it did", (_shown(photo),))
    _refuse_if_graded_from(tx, photo)
    own = put_inspection(tx, Inspection(photo.taken, note=FROM_A_PHOTO))
    tx.put(PHOTOS, replace(photo, inspection=own.key))
    settle(tx, loose)
    return Summary("Photo {0} has an inspection of its own", (_shown(photo),))


def remove_photo(tx: Transaction, key: int) -> Summary:
    """Take a photo off the board, with what was measured in it; its file stays in the folder.

    Raises:
        InputError: the photo is not there, or a grade was taken over from it.
    """
    photo = the_photo(tx, key)
    if tx.find(BLIND_INSPECTIONS, photo=key):
        raise InputError("An inspection was graded blind from this photo, so it stays.", file=_shown(photo))
    _refuse_if_graded_from(tx, photo)
    measured = tx.find(MEASUREMENTS, photo=key)
    loose = loose_inspections(tx)
    for each in reversed(measured):  # later ones name the earlier ones that they revise
        tx.drop(MEASUREMENTS, each.key)
    for stroke in tx.find(STROKES, photo=key):
        tx.drop(STROKES, stroke.key)
    tx.drop(PHOTOS, key)
    settle(tx, loose)
    return Summary("Remove photo {0}", (_shown(photo),))


def _put_new(tx: Transaction, photo: Photo) -> int:
    taken = None if photo.taken is None else _checked_time(photo, photo.taken)
    clock = None if photo.camera_time is None else _wall(photo.camera_time)
    if tx.find(PHOTOS, sha256=photo.sha256):
        raise InputError(ON_THE_BOARD, file=_shown(photo))
    if photo.inspection is not None:
        the_inspection(tx, photo.inspection)
    return tx.put(PHOTOS, replace(photo, name=one_line(photo.name), taken=taken, camera_time=clock, key=0))


def _graded_from(tx: Transaction, photo: Photo) -> bool:
    """Return whether a grade of the photo's inspection, also one that was corrected since, was taken over from it."""
    if photo.inspection is None:
        return False
    coupons = {each.coupon for each in tx.find(MEASUREMENTS, photo=photo.key)}
    given = tx.find(GRADINGS, inspection=photo.inspection) if coupons else []
    return any(each.source in BY_PHOTO and each.coupon in coupons for each in given)


def _is_held(tx: Transaction, photo: Photo) -> bool:
    """Return whether the photo stays with its inspection when its time changes: there are grades at it."""
    if photo.inspection is None:
        return False
    current = tx.find(GRADINGS, inspection=photo.inspection, state="current")
    blind = tx.find(BLIND_INSPECTIONS, photo=photo.key)
    return bool(current or blind) or _graded_from(tx, photo)


def _refuse_if_graded_from(tx: Transaction, photo: Photo) -> None:
    if _graded_from(tx, photo) or tx.find(BLIND_INSPECTIONS, photo=photo.key):
        raise InputError(
            "Grades were taken over from this photo or given by it, so it stays with their inspection.",
            file=_shown(photo),
        )


def _retime(tx: Transaction, photo: Photo, when: datetime) -> None:
    tx.put(PHOTOS, replace(photo, taken=_checked_time(photo, when)))


def _checked_time(photo: Photo, when: datetime) -> datetime:
    taken = _wall(when)
    if not FIRST_YEAR <= taken.year <= LAST_YEAR:
        raise InputError(
            f"The photo was taken in a year before {FIRST_YEAR} or after {LAST_YEAR}; check the camera's clock.",
            file=_shown(photo),
        )
    return taken


def _later(taken: datetime, seconds: int) -> datetime:
    try:
        return taken + timedelta(seconds=seconds)
    except OverflowError:
        return datetime.max  # refused with a sentence as any impossible year


def _wall(when: datetime | None) -> datetime:
    return datetime.max if when is None else when.replace(microsecond=0, tzinfo=None)


def _span(seconds: int) -> str:
    minutes, rest = divmod(abs(int(seconds)), 60)
    return f"{'-' if seconds < 0 else '+'}{minutes // 60}:{minutes % 60:02}:{rest:02}"


def _what_became(settled: Settled) -> str:
    parts = [(settled.moved, "moved along"), (settled.made, "made"), (settled.removed, "taken away")]
    said = [f"{counted(number, 'inspection')} {what}" for number, what in parts if number]
    return ", ".join(said) or "inspections as they were"


def _shown(photo: Photo) -> str:
    return one_line(photo.name, 100)
