"""Practice in grading, as the window asks for it: which coupon is next, what was given, how it went.

The truth about a coupon leaves this module only after its answer is given, and only in the learning part. Every
answer is on the disk before the next coupon is shown; while the disk refuses, answers are held and tried again with
the next one, so that a stick pulled out for a minute costs nothing.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.scales.practice import PLAN, TOTAL, Part, PracticeCoupon, exercise
from rustboard.scales.practice_results import Answer, Habit, Results, could_be_chance, habits, of_part, results
from rustboard.session.jobs import Progress
from rustboard.store.practice_history import (
    GRADER_LIMIT,
    Begun,
    Entry,
    Given,
    KeptExercise,
    add_entries,
    read_history,
)
from rustboard.support import paths
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from rustboard.scales.practice_coupons import PaintedCoupon

MOST_GRADERS: Final = 50
"""How many names are offered; the history of any other is there when the name is typed."""

_ID_BYTES: Final = 8
_SEED_BITS: Final = 60


@dataclass(frozen=True, slots=True)
class Past:
    """How a finished exercise went.

    Attributes:
        when: the last answer was given.
        before, after: figures of the two parts without the truth.
        habits: where the eye still goes astray, told from the learning part and the one after.
    """

    when: datetime
    before: Results
    after: Results
    habits: tuple[Habit, ...]

    @property
    def chance(self) -> float:
        """How far the two offsets may differ by chance alone."""
        return could_be_chance(self.before, self.after)


@dataclass(frozen=True, slots=True, eq=False)
class Shown:
    """What may be seen of a coupon before its answer: rgb, H x W x 3, and where the coupon is, H x W."""

    rgb: NDArray[np.uint8]
    steel: NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Truth:
    """What is told of a coupon after its answer.

    Attributes:
        percent: rusted area as painted. grade: its grade. given: the answer.
        rust: H x W, where it is rusted.
    """

    percent: float
    grade: int
    given: int
    rust: NDArray[np.bool_]

    @property
    def off(self) -> int:
        """Given minus true grade."""
        return self.given - self.grade


def paint_practice_coupon(coupon: PracticeCoupon, progress: Progress) -> PaintedCoupon:
    """Draw one coupon of an exercise; a job."""
    from rustboard.scales.practice_coupons import paint_coupon

    progress.step(0, 1)
    return paint_coupon(coupon)


class Practice:
    """One grader's exercises, and the one that is being done.

    Attributes:
        problem: a sentence about what of the history could not be read, or an empty text.
        trouble: why answers are not on the disk yet, or an empty text.
        number: place of the coupon to be graded, 0 first; `TOTAL` when all are.
    """

    def __init__(
        self,
        path: Path | None = None,
        clock: Clock = wall_clock,
        draw_seed: Callable[[int], int] = secrets.randbits,
    ) -> None:
        """Use the history at ``path``, or the user's own; ``draw_seed`` gives a number of so many bits."""
        self._path = path or paths.practice_file()
        self._clock = clock
        self._draw_seed = draw_seed
        self.problem = ""
        self.trouble = ""
        self.number = 0
        self._begun: Begun | None = None
        self._coupons: tuple[PracticeCoupon, ...] = ()
        self._answers: list[Answer] = []
        self._entries: list[Entry] = []
        self._kept_count = 0
        self._painted: dict[int, PaintedCoupon] = {}
        self._history: tuple[KeptExercise, ...] = ()
        self._read_at: tuple[int, int] | None = None

    # ---- the history

    def graders(self) -> list[str]:
        """Return who practised lately, the last one first; one name a person however it is capitalised."""
        found: dict[str, str] = {}
        for each in reversed(self._kept()):
            found.setdefault(_folded(each.begun.grader), each.begun.grader)
        return list(found.values())[:MOST_GRADERS]

    def history(self, grader: str) -> list[Past]:
        """Return the finished exercises of a grader, the oldest first."""
        past = [_past(each) for each in self._of(grader)]
        return sorted((each for each in past if each is not None), key=lambda each: each.when)

    def unfinished(self, grader: str) -> int | None:
        """Return how many coupons are graded in the exercise that this grader can go on with; None without one."""
        kept = self._open_one(grader)
        return None if kept is None else len(kept.answers)

    def _kept(self) -> tuple[KeptExercise, ...]:
        state = self._state()
        if state is None or state != self._read_at:
            try:
                self._history, self.problem = (read := read_history(self._path)).exercises, read.problem
            except InputError as error:
                self._history, self.problem = (), str(error)
            self._read_at = state
        return self._history

    def _state(self) -> tuple[int, int] | None:
        """Return what tells a file that was added to from one that was not; None where there is none to tell."""
        try:
            found = self._path.stat()
        except (OSError, ValueError):
            return None
        return found.st_size, found.st_mtime_ns

    def _of(self, grader: str) -> list[KeptExercise]:
        wanted = _folded(grader)
        return [each for each in self._kept() if _folded(each.begun.grader) == wanted]

    def _open_one(self, grader: str) -> KeptExercise | None:
        """Return a grader's newest exercise if it is not finished and its coupons can still be drawn the same."""
        newest = next(reversed(self._of(grader)), None)
        if newest is None or newest.begun.plan != PLAN or _first_without(newest.answers) == TOTAL:
            return None
        return newest

    # ---- an exercise

    def start(self, grader: str) -> None:
        """Begin a new exercise; one that was not finished is no longer gone on with.

        Raises:
            InputError: no name was given.
        """
        name = one_line(grader, GRADER_LIMIT)
        if not name:
            raise InputError("Say who grades; the history is kept by name.")
        begun = Begun(secrets.token_hex(_ID_BYTES), name, self._draw_seed(_SEED_BITS), PLAN, self._clock())
        self._take_up(begun, ())
        self._keep(begun)

    def go_on(self, grader: str) -> None:
        """Take up the exercise that this grader has not finished, at the coupon after the last answer.

        Raises:
            InputError: there is none.
        """
        kept = self._open_one(grader)
        if kept is None:
            raise InputError("There is no unfinished exercise of this grader; start a new one.")
        self._take_up(kept.begun, kept.answers)
        self._entries = [kept.begun, *(Given(kept.begun.id, each, kept.last) for each in kept.answers)]
        self._kept_count = len(self._entries)

    def _take_up(self, begun: Begun, answers: tuple[Answer, ...]) -> None:
        self._begun, self._coupons = begun, exercise(begun.seed)
        self._answers = list(answers)
        self._entries, self._kept_count = [], 0
        self._painted.clear()
        self.number = _first_without(answers)

    @property
    def grader(self) -> str:
        """Whose exercise it is; an empty text without one."""
        return "" if self._begun is None else self._begun.grader

    @property
    def part(self) -> Part | None:
        """Which part the coupon to be graded belongs to; None when all are graded."""
        return self._coupons[self.number].part if self.number < len(self._coupons) else None

    def wanted(self) -> list[PracticeCoupon]:
        """Return what to paint: the coupon to be graded and the one after it, as far as they are not painted."""
        given = {each.number for each in self._answers}
        near = [each for each in self._coupons if each.number not in given][:2]
        return [each for each in near if each.number not in self._painted]

    def take(self, painted: PaintedCoupon) -> None:
        """Take a painted coupon; one of another exercise is dropped."""
        number = painted.coupon.number
        if self._coupons[number : number + 1] == (painted.coupon,):
            self._painted[number] = painted

    def shown(self) -> Shown | None:
        """Return the coupon to be graded as it may be seen, or None while it is not painted."""
        painted = self._painted.get(self.number)
        return None if painted is None else Shown(painted.rgb, painted.steel)

    def answer(self, grade: int) -> Truth | None:
        """Give the grade of the coupon shown and go on to the next; return the truth where it is told.

        `trouble` then says whether the answer is on the disk.

        Raises:
            InputError: there is no such grade.
            ValueError: no coupon is shown.
        """
        painted, begun, part = self._painted.get(self.number), self._begun, self.part
        if painted is None or begun is None:
            raise ValueError("no coupon is shown")
        if grade not in range(11):
            raise InputError(f"{grade} is not a grade; grades are whole numbers from 0 to 10.")
        given = Answer(self.number, painted.percent, grade)
        self._answers.append(given)
        self._keep(Given(begun.id, given, self._clock()))
        del self._painted[self.number]
        self.number = _first_without(self._answers)
        return Truth(painted.percent, painted.grade, grade, painted.rust) if part == "learning" else None

    def outcome(self) -> Past | None:
        """Return how the exercise went; None while it is not finished.

        Told from the disk where all answers are there: another window may have given some of them first.
        """
        begun = self._begun
        if begun is None:
            return None
        mine = KeptExercise(begun, tuple(self._answers), self._clock())
        kept = [each for each in self._of(begun.grader) if each.begun.id == begun.id]
        return next((past for each in (*kept, mine) if (past := _past(each)) is not None), None)

    # ---- keeping

    def unkept(self) -> int:
        """Return how many answers are not on the disk."""
        return sum(isinstance(each, Given) for each in self._entries[self._kept_count :])

    def keep_again(self) -> None:
        """Try again to write what is not on the disk; `trouble` says how it went."""
        self.trouble = ""
        rest = self._entries[self._kept_count :]
        if not rest:
            return
        try:
            add_entries(self._path, rest, self._entries)
        except InputError as error:
            self.trouble = str(error)
        else:
            self._kept_count = len(self._entries)

    def _keep(self, entry: Entry) -> None:
        self._entries.append(entry)
        self.keep_again()


def _past(kept: KeptExercise) -> Past | None:
    """Return how an exercise went, or None of one that is not finished."""
    if _first_without(kept.answers) < TOTAL:
        return None
    before, after = (results(of_part(kept.answers, part)) for part in ("before", "after"))
    if before is None or after is None:
        return None
    later = [*of_part(kept.answers, "learning"), *of_part(kept.answers, "after")]
    return Past(kept.last, before, after, tuple(habits(later)))


def _first_without(answers: list[Answer] | tuple[Answer, ...]) -> int:
    """Return the first coupon that has no answer; `TOTAL` when all have."""
    given = {each.number for each in answers}
    return next((number for number in range(TOTAL) if number not in given), TOTAL)


def _folded(grader: str) -> str:
    return one_line(grader, GRADER_LIMIT).casefold()
