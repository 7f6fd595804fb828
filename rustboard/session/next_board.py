"""Making the next board with one thing changed: what is suggested to be kept, and the board itself."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from pathlib import Path

from rustboard.board.layout import LARGEST_SEED
from rustboard.board.next_board import NextChoice, changed_words, changes, kept_words, next_plan
from rustboard.board.plan_check import check_plan
from rustboard.board.record import BoardRecord
from rustboard.board.shelving import Forerunner
from rustboard.operations.layouts import draw_board_lots
from rustboard.operations.outlines import shifted
from rustboard.operations.plans import plan_of
from rustboard.operations.shelving import set_forerunner
from rustboard.session.looking import look_at_board
from rustboard.session.new_board import create_from_plan
from rustboard.session.other_boards import openly
from rustboard.store.transaction import Transaction
from rustboard.support.clock import Clock, wall_clock


@dataclass(frozen=True, slots=True)
class Suggested:
    """Which treatments of a board are suggested to be repeated.

    Attributes:
        best: key of the treatment that came out best, or None where none was graded.
        rival: key of the one next to it, or None.
    """

    best: int | None = None
    rival: int | None = None


def old_board(folder: Path) -> BoardRecord:
    """Return the board that is to be repeated.

    Raises:
        InputError: it cannot be read, or is being graded blind.
    """
    return openly(look_at_board(folder))


def suggested(record: BoardRecord) -> Suggested:
    """Return the best treatment by the mean of last grades, and the one next to it."""
    from rustboard.board.exposure_clock import day_clock
    from rustboard.board.question import Question
    from rustboard.board.series import inspection_days
    from rustboard.findings.coupons.subject import FindingsRequest, subject_of

    subject = subject_of(FindingsRequest(record, day_clock(inspection_days(record)), record.question or Question()))
    ranked = sorted(
        (
            (-each.last_mean, number, each.group.treatment)
            for number, each in enumerate(subject.group_results)
            if each.last_mean is not None and each.group.role == "test" and each.group.treatment is not None
        ),
    )
    keys = [key for _, _, key in ranked]
    return Suggested(keys[0] if keys else None, keys[1] if len(keys) > 1 else None)


def make_next(
    source: Path,
    choice: NextChoice,
    new_folder: Path,
    name: str,
    *,
    seed: int | None = None,
    who: str = "",
    clock: Clock = wall_clock,
) -> None:
    """Make the next board: with new lots drawn, and with the record of what it repeats and what was changed.

    Args:
        source: folder of the old board.
        choice: what is repeated and changed.
        new_folder: the folder to make.
        name: of the new board.
        seed: of the lots; None = any.
        who: name written into the audit.
        clock: gives the time written into the audit.

    Raises:
        InputError: the old board cannot be read or is being graded blind, the choice cannot be, or the disk refused.
    """
    record = old_board(source)
    plan = check_plan(next_plan(record, plan_of(record, name), choice, shifted))[0]
    lots = secrets.randbelow(LARGEST_SEED) if seed is None else seed
    forerunner = Forerunner(
        record.board.name,
        record.day_zero(),
        kept_words(record, choice),
        changed_words(changes(record, choice)),
        source.name,
    )

    def further(tx: Transaction) -> None:
        draw_board_lots(tx, lots)
        set_forerunner(tx, forerunner)

    labels = [
        each
        for each in sorted(record.axis_labels.values(), key=lambda each: (each.axis, each.number))
        if each.number < (plan.board.rows if each.axis == "row" else plan.board.columns)
    ]
    create_from_plan(new_folder, plan, who=who, clock=clock, labels=labels, further=further)
