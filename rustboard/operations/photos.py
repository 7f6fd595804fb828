"""Photos: recorded once their bytes are in the board folder."""

from __future__ import annotations

from dataclasses import replace

from rustboard.board.model import Photo
from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR
from rustboard.operations.lookup import the_inspection
from rustboard.store.tables import PHOTOS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import one_line


def add_photo(tx: Transaction, photo: Photo) -> Summary:
    """Record a photo that `rustboard.store.photos.keep_photo` has kept.

    Raises:
        InputError: the same photo is on the board already, its inspection is not there, or its time cannot be.
    """
    taken = None if photo.taken is None else photo.taken.replace(microsecond=0, tzinfo=None)
    if taken is not None and not FIRST_YEAR <= taken.year <= LAST_YEAR:
        raise InputError(
            f"The photo was taken in a year before {FIRST_YEAR} or after {LAST_YEAR}; check the camera's clock.",
            file=one_line(photo.name, 100),
        )
    if tx.find(PHOTOS, sha256=photo.sha256):
        raise InputError("This photo is on the board already.", file=one_line(photo.name, 100))
    if photo.inspection is not None:
        the_inspection(tx, photo.inspection)
    tx.put(PHOTOS, replace(photo, name=one_line(photo.name), taken=taken, key=0))
    return Summary("Add photo {0}", (one_line(photo.name, 100),))
