"""What a board shows, for whoever asks: how it is looked at, and the findings worked out in jobs.

A first answer is there at once; the exact tests and what else takes long refine it beside the window.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.board.exposure_clock import (
    ClockKind,
    ExposureClock,
    control_clock,
    day_clock,
    has_graded_controls,
)
from rustboard.board.question import COMPARED, Compared, Measure, Question
from rustboard.board.record import BoardRecord
from rustboard.board.series import inspection_days
from rustboard.session.earlier_spread import earlier_spread
from rustboard.session.jobs import Progress
from rustboard.session.session import Session
from rustboard.session.weather import WeatherRequest, has_weather, weather_request, work_out_track
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings

if TYPE_CHECKING:
    from rustboard.findings.conclude.findings import Findings
    from rustboard.findings.coupons.subject import FindingsRequest
    from rustboard.weather.track import WeatherTrack

WEATHER_CLOCKS: Final[tuple[ClockKind, ...]] = ("wet hours", "rain")


@dataclass(frozen=True, slots=True)
class View:
    """How a board is looked at.

    Attributes:
        failing_grade: at this grade or below a coupon has failed.
        measure: what coupons are judged by.
        clock: exposure is told by.
        compared: what is compared with what.
    """

    failing_grade: int
    measure: Measure
    clock: ClockKind = "days"
    compared: Compared = "control"


@dataclass(frozen=True, slots=True)
class FindingsAsked:
    """What findings are worked out from.

    Attributes:
        record: a snapshot of the board. view: how it is looked at.
        weather: what its track is made from, where the clock counts weather. track: the same, where it is there.
        settings: that name the user's other boards; None = do not ask them. folder: of this board.
    """

    record: BoardRecord
    view: View
    weather: WeatherRequest | None = None
    track: WeatherTrack | None = None
    settings: Settings | None = None
    folder: Path = Path()


def view_of(record: BoardRecord) -> View:
    """Return how the board's own question looks at it, on the clock of days.

    Without a question of its own it is compared with its controls, and all treatments with one another where it has
    no controls.
    """
    question = record.question
    if question is None:
        controls = any(each.role == "control" for each in record.coupons.values())
        question = Question(compared="control" if controls else "pairs")
    return View(question.failing_grade, question.measure, "days", question.compared)


def clocks_for(record: BoardRecord) -> list[ClockKind]:
    """Return the clocks that the board can be told by."""
    clocks: list[ClockKind] = ["days"]
    if has_weather(record):
        clocks += WEATHER_CLOCKS
    return [*clocks, "controls"] if has_graded_controls(record) else clocks


def compared_for(record: BoardRecord) -> list[Compared]:
    """Return what can be compared with what: what gives at least one comparison."""
    from rustboard.board.comparisons import comparisons_of

    question = record.question or Question()
    return [each for each in COMPARED if comparisons_of(replace(question, compared=each), record)]


def asked(session: Session, view: View, settings: Settings, track: WeatherTrack | None = None) -> FindingsAsked:
    """Freeze what the findings of an open board are worked out from.

    Raises:
        InputError: the clock counts weather, and the readings on the board are damaged.
    """
    weather = None
    if view.clock in WEATHER_CLOCKS and track is None and has_weather(session.record):
        weather = weather_request(session)
    return FindingsAsked(session.record.snapshot(), view, weather, track, replace(settings), session.folder)


def first_findings(asked: FindingsAsked, progress: Progress) -> Findings:
    """Return what can be said at once: everything but the exact tests and the forecast; a job."""
    from rustboard.findings.conclude.whole import first_findings as first

    return first(request_for(asked, progress))


def whole_findings(asked: FindingsAsked, progress: Progress) -> Findings:
    """Return all that a board shows; a job that tells how far it is.

    Raises:
        Cancelled: ``progress`` was asked to stop.
    """
    from rustboard.findings.conclude.whole import needs_earlier_spread
    from rustboard.findings.conclude.whole import whole_findings as whole

    request = request_for(asked, progress)
    if asked.settings is not None and needs_earlier_spread(request):
        request = replace(request, earlier=earlier_spread(asked.settings, asked.folder))
        progress.step(0, 100)
    return whole(request, progress)


def request_for(asked: FindingsAsked, progress: Progress) -> FindingsRequest:
    """Return the request of the findings, with its clock.

    Raises:
        InputError: the clock cannot be had.
    """
    from rustboard.findings.coupons.subject import FindingsRequest

    view = asked.view
    question = replace(
        asked.record.question or Question(),
        failing_grade=view.failing_grade,
        measure=view.measure,
        compared=view.compared,
    )
    return FindingsRequest(asked.record, clock_of(asked, progress), question)


def clock_of(asked: FindingsAsked, progress: Progress) -> ExposureClock:
    """Return the clock of a view.

    Raises:
        InputError: the board knows nothing of what it counts.
    """
    record, kind = asked.record, asked.view.clock
    days = inspection_days(record)
    if kind == "days" or not days:
        return day_clock(days)
    if kind == "controls":
        if not has_graded_controls(record):
            raise InputError("No control was graded yet, so there is no control clock; choose days.")
        return control_clock(record, days)
    return _weather_clock(asked, progress)


def _weather_clock(asked: FindingsAsked, progress: Progress) -> ExposureClock:
    from rustboard.session.timeline_clocks import weather_clock

    track = asked.track
    if track is None and asked.weather is not None:
        track = work_out_track(asked.weather, progress)
    zero = asked.record.day_zero()
    if track is None or zero is None:
        raise InputError("Nothing is known of this board's weather, so it cannot be told by it; choose days.")
    clock = weather_clock(track, asked.view.clock, zero, inspection_days(asked.record))
    if not clock.values or clock.values[-1] <= clock.values[0]:
        what = "no rain" if asked.view.clock == "rain" else "no wet hour"
        raise InputError(f"The weather of this board knows of {what}, so it cannot be told by it; choose days.")
    return clock
