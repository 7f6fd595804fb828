"""Several boards read together, their treatments matched, and what they say pooled; two jobs, without a window."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from rustboard.board.cells import quoted
from rustboard.board.exposure_clock import (
    ClockKind,
    ExposureClock,
    control_clock,
    day_clock,
    has_graded_controls,
)
from rustboard.board.question import DEFAULT_FAILING_GRADE, Compared, Measure, Question
from rustboard.board.record import BoardRecord
from rustboard.board.series import inspection_days
from rustboard.findings.boards.matching import Matching, check_matching, suggest
from rustboard.findings.boards.pooled import pooled_findings
from rustboard.findings.boards.results import BoardsFindings
from rustboard.findings.boards.shared_exposure import cut_to, reached, shared_place
from rustboard.findings.coupons.subject import FindingsRequest, Subject, subject_of
from rustboard.session.board_matchings import BoardMatchings
from rustboard.session.jobs import Progress
from rustboard.session.looking import look_at_board, look_at_weather
from rustboard.session.weather import has_weather, work_out_track
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    from rustboard.weather.track import WeatherTrack


@dataclass(frozen=True, slots=True)
class ReadRequest:
    """Which boards to read.

    Attributes:
        folders: of the boards, in the order in which they are to be shown.
        kept: file of the matchings the user confirmed; None = the user's own.
    """

    folders: tuple[Path, ...]
    kept: Path | None = None


@dataclass(frozen=True, slots=True)
class ReadBoards:
    """Boards as they were read, and their treatments matched.

    Attributes:
        folders: of the boards. records: the boards, in the same order.
        matching: as the user confirmed it for these boards, else as it is suggested.
        confirmed: whether the user did.
        problem: a sentence about confirmed matchings that could not be read, or an empty text.
    """

    folders: tuple[Path, ...]
    records: tuple[BoardRecord, ...] = field(repr=False)
    matching: Matching
    confirmed: bool
    problem: str = ""


def read_boards(request: ReadRequest, progress: Progress) -> ReadBoards:
    """Read boards and match their treatments; a job.

    Nothing in their folders is touched, and a window may have them open.

    Raises:
        InputError: a board cannot be read, is there twice, or is being graded blind.
        Cancelled: the user asked to stop.
    """
    records = []
    for number, folder in enumerate(request.folders):
        progress.step(number, len(request.folders))
        records.append(openly(look_at_board(folder)))
    _each_once(request.folders)
    kept = BoardMatchings(request.kept)
    confirmed = kept.confirmed(request.folders, records)
    matching = suggest(records) if confirmed is None else confirmed
    return ReadBoards(request.folders, tuple(records), matching, confirmed is not None, kept.problem)


def openly(record: BoardRecord) -> BoardRecord:
    """Return a board whose grades may be told.

    Raises:
        InputError: it is being graded blind.
    """
    if record.hidden_inspection is not None:
        raise InputError(
            f"The board {quoted(record.board.name)} is being graded blind; finish and reveal it first, or leave "
            "it out."
        )
    return record


def _each_once(folders: Sequence[Path]) -> None:
    found: set[Path] = set()
    for each in folders:
        if each.resolve() in found:
            raise InputError(f"The board in {quoted(each.name)} was chosen twice; choose it once.")
        found.add(each.resolve())


@dataclass(frozen=True, slots=True)
class PoolRequest:
    """What several boards are asked.

    Attributes:
        boards: as they were read. matching: as the user confirmed it.
        compared: ``control`` or ``pairs``. measure, failing_grade: what treatments are judged by.
        clock: that exposure is told by.
        shared_only: whether last and mean grades are taken over the part of the clock that all boards reached.
    """

    boards: ReadBoards
    matching: Matching
    compared: Compared = "control"
    measure: Measure = "last grade"
    failing_grade: int = DEFAULT_FAILING_GRADE
    clock: ClockKind = "days"
    shared_only: bool = True


@dataclass(frozen=True, slots=True)
class PooledBoards:
    """What several boards say together.

    Attributes:
        request: what was asked.
        subjects: the boards as they were compared: cut to the shared exposure where that was asked.
        whole: the boards over all their exposure, on the same clock, for their histories.
        findings: the result.
        shared: the place on the clock to which the boards were cut; None = they were not.
    """

    request: PoolRequest
    subjects: tuple[Subject, ...] = field(repr=False)
    whole: tuple[FindingsRequest, ...] = field(repr=False)
    findings: BoardsFindings
    shared: float | None


def pool_boards(request: PoolRequest, progress: Progress) -> PooledBoards:
    """Put several boards together; a job.

    Raises:
        InputError: the matching makes no sense for the boards, or one of them does not have the clock.
        Cancelled: the user asked to stop.
    """
    boards = request.boards
    check_matching(request.matching, boards.records)
    question = Question(request.compared, failing_grade=request.failing_grade, measure=request.measure)
    whole: list[FindingsRequest] = []
    for folder, record in zip(boards.folders, boards.records, strict=True):
        progress.step(len(whole), len(boards.records))
        clock = clock_on(record, request.clock, partial(board_track, folder, progress))
        whole.append(FindingsRequest(record, clock, question))
    shared = _shared(whole) if request.shared_only and request.measure != "days to failing grade" else None
    asked = whole if shared is None else [cut_to(each, shared) for each in whole]
    subjects = tuple(map(subject_of, asked))
    findings = pooled_findings(subjects, request.matching, request.compared, progress)
    return PooledBoards(request, subjects, tuple(whole), findings, shared)


def _shared(requests: Sequence[FindingsRequest]) -> float | None:
    """Return where to cut: None where all boards reached as far, or where a board was not graded at all."""
    shared = shared_place(requests)
    furthest = max(map(reached, requests), default=0.0)
    return shared if 0 < shared < furthest else None


def clock_on(record: BoardRecord, kind: ClockKind, track: Callable[[], WeatherTrack]) -> ExposureClock:
    """Return a clock of a board; ``track`` is asked for its weather only where the clock counts some.

    Raises:
        InputError: the board does not have it.
    """
    days, name = inspection_days(record), quoted(record.board.name)
    if kind == "days" or not days:
        return ExposureClock(kind, ()) if not days else day_clock(days)
    if kind == "controls":
        if not has_graded_controls(record):
            raise InputError(
                f"The board {name} has no graded controls to tell time by; choose another clock or leave it out."
            )
        return control_clock(record, days)
    if not has_weather(record):
        raise InputError(
            f"Of the board {name} no weather is known; choose another clock, add its weather, or leave it out."
        )
    from rustboard.session.timeline_clocks import weather_clock

    zero = record.day_zero()
    if zero is None:  # there are inspections, so there is a start
        return ExposureClock(kind, ())
    return weather_clock(track(), kind, zero, days)


def board_track(folder: Path, progress: Progress) -> WeatherTrack:
    """Return the weather of a board."""
    _, weather = look_at_weather(folder)
    return work_out_track(weather, _Quiet(progress))


class _Quiet(Progress):
    """Passes on only the wish to stop: how far one board's weather is, is no part of the whole work's figures."""

    def __init__(self, of: Progress) -> None:
        super().__init__()
        self._of = of

    def step(self, done: int, total: int) -> None:
        if self._of.cancelled:
            self._of.step(done, total)
