"""A board packed into one file to send, and a received one opened: for the window and for the commands."""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import datetime
from itertools import islice
from pathlib import Path
from typing import Final

from rustboard.board.record import BoardRecord
from rustboard.session.jobs import Progress
from rustboard.session.looking import look_at_board
from rustboard.session.new_board import folder_name, free_folder
from rustboard.session.pack_names import PACK_ENDING
from rustboard.store.database import for_looking
from rustboard.store.folder import board_file_of, folder_of, photo_path
from rustboard.store.pack_checking import content_digest
from rustboard.store.pack_writing import pack_into
from rustboard.store.packed_board import LookedInto, look_into, unpack_into
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.problems import InputError, Problem

_MOST_COMPARED: Final = 20
"""Boards of one name that are held against a received one."""
_MOST_NAMES: Final = 20_000


@dataclass(frozen=True, slots=True)
class PackResult:
    """A board that was packed.

    Attributes:
        size: of the file, in bytes. photos: how many travel.
        left_out: photos that could not travel, and why.
    """

    board: str
    file: Path
    size: int
    photos: int
    left_out: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class Travels:
    """What of a board goes along when it is packed, told to the sender before.

    Attributes:
        target: the file that is offered to be written.
        photos: that the board names. photo_bytes: of their files that are there.
        graders: names in inspections and gradings, in order.
        notes: how many notes there are on board, treatments, coupons, inspections and gradings.
    """

    board: str
    target: Path
    photos: int
    photo_bytes: int
    customer: str
    graders: tuple[str, ...]
    notes: int
    tags: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PackPreview:
    """What a packed board holds, read before anything of it is unpacked for good.

    Attributes:
        packed: when, by the sender's clock. size: in bytes, unpacked.
        photos: that travelled. missing: photos that the board names and that did not.
        photos_wanted: whether the sender sent the photos along.
        first, last: inspections, or None.
        doubts: what is damaged in it and does not keep it from being opened.
        folder: where it would be unpacked.
        same_as: the folder of a board with the very same content that is here already, or None.
        taken: whether a board of its name is here already.
    """

    file: Path
    board: str
    packed: datetime
    size: int
    customer: str
    site: str
    tags: tuple[str, ...]
    started: datetime | None
    first: datetime | None
    last: datetime | None
    coupons: int
    treatments: int
    inspections: int
    photos: int
    missing: int
    photos_wanted: bool
    doubts: tuple[str, ...]
    folder: Path
    same_as: Path | None
    taken: bool


@dataclass(frozen=True, slots=True)
class UnpackResult:
    """A received board that is a board folder now.

    Attributes:
        photos: that travelled. missing: photos that the board names and that did not.
        doubts: what is damaged in it and did not keep it from being opened.
    """

    board: str
    folder: Path
    coupons: int
    inspections: int
    photos: int
    missing: int
    photos_wanted: bool
    doubts: tuple[str, ...]


def pack_name(board_folder: Path) -> str:
    """Return the name that the packed board of a folder gets unless the user chooses another."""
    return f"{folder_name(board_folder.name)}{PACK_ENDING}"


def what_travels(board: Path, progress: Progress | None = None) -> Travels:
    """Return what of a board (its folder or its file) goes along when it is packed.

    Raises:
        InputError: there is no sound board.
    """
    record = look_at_board(board)
    folder = folder_of(board_file_of(board))
    paths = [photo_path(folder, file) for file in sorted({each.file for each in record.photos.values()})]
    gradings = [each for graded in record.current.values() for each in graded.values()]
    named = {each.grader for each in record.inspections.values()} | {each.grader for each in gradings}
    people = {one.strip() for each in named for one in each.split(",")}
    noted = (
        [record.board.note],
        (each.note for each in record.treatments.values()),
        (each.note for each in record.coupons.values()),
        (each.note for each in record.inspections.values()),
        (each.note for each in gradings),
    )
    return Travels(
        board=record.board.name,
        target=folder.parent / pack_name(folder),
        photos=len(paths),
        photo_bytes=sum(map(_size_of, paths)),
        customer=record.board.customer,
        graders=tuple(sorted(people - {""}, key=str.casefold)),
        notes=sum(bool(note) for notes in noted for note in notes),
        tags=_tags(record),
    )


def _tags(record: BoardRecord) -> tuple[str, ...]:
    return tuple(sorted((each.word for each in record.tags.values()), key=str.casefold))


def _size_of(path: Path | None) -> int:
    try:
        return 0 if path is None else path.stat().st_size
    except OSError:
        return 0


def pack_board(
    source: Path, target: Path, progress: Progress | None = None, *, photos: bool = True, clock: Clock = wall_clock
) -> PackResult:
    """Pack a board into one file to send, also while a window has it open; the file is whole or not there.

    Args:
        source: the board's folder or its file.
        target: the file to write; one of that name is replaced at the end.
        progress: told how far it is, and asked whether to stop.
        photos: whether the photos go along.
        clock: gives the time that the packed board tells.

    Raises:
        InputError: there is no sound board, or the disk refused.
        Cancelled: ``progress`` was asked to stop.
    """
    packed = pack_into(source, target, clock(), (progress or Progress()).step, photos=photos)
    return PackResult(packed.leaf.board, target, packed.size, packed.photos, packed.left_out)


def look_into_pack(path: Path, boards_folder: Path, progress: Progress | None = None) -> PackPreview:
    """Say what a packed board holds and whether it is here already, without unpacking its photos.

    Raises:
        InputError: it is no packed board, was altered, or is of a newer program.
        Cancelled: ``progress`` was asked to stop.
    """
    progress = progress or Progress()
    looked = look_into(path, progress.step)
    record, leaf = looked.board.record, looked.leaf
    times = sorted(each.at for each in record.inspections.values())
    there = _boards_named(boards_folder, leaf.board)
    return PackPreview(
        file=path,
        board=leaf.board,
        packed=leaf.packed,
        size=leaf.size,
        customer=record.board.customer,
        site=record.board.site,
        tags=_tags(record),
        started=record.board.started,
        first=times[0] if times else None,
        last=times[-1] if times else None,
        coupons=len(record.coupons),
        treatments=len(record.treatments),
        inspections=len(times),
        photos=len(leaf.members) - 1,
        missing=looked.board.missing,
        photos_wanted=leaf.photos,
        doubts=looked.board.doubts,
        folder=free_folder(boards_folder, leaf.board),
        same_as=_same_among(there, looked.board.digest, progress),
        taken=bool(there),
    )


def _boards_named(boards_folder: Path, name: str) -> list[Path]:
    """Return the folders of boards whose name begins like that of a received one, at most a few."""
    start = folder_name(name).casefold()
    try:
        with os.scandir(boards_folder) as found:
            names = [each.name for each in islice(found, _MOST_NAMES) if each.name.casefold().startswith(start)]
    except OSError:
        return []
    folders = [boards_folder / each for each in sorted(names, key=str.casefold)]
    return [each for each in folders if os.path.isfile(board_file_of(each))][:_MOST_COMPARED]


def _same_among(folders: list[Path], digest: str, progress: Progress) -> Path | None:
    for number, folder in enumerate(folders):
        progress.step(number, len(folders))
        try:
            with for_looking(board_file_of(folder)) as connection:
                if content_digest(connection) == digest:
                    return folder
        except InputError:
            continue  # a board that cannot be read is not the same, and it is not what was asked about
    return None


def unpack_board(path: Path, boards_folder: Path, progress: Progress | None = None) -> UnpackResult:
    """Make a board folder of a packed board, named after it and under a name that is free; all of it or nothing.

    Args:
        path: the packed board.
        boards_folder: where the new folder is made.
        progress: told how far it is, and asked whether to stop.

    Raises:
        InputError: it is no packed board, was altered, or the disk refused.
        Cancelled: ``progress`` was asked to stop.
    """
    told = (progress or Progress()).step
    folder, looked = unpack_into(path, lambda name: free_folder(boards_folder, name), told)
    return _result(folder, looked)


def _result(folder: Path, looked: LookedInto) -> UnpackResult:
    record, leaf = looked.board.record, looked.leaf
    return UnpackResult(
        board=leaf.board,
        folder=folder,
        coupons=len(record.coupons),
        inspections=len(record.inspections),
        photos=len(leaf.members) - 1,
        missing=looked.board.missing,
        photos_wanted=leaf.photos,
        doubts=looked.board.doubts,
    )
