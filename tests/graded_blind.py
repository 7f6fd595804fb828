"""Blind inspections for tests: in a record made by hand, or graded in an open board."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from rustboard.board.blind import BlindGrade, BlindInspection, BlindRound, Showing
from rustboard.board.blind_result import board_grade, grades_by_coupon
from rustboard.board.model import Board, Coupon, Grading, Inspection
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.operations.blind import BlindChoice, GivenBlind, begin_round, give_blind, reveal, start_blind
from rustboard.session.session import Session

FIRST = datetime(2026, 3, 2, 9)
Looks = Sequence[int | None]
"""One grade for each coupon, in order; None where there is none."""


def bare_record(coupons: int = 4, inspections: int = 1, columns: int = 6) -> BoardRecord:
    """Return a board of coupons C01... in reading order with inspections a week apart."""
    record = BoardRecord(Board("Yard", rows=-(-coupons // columns) or 1, columns=columns, started=FIRST))
    for key in range(1, coupons + 1):
        record.coupons[key] = Coupon(f"C{key:02}", Position(*divmod(key - 1, columns)), key=key)
    for key in range(1, inspections + 1):
        record.inspections[key] = Inspection(FIRST + timedelta(days=7 * (key - 1)), key=key)
    return record


def put_blind(
    record: BoardRecord,
    inspection: int,
    first: Mapping[str, Looks],
    again: Mapping[str, Looks] | None = None,
    *,
    revealed: bool = True,
) -> BoardRecord:
    """Put a blind inspection into a record; a coupon with a second look is shown twice, also where one is None.

    Revealed, the board gets its grades by the rule.
    """
    blind = len(record.blind_inspections) + 1
    record.blind_inspections[blind] = BlindInspection(
        inspection, "bench", None, 0.0, FIRST, FIRST if revealed else None, blind
    )
    keys = sorted(record.coupons)
    rounds = []
    for grader in first:
        twice = (again or {}).get(grader, ())
        showings = [Showing(key) for key, _ in zip(keys, first[grader], strict=False)]
        showings += [Showing(key, again=True) for key, _ in zip(keys, twice, strict=False)]
        key = len(record.blind_rounds) + 1
        rounds.append(BlindRound(blind, grader, 1, tuple(showings), FIRST, FIRST, key))
        record.blind_rounds[key] = rounds[-1]
        record.blind_grades[key] = {
            number: BlindGrade(0, key, number, showing.coupon, grade, "", None, "", "")
            for number, (showing, grade) in enumerate(zip(showings, (*first[grader], *twice), strict=True))
            if grade is not None
        }
    if revealed:
        for coupon, grades in grades_by_coupon(rounds, record.blind_grades).items():
            put_grade(record, coupon, inspection, board_grade(grades).grade, "blind")
    return record


def put_grade(record: BoardRecord, coupon: int, inspection: int, grade: int, source: str = "eye") -> None:
    """Put a grade that counts into a record, instead of one that is there."""
    found = Grading(0, coupon, inspection, grade, "", None, "Ann", source, "", "")  # type: ignore[arg-type]
    record.current.setdefault(coupon, {})[inspection] = found


def hidden_again(record: BoardRecord) -> BoardRecord:
    """Return the record as if nothing had been revealed."""
    for key, blind in record.blind_inspections.items():
        record.blind_inspections[key] = replace(blind, revealed=None)
    return record


def grade_blind(
    session: Session,
    inspection: int,
    grades: Mapping[str, Mapping[str, int | tuple[int, int]]],
    *,
    photo: int | None = None,
    revealed: bool = True,
) -> None:
    """Grade an inspection blind in an open board: by grader, by id of the coupon, a grade or both looks' grades.

    Every coupon is shown twice where any grade is given twice.
    """
    twice = any(isinstance(each, tuple) for given in grades.values() for each in given.values())
    basis = "bench" if photo is None else "photo"
    session.do(start_blind, BlindChoice(inspection, basis, photo, 100.0 if twice else 0.0))
    blind = session.record.hidden_inspection
    assert blind is not None
    for grader, given in grades.items():
        session.do(begin_round, blind.key, grader, 7)
        of_round = max(session.record.blind_rounds.values(), key=lambda each: each.key)
        for number, showing in enumerate(of_round.showings):
            both = given[session.record.coupons[showing.coupon].id]
            grade = both[showing.again] if isinstance(both, tuple) else both
            session.do(give_blind, GivenBlind(of_round.key, number, grade))
    if revealed:
        session.do(reveal, blind.key)
