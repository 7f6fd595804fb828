"""Packing a board: one file with a copy of the board file and its photos, written whole or not at all."""

from __future__ import annotations

import hashlib
import sqlite3
import tempfile
import zipfile
import zlib
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import BinaryIO, Final

from rustboard.board.record import BoardRecord
from rustboard.store import journal
from rustboard.store.copying import Told
from rustboard.store.database import DATABASE_ERRORS, connect, database_problem, for_looking, look_at_header
from rustboard.store.folder import BOARD_FILE, PHOTOS, board_file_of, folder_of, photo_path
from rustboard.store.pack_format import (
    FREE_OF_RATIO_BYTES,
    LEAF,
    MOST_BOARD_BYTES,
    MOST_BYTES,
    MOST_PHOTO_BYTES,
    MOST_PHOTOS,
    MOST_RATIO,
    Leaf,
    PackedMember,
    is_photo_name,
    leaf_bytes,
)
from rustboard.store.reading import read_record
from rustboard.store.shelving_tables import SHELVINGS
from rustboard.store.weather_content import forget_unnamed
from rustboard.support.files import disk_problem, put_in_place, shown_name
from rustboard.support.problems import InputError, Problem

CHUNK: Final = 1 << 20
_LEVEL: Final = 6
_EARLIEST, _LATEST = datetime(1980, 1, 1), datetime(2107, 12, 31)
"""What a zip file can date."""


@dataclass(frozen=True, slots=True)
class Packed:
    """What was packed.

    Attributes:
        size: of the file, in bytes. left_out: photos that could not travel, and why.
    """

    leaf: Leaf
    size: int
    left_out: tuple[Problem, ...] = ()

    @property
    def photos(self) -> int:
        """How many photos travel."""
        return len(self.leaf.members) - 1


@dataclass(frozen=True, slots=True)
class _Source:
    """A file that is to be packed, and what was found in it."""

    path: Path
    member: PackedMember


class _Counted:
    """Tells how many pieces are done of those there are; telling may raise to stop."""

    def __init__(self, told: Told, total: int) -> None:
        self._told, self._total, self._done = told, total, 0

    def one(self) -> None:
        self._done += 1
        self._told(min(self._done, self._total), self._total)


def pack_into(source: Path, target: Path, packed: datetime, told: Told, *, photos: bool) -> Packed:
    """Pack a board, also one that is open; the same board at the same time gives the same bytes.

    The record of changes travels, for it is part of what a board proves. Steps of undo do not, nor anything that
    only they still hold: what the sender took back or removed is not sent.

    Args:
        source: the board's folder, its file, or one of its dated copies.
        target: the file to write; one of that name is replaced once all is written.
        packed: the time that the packed board tells.
        told: called with pieces done and pieces there are; may raise to stop.
        photos: whether the photos travel.

    Raises:
        InputError: there is no sound board, it is larger than what is opened again, or the disk refused.
    """
    file = board_file_of(source)
    folder = folder_of(file)
    look_at_header(file)
    _check_target(target, folder)
    told(0, 1)
    try:
        with tempfile.TemporaryDirectory(prefix="rustboard-", ignore_cleanup_errors=True) as workshop:
            copy = Path(workshop) / BOARD_FILE
            record = _copied(file, copy)
            wanted = list(_photo_files(folder, record)) if photos else []
            pieces = sum(_pieces(each) for each in (copy, *(path for _, _, path in wanted if path is not None)))
            counted = _Counted(told, 2 * pieces)
            board = _Source(copy, _looked_at(copy, BOARD_FILE, counted))
            problems: list[Problem] = []
            sources = [board, *_sound_photos(wanted, problems, counted)]
            leaf = Leaf(record.board.name, packed, photos, tuple(each.member for each in sources))
            _check_size(leaf)
            put_in_place(target, _filling(leaf, sources, counted))
            return Packed(leaf, target.stat().st_size, tuple(problems))
    except (OSError, ValueError) as error:
        raise disk_problem(error, target) from error


def _check_target(target: Path, folder: Path) -> None:
    try:
        inside = target.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError, ValueError):
        return  # whoever writes there is told
    if inside:
        raise InputError(
            "A packed board is not kept inside its own board's folder; choose another place.", file=shown_name(target)
        )


def _copied(file: Path, copy: Path) -> BoardRecord:
    """Write a copy of a board file without steps of undo and without any trace of deleted rows; return its record."""
    with for_looking(file) as connection:
        try:
            with closing(sqlite3.connect(copy)) as target:
                connection.backup(target)
        except DATABASE_ERRORS as error:
            raise database_problem(error, copy) from error
    try:
        with closing(connect(copy, write=True)) as connection:
            connection.execute("BEGIN IMMEDIATE")
            journal.clear(connection)
            forget_unnamed(connection)
            connection.execute(f"DELETE FROM {SHELVINGS.name}")  # that it is put away here is nobody else's matter
            connection.execute("COMMIT")
            record = read_record(connection)
            connection.setlimit(sqlite3.SQLITE_LIMIT_ATTACHED, 1)  # SQLite attaches the file it rebuilds into
            connection.execute("VACUUM")
    except DATABASE_ERRORS as error:
        raise database_problem(error, copy) from error
    except InputError as error:
        raise error.located(file=shown_name(file)) from error
    return record


def _photo_files(folder: Path, record: BoardRecord) -> Iterator[tuple[str, str, Path | None]]:
    """Yield name, hash and path (None where there is no such file) of the photos that the board names."""
    for file, sha256 in sorted({each.file: each.sha256 for each in record.photos.values()}.items()):
        path = photo_path(folder, file)
        usable = path is not None and is_photo_name(f"{PHOTOS}/{file}") and path.is_file()
        yield file, sha256, path if usable else None


def _pieces(path: Path) -> int:
    return path.stat().st_size // CHUNK + 1


def _looked_at(path: Path, name: str, counted: _Counted) -> PackedMember:
    digest, size = hashlib.sha256(), 0
    for piece in _chunks(path):
        digest.update(piece)
        size += len(piece)
        counted.one()
    return PackedMember(name, size, digest.hexdigest())


def _chunks(path: Path) -> Iterator[bytes]:
    with path.open("rb") as stream:
        while piece := stream.read(CHUNK):
            yield piece


def _sound_photos(
    wanted: list[tuple[str, str, Path | None]], problems: list[Problem], counted: _Counted
) -> Iterator[_Source]:
    """Yield the photos that can travel; a missing or altered one is told of and left out."""
    for file, sha256, path in wanted:
        if path is None:
            problems.append(Problem("This photo is missing from the photos folder and was left out.", file=file[:80]))
            continue
        try:
            member = _looked_at(path, f"{PHOTOS}/{file}", counted)
        except OSError as error:
            problems.append(Problem(f"It was left out. {disk_problem(error, path).problem.what}", file=file[:80]))
            continue
        if member.sha256 != sha256 or member.size > MOST_PHOTO_BYTES:
            problems.append(
                Problem("This photo is no longer the one that was added, so it was left out.", file=file[:80])
            )
            continue
        yield _Source(path, member)


def _check_size(leaf: Leaf) -> None:
    if len(leaf.members) - 1 > MOST_PHOTOS or leaf.size > MOST_BYTES or leaf.members[0].size > MOST_BOARD_BYTES:
        raise InputError(
            f"This board is too large for one file (at most {MOST_PHOTOS} photos and {MOST_BYTES >> 30} GiB); pack "
            "it without photos and send those by themselves.",
            file=leaf.board[:80],
        )


def _filling(leaf: Leaf, sources: list[_Source], counted: _Counted) -> Callable[[BinaryIO], None]:
    def fill(stream: BinaryIO) -> None:
        with zipfile.ZipFile(stream, "w") as archive:
            content = leaf_bytes(leaf)
            archive.writestr(
                _entry(LEAF, len(content), leaf.packed, zipfile.ZIP_DEFLATED), content, compresslevel=_LEVEL
            )
            for each in sources:
                _write(archive, each, leaf.packed, counted)

    return fill


def _entry(name: str, size: int, packed: datetime, method: int) -> zipfile.ZipInfo:
    when = min(max(packed, _EARLIEST), _LATEST)
    entry = zipfile.ZipInfo(name, when.timetuple()[:6])
    entry.create_system = 3  # the same bytes on every system
    entry.external_attr = 0o100644 << 16
    entry.file_size = size
    entry.compress_type = method
    return entry


def _write(archive: zipfile.ZipFile, source: _Source, packed: datetime, counted: _Counted) -> None:
    member = source.member
    shrinks = member.name == BOARD_FILE and _may_be_deflated(source.path, member.size)
    method = zipfile.ZIP_DEFLATED if shrinks else zipfile.ZIP_STORED
    digest = hashlib.sha256()
    with archive.open(_entry(member.name, member.size, packed, method), "w") as target:
        for piece in _chunks(source.path):
            digest.update(piece)
            target.write(piece)
            counted.one()
    if digest.hexdigest() != member.sha256:
        raise InputError(
            "This file was changed while it was being packed; try again in a moment.", file=shown_name(source.path)
        )


def _may_be_deflated(path: Path, size: int) -> bool:
    """Return whether whoever opens the file will not take it for a bomb."""
    if size <= FREE_OF_RATIO_BYTES:
        return True
    packer = zlib.compressobj(_LEVEL)
    packed = sum(len(packer.compress(piece)) for piece in _chunks(path)) + len(packer.flush())
    return size <= packed * MOST_RATIO // 2
