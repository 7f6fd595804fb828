"""Photographs kept byte for byte in the board folder, named by time taken and content."""

from __future__ import annotations

import hashlib
from datetime import datetime
from pathlib import Path

from rustboard.store.folder import PHOTOS
from rustboard.support.files import write_whole

_ENDINGS = {".jpg": ".jpg", ".jpeg": ".jpg", ".png": ".png", ".tif": ".tif", ".tiff": ".tif", ".heic": ".heic"}


def keep_photo(folder: Path, name: str, data: bytes, taken: datetime | None) -> tuple[str, str]:
    """Write a photo's bytes into the board folder; return the name it got there and its SHA-256.

    The same bytes taken at the same time get the same name, so keeping a photo twice does no harm.

    Raises:
        InputError: the disk refused.
    """
    digest = hashlib.sha256(data).hexdigest()
    ending = _ENDINGS.get(Path(name).suffix.lower(), ".bin")
    stamp = taken.strftime("%Y%m%d-%H%M%S") if taken is not None else "undated"
    file = f"{stamp}-{digest[:16]}{ending}"
    write_whole(folder / PHOTOS / file, data)
    return file, digest
