"""Files looked over before they are added: what `read_files` says of each, with a small picture."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.board.model import Photo
from rustboard.session.intake import IncomingPhoto, Source, read_files, with_folders_opened
from rustboard.session.jobs import Progress
from rustboard.session.photo_files import MOST_PHOTO_BYTES, PhotoFile
from rustboard.session.photo_names import time_in_name
from rustboard.support.files import read_bounded
from rustboard.support.problems import InputError, Problem

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Rgb = NDArray[np.uint8]

THUMBNAIL_PX: Final = 160
_MOST_PICTURES: Final = 400
"""With more files than this the list does without pictures: looking through them would take too long."""


@dataclass(frozen=True, slots=True, eq=False)
class LookedOver:
    """What can be added, and what cannot.

    Attributes:
        found: with the time from the file's name where the camera wrote none.
        by_name: SHA-256 of those whose time comes from their name.
        thumbnails: small pictures by SHA-256. problems: why others cannot be added.
    """

    found: tuple[IncomingPhoto, ...]
    by_name: frozenset[str]
    thumbnails: Mapping[str, Rgb]
    problems: tuple[Problem, ...]


def look_over(sources: Sequence[Source], known: Collection[str], progress: Progress) -> LookedOver:
    """Look files and folders over; a job.

    Args:
        sources: files, folders, or names and bytes.
        known: SHA-256 of the photos on the board.
        progress: told as it goes; may stop the job.
    """
    paths = [each for each in sources if isinstance(each, Path)]
    files, problems = with_folders_opened(paths)
    pasted = [each for each in sources if not isinstance(each, Path)]
    result = read_files([*files, *pasted], progress, known)
    found, by_name = [], set()
    for each in result.found:
        named = time_in_name(each.name) if each.taken is None else None
        if named is not None:
            by_name.add(each.sha256)
        found.append(each if named is None else replace(each, taken=named))
    pictures: dict[str, Rgb] = {}
    for number, each in enumerate(found if len(found) <= _MOST_PICTURES else ()):
        progress.step(number, len(found))
        with suppress(InputError):  # it was whole a moment ago; without a picture it is listed all the same
            data = read_bounded(each.source, MOST_PHOTO_BYTES) if isinstance(each.source, Path) else each.source
            pictures[each.sha256] = _small(data, each.name, THUMBNAIL_PX)
    return LookedOver(tuple(found), frozenset(by_name), pictures, (*problems, *result.problems))


def small_pictures(files: Sequence[PhotoFile], progress: Progress) -> dict[int, Rgb]:
    """Return small pictures of photos on the board, by key; those that cannot be read are left out. A job."""
    pictures: dict[int, Rgb] = {}
    for number, each in enumerate(files[:_MOST_PICTURES]):
        progress.step(number, len(files))
        photo: Photo = each.photo
        with suppress(InputError):
            pictures[photo.key] = _small(each.read(), photo.name, THUMBNAIL_PX)
    return pictures


def _small(data: bytes, name: str, longest_px: int) -> Rgb:
    import numpy as np

    from rustboard.photo.decode import open_upright

    image = open_upright(data, name)
    image.thumbnail((longest_px, longest_px))
    return np.asarray(image)
