"""Photos on their way into a board: read, looked over, kept in the board folder, recorded.

`read_files` and `keep_photos` are jobs: they touch nothing of the session. `add_kept` records, and belongs where the
session is; `keep_and_add` does both where no window waits.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from rustboard.board.model import Photo
from rustboard.operations.photos import ON_THE_BOARD, add_photos
from rustboard.session.jobs import Progress
from rustboard.session.photo_files import MOST_PHOTO_BYTES
from rustboard.session.session import Session
from rustboard.store.photos import KeptFile, forget_file, keep_file
from rustboard.support.files import disk_problem, read_bounded, shown_name
from rustboard.support.problems import InputError, Problem
from rustboard.support.text import one_line

PICTURE_ENDINGS: Final = frozenset({".jpg", ".jpeg", ".png", ".tif", ".tiff", ".heic", ".heif", ".hif"})
"""Files with these endings are taken from a folder; one that is named itself may end as it likes."""

MOST_FILES: Final = 20_000

Source = Path | tuple[str, bytes]
"""A file, or a name and the bytes of a picture that came by another way, such as pasted."""


@dataclass(frozen=True, slots=True, eq=False)
class IncomingPhoto:
    """A picture that can be added.

    Attributes:
        name: as the user knows it. source: the file, or the bytes where there is none.
        sha256: of the bytes.
        kind: JPEG, PNG, TIFF or HEIC, by its content.
        width_px, height_px: of the upright picture.
        camera_time, offset_minutes: as the camera wrote them.
        taken: what will count; the camera's time unless something better is known.
        mm_to_px, placed_by: where the board is in it, when that is known already.
    """

    name: str
    source: Path | bytes
    sha256: str
    kind: str
    width_px: int
    height_px: int
    camera_time: datetime | None = None
    offset_minutes: int | None = None
    taken: datetime | None = None
    mm_to_px: tuple[float, ...] | None = None
    placed_by: str = ""


@dataclass(frozen=True, slots=True)
class IntakeResult:
    """What was found, in the order given, and why the rest cannot be used."""

    found: tuple[IncomingPhoto, ...]
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class KeptPhotos:
    """Photos in the board folder that the board does not name yet.

    Attributes:
        photos: as they will be recorded. files: where each is.
        problems: why others were not kept.
    """

    photos: tuple[Photo, ...]
    files: tuple[KeptFile, ...]
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class AddedPhotos:
    """Photos as they were recorded, how many inspections they made, and why others were not added."""

    photos: tuple[Photo, ...]
    inspections_made: int = 0
    problems: tuple[Problem, ...] = ()


def with_folders_opened(paths: Iterable[Path]) -> tuple[list[Path], list[Problem]]:
    """Return the files, and of each folder the pictures in it, by name; folders inside it are not looked into."""
    files: list[Path] = []
    problems: list[Problem] = []
    for path in paths:
        if not os.path.isdir(path):
            files.append(path)
            continue
        try:
            inside = sorted(each for each in os.listdir(path) if _is_picture_name(each))
        except OSError as error:
            problems.append(disk_problem(error, path).problem)
            continue
        if not inside:
            problems.append(Problem("There are no pictures in this folder; choose another.", shown_name(path)))
        files.extend(path / each for each in inside)
    return files, problems


def _is_picture_name(name: str) -> bool:
    return not name.startswith(".") and os.path.splitext(name)[1].lower() in PICTURE_ENDINGS


def read_files(sources: Sequence[Source], progress: Progress, known: Collection[str] = ()) -> IntakeResult:
    """Read pictures and see whether they are whole, one after the other; their bytes are not held.

    Args:
        sources: files (see `with_folders_opened` for folders), or names and bytes.
        progress: told before each; may stop the job.
        known: SHA-256 of the photos on the board, which are not added twice.

    Raises:
        Cancelled: ``progress`` was asked to stop.
    """
    found: list[IncomingPhoto] = []
    problems: list[Problem] = []
    seen: dict[str, str] = {}
    if len(sources) > MOST_FILES:
        what = f"These are more than {MOST_FILES:,} files at once; the first are taken, add the rest afterwards."
        problems.append(Problem(what))
    chosen = sources[:MOST_FILES]
    for number, source in enumerate(chosen):
        progress.step(number, len(chosen))
        try:
            incoming = _incoming(source, known, seen)
        except InputError as error:
            problems.append(error.located(file=_name(source)).problem)
        else:
            seen[incoming.sha256] = incoming.name
            found.append(incoming)
    progress.step(len(chosen), len(chosen))
    return IntakeResult(tuple(found), tuple(problems))


def _incoming(source: Source, known: Collection[str], seen: dict[str, str]) -> IncomingPhoto:
    from rustboard.photo.camera_facts import camera_facts  # decoders take long to load

    name = _name(source)
    data = _bytes_of(source if isinstance(source, Path) else source[1])
    if not data:
        raise InputError("The file is empty; copy it again from the camera or the phone.", file=name)
    digest = hashlib.sha256(data).hexdigest()
    if digest in known:
        raise InputError(ON_THE_BOARD, file=name)
    if digest in seen:
        raise InputError(f"This is the same picture as {seen[digest]}; it is added once.", file=name)
    facts = camera_facts(data, name)
    return IncomingPhoto(
        name,
        source if isinstance(source, Path) else data,
        digest,
        facts.kind,
        facts.width_px,
        facts.height_px,
        facts.taken,
        facts.offset_minutes,
        facts.taken,
    )


def _name(source: Source) -> str:
    return shown_name(source) if isinstance(source, Path) else one_line(source[0], 200)


def _bytes_of(source: Path | bytes) -> bytes:
    if isinstance(source, bytes):
        if len(source) > MOST_PHOTO_BYTES:
            raise _too_many_bytes()
        return source
    try:
        # Asked first: to open a pipe would wait for ever.
        other = os.path.exists(source) and not os.path.isfile(source)
        if os.path.isfile(source) and os.path.getsize(source) > MOST_PHOTO_BYTES:
            raise _too_many_bytes()
    except (OSError, ValueError) as error:
        raise disk_problem(error, source) from error
    if other:
        raise InputError("This is no file; choose a picture.", file=shown_name(source))
    return read_bounded(source, MOST_PHOTO_BYTES)


def _too_many_bytes() -> InputError:
    return InputError(f"The picture has more than {MOST_PHOTO_BYTES >> 20} MiB; save it smaller and try again.")


def keep_photos(folder: Path, incoming: Sequence[IncomingPhoto], progress: Progress) -> KeptPhotos:
    """Write pictures into the board folder, byte for byte.

    When it stops half-way, what it has written goes again.

    Args:
        folder: the board folder.
        incoming: what `read_files` found; one that has changed since is left out, and told.
        progress: told before each; may stop the job.

    Raises:
        InputError: the disk refused to write.
        Cancelled: ``progress`` was asked to stop.
    """
    photos: list[Photo] = []
    files: list[KeptFile] = []
    problems: list[Problem] = []
    try:
        for number, each in enumerate(incoming):
            progress.step(number, len(incoming))
            try:
                data = _unchanged(each)
            except InputError as error:
                problems.append(error.located(file=each.name).problem)
                continue
            kept = keep_file(folder, each.name, data, each.taken)
            files.append(kept)
            photos.append(_as_recorded(each, kept))
        progress.step(len(incoming), len(incoming))
    except BaseException:
        _forget(folder, files)
        raise
    return KeptPhotos(tuple(photos), tuple(files), tuple(problems))


def _unchanged(incoming: IncomingPhoto) -> bytes:
    data = _bytes_of(incoming.source)
    if hashlib.sha256(data).hexdigest() != incoming.sha256:
        raise InputError("This file changed while it was being added; add it again.")
    return data


def _as_recorded(incoming: IncomingPhoto, kept: KeptFile) -> Photo:
    return Photo(
        incoming.name,
        kept.file,
        kept.sha256,
        incoming.width_px,
        incoming.height_px,
        taken=incoming.taken,
        mm_to_px=incoming.mm_to_px,
        camera_time=incoming.camera_time,
        offset_minutes=incoming.offset_minutes,
        placed_by=incoming.placed_by,
    )


def forget_kept(folder: Path, kept: KeptPhotos) -> None:
    """Take away what `keep_photos` has written, when it is not to be recorded after all."""
    _forget(folder, kept.files)


def _forget(folder: Path, files: Iterable[KeptFile]) -> None:
    for each in files:
        forget_file(folder, each)


def add_kept(session: Session, kept: KeptPhotos, origin: object = None) -> AddedPhotos:
    """Record kept photos in one step of undo; nothing happens when there are none.

    Raises:
        InputError: one is on the board already, or its time cannot be; then none is recorded, and no file stays.
    """
    if not kept.photos:
        return AddedPhotos((), 0, kept.problems)
    before = set(session.record.inspections)
    try:
        session.do(add_photos, kept.photos, origin=origin)
    except InputError:
        forget_kept(session.folder, kept)
        raise
    recorded = {each.sha256: each for each in session.record.photos.values()}
    made = len(session.record.inspections.keys() - before)
    return AddedPhotos(tuple(recorded[each.sha256] for each in kept.photos), made, kept.problems)


def keep_and_add(session: Session, incoming: Sequence[IncomingPhoto], progress: Progress) -> AddedPhotos:
    """Do `keep_photos`, then `add_kept`.

    Raises:
        InputError: as these; nothing is left half done.
        Cancelled: ``progress`` was asked to stop; likewise.
    """
    return add_kept(session, keep_photos(session.folder, incoming, progress))
