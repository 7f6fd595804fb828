"""What measuring keeps in the user's cache folder, so that nothing is worked out twice. All of it can be made again.

A file is named by the hash of everything it was made from. It is written whole or not at all; one that is damaged
counts as missing. When the folder grows beyond `MOST_BYTES`, what was not used for longest goes first.
"""

from __future__ import annotations

import hashlib
import logging
import os
import re
import zlib
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Final

from rustboard.support.files import read_bounded, write_whole
from rustboard.support.problems import InputError

_LOG = logging.getLogger(__name__)

MOST_BYTES: Final = 3 << 30
_MOST_ONE: Final = 256 << 20
_NAME: Final = re.compile(r"[0-9a-f]{40}")
_CHECK_BYTES: Final = 4


class GoneFromCacheError(InputError):
    """What was in the cache when measuring began is not there any more, or is damaged."""

    def __init__(self, what: str = "The program's cache was emptied while it was measuring; measure again.") -> None:
        super().__init__(what)


def hash_of(parts: Iterable[object]) -> str:
    """Return a hash, 40 hexadecimal digits, of values by how they print."""
    digest = hashlib.sha256()
    for each in parts:
        digest.update(repr(each).encode())
        digest.update(b"\0")
    return digest.hexdigest()[:40]


class MeasuringCache:
    """Masks and intermediate results, by hash."""

    def __init__(self, folder: Path) -> None:
        """Use a folder inside the user's cache folder; it may not exist yet."""
        self._folder = folder / "measuring"

    def masks(self, name: str) -> bytes | None:
        """Return the packed masks of a measurement, or None."""
        return self._read("masks", name)

    def keep_masks(self, name: str, packed: bytes) -> bool:
        """Keep the packed masks of a measurement; return whether the disk took them."""
        return self._write("masks", name, packed)

    def look(self, name: str) -> bytes | None:
        """Return what one photo said, packed, or None."""
        return self._read("looks", name)

    def has_look(self, name: str) -> bool:
        """Return whether there is something by this name; it is not read."""
        path = self._path("looks", name)
        return path is not None and path.is_file()

    def damage(self, name: str) -> str:
        """Return why a file could not be read the last time, or an empty text."""
        data = self.look(name)
        return "" if data is None else data.decode("utf-8", "replace")

    def keep_look(self, name: str, packed: bytes) -> bool:
        """Keep what one photo said; return whether the disk took it."""
        return self._write("looks", name, packed)

    def _path(self, kind: str, name: str) -> Path | None:
        # A name may come from a stranger's board file.
        return self._folder / kind / name[:2] / name if _NAME.fullmatch(name) else None

    def _read(self, kind: str, name: str) -> bytes | None:
        path = self._path(kind, name)
        if path is None:
            return None
        try:
            data = read_bounded(path, _MOST_ONE)
        except (InputError, OSError):
            return None
        body = data[_CHECK_BYTES:]
        if len(data) < _CHECK_BYTES or zlib.crc32(body) != int.from_bytes(data[:_CHECK_BYTES], "big"):
            with suppress(OSError):
                path.unlink()  # so that it does not count as there the next time
            return None
        with suppress(OSError):
            os.utime(path)  # used today: it goes last when room is made
        return body

    def _write(self, kind: str, name: str, body: bytes) -> bool:
        path = self._path(kind, name)
        if path is None:
            raise ValueError(name)
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            write_whole(path, zlib.crc32(body).to_bytes(_CHECK_BYTES, "big") + body)
        except (InputError, OSError) as error:
            # A full or read-only disk costs time the next time, never the measurement.
            _LOG.info("the cache could not be written: %s", error)
            return False
        return True

    def make_room(self, most_bytes: int = MOST_BYTES) -> int:
        """Remove what was not used for longest until the folder keeps within a size; return how many files went."""
        files: list[tuple[float, int, Path]] = []
        for path in self._folder.glob("*/*/*"):
            with suppress(OSError):
                state = path.stat()
                files.append((state.st_mtime, state.st_size, path))
        total = sum(size for _, size, _ in files)
        gone = 0
        for _, size, path in sorted(files, key=lambda each: each[0]):
            if total <= most_bytes:
                break
            with suppress(OSError):
                path.unlink()
                total -= size
                gone += 1
        return gone
