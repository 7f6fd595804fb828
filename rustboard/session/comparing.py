"""Boards beside one another: what of them differs, and how far each treatment was at one place on a clock; jobs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.board.cells import quoted
from rustboard.board.exposure_clock import ClockKind, ExposureClock
from rustboard.board.model import Inspection
from rustboard.board.record import BoardRecord
from rustboard.board.shelving import Forerunner
from rustboard.findings.boards.matching import Common, Matching
from rustboard.session.jobs import Progress
from rustboard.session.other_boards import ReadBoards, ReadRequest, board_track, clock_on, read_boards
from rustboard.session.pictures import CutRequest, outline_on_board, tile_px
from rustboard.session.shelf import ShelfEntry
from rustboard.session.weather import has_weather
from rustboard.store.folder import photo_path
from rustboard.support.paths import same_folder
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    from rustboard.weather.exposure import Exposure
    from rustboard.weather.track import WeatherTrack

MOST_COMPARED: Final = 12
"""More boards than fit beside one another on any screen."""

_TINY: Final = 1e-9


@dataclass(frozen=True, slots=True)
class BesideBoards:
    """Boards as they were read to be shown beside one another.

    Attributes:
        read: the boards with their treatments matched.
        tracks: the weather of each; None where none is known, or where it cannot be read.
        weather: what each went through between the start and the last inspection; None where that is not known.
    """

    read: ReadBoards
    tracks: tuple[WeatherTrack | None, ...] = field(repr=False)
    weather: tuple[Exposure | None, ...]


def read_beside(request: ReadRequest, progress: Progress) -> BesideBoards:
    """Read boards with their weather; a job.

    Raises:
        InputError: too few or too many boards, or as `read_boards`.
        Cancelled: the user asked to stop.
    """
    if len(request.folders) < 2:
        raise InputError("One board alone cannot be compared; choose at least two.")
    if len(request.folders) > MOST_COMPARED:
        raise InputError(f"At most {MOST_COMPARED} boards are shown beside one another; choose fewer.")
    read = read_boards(request, progress)
    tracks: list[WeatherTrack | None] = []
    weather: list[Exposure | None] = []
    for number, (folder, record) in enumerate(zip(read.folders, read.records, strict=True)):
        progress.step(number, len(read.folders))
        track = known_track(folder, record, progress)
        tracks.append(track)
        weather.append(weather_of(track, record))
    return BesideBoards(read, tuple(tracks), tuple(weather))


def known_track(folder: Path, record: BoardRecord, progress: Progress) -> WeatherTrack | None:
    """Return the weather of a board; None where there is none, or where its readings are damaged.

    Raises:
        Cancelled: the user asked to stop.
    """
    if not has_weather(record):
        return None
    try:
        return board_track(folder, progress)
    except InputError:
        return None


def weather_of(track: WeatherTrack | None, record: BoardRecord) -> Exposure | None:
    """Return what a board went through between its start and its last inspection; None where that is not known."""
    start = record.day_zero()
    last = max((each.at for each in record.inspections.values()), default=None)
    if track is None or start is None or last is None or last <= start:
        return None
    return track.exposure(start, last)


@dataclass(frozen=True, slots=True)
class ClockedBoard:
    """A board on a clock.

    Attributes:
        name: as the matching calls it. record: the board.
        clock: with a place for every inspection; None where the board does not have this clock.
        problem: why it has not, in a sentence; or an empty text.
        reached: the last place at which any coupon was graded; 0 without a grade.
    """

    name: str
    record: BoardRecord = field(repr=False)
    clock: ExposureClock | None
    problem: str = ""
    reached: float = 0.0


@dataclass(frozen=True, slots=True)
class ClockedBoards:
    """Boards on one kind of clock.

    Attributes:
        kind: of the clock. boards: in the order in which they were read.
    """

    kind: ClockKind
    boards: tuple[ClockedBoard, ...]

    @property
    def shared(self) -> float:
        """How far on the clock all boards that have it were graded; 0 where none was."""
        return min((each.reached for each in self.boards if each.clock is not None), default=0.0)

    @property
    def furthest(self) -> float:
        """How far on the clock any board was graded."""
        return max((each.reached for each in self.boards if each.clock is not None), default=0.0)

    def stops(self) -> tuple[float, ...]:
        """Return the places at which any board was inspected, each once, from the first; what a slider stops at."""
        places = {
            round(max(place, 0.0), 6)
            for each in self.boards
            if each.clock is not None
            for place in each.clock.places
            if place <= each.reached + _TINY
        }
        return tuple(sorted(places))


def on_clock(beside: BesideBoards, kind: ClockKind, progress: Progress) -> ClockedBoards:
    """Put boards on a clock; one that does not have it stays, and says why; a job.

    Raises:
        Cancelled: the user asked to stop.
    """
    read = beside.read
    found = []
    for number, (record, track) in enumerate(zip(read.records, beside.tracks, strict=True)):
        progress.step(number, len(read.records))
        found.append(_clocked(read.matching.boards[number], record, kind, track))
    return ClockedBoards(kind, tuple(found))


def _clocked(name: str, record: BoardRecord, kind: ClockKind, track: WeatherTrack | None) -> ClockedBoard:
    def weather() -> WeatherTrack:
        if track is None:
            raise InputError(f"The weather of the board {quoted(name)} cannot be read; choose another clock.")
        return track

    try:
        clock = clock_on(record, kind, weather)
    except InputError as error:
        return ClockedBoard(name, record, None, error.problem.what)
    graded = {inspection for given in record.current.values() for inspection in given}
    places = [
        place for each, place in zip(record.inspections_in_order(), clock.places, strict=True) if each.key in graded
    ]
    return ClockedBoard(name, record, clock, reached=max(places, default=0.0))


@dataclass(frozen=True, slots=True)
class CouponThen:
    """One coupon as it was known at a place on the clock.

    Attributes:
        key: of the coupon. id: what the maker wrote on it. where: its position, or empty.
        grade: the last one given up to the place; None where there was none, or where the board was not watched so
            far.
        place: at which it was given, or None.
        history: place, grade, and whether an inspection was missed before, of every grade up to the place.
    """

    key: int
    id: str
    where: str
    grade: int | None
    place: float | None
    history: tuple[tuple[float, int, bool], ...] = ()


@dataclass(frozen=True, slots=True)
class CellThen:
    """One treatment on one board as it was known at a place on the clock.

    Attributes:
        coupons: those that count, as one reads the board. Empty where the board does not have the treatment.
        seen: the board's last inspection up to the place, or None.
        beyond: whether the board was not watched as far as the place.
    """

    coupons: tuple[CouponThen, ...] = ()
    seen: Inspection | None = None
    beyond: bool = False


def cell_at(board: ClockedBoard, coupons: Sequence[int], place: float, beyond_by: float = 0.0) -> CellThen:
    """Return coupons of a board (their keys) as they were known at a place on its clock.

    A grade holds until the next inspection. Where the board was last graded before the place nothing is claimed: no
    coupon has a grade then, and ``beyond`` says why.

    Args:
        board: with its clock.
        coupons: keys.
        place: on the clock.
        beyond_by: how little beyond its last look a board still counts as watched.
    """
    clock, record = board.clock, board.record
    if clock is None:
        return CellThen(tuple(_unknown(record, key) for key in coupons))
    slack = _TINY * max(abs(place), 1.0)
    inspections = record.inspections_in_order()
    seen = [(each, at) for each, at in zip(inspections, clock.places, strict=True) if at <= place + slack]
    beyond = place > board.reached + max(beyond_by, slack)
    found = tuple(_coupon(record, key, seen, beyond=beyond) for key in coupons)
    return CellThen(found, seen[-1][0] if seen else None, beyond)


def _unknown(record: BoardRecord, key: int) -> CouponThen:
    coupon = record.coupons[key]
    return CouponThen(key, coupon.id, "" if coupon.position is None else coupon.position.label, None, None)


def _coupon(record: BoardRecord, key: int, seen: list[tuple[Inspection, float]], *, beyond: bool) -> CouponThen:
    history: list[tuple[float, int, bool]] = []
    missed = False
    for inspection, at in seen:
        grading = record.grading(key, inspection.key)
        if grading is None:
            missed = bool(history)
            continue
        history.append((max(at, 0.0), grading.grade, missed))
        missed = False
    blank = _unknown(record, key)
    if beyond or not history:
        return CouponThen(key, blank.id, blank.where, None, None, tuple(history))
    return CouponThen(key, blank.id, blank.where, history[-1][1], history[-1][0], tuple(history))


def rows_shown(matching: Matching) -> tuple[Common, ...]:
    """Return the treatments in the order in which they are shown: what most boards have first, controls last."""
    return tuple(sorted(matching.common, key=lambda each: (each.controls, -each.boards)))


def pictures_of(folder: Path, record: BoardRecord, seen: Inspection | None, longest_px: int) -> CutRequest | None:
    """Return how to cut a board's coupons from its newest photo up to an inspection; None where there is none."""
    photo = None if seen is None else record.newest_photo(seen)
    if photo is None or photo.mm_to_px is None:
        return None
    file = photo_path(folder, photo.file)
    outlines = {each.key: outline_on_board(record, each) for each in record.coupons.values()}
    usable = {key: outline for key, outline in outlines.items() if len(outline) >= 3}
    if file is None or not file.is_file() or not usable:
        return None
    longest = tile_px(usable.values(), longest_px)
    return CutRequest(photo.key, file, photo.name, photo.mm_to_px, usable, photo.sha256, longest)


def offered(
    entries: Sequence[ShelfEntry], this: Path, forerunner: Forerunner | None
) -> list[tuple[ShelfEntry, bool]]:
    """Return the boards that one can be compared with: the one it follows first, and whether it is that one.

    Boards that cannot be read, were never inspected or are being graded blind are left out.
    """
    found = [
        (each, forerunner is not None and bool(forerunner.folder) and each.folder.name == forerunner.folder)
        for each in entries
        if not each.problem
        and each.inspections
        and not each.being_graded_blind
        and not same_folder(each.folder, this)
    ]
    return sorted(found, key=lambda each: not each[1])
