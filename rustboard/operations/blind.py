"""Grading blind: an inspection is hidden, every grader has his round, then all is revealed and the board graded.

What a step says of itself is shown while things are hidden, so it names no coupon, no treatment and no other grade.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from rustboard.board.blind import (
    BASES,
    MOST_BLIND_GRADES,
    MOST_BLIND_INSPECTIONS,
    MOST_ROUNDS,
    Basis,
    BlindGrade,
    BlindInspection,
    BlindRound,
)
from rustboard.board.blind_order import draw_showings
from rustboard.board.blind_result import board_grade, grades_by_coupon
from rustboard.board.cells import identity
from rustboard.board.grade import check_grade, written
from rustboard.board.record import reading_order
from rustboard.operations.blind_steps import (
    ADDED,
    BEGUN,
    CORRECTED,
    FINISHED,
    GIVEN,
    GIVEN_UP,
    REVEALED,
    STARTED,
    TAKEN_BACK,
)
from rustboard.operations.grading import GivenGrade, current_grading, grade_coupon
from rustboard.operations.lookup import the_coupon, the_inspection, the_photo
from rustboard.store.blind_tables import BLIND_GRADES, BLIND_INSPECTIONS, BLIND_ROUNDS
from rustboard.store.tables import COUPONS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import many_lines, one_line


@dataclass(frozen=True, slots=True)
class BlindChoice:
    """How an inspection is to be graded blind.

    Attributes:
        inspection: key. basis: see `rustboard.board.blind`.
        photo: key of the photo to grade from, or None at the bench.
        repeat_percent: how much of the coupons every grader sees twice, 0 to 100.
    """

    inspection: int
    basis: Basis
    photo: int | None = None
    repeat_percent: float = 0.0


@dataclass(frozen=True, slots=True)
class GivenBlind:
    """A grade as it is given in a round.

    Attributes:
        round: key. number: which showing, from 0.
        percent: stated by eye, or None.
    """

    round: int
    number: int
    grade: int
    distribution: str = ""
    percent: float | None = None
    note: str = ""


def start_blind(tx: Transaction, choice: BlindChoice) -> Summary:
    """Hide an inspection and grade it blind from now on.

    Raises:
        InputError: it was graded blind before, another inspection is hidden, the board is full, the choice cannot be,
            or no coupon hangs on the board.
    """
    inspection = the_inspection(tx, choice.inspection)
    if tx.find(BLIND_INSPECTIONS, inspection=choice.inspection):
        raise InputError("This inspection has been graded blind already; add another inspection.")
    if tx.find(BLIND_INSPECTIONS, revealed=None):
        raise InputError("Another inspection is being graded blind; finish and reveal it first.")
    if tx.count(BLIND_INSPECTIONS) >= MOST_BLIND_INSPECTIONS:
        raise InputError(f"A board holds at most {MOST_BLIND_INSPECTIONS} blind inspections; grade this one openly.")
    if choice.basis not in BASES or not 0 <= choice.repeat_percent <= 100:
        raise InputError("Grade blind from a photo or at the bench, with 0 to 100 % of the coupons shown twice.")
    if choice.basis == "photo":
        _refuse_unfit_photo(tx, choice)
    _coupons_to_show(tx)
    photo = choice.photo if choice.basis == "photo" else None
    tx.put(
        BLIND_INSPECTIONS,
        BlindInspection(choice.inspection, choice.basis, photo, float(choice.repeat_percent), tx.now),
    )
    return Summary(STARTED, (inspection.at.isoformat(" ", "minutes"),))


def _refuse_unfit_photo(tx: Transaction, choice: BlindChoice) -> None:
    photo = None if choice.photo is None else the_photo(tx, choice.photo)
    if photo is None or photo.mm_to_px is None or photo.inspection != choice.inspection:
        raise InputError(
            "Grading from a photo needs one of this inspection in which the board was found; add one, or grade at "
            "the bench."
        )


def begin_round(
    tx: Transaction, blind_key: int, grader: str, seed: int, coupons: Collection[int] | None = None
) -> Summary:
    """Draw the order for a grader and write it down; his round can then be interrupted anywhere.

    Args:
        tx: of the action.
        blind_key: of the blind inspection.
        grader: who.
        seed: to draw with.
        coupons: keys of those that the grader can be shown; None for all that hang on the board.

    Raises:
        InputError: nothing is hidden, no name, a grader who has his round already, too many graders, no coupon to
            show, or the board is full.
    """
    blind = _the_hidden(tx, blind_key)
    name = one_line(grader)
    if not name:
        raise InputError("Type the name of who grades.")
    rounds = tx.find(BLIND_ROUNDS, blind=blind_key)
    if any(identity(each.grader) == identity(name) for each in rounds):
        raise InputError(f"{name[:60]} has a round at this inspection already; everybody has one.")
    if len(rounds) >= MOST_ROUNDS:
        raise InputError(f"An inspection has at most {MOST_ROUNDS} graders; reveal it.")
    showings = draw_showings(_coupons_to_show(tx, coupons), blind.repeat_percent, blind.basis, seed)
    # A grade more than can be read back would shut the whole board. Those of rounds not yet ended are still to come.
    to_come = sum(len(each.showings) for each in rounds) + len(showings)
    if tx.count(BLIND_GRADES) + to_come > MOST_BLIND_GRADES:
        raise InputError(f"A board holds at most {MOST_BLIND_GRADES} blind grades; reveal, and grade openly.")
    tx.put(BLIND_ROUNDS, BlindRound(blind_key, name, seed, showings, tx.now))
    return Summary(BEGUN)


def give_blind(tx: Transaction, given: GivenBlind) -> Summary:
    """Record a grade in a round; one given before to the same showing is superseded and kept.

    Raises:
        InputError: the scale has no such grade, or the round is finished or has no such showing.
    """
    check_grade(given.grade, given.distribution, given.percent)
    current = _the_open_round(tx, given.round)
    if not 0 <= given.number < len(current.showings):
        raise InputError("This round shows no such coupon; go back to the first that has no grade.")
    grade = BlindGrade(
        key=0,
        round=given.round,
        number=given.number,
        coupon=current.showings[given.number].coupon,
        grade=int(given.grade),
        distribution=given.distribution,
        percent=None if given.percent is None else float(given.percent),
        note=many_lines(given.note),
        recorded=tx.now.isoformat(),
    )
    place = (str(given.number + 1), str(len(current.showings)))
    new = written(given.grade, given.distribution)
    old = _current_blind(tx, given.round, given.number)
    if old is None:
        tx.put(BLIND_GRADES, grade)
        return Summary(GIVEN, (*place, new))
    if old[4:8] != grade[4:8]:
        tx.put(BLIND_GRADES, old._replace(state="superseded"))
        tx.put(BLIND_GRADES, grade._replace(replaces=old.key))
    if written(old.grade, old.distribution) == new:
        return Summary(ADDED, place)
    return Summary(CORRECTED, (*place, written(old.grade, old.distribution), new))


def withdraw_blind(tx: Transaction, round_key: int, number: int) -> Summary:
    """Take back the grade of a showing.

    Raises:
        InputError: the round is finished, or there is no grade.
    """
    current = _the_open_round(tx, round_key)
    old = _current_blind(tx, round_key, number)
    if old is None:
        raise InputError("This coupon has no grade in this round, so there is nothing to withdraw.")
    tx.put(BLIND_GRADES, old._replace(state="withdrawn"))
    return Summary(TAKEN_BACK, (str(number + 1), str(len(current.showings))))


def finish_round(tx: Transaction, round_key: int) -> Summary:
    """Close a grader's round; it cannot be opened again, because the next grader must not see it.

    Raises:
        InputError: the round is finished already, or a coupon in it has no grade.
    """
    current = _the_open_round(tx, round_key)
    given = len(tx.find(BLIND_GRADES, round=round_key, state="current"))
    if given < len(current.showings):
        left = len(current.showings) - given
        raise InputError(f"{left} of the {len(current.showings)} showings have no grade yet; grade them first.")
    tx.put(BLIND_ROUNDS, replace(current, finished=tx.now))
    return Summary(FINISHED)


def reveal(tx: Transaction, blind_key: int) -> Summary:
    """Show everything again, and give the board the graders' grades by the rule of `rustboard.board.blind_result`.

    A round that was not finished ends as it is, and its grades count. Grades given openly at the inspection before
    are superseded and kept. Where nobody graded anything, the inspection is as it was before it was hidden, and undo
    is not stopped: there is nothing that a grader could give again with open eyes.

    Raises:
        InputError: nothing is hidden.
    """
    blind = _the_hidden(tx, blind_key)
    inspection = the_inspection(tx, blind.inspection)
    rounds = tx.find(BLIND_ROUNDS, blind=blind_key)
    given = {each.key: _grades_of(tx, each.key) for each in rounds}
    when = (inspection.at.isoformat(" ", "minutes"),)
    if not any(tx.find(BLIND_GRADES, round=each.key) for each in rounds):
        for each in rounds:
            tx.drop(BLIND_ROUNDS, each.key)
        tx.drop(BLIND_INSPECTIONS, blind_key)
        return Summary(GIVEN_UP, when)
    for each in rounds:
        if each.finished is None:
            tx.put(BLIND_ROUNDS, replace(each, finished=tx.now))
    tx.put(BLIND_INSPECTIONS, replace(blind, revealed=tx.now))
    for coupon, grades in grades_by_coupon(rounds, given).items():
        result = board_grade(grades)
        grader = one_line(", ".join(result.graders))
        note = "; ".join(
            f"{name}: {each.note}" if len(grades) > 1 else each.note for name, each in grades if each.note
        )
        grade_coupon(
            tx,
            GivenGrade(
                coupon, blind.inspection, result.grade, result.distribution, result.percent, grader, "blind", note
            ),
        )
    return Summary(REVEALED, when)


def agree_grade(
    tx: Transaction, coupon_key: int, inspection_key: int, grade: int, distribution: str = "", note: str = ""
) -> Summary:
    """Record the grade that the graders agreed on after a blind inspection; the one by the rule is kept, superseded.

    Raises:
        InputError: the inspection was not graded blind, or this coupon was not graded at it.
    """
    coupon = the_coupon(tx, coupon_key)
    graders = _graders_of(tx, coupon_key, inspection_key)
    if not graders:
        raise InputError("This coupon was not graded blind at this inspection, so there is nothing to agree on.")
    old = current_grading(tx, coupon_key, inspection_key)
    grade_coupon(
        tx,
        GivenGrade(
            coupon_key,
            inspection_key,
            grade,
            distribution,
            grader=one_line(", ".join(graders)),
            source="agreed",
            note=note or (old.note if old is not None else ""),
        ),
    )
    return Summary("Agree on {0}: {1}", (coupon.id, written(grade, distribution)))


def _graders_of(tx: Transaction, coupon: int, inspection: int) -> tuple[str, ...]:
    return tuple(
        each.grader
        for blind in tx.find(BLIND_INSPECTIONS, inspection=inspection)
        for each in tx.find(BLIND_ROUNDS, blind=blind.key)
        if tx.find(BLIND_GRADES, round=each.key, coupon=coupon, state="current")
    )


def _grades_of(tx: Transaction, round_key: int) -> dict[int, BlindGrade]:
    return {each.number: each for each in tx.find(BLIND_GRADES, round=round_key, state="current")}


def _current_blind(tx: Transaction, round_key: int, number: int) -> BlindGrade | None:
    found = tx.find(BLIND_GRADES, round=round_key, number=number, state="current")
    return found[0] if found else None


def _coupons_to_show(tx: Transaction, shown: Collection[int] | None = None) -> Sequence[int]:
    there = [each for each in tx.find(COUPONS) if each.position is not None]
    if not there:
        raise InputError("No coupon hangs on the board, so there is nothing to grade; add coupons first.")
    seen = [each.key for each in sorted(there, key=reading_order) if shown is None or each.key in shown]
    if not seen:
        raise InputError("The photo shows no coupon of the board; grade this inspection at the bench or openly.")
    return seen


def _the_hidden(tx: Transaction, key: int) -> BlindInspection:
    found = tx.get(BLIND_INSPECTIONS, key)
    if found is None or found.revealed is not None:
        raise InputError("This inspection is not being graded blind any more; it was revealed or taken back.")
    return found


def _the_open_round(tx: Transaction, key: int) -> BlindRound:
    found = tx.get(BLIND_ROUNDS, key)
    if found is None or found.finished is not None:
        raise InputError("This round is finished or was taken back, so nothing more can be graded in it.")
    return found
