"""Photographs kept byte for byte in the board folder, named by time taken and content."""

from __future__ import annotations

import contextlib
import hashlib
import os
from datetime import datetime
from pathlib import Path
from typing import Final, NamedTuple

from rustboard.store.folder import PHOTOS, photo_path
from rustboard.support.files import write_whole
from rustboard.support.problems import InputError

_ENDINGS: Final = {
    ".jpg": ".jpg",
    ".jpeg": ".jpg",
    ".png": ".png",
    ".tif": ".tif",
    ".tiff": ".tif",
    ".heic": ".heic",
    ".heif": ".heic",
}
KEPT_ENDINGS: Final = frozenset({*_ENDINGS.values(), ".bin"})
"""Endings that photos have in a board folder."""
ENDINGS: Final = frozenset(_ENDINGS)
"""What names of photos end with."""
_BEGINNINGS: Final = (
    (0, b"\xff\xd8\xff", ".jpg"),
    (0, b"\x89PNG\r\n\x1a\n", ".png"),
    (0, b"II*\0", ".tif"),
    (0, b"MM\0*", ".tif"),
    (4, b"ftyp", ".heic"),
)
"""Where what stands in a file by which its kind is known: a name may lie."""


class KeptFile(NamedTuple):
    """A photo in the board folder.

    Attributes:
        file: its name there. sha256: of its bytes.
        fresh: whether it was not there before.
    """

    file: str
    sha256: str
    fresh: bool


def keep_photo(folder: Path, name: str, data: bytes, taken: datetime | None) -> tuple[str, str]:
    """Do `keep_file`; return the name the photo got and its SHA-256."""
    kept = keep_file(folder, name, data, taken)
    return kept.file, kept.sha256


def keep_file(folder: Path, name: str, data: bytes, taken: datetime | None) -> KeptFile:
    """Write a photo's bytes into the board folder.

    The same bytes are kept once: where they are there already, from a step that was taken back, they stay under the
    name they have.

    Raises:
        InputError: the disk refused, or the photos folder is a link to somewhere else.
    """
    digest = hashlib.sha256(data).hexdigest()
    stamp = taken.strftime("%Y%m%d-%H%M%S") if taken is not None else "undated"
    file = f"{stamp}-{digest[:16]}{_ending(name, data)}"
    path = photo_path(folder, file)
    if path is None:
        raise InputError("The photos folder is a link; put a folder of that name in its place.", file=PHOTOS)
    there = _kept_already(folder, digest, len(data))
    if there:
        return KeptFile(there, digest, False)
    write_whole(path, data)
    return KeptFile(file, digest, True)


def put_back(folder: Path, file: str, sha256: str, data: bytes) -> bool:
    """Write a photo whose file is gone into the board folder again, under the name it was recorded by.

    Returns:
        Whether the bytes are those of the photo, and nothing stands in its place.

    Raises:
        InputError: the disk refused, or the photo cannot lie in the board's folder under its name.
    """
    if hashlib.sha256(data).hexdigest() != sha256:
        return False
    path = photo_path(folder, file)
    if path is None:
        raise InputError("The photos folder is a link; put a folder of that name in its place.", file=PHOTOS)
    if os.path.lexists(path):
        return False
    write_whole(path, data)
    return True


def forget_file(folder: Path, kept: KeptFile) -> None:
    """Take away a photo that was written and is not wanted after all; one that was there before stays."""
    path = photo_path(folder, kept.file)
    if kept.fresh and path is not None:
        with contextlib.suppress(OSError):  # it is found again when the photo is added again
            path.unlink()


def _ending(name: str, data: bytes) -> str:
    for place, beginning, ending in _BEGINNINGS:
        if data.startswith(beginning, place):
            return ending
    return _ENDINGS.get(Path(name).suffix.lower(), ".bin")


def _kept_already(folder: Path, digest: str, size: int) -> str:
    with contextlib.suppress(OSError):
        for each in sorted(os.scandir(folder / PHOTOS), key=lambda one: one.name):
            if f"-{digest[:16]}." not in each.name or not each.is_file(follow_symlinks=False):
                continue
            if each.stat().st_size != size or photo_path(folder, each.name) is None:
                continue
            with open(each.path, "rb") as stream:
                if hashlib.file_digest(stream, "sha256").hexdigest() == digest:
                    return each.name
    return ""
