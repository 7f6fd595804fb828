"""The picture of a board on its card: cut from its newest photo once, then kept in the cache folder."""

from __future__ import annotations

import hashlib
import logging
from typing import Final

from rustboard.session.jobs import Progress
from rustboard.session.kept_pictures import KeptPictures
from rustboard.session.shelf import ShelfEntry
from rustboard.support.files import read_bounded
from rustboard.support.problems import InputError

_LOG = logging.getLogger(__name__)

PICTURE_WIDTH_PX: Final = 560
"""Width of a kept picture: sharp on a card at twice the usual scale."""

MOST_KEPT: Final = 600
_MOST_PHOTO_BYTES: Final = 256 << 20
_KEPT: Final = KeptPictures("shelf", f"{PICTURE_WIDTH_PX}.png")


def shelf_picture(entry: ShelfEntry, progress: Progress | None = None) -> tuple[ShelfEntry, bytes]:
    """Return the entry and the straightened picture of its board as the bytes of a PNG file.

    The bytes are empty when there is no usable photo, or the board's size is not known: the card then draws the
    board instead.

    Raises:
        Cancelled: ``progress`` was asked to stop.
    """
    photo = entry.photo
    if photo is None or not (entry.width_mm > 0 and entry.height_mm > 0):
        return entry, b""
    made_from = ((photo.sha256, photo.mm_to_px), entry.width_mm, entry.height_mm)
    kept = _KEPT.find(made_from)
    if kept is not None:
        return entry, kept
    try:
        data = read_bounded(photo.path, _MOST_PHOTO_BYTES)
        if hashlib.sha256(data).hexdigest() != photo.sha256:
            return entry, b""  # not the photo that the board recorded
        if progress is not None:
            progress.step(1, 2)
        picture = _cut(entry, data)
    except InputError as error:
        _LOG.info("no picture for the shelf: %s", error)
        return entry, b""
    _KEPT.keep(made_from, picture, MOST_KEPT)
    return entry, picture


def _cut(entry: ShelfEntry, data: bytes) -> bytes:
    from rustboard.photo.crops import cut_board, encode_png  # decoders take long to load
    from rustboard.photo.decode import open_upright

    if entry.photo is None:
        return b""
    upright = open_upright(data, entry.photo.path.name)
    # A very tall board is as high as its card is wide, not higher.
    width = min(PICTURE_WIDTH_PX, round(PICTURE_WIDTH_PX * entry.width_mm / entry.height_mm))
    return encode_png(cut_board(upright, entry.photo.mm_to_px, entry.width_mm, entry.height_mm, max(8, width)))
