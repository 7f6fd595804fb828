"""Photographs kept byte for byte in the board folder, named by time taken and content."""

from __future__ import annotations

import hashlib
from datetime import datetime
from pathlib import Path

from rustboard.store.folder import PHOTOS, photo_path
from rustboard.support.files import write_whole
from rustboard.support.problems import InputError

_ENDINGS = {".jpg": ".jpg", ".jpeg": ".jpg", ".png": ".png", ".tif": ".tif", ".tiff": ".tif", ".heic": ".heic"}


def keep_photo(folder: Path, name: str, data: bytes, taken: datetime | None) -> tuple[str, str]:
    """Write a photo's bytes into the board folder; return the name it got there and its SHA-256.

    The same bytes taken at the same time get the same name, so keeping a photo twice does no harm.

    Raises:
        InputError: the disk refused, or the photos folder is a link to somewhere else.
    """
    digest = hashlib.sha256(data).hexdigest()
    ending = _ENDINGS.get(Path(name).suffix.lower(), ".bin")
    stamp = taken.strftime("%Y%m%d-%H%M%S") if taken is not None else "undated"
    file = f"{stamp}-{digest[:16]}{ending}"
    path = photo_path(folder, file)
    if path is None:
        raise InputError("The photos folder is a link; put a folder of that name in its place.", file=PHOTOS)
    write_whole(path, data)
    return file, digest
