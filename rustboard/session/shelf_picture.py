"""The picture of a board on its card: cut from its newest photo once, then kept in the cache folder."""

from __future__ import annotations

import contextlib
import hashlib
import logging
import os
from pathlib import Path
from typing import Final

from rustboard.session.jobs import Progress
from rustboard.session.shelf import ShelfEntry
from rustboard.support import paths
from rustboard.support.files import read_bounded, write_whole
from rustboard.support.problems import InputError

_LOG = logging.getLogger(__name__)

PICTURE_WIDTH_PX: Final = 560
"""Width of a kept picture: sharp on a card at twice the usual scale."""

MOST_KEPT: Final = 600
_MOST_PHOTO_BYTES: Final = 256 << 20
_MOST_KEPT_BYTES: Final = 16 << 20


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
    kept = _kept_at(entry)
    with contextlib.suppress(InputError):
        return entry, read_bounded(kept, _MOST_KEPT_BYTES)
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
    with contextlib.suppress(InputError):  # without a cache it is made again next time
        write_whole(kept, picture)
        _forget_oldest(kept.parent)
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


def _kept_at(entry: ShelfEntry) -> Path:
    made_from = repr((entry.photo and (entry.photo.sha256, entry.photo.mm_to_px), entry.width_mm, entry.height_mm))
    name = hashlib.sha256(made_from.encode("utf-8", "surrogatepass")).hexdigest()[:40]
    return paths.cache_folder() / "shelf" / f"{name}-{PICTURE_WIDTH_PX}.png"


def _forget_oldest(folder: Path) -> None:
    with contextlib.suppress(OSError):
        kept = [each for each in os.scandir(folder) if each.name.endswith(".png")]
        if len(kept) > MOST_KEPT:
            for each in sorted(kept, key=lambda one: one.stat().st_mtime)[: len(kept) - MOST_KEPT]:
                os.unlink(each.path)
