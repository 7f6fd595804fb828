"""Opening a packed board from a stranger: everything is looked at before anything of it gets a place of its own."""

from __future__ import annotations

import hashlib
import os
import shutil
import stat
import struct
import tempfile
import zipfile
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from rustboard.store.copying import Told
from rustboard.store.folder import BOARD_FILE, PHOTOS, fresh_folder
from rustboard.store.pack_checking import LookedOver, look_over
from rustboard.store.pack_format import (
    FREE_OF_RATIO_BYTES,
    MOST_LEAF_BYTES,
    MOST_RATIO,
    Leaf,
    PackedMember,
    altered,
    read_leaf,
)
from rustboard.store.pack_layout import read_layout
from rustboard.support.files import disk_problem, shown_name
from rustboard.support.problems import InputError

_CHUNK: Final = 1 << 20
_SPARE_BYTES: Final = 64 << 20
"""Left free on the disk beyond what is unpacked: SQLite and the first day's backup want room too."""


@dataclass(frozen=True, slots=True)
class LookedInto:
    """What a packed board holds, seen without unpacking its photos.

    Attributes:
        board: what its file holds, with what is to be known about it.
    """

    leaf: Leaf
    board: LookedOver


class _Pieces:
    """Tells how many pieces are unpacked of those there are; telling may raise to stop."""

    def __init__(self, told: Told, size: int) -> None:
        self._told, self._total, self._done = told, max(size // _CHUNK, 1), 0
        told(0, self._total)

    def add(self, size: int) -> None:
        self._done += size
        self._told(min(self._done // _CHUNK, self._total), self._total)


class _Pack:
    """An opened packed board whose layout and leaf are sound."""

    def __init__(self, archive: zipfile.ZipFile) -> None:
        """Read the leaf and hold it against the list of members."""
        self._archive = archive
        members = archive.infolist()
        self.leaf = read_leaf(self._leaf_bytes(members[0]))
        listed = [(each.filename, each.file_size) for each in members[1:]]
        if listed != [(each.name, each.size) for each in self.leaf.members]:
            raise altered("its files are not those of its list of contents")

    def _leaf_bytes(self, member: zipfile.ZipInfo) -> bytes:
        if member.file_size > MOST_LEAF_BYTES:
            raise altered("its list of contents is larger than any")
        return b"".join(self._pieces(member))

    def _pieces(self, member: zipfile.ZipInfo) -> Iterator[bytes]:
        """Yield what a member holds; what it says of its own size is not believed."""
        size = 0
        try:
            with self._archive.open(member) as stream:
                while piece := stream.read(_CHUNK):
                    size += len(piece)
                    if size > member.file_size or _is_bomb(size, member.compress_size):
                        raise altered("a file in it grows beyond all measure when it is unpacked")
                    yield piece
        except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, struct.error):
            raise altered("a file in it is damaged") from None

    def put(self, member: PackedMember, target: Path, told: _Pieces) -> None:
        """Write a member to the disk as a new file, and hold it against the leaf."""
        digest, size = hashlib.sha256(), 0
        handle = os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY | getattr(os, "O_BINARY", 0), 0o666)
        with os.fdopen(handle, "wb") as stream:
            for piece in self._pieces(self._archive.getinfo(member.name)):
                stream.write(piece)
                digest.update(piece)
                size += len(piece)
                told.add(len(piece))
            stream.flush()
            os.fsync(stream.fileno())
        if (size, digest.hexdigest()) != (member.size, member.sha256):
            raise altered("a file in it is not the one that was packed")


def _is_bomb(size: int, packed: int) -> bool:
    return size > FREE_OF_RATIO_BYTES and size > packed * MOST_RATIO


@contextmanager
def _opened(path: Path) -> Iterator[_Pack]:
    """Give a packed board; sentences about it name its file."""
    try:
        if not stat.S_ISREG(os.stat(path).st_mode):  # a pipe would be waited for without end
            raise InputError("This is not a packed board; choose a file that Rustboard packed.")
        with path.open("rb") as stream, read_layout(stream) as archive:
            yield _Pack(archive)
    except InputError as error:
        raise error.located(file=shown_name(path)) from error
    except (OSError, ValueError) as error:
        raise disk_problem(error, path) from error


def look_into(path: Path, told: Told) -> LookedInto:
    """Look at what a packed board holds; only its board file is unpacked, to a place that is gone afterwards.

    Args:
        path: the packed board.
        told: called with pieces done and pieces there are; may raise to stop.

    Raises:
        InputError: it is no packed board, was altered, or does not fit on the disk.
    """
    with _opened(path) as pack, tempfile.TemporaryDirectory(prefix="rustboard-", ignore_cleanup_errors=True) as place:
        folder = Path(place)
        board = pack.leaf.members[0]
        _check_room(folder, board.size)
        pack.put(board, folder / BOARD_FILE, _Pieces(told, board.size))
        return LookedInto(pack.leaf, look_over(folder / BOARD_FILE, pack.leaf))


def unpack_into(path: Path, folder_for: Callable[[str], Path], told: Told) -> tuple[Path, LookedInto]:
    """Unpack a board as a new folder, which appears whole, after everything in it was looked at, or not at all.

    Args:
        path: the packed board.
        folder_for: takes the board's name and says which folder to make.
        told: called with pieces done and pieces there are; may raise to stop.

    Raises:
        InputError: it is no packed board, was altered, or the disk refused.
    """
    with _opened(path) as pack:
        folder = folder_for(pack.leaf.board)
        return folder, _unpacked(pack, folder, told)


def _unpacked(pack: _Pack, folder: Path, told: Told) -> LookedInto:
    leaf = pack.leaf
    with _named_after(folder), fresh_folder(folder) as part:
        _check_room(part, leaf.size)
        pieces = _Pieces(told, leaf.size)
        board, *photos = leaf.members
        pack.put(board, part / BOARD_FILE, pieces)
        looked = look_over(part / BOARD_FILE, leaf)
        if photos:
            (part / PHOTOS).mkdir()
        for each in photos:
            pack.put(each, part / PHOTOS / each.name.removeprefix(f"{PHOTOS}/"), pieces)
        return LookedInto(leaf, looked)


@contextmanager
def _named_after(folder: Path) -> Iterator[None]:
    """Let what the disk says about a folder being made name the folder."""
    try:
        yield
    except OSError as error:
        raise disk_problem(error, folder) from error


def _check_room(folder: Path, size: int) -> None:
    try:
        free = shutil.disk_usage(folder).free
    except OSError:
        return  # not to be known here; a full disk is told when it is met
    if size + _SPARE_BYTES > free:
        raise InputError(
            f"Unpacked this board takes {_megabytes(size)} MB, and the disk has {_megabytes(free)} MB left; free "
            "some space or choose another disk. Nothing was unpacked."
        )


def _megabytes(size: int) -> int:
    return -(-size // 1_000_000)
