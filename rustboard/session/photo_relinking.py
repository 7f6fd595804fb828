"""Photos whose files are gone from a board's folder, found again elsewhere by what is in them."""

from __future__ import annotations

import hashlib
import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from rustboard.board.model import Photo
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.photo_days import photos_in_order
from rustboard.session.photo_files import MOST_PHOTO_BYTES
from rustboard.session.session import Session
from rustboard.store.photos import ENDINGS, put_back
from rustboard.support.files import disk_problem, read_bounded
from rustboard.support.problems import InputError

MOST_FILES: Final = 100_000
"""Files and folders gone through in one search."""
DEEPEST: Final = 12
MOST_READ: Final = 200 << 30
"""Bytes read in one search."""
_CHUNK: Final = 1 << 20


@dataclass(frozen=True, slots=True)
class RelinkRequest:
    """A search for missing photos.

    Attributes:
        folder: of the board. photos: those that are missing. place: where to look.
    """

    folder: Path
    photos: tuple[Photo, ...]
    place: Path


@dataclass(frozen=True, slots=True)
class RelinkResult:
    """What a search found.

    Attributes:
        found: photos that are in the board's folder again. missing: those that are not.
        cut: whether there was more to look through than one search looks through.
    """

    found: tuple[Photo, ...]
    missing: tuple[Photo, ...]
    cut: bool = False


@dataclass(frozen=True, slots=True)
class _Candidate:
    path: Path
    size: int


def missing_photos(session: Session) -> tuple[Photo, ...]:
    """Return the photos whose files are not in the board's folder, by time."""
    return tuple(each for each in photos_in_order(session.record) if session.photo_file(each.key) is None)


def find_photos(request: RelinkRequest, progress: Progress) -> RelinkResult:
    """Look for missing photos in a folder and all folders in it, and copy those found to where they belong.

    A photo is known by the hash of its bytes, whatever the file is called by now. Links are not followed. Files that
    are called as the photo was are read first, and the search ends with the last photo found.

    Raises:
        InputError: the folder cannot be read, or the disk refused a copy; photos copied before that stay.
        Cancelled: ``progress`` was asked to stop; photos copied before that stay, each of them whole.
    """
    wanted = {each.sha256: each for each in request.photos}
    candidates, cut = _candidates(request, progress)
    found: list[Photo] = []
    read = 0
    for number, each in enumerate(candidates):
        progress.step(number, len(candidates))
        if not wanted:
            break
        if read + each.size > MOST_READ:
            cut = True
            break
        read += each.size
        photo = wanted.get(_digest(each.path, progress))
        if photo is not None and _bring_back(request.folder, photo, each.path):
            found.append(photo)
            del wanted[photo.sha256]
    missing = tuple(each for each in request.photos if each.sha256 in wanted)
    return RelinkResult(tuple(found), missing, cut and bool(missing))


def _candidates(request: RelinkRequest, progress: Progress) -> tuple[list[_Candidate], bool]:
    """Return the files that may be photos, the likeliest first, and whether there were too many to see all."""
    endings = set(ENDINGS) | {Path(each.name).suffix.lower() for each in request.photos}
    names = {name.casefold() for each in request.photos for name in (each.name, each.file)}
    likely: list[_Candidate] = []
    others: list[_Candidate] = []
    seen = 0
    for path, about in _walk(request.place):
        seen += 1
        if seen > MOST_FILES:
            return likely + others, True
        if seen % 500 == 0:
            _stop_if_asked(progress)
        if not stat.S_ISREG(about.st_mode) or not 0 < about.st_size <= MOST_PHOTO_BYTES:
            continue
        if path.name.casefold() in names:
            likely.append(_Candidate(path, about.st_size))
        elif path.suffix.lower() in endings:
            others.append(_Candidate(path, about.st_size))
    return likely + others, False


def _walk(place: Path) -> Iterator[tuple[Path, os.stat_result]]:
    """Yield everything in a folder and the folders in it, those further out first; links are left alone.

    Raises:
        InputError: the folder itself cannot be read; of those in it, such are passed by.
    """
    left = [(place, 0)]
    while left:
        folder, depth = left.pop(0)
        try:
            with os.scandir(folder) as found:
                entries = sorted(found, key=_name_of)
        except (OSError, ValueError) as error:
            if folder == place:
                raise disk_problem(error, place) from error
            continue
        for entry in entries:
            try:
                about = entry.stat(follow_symlinks=False)
            except OSError:
                continue
            if getattr(about, "st_reparse_tag", 0):
                continue  # Windows' junctions lead elsewhere, as links do
            path = Path(entry.path)
            if stat.S_ISDIR(about.st_mode) and depth < DEEPEST:
                left.append((path, depth + 1))
            yield path, about


def _name_of(entry: os.DirEntry[str]) -> str:
    return entry.name


def _digest(path: Path, progress: Progress) -> str:
    """Return the hash of a file's bytes; an empty text where it cannot be read."""
    hashed = hashlib.sha256()
    try:
        with path.open("rb") as stream:
            while chunk := stream.read(_CHUNK):
                _stop_if_asked(progress)
                hashed.update(chunk)
    except OSError:
        return ""
    return hashed.hexdigest()


def _stop_if_asked(progress: Progress) -> None:
    if progress.cancelled:
        raise Cancelled


def _bring_back(folder: Path, photo: Photo, source: Path) -> bool:
    """Copy a file to where a photo belongs; return whether it could be read and was the photo after all."""
    try:
        data = read_bounded(source, MOST_PHOTO_BYTES)
    except InputError:
        return False
    return put_back(folder, photo.file, photo.sha256, data)
