"""Photos of old folders: found, dated by what is known of them, and tied to the inspection of that day."""

from __future__ import annotations

import os
import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time
from pathlib import Path
from typing import Final, Literal

from rustboard.session.intake import MOST_FILES, PICTURE_ENDINGS, IncomingPhoto, read_files
from rustboard.session.jobs import Progress
from rustboard.support.files import disk_problem, shown_name
from rustboard.support.problems import InputError, Problem

MOST_ENTRIES: Final = 200_000
"""Files and folders looked at."""
DEEPEST: Final = 6
FIRST_YEAR: Final = 1980
LAST_YEAR: Final = 2100

How = Literal["camera", "name", "folder", "file"]
"""By what a photo is dated; the last, when the file was written, is weak: copying a file may change it."""

_SOLID: Final = re.compile(
    r"(?<![0-9])([0-9]{4})([0-9]{2})([0-9]{2})(?:[ _T-]?([0-9]{2})([0-9]{2})(?:([0-9]{2})[0-9]{0,3})?)?(?![0-9])"
)
_PARTED: Final = re.compile(
    r"(?<![0-9])([0-9]{4})[-._ ]([0-9]{1,2})[-._ ]([0-9]{1,2})"
    r"(?:[ _T-]+([0-9]{1,2})[-.:h]([0-9]{2})(?:[-.:]([0-9]{2}))?)?(?![0-9])"
)
_YEAR_LAST: Final = re.compile(r"(?<![0-9])([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})(?![0-9])")


@dataclass(frozen=True, slots=True, eq=False)
class ScannedPhoto:
    """A photo and when it was taken.

    Attributes:
        has_hour: whether the hour is known too. how: by what it is dated.
    """

    photo: IncomingPhoto
    when: datetime
    has_hour: bool
    how: How


@dataclass(frozen=True, slots=True, eq=False)
class ScannedFolder:
    """The photos of a folder by time, and why others cannot be used."""

    photos: tuple[ScannedPhoto, ...]
    problems: tuple[Problem, ...]


def scan_folder(folder: Path, known: Collection[str], progress: Progress) -> ScannedFolder:
    """Find and date the photos in a folder and the folders inside it; a job.

    Args:
        folder: where to look; links are not followed.
        known: SHA-256 of the photos on the board, which are not added twice.
        progress: told before each; may stop the job.

    Raises:
        InputError: the folder cannot be read, or holds no pictures.
        Cancelled: ``progress`` was asked to stop.
    """
    paths = list(_pictures(folder, progress))
    if not paths:
        raise InputError("There are no pictures in this folder; choose another.", file=shown_name(folder))
    found = read_files(paths, progress, known)
    photos = sorted((_dated(each, folder) for each in found.found), key=lambda each: (each.when, each.photo.name))
    return ScannedFolder(tuple(photos), found.problems)


def _pictures(folder: Path, progress: Progress) -> Iterator[Path]:
    seen = found = 0

    def refuse(error: OSError) -> None:
        if Path(error.filename or "") == folder:
            raise disk_problem(error, folder) from error

    for here, inside, names in os.walk(folder, onerror=refuse):
        progress.step(0, 0)
        if len(Path(here).relative_to(folder).parts) >= DEEPEST:
            inside.clear()
        inside.sort()
        inside[:] = [each for each in inside if not each.startswith(".")]
        for name in sorted(names):
            seen += 1
            if seen > MOST_ENTRIES or found > MOST_FILES:
                return
            path = Path(here, name)
            if not name.startswith(".") and path.suffix.lower() in PICTURE_ENDINGS and not path.is_symlink():
                found += 1
                yield path


def _dated(photo: IncomingPhoto, folder: Path) -> ScannedPhoto:
    if photo.camera_time is not None:
        return ScannedPhoto(photo, photo.camera_time, True, "camera")
    assert isinstance(photo.source, Path)  # found on the disk
    in_name = date_in_name(photo.source.stem)
    if in_name is not None:
        return ScannedPhoto(photo, *in_name, "name")
    for part in reversed(photo.source.parent.relative_to(folder.parent).parts):
        in_folder = date_in_name(part)
        if in_folder is not None:
            return ScannedPhoto(photo, *in_folder, "folder")
    return ScannedPhoto(photo, _written(photo.source), True, "file")


def _written(path: Path) -> datetime:
    try:
        return datetime.fromtimestamp(int(path.stat().st_mtime))
    except (OSError, ValueError, OverflowError):
        return datetime(FIRST_YEAR, 1, 1)


def date_in_name(name: str) -> tuple[datetime, bool] | None:
    """Return the date in a file's name and whether the hour is in it too; None where there is no date.

    ``IMG_20260302_091500``, ``2026-03-02 board``, ``2026-03-02 09.15``, ``02.03.2026``: a year that stands last has
    the day first, as where dots are written.
    """
    for pattern in (_SOLID, _PARTED):
        for found in pattern.finditer(name):
            year, month, day, *hour = (int(each) if each else None for each in found.groups())
            when = _moment(year, month, day, hour)
            if when is not None:
                return when
    for found in _YEAR_LAST.finditer(name):
        when = _moment(int(found[3]), int(found[2]), int(found[1]), [None])
        if when is not None:
            return when
    return None


def _moment(
    year: int | None, month: int | None, day: int | None, hour: Sequence[int | None]
) -> tuple[datetime, bool] | None:
    if year is None or month is None or day is None or not FIRST_YEAR <= year <= LAST_YEAR:
        return None
    try:
        date = datetime(year, month, day)
        has_hour = hour[0] is not None
        hours, minutes, seconds = ([each or 0 for each in hour] + [0, 0])[:3]
        return datetime.combine(date, time(hours, minutes, seconds)), has_hour
    except ValueError:
        return None


def nearest(when: datetime, inspections: Sequence[datetime], most_days: int = 0) -> datetime | None:
    """Return the inspection of the day a photo was taken, or the nearest one at most so many days away."""
    ranked = sorted(inspections, key=lambda each: (abs((each.date() - when.date()).days), abs(each - when)))
    return ranked[0] if ranked and abs((ranked[0].date() - when.date()).days) <= most_days else None


def with_time(scanned: ScannedPhoto, at: datetime | None) -> IncomingPhoto:
    """Return the photo with the time that will count: where only its day is known, that of its inspection or noon."""
    when = scanned.when
    if not scanned.has_hour:
        same_day = at is not None and at.date() == when.date()
        when = at if same_day and at is not None else datetime.combine(when.date(), time(12))
    return replace(scanned.photo, taken=when)
