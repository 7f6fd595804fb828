"""Boards graded blind, made by hand for the tests of the report."""

from __future__ import annotations

from datetime import timedelta

from report_boards import BoardBuilder

from rustboard.board.blind import Basis, BlindGrade, BlindInspection, BlindRound, Showing
from rustboard.board.record import BoardRecord


def hide(record: BoardRecord, inspection: int, basis: Basis = "photo", *, revealed: bool = True) -> int:
    """Grade an inspection blind; return the key of the blind inspection."""
    key = len(record.blind_inspections) + 1
    at = record.inspections[inspection].at
    record.blind_inspections[key] = BlindInspection(
        inspection, basis, None, 50.0, at, at + timedelta(hours=1) if revealed else None, key
    )
    return key


def let_grade(record: BoardRecord, blind: int, grader: str, shown: list[tuple[Showing, int, str]]) -> None:
    """Give a grader his round: what he was shown, and the grade and the note he gave it."""
    key = len(record.blind_rounds) + 1
    at = record.blind_inspections[blind].started
    showings = tuple(each for each, _, _ in shown)
    record.blind_rounds[key] = BlindRound(blind, grader, 7, showings, at, at + timedelta(minutes=2), key)
    record.blind_grades[key] = {
        number: BlindGrade(
            100 * key + number, key, number, showing.coupon, grade, "S" if 1 <= grade <= 9 else "", None, note, "2026"
        )
        for number, (showing, grade, note) in enumerate(shown)
    }


def blind_board() -> BoardRecord:
    """Two coupons, three inspections: openly graded, blind from a photo by two, blind and still hidden."""
    made = BoardBuilder()
    wax = made.treatment("T1", name="hot beeswax blend")
    one, two = made.coupon("C01", "A1", wax), made.coupon("C02", "A2", wax)
    made.histories((0, 7, 14), {one: (10, None, None), two: (10, None, None)})
    made.grade(one, 2, 8, "S", grader="Ann, Bo", source="blind")
    made.grade(two, 2, 7, "S", grader="Ann, Bo", source="agreed", note="looked again")
    blind = hide(made.record, 2)
    ann = [(Showing(two, "mirrored"), 6, "=drip"), (Showing(one), 8, ""), (Showing(two, "half turn", True), 7, "")]
    bo = [(Showing(one, "half turn"), 9, ""), (Showing(two), 7, ""), (Showing(two, "mirrored", True), 7, "")]
    let_grade(made.record, blind, "Ann", ann)
    let_grade(made.record, blind, "Bo", bo)
    let_grade(made.record, hide(made.record, 3, "bench", revealed=False), "Ann", [(Showing(one), 3, "secret")])
    return made.record
