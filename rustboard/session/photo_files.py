"""A board's photo as a job reads it: where it is, how it is placed, and that it is still the one that was added."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.board.model import Photo
from rustboard.store.folder import photo_path
from rustboard.support.files import read_bounded
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    from rustboard.photo.placement import Placement

MOST_PHOTO_BYTES = 200 << 20


ANOTHER_FILE: Final = (
    "This photo is not the one that was added; its content differs. Put the original back into the photos folder."
)


@dataclass(frozen=True, slots=True)
class PhotoFile:
    """A photo to read.

    Attributes:
        photo: as the record has it.
        path: where its bytes are.
    """

    photo: Photo
    path: Path

    def read(self) -> bytes:
        """Return the bytes.

        Raises:
            InputError: the file is not there, is too large, or is not the one that was added.
        """
        try:
            data = read_bounded(self.path, MOST_PHOTO_BYTES)
        except InputError as error:
            raise error.located(file=self.photo.name) from error
        if hashlib.sha256(data).hexdigest() != self.photo.sha256:
            raise InputError(ANOTHER_FILE, file=self.photo.name)
        return data

    def placement(self) -> Placement | None:
        """Return where the photo shows the board, or None when it was not found."""
        return placement_of(self.photo)


def placement_of(photo: Photo) -> Placement | None:
    """Return where a photo shows the board, or None when it was not found."""
    if photo.mm_to_px is None:
        return None
    from rustboard.photo.placement import Placement

    return Placement(photo.mm_to_px, (photo.width_px, photo.height_px), photo.lens)


def photo_file(folder: Path, photo: Photo) -> PhotoFile | None:
    """Return a photo's file in a board folder; None when it is recorded outside that folder or is not there."""
    path = photo_path(folder, photo.file)
    return PhotoFile(photo, path) if path is not None and path.is_file() else None
