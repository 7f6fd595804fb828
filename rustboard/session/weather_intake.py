"""Loggers' files on their way onto a board: read with a bound, understood, and made ready to be added.

`load_logger_file` and `read_readings` are jobs: they touch nothing of the session. What comes of them is added by
`rustboard.operations.weather.add_weather_file`.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Final, Literal

from rustboard.board.cells import identity
from rustboard.board.clock_names import clock_time
from rustboard.board.weather import MOST_TOLD, WeatherFile
from rustboard.operations.weather import GivenReadings
from rustboard.session.jobs import Progress
from rustboard.session.logger_profiles import LoggerProfile, LoggerProfiles
from rustboard.session.weather_columns import (
    NO_CHANGES,
    OptionChanges,
    bare_options,
    laid_by,
    laid_like,
    open_doubts,
    with_changes,
)
from rustboard.support.files import disk_problem, shown_name
from rustboard.support.problems import InputError, Problem
from rustboard.support.text import one_line, some_of
from rustboard.weather.logger_file.clock_hint import clock_hint
from rustboard.weather.logger_file.decode import MOST_BYTES, LoggerText, decode_logger_file
from rustboard.weather.logger_file.guess import Guess, guess_options
from rustboard.weather.logger_file.options import FileOptions, checked_clock
from rustboard.weather.logger_file.preview import PreviewRow, preview
from rustboard.weather.logger_file.read import ReadLoggerFile, read_logger_file
from rustboard.weather.logger_file.summary import usual_interval
from rustboard.weather.packing import pack

UNNAMED_LOGGER: Final = "logger"
"""What a logger is called when nobody says; files without a name of a logger are one series with it."""
LARGE_BYTES: Final = 4 << 20
"""Of a file larger than this the beginning is shown before the whole is read."""
_BEGINNING_BYTES: Final = 256 << 10
_CHUNK: Final = 4 << 20
_PREVIEW_ROWS: Final = 12
_UTF_16: Final = (b"\xff\xfe", b"\xfe\xff")

Standing = Literal["new", "same", "replaces"]
"""Whether a board lacks a file, has it read in the very same way, or has it read otherwise."""


@dataclass(frozen=True, slots=True, eq=False)
class LoadedFile:
    """A file's text, in memory.

    Attributes:
        name: of the file, without its folder. sha256: of its bytes, or empty when this is only the beginning.
    """

    name: str
    sha256: str
    text: LoggerText = field(repr=False)


@dataclass(frozen=True, slots=True, eq=False)
class LoggerReading:
    """What a file says when it is read with these options.

    Attributes:
        file: it. options: how it was read. profile: the kept profile by which it was, or empty.
        doubts: what the file does not settle, one plain sentence each.
        rows: the first rows as they stand in the file and as they are understood.
        read: all rows, or None where they cannot be read. given: the same, ready to be added.
        guess: how the file seemed to be written, where it was guessed.
        problem: why the file cannot be read with these options, or None.
        interval_seconds: the usual time from one reading to the next, or None.
        standing: whether the board has the file. overlapping: files of the same logger with readings of this time.
    """

    file: LoadedFile
    options: FileOptions
    profile: str = ""
    doubts: tuple[str, ...] = ()
    rows: tuple[PreviewRow, ...] = ()
    read: ReadLoggerFile | None = field(default=None, repr=False)
    given: GivenReadings | None = field(default=None, repr=False)
    guess: Guess | None = field(default=None, repr=False)
    problem: Problem | None = None
    interval_seconds: int | None = None
    standing: Standing = "new"
    overlapping: tuple[WeatherFile, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class ReadRequest:
    """A file to be read.

    Attributes:
        file: what `load_logger_file` made of it.
        options: how to read it, or None to guess. like: how a file before it was read; it counts instead of a guess
            where this file has the same columns. changes: what is said of the file beside that.
        profile: name of the kept profile to read it by; empty = by none; None = by the one that fits, if any does.
        zone: of the board's clock, or empty where it is not known. on_board: files that the board has.
        before: the same file read with other options; what did not change is not read again.
    """

    file: LoadedFile
    options: FileOptions | None = None
    like: FileOptions | None = None
    changes: OptionChanges = NO_CHANGES
    profile: str | None = None
    zone: str = ""
    on_board: tuple[WeatherFile, ...] = ()
    before: LoggerReading | None = None


# ---- bytes


def load_logger_file(path: Path, progress: Progress) -> LoadedFile:
    """Read a file's bytes, all of them, and make them text; a job.

    Raises:
        InputError: it is not there, cannot be read, is too large, or is no text.
        Cancelled: ``progress`` was asked to stop.
    """
    size = file_bytes(path)
    name = shown_name(path)
    digest = hashlib.sha256()
    parts: list[bytes] = []
    done = 0
    progress.step(0, size)
    try:
        with path.open("rb") as stream:
            while part := stream.read(_CHUNK):
                done += len(part)
                if done > MOST_BYTES:  # it grew meanwhile, or never told its size
                    raise _too_large(name)
                digest.update(part)
                parts.append(part)
                progress.step(done, max(size, done))
    except OSError as error:
        raise disk_problem(error, path) from error
    return LoadedFile(name, digest.hexdigest(), decode_logger_file(b"".join(parts), name))


def load_beginning(path: Path, progress: Progress) -> LoadedFile:
    """Read the beginning of a file, to show it at once; else as `load_logger_file`."""
    file_bytes(path)
    progress.step(0, 0)
    try:
        with path.open("rb") as stream:
            data = stream.read(_BEGINNING_BYTES)
    except OSError as error:
        raise disk_problem(error, path) from error
    # Whole lines only: half a letter would have the rest taken for another encoding.
    data = data[: len(data) // 2 * 2] if data.startswith(_UTF_16) else data[: data.rfind(b"\n") + 1] or data
    return LoadedFile(shown_name(path), "", decode_logger_file(data, shown_name(path)))


def file_bytes(path: Path) -> int:
    """Return how large a file is.

    Raises:
        InputError: it is not there, is no file, or is larger than can be read.
    """
    try:
        size = os.path.getsize(path)
        if os.path.isdir(path):
            raise InputError("This is a folder, and a file is needed; choose a file.", file=shown_name(path))
        if not os.path.isfile(path):  # to open a pipe would wait for ever
            raise InputError("This is no file; choose a logger's file.", file=shown_name(path))
    except (OSError, ValueError) as error:
        raise disk_problem(error, path) from error
    if size > MOST_BYTES:
        raise _too_large(shown_name(path))
    return size


def _too_large(name: str) -> InputError:
    return InputError(f"The file is larger than {MOST_BYTES >> 20} MB; split it into several files.", file=name)


# ---- readings


def read_readings(request: ReadRequest, progress: Progress) -> LoggerReading:
    """Read a file, guessing what was not said; a job. What is wrong with the options is told in the answer.

    Raises:
        InputError: nothing can be guessed: this is no file of readings.
        Cancelled: ``progress`` was asked to stop.
    """
    progress.step(0, 0)
    settled = _settled(request)
    options, doubts, profile = settled.options, settled.doubts, settled.profile
    try:
        if settled.problem is not None:
            raise InputError(settled.problem.what, file=settled.problem.file)
        options = replace(options, clock=checked_clock(options.clock))
        before = request.before
        if before is not None and before.read is not None and _read_the_same(before, options):
            read = before.read
        else:
            read = read_logger_file(request.file.text, options)
    except InputError as error:
        rows = tuple(preview(request.file.text, options, _PREVIEW_ROWS))
        return LoggerReading(request.file, options, profile, doubts, rows, guess=settled.guess, problem=error.problem)
    progress.step(1, 2)
    given = given_readings(request.file, options, read)
    progress.step(2, 2)
    return LoggerReading(
        request.file,
        options,
        profile,
        (*doubts, *_clock_doubts(read, options.clock, request.zone)),
        tuple(preview(request.file.text, options, _PREVIEW_ROWS)),
        read,
        given,
        settled.guess,
        None,
        usual_interval(read.table.seconds),
        standing_of(given, request.on_board),
        overlapping(given, request.on_board),
    )


def preview_beginning(path: Path, progress: Progress) -> LoggerReading:
    """Show how the beginning of a large file seems to be written; a job. Nothing of it is ready to be added.

    Raises:
        InputError: as `load_beginning` and `read_readings`.
    """
    file = load_beginning(path, progress)
    guess = guess_options(file.text)
    return LoggerReading(file, guess.options, rows=tuple(preview(file.text, guess.options, _PREVIEW_ROWS)))


@dataclass(frozen=True, slots=True)
class _Settled:
    """How a file is to be read, and what was said of that on the way; see `LoggerReading`."""

    options: FileOptions
    doubts: tuple[str, ...] = ()
    profile: str = ""
    guess: Guess | None = None
    problem: Problem | None = None


def _settled(request: ReadRequest) -> _Settled:
    text, changes = request.file.text, request.changes
    if request.options is not None:
        options = with_changes(text, request.options, changes)
        guess = None if request.before is None else request.before.guess
        doubts = () if guess is None else open_doubts(guess.doubts, guess.options, options, changes)
        return _Settled(options, doubts, request.profile or "", guess)
    like = None if request.like is None else laid_like(text, request.like)
    if like is not None:
        return _Settled(with_changes(text, like, changes))
    try:
        guess = guess_options(text)
    except InputError as error:
        bare = bare_options(text)
        if bare is None:
            raise
        said = with_changes(text, bare, changes)
        return _Settled(said, problem=None if said != bare else error.problem)
    profile, problem = _profile(request, guess.options)
    if profile is None:
        options = with_changes(text, guess.options, changes)
        doubts = open_doubts(guess.doubts, guess.options, options, changes)
        return _Settled(options, (*doubts, problem) if problem else doubts, guess=guess)
    return _Settled(with_changes(text, profile.options, changes), profile=profile.name)


def _profile(request: ReadRequest, guessed: FileOptions) -> tuple[LoggerProfile | None, str]:
    """Return the profile a file is read by, and what is wrong with the profiles.

    Raises:
        InputError: the one that was asked for is not there.
    """
    kept = LoggerProfiles()
    if not request.profile:
        if request.profile is not None:
            return None, ""
        try:
            return kept.fitting(guessed), kept.problem
        except InputError as error:  # the file can be read without
            return None, str(error)
    profiles = kept.profiles()
    found = next((each for each in profiles if identity(each.name) == identity(request.profile)), None)
    if found is None:
        raise InputError(f"There is no profile “{request.profile[:60]}”; {_known(profiles)}.")
    return replace(found, options=laid_by(request.file.text, found.options, guessed)), ""


def _known(profiles: Sequence[LoggerProfile]) -> str:
    return f"the profiles are {some_of([each.name for each in profiles], 12)}" if profiles else "none is kept yet"


def _read_the_same(before: LoggerReading, options: FileOptions) -> bool:
    """Return whether these options read the same numbers as those before; the logger's name reads nothing."""
    return replace(before.options, logger="") == replace(options, logger="")


def given_readings(file: LoadedFile, options: FileOptions, read: ReadLoggerFile) -> GivenReadings:
    """Return what was read of a file as it is to be kept."""
    table = read.table
    return GivenReadings(
        name=file.name,
        sha256=file.sha256,
        logger=one_line(options.logger) or UNNAMED_LOGGER,
        clock=options.clock,
        quantities=tuple(each for each in options.quantities() if each in table.values),
        count=len(table),
        first=clock_time(int(table.seconds.min())),
        last=clock_time(int(table.seconds.max())),
        packed=pack(table),
        left_out=read.left_out,
        told=tuple(one_line(replace(each, file="").sentence()) for each in read.told[:MOST_TOLD]),
    )


def standing_of(given: GivenReadings, on_board: Iterable[WeatherFile]) -> Standing:
    """Return whether a board has a file, and read in the same way."""
    old = next((each for each in on_board if each.sha256 == given.sha256), None)
    if old is None:
        return "new"
    mine = (given.logger, given.clock, given.quantities, given.left_out, given.told)
    same = mine == (old.logger, old.clock, old.quantities, old.left_out, old.told)
    return "same" if same and hashlib.sha256(given.packed).hexdigest() == old.content else "replaces"


def overlapping(given: GivenReadings, on_board: Iterable[WeatherFile]) -> tuple[WeatherFile, ...]:
    """Return the other files of the same logger whose first to last reading meets this file's, by time.

    Clocks are compared as they are shown; files told by other clocks may be some hours off.
    """
    found = [
        each
        for each in on_board
        if each.sha256 != given.sha256
        and each.logger.casefold() == given.logger.casefold()
        and each.first <= given.last
        and each.last >= given.first
    ]
    return tuple(sorted(found, key=lambda each: (each.first, each.key)))


def zone_is_wanting(clock: str, zone: str) -> bool:
    """Return whether a file's times can only be put beside the board's when the zone of its clock is known."""
    return bool(clock) and not zone


def _clock_doubts(read: ReadLoggerFile, clock: str, zone: str) -> tuple[str, ...]:
    """Return what the hours say in which the clocks change, where that is not what was chosen."""
    is_fixed = clock.startswith("UTC")
    place = zone if is_fixed or not clock else clock
    if not place:
        return ()
    hint = clock_hint(read.table.seconds, place)
    if hint == "same all year" and not is_fixed:
        return (
            f"This logger's clock was not put forward and back when the clocks of {place} were; choose the clock "
            "that it kept all year, such as UTC+01:00.",
        )
    if hint == "put forward and back" and is_fixed:
        return (
            f"This logger's clock was put forward and back with the clocks of {place}; it was not {clock} all year. "
            f"Choose {place}, or the board's own clock.",
        )
    return ()
