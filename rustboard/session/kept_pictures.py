"""Pictures that take long to make, kept in the user's cache folder under what they were made from."""

from __future__ import annotations

import contextlib
import hashlib
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from rustboard.support import paths
from rustboard.support.files import read_bounded, write_whole
from rustboard.support.problems import InputError

_MOST_BYTES: Final = 16 << 20


@dataclass(frozen=True, slots=True)
class KeptPictures:
    """One kind of pictures. Without a cache folder they are made again each time.

    Attributes:
        folder: its name in the cache folder. ending: of the files, such as ``560.png``.
    """

    folder: str
    ending: str

    def find(self, made_from: object) -> bytes | None:
        """Return a kept picture, or None; ``made_from`` is told by its `repr`."""
        with contextlib.suppress(InputError):
            return read_bounded(self._place(made_from), _MOST_BYTES)
        return None

    def keep(self, made_from: object, picture: bytes, most: int) -> None:
        """Keep a picture where the disk allows it; of more than ``most`` the oldest go."""
        place = self._place(made_from)
        with contextlib.suppress(InputError):
            write_whole(place, picture)
            self._forget_oldest(place.parent, most)

    def _place(self, made_from: object) -> Path:
        name = hashlib.sha256(repr(made_from).encode("utf-8", "surrogatepass")).hexdigest()[:40]
        return paths.cache_folder() / self.folder / f"{name}-{self.ending}"

    def _forget_oldest(self, folder: Path, most: int) -> None:
        with contextlib.suppress(OSError):
            kept = [each for each in os.scandir(folder) if each.name.endswith(self.ending)]
            if len(kept) > most:
                for each in sorted(kept, key=lambda one: one.stat().st_mtime)[: len(kept) - most]:
                    os.unlink(each.path)
