"""The plain zip file that a packed board is: nothing before, between or behind its members, no trick in their list.

`zipfile` reads generously, as a tool for all archives must. What is sent to us was written by this program, so it can
be held to one layout: every byte of the file belongs to exactly one member or to the list of members.
"""

from __future__ import annotations

import stat
import struct
import zipfile
from dataclasses import dataclass
from typing import Any, BinaryIO, Final

from rustboard.store.pack_format import (
    LEAF,
    MOST_DIRECTORY_BYTES,
    MOST_MEMBERS,
    altered,
)
from rustboard.support.problems import InputError

_END: Final = struct.Struct("<4s4H2LH")
_END_64: Final = struct.Struct("<4sQ2H2L4Q")
_LOCATOR: Final = struct.Struct("<4sLQL")
_LOCAL: Final = struct.Struct("<4s5H3L2H")
_FULL: Final = 0xFFFFFFFF
_UTF_8: Final = 0x800
_LONGEST_EXTRA: Final = 64
_SIZES_64: Final = 1
"""Number of the only extra field there may be: sizes beyond 4 GiB (PKWARE's APPNOTE, 4.5.3)."""


@dataclass(frozen=True, slots=True)
class _Directory:
    """Where the list of members is.

    Attributes:
        count: of members. start: of the list. end: of the list.
    """

    count: int
    start: int
    end: int


def read_layout(stream: BinaryIO) -> zipfile.ZipFile:
    """Return the archive in a stream after looking at how it is laid out; the list of members is bounded.

    Raises:
        InputError: it is no archive, or not laid out as this program does it.
        OSError: the file could not be read.
    """
    size = stream.seek(0, 2)
    directory = _directory(stream, size)
    if directory.count > MOST_MEMBERS or directory.end - directory.start > MOST_DIRECTORY_BYTES:
        raise altered("it lists more files than any board has")
    try:
        archive = zipfile.ZipFile(stream)
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, ValueError, struct.error):
        raise altered("its list of files cannot be read") from None
    members = archive.infolist()
    if archive.start_dir != directory.start or len(members) != directory.count or archive.comment:
        raise altered("its list of files is not where it says")
    for each in members:
        _check_member(each)
    _check_places(stream, members, directory.start)
    return archive


def _directory(stream: BinaryIO, size: int) -> _Directory:
    """Return where the list is; the record that says so must be the last bytes of the file."""
    stream.seek(0)
    start = stream.read(4)
    if start != b"PK\x03\x04":
        raise InputError("This is not a packed board; choose a file that Rustboard packed.")
    at = size - _END.size
    record = _read(stream, _END, at)
    if record is None or record[0] != b"PK\x05\x06" or record[1] or record[2] or record[3] != record[4] or record[7]:
        raise altered("its end is cut off, or something follows it")
    count, length, start_at = record[4], record[5], record[6]
    if count == 0xFFFF or _FULL in (length, start_at):
        at, count, length, start_at = _large_directory(stream, at)
    if start_at + length != at:
        raise altered("something stands between its list of files and its end")
    return _Directory(count, start_at, at)


def _large_directory(stream: BinaryIO, end: int) -> tuple[int, int, int, int]:
    at = end - _LOCATOR.size - _END_64.size
    locator, record = _read(stream, _LOCATOR, end - _LOCATOR.size), _read(stream, _END_64, at)
    if locator is None or record is None or locator != (b"PK\x06\x07", 0, at, 1) or record[0] != b"PK\x06\x06":
        raise altered("its end is not as Rustboard writes it")
    _, length, _, _, disk, first_disk, here, count, size, start = record
    if length != _END_64.size - 12 or disk or first_disk or here != count:
        raise altered("its end is not as Rustboard writes it")
    return at, count, size, start


def _read(stream: BinaryIO, shape: struct.Struct, at: int) -> tuple[Any, ...] | None:
    if at < 0:
        return None
    stream.seek(at)
    data = stream.read(shape.size)
    return shape.unpack(data) if len(data) == shape.size else None


def _check_member(member: zipfile.ZipInfo) -> None:
    """Refuse links, folders, encrypted members, and methods and fields that this program never writes."""
    kind = stat.S_IFMT(member.external_attr >> 16)
    if kind not in {0, stat.S_IFREG} or member.external_attr & 0x10:
        raise altered("it holds a link or a folder instead of a file")
    if member.flag_bits & 0x1:
        raise altered("it is locked with a password")
    stored = member.compress_type == zipfile.ZIP_STORED
    plain = member.flag_bits & ~_UTF_8 == 0 and member.volume == 0 and not member.comment
    plain = plain and member.filename == member.orig_filename and _has_plain_extra(member.extra)
    if not plain or not (stored or member.compress_type == zipfile.ZIP_DEFLATED):
        raise altered("a file in it is packed in a way that Rustboard does not use")
    if stored and member.compress_size != member.file_size:
        raise altered("a file in it has two sizes")


def _has_plain_extra(extra: bytes) -> bool:
    if not extra:
        return True
    return 4 <= len(extra) <= _LONGEST_EXTRA and struct.unpack("<2H", extra[:4]) == (_SIZES_64, len(extra) - 4)


def _check_places(stream: BinaryIO, members: list[zipfile.ZipInfo], end: int) -> None:
    """Walk from member to member: each must begin where the one before ends, and say of itself what the list says."""
    if not members or members[0].filename != LEAF:
        raise altered("its list of contents is missing")
    place = 0
    for each in members:
        if each.header_offset != place:
            raise altered("its files overlap, or something stands between them")
        place = _end_of(stream, each)
    if place != end:
        raise altered("something stands between its files and their list")


def _end_of(stream: BinaryIO, member: zipfile.ZipInfo) -> int:
    header = _read(stream, _LOCAL, member.header_offset)
    if header is None or header[0] != b"PK\x03\x04":
        raise altered("a file in it is cut off")
    _, _, flags, method, _, _, crc, packed, unpacked, name_length, extra_length = header
    name = stream.read(name_length)
    if extra_length > _LONGEST_EXTRA or not _has_plain_extra(stream.read(extra_length)):
        raise altered("a file in it is packed in a way that Rustboard does not use")
    same = (flags, method, crc) == (member.flag_bits, member.compress_type, member.CRC)
    same = same and packed in (member.compress_size, _FULL) and unpacked in (member.file_size, _FULL)
    if not same or name != member.orig_filename.encode("utf-8", "replace"):
        raise altered("a file in it is called one thing in the list and another before its content")
    end: int = member.header_offset + _LOCAL.size + name_length + extra_length + member.compress_size
    return end
