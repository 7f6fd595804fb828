"""Photos: recorded once their bytes are in the board folder."""

from __future__ import annotations

from dataclasses import replace

from rustboard.board.model import Photo
from rustboard.operations.lookup import the_inspection
from rustboard.store.tables import PHOTOS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import one_line


def add_photo(tx: Transaction, photo: Photo) -> Summary:
    """Record a photo that `rustboard.store.photos.keep_photo` has kept.

    Raises:
        InputError: the same photo is on the board already, or its inspection is not there.
    """
    if tx.find(PHOTOS, sha256=photo.sha256):
        raise InputError("This photo is on the board already.", file=one_line(photo.name, 100))
    if photo.inspection is not None:
        the_inspection(tx, photo.inspection)
    tx.put(PHOTOS, replace(photo, name=one_line(photo.name), key=0))
    return Summary("Add photo {0}", (one_line(photo.name, 100),))
