"""Writing the demo's boards: through the same store, session and operations as any other board."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Final

from rustboard.app.demo.blind import (
    REPEAT_PERCENT,
    BlindGrader,
    BlindVisit,
    give_round,
    looks,
    round_ends,
)
from rustboard.app.demo.harbour import HARBOUR
from rustboard.app.demo.painter import PaintedPhoto, painted_photos
from rustboard.app.demo.porch import PORCH
from rustboard.app.demo.scenario import DemoBoard, WrittenGrade
from rustboard.app.demo.telling import tell_weather, tell_weights
from rustboard.board.model import Inspection, Photo
from rustboard.operations.blind import (
    BlindChoice,
    agree_grade,
    begin_round,
    finish_round,
    reveal,
    start_blind,
)
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.operations.inspections import add_inspection
from rustboard.operations.photos import add_photo
from rustboard.operations.plans import carry_out_plan
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.check import check_board
from rustboard.store.copying import remove_traces
from rustboard.store.folder import BOARD_FILE, fresh_folder
from rustboard.store.photos import keep_photo
from rustboard.store.tables import BoardRow
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary

Progress = Callable[[str, int, int], None]
"""Called with what is being done, how many steps are done, and how many there are in all."""

BOARDS: Final = (HARBOUR, PORCH)

_A_GRADE_TAKES: Final = timedelta(seconds=20)
_READING_THE_LOGGER: Final = timedelta(minutes=20)
_BETWEEN_GRADERS: Final = timedelta(minutes=2)


def build_demo(folder: Path, progress: Progress | None = None) -> list[Path]:
    """Write the demo's boards under a folder and return their folders, the harbour wall's first.

    A board that is there already is left as it is: somebody may have graded on it.

    Args:
        folder: made when it is not there.
        progress: may raise to stop; a board that is not finished then leaves nothing behind.

    Raises:
        InputError: something else is in a board's place, or the disk refused.
    """
    return build_boards(folder, BOARDS, progress or _unheard)


def build_boards(folder: Path, boards: Sequence[DemoBoard], progress: Progress) -> list[Path]:
    """Write these boards under a folder; as `build_demo`."""
    targets = [folder / each.plan.board.name for each in boards]
    missing = [(board, path) for board, path in zip(boards, targets, strict=True) if not _is_there(path)]
    count = _Count(progress, sum(len(board.plan.coupons) + len(board.visits) for board, _ in missing))
    for board, path in missing:
        _build(board, path, count)
    return targets


class _Count:
    """Steps done of all steps, told as they are done."""

    def __init__(self, progress: Progress, steps: int) -> None:
        self._progress = progress
        self._steps = steps
        self._done = 0
        self.what = ""

    def __call__(self) -> None:
        self._done += 1
        self._progress(self.what, self._done, self._steps)


def _unheard(what: str, done: int, steps: int) -> None:
    """Tell nobody."""


def _is_there(path: Path) -> bool:
    if not (path / BOARD_FILE).exists():
        return False
    try:
        check_board(path)
    except InputError as error:
        raise InputError(
            f"The demo board there cannot be opened ({error.problem.what}) Move its folder away, or choose another.",
            file=path.name,
        ) from error
    return True


def _build(demo: DemoBoard, target: Path, count: _Count) -> None:
    with fresh_folder(target) as part:
        create_board(part, BoardRow(demo.plan.board, demo.plan.markers))
        clock = _HandClock(_first_moment(demo))
        with closing(Session(part, who=demo.visits[0].grader, clock=clock)) as session:
            session.do(carry_out_plan, demo.plan)
            count.what = f"Painting the coupons of {demo.plan.board.name}"
            for visit, photo in zip(demo.visits, painted_photos(demo, demo.visits, count), strict=True):
                count.what = f"Writing the inspections of {demo.plan.board.name}"
                if visit == demo.visits[-1] and demo.weather is not None:
                    clock.now = visit.at - _READING_THE_LOGGER
                    tell_weather(session, demo.weather)
                _visit(session, clock, demo, visit, photo)
                count()
            if demo.weather is not None and demo.weather.taken_down is not None:
                clock.now = demo.weather.taken_down
                tell_weights(session, demo.weather)
        remove_traces(part)


class _HandClock:
    """A clock that is set by hand, so that two builds write the same."""

    def __init__(self, now: datetime) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now


def _first_moment(demo: DemoBoard) -> datetime:
    return demo.visits[0].at - timedelta(hours=1)


def _visit(session: Session, clock: _HandClock, demo: DemoBoard, visit: Inspection, photo: PaintedPhoto) -> None:
    """Do what a person does at a visit: note it, add the photo, grade the coupons, put right what was wrong."""
    clock.now, session.who = visit.at, visit.grader
    (key,) = session.do(add_inspection, visit).tables["inspection"]
    clock.now = taken = demo.photo_taken(visit)
    name = demo.photo_name(visit)
    file, digest = keep_photo(session.folder, name, photo.jpeg, taken)
    size = (photo.width_px, photo.height_px)
    added = Photo(name, file, digest, *size, taken=taken, inspection=key, mm_to_px=photo.mm_to_px)
    (photo_key,) = session.do(add_photo, added).tables["photo"]
    blind = demo.blind_at(visit)
    if blind is None:
        _grade(session, clock, demo, replace(visit, key=key))
    else:
        _grade_blind(session, clock, demo, blind, BlindChoice(key, "photo", photo_key, REPEAT_PERCENT))


def _grade(session: Session, clock: _HandClock, demo: DemoBoard, visit: Inspection) -> None:
    keys = {each.id: each.key for each in session.record.coupons.values()}
    written = demo.written_at(visit)
    given = [_given(each, keys[each.coupon], visit) for each in written]
    if visit.at == demo.visits[-1].at:
        # One step each, so that undo in a fresh demo takes back one grade and not a whole visit's.
        for each in given:
            clock.now += _A_GRADE_TAKES
            session.do(grade_coupon, each)
    else:
        clock.now += _A_GRADE_TAKES * len(given)
        session.do(grade_visit, given)
    for coupon in (each.coupon for each in written if each.withdrawn):
        session.do(withdraw_grade, keys[coupon], visit.key)


def _grade_blind(
    session: Session, clock: _HandClock, demo: DemoBoard, visit: BlindVisit, choice: BlindChoice
) -> None:
    (blind,) = session.do(start_blind, choice).tables["blind_inspection"]
    for grader in visit.graders:
        clock.now, session.who = clock.now + _BETWEEN_GRADERS, grader.name
        _blind_round(session, clock, demo, visit, grader, blind)
    clock.now += _BETWEEN_GRADERS
    session.do(reveal, blind)
    keys = {each.id: each.key for each in session.record.coupons.values()}
    for each in visit.agreed:
        letter = demo.letter_of(each.coupon)
        session.do(agree_grade, keys[each.coupon], choice.inspection, each.grade, letter, each.note)


def _blind_round(
    session: Session, clock: _HandClock, demo: DemoBoard, visit: BlindVisit, grader: BlindGrader, blind: int
) -> None:
    (key,) = session.do(begin_round, blind, grader.name, grader.seed).tables["blind_round"]
    showings = session.record.blind_rounds[key].showings
    shown = [session.record.coupons[each.coupon].id for each in showings]
    inspected = session.record.inspections[session.record.blind_inspections[blind].inspection]
    percents = demo.percents_at(inspected)
    noted = dict(visit.notes) if grader == visit.graders[0] else {}
    notes = ["" if each.again else noted.get(one, "") for one, each in zip(shown, showings, strict=True)]
    given = looks([percents[each] for each in shown], grader)
    session.do(give_round, key, given, [demo.letter_of(each) for each in shown], notes)
    clock.now = round_ends(clock.now, len(showings))
    session.do(finish_round, key)


def _given(written: WrittenGrade, coupon: int, visit: Inspection) -> GivenGrade:
    return GivenGrade(
        coupon=coupon,
        inspection=visit.key,
        grade=written.grade,
        distribution=written.distribution,
        percent=written.percent,
        grader=visit.grader,
        note=written.note,
    )


def grade_visit(tx: Transaction, given: Sequence[GivenGrade]) -> Summary:
    """Record the grades of one visit in one step, each as `grade_coupon` does.

    Raises:
        InputError: as `grade_coupon`; nothing is recorded.
    """
    for each in given:
        grade_coupon(tx, each)
    return Summary("Grade {0} coupons", (str(len({each.coupon for each in given})),))
