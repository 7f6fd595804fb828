"""The demo's blind inspections: two graders who disagree as people do, the board's grade by the rule, one agreed."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from statistics import fmean

import pytest

from rustboard.app.demo.blind import REPEAT_PERCENT, BlindGrader, looks
from rustboard.app.demo.build import build_boards
from rustboard.app.demo.harbour import HARBOUR
from rustboard.board.blind_order import repeats_of
from rustboard.board.blind_result import board_grade, grades_by_coupon
from rustboard.scales.rust_grade import grade_from_percent
from rustboard.session.session import Session
from rustboard.store.check import check_board
from rustboard.support.problems import InputError

BLIND_DAYS = (35, 49)


@pytest.fixture(scope="module")
def session(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Session]:
    """The harbour board with its blind visits and the last one alone."""
    days = {*BLIND_DAYS, 56}
    visits = tuple(each for each in HARBOUR.visits if round(HARBOUR.day_of(each)) in days)
    (folder,) = build_boards(tmp_path_factory.mktemp("demo"), [replace(HARBOUR, visits=visits)], lambda *step: None)
    assert (check_board(folder).problems, check_board(folder).notes) == ([], [])
    with closing(Session(folder)) as session:
        yield session


def test_two_visits_were_graded_blind_from_their_photo_by_two_graders_and_revealed(session: Session) -> None:
    record = session.record
    days = [
        round(record.day_of(record.inspections[each.inspection].at)) for each in record.blind_inspections.values()
    ]
    assert tuple(days) == BLIND_DAYS
    for blind in record.blind_inspections.values():
        rounds = [each for each in record.blind_rounds.values() if each.blind == blind.key]
        assert {each.grader for each in rounds} == {"Maren", "Jory"}
        assert (blind.basis, record.photos[blind.photo].inspection) == ("photo", blind.inspection)
        assert blind.revealed is not None
        assert blind.revealed < HARBOUR.visits[-1].at
        assert [len(each.showings) for each in rounds] == [21 + repeats_of(21, REPEAT_PERCENT)] * 2
        assert all(each.finished > each.started for each in rounds)


def test_the_boards_grades_come_by_the_rule_and_one_is_agreed(session: Session) -> None:
    record, agreed = session.record, []
    for blind in record.blind_inspections.values():
        rounds = [each for each in record.blind_rounds.values() if each.blind == blind.key]
        for coupon, grades in grades_by_coupon(rounds, record.blind_grades).items():
            chain = session.gradings(coupon, blind.inspection)
            assert (chain[0].grade, chain[0].source) == (board_grade(grades).grade, "blind")
            if len(chain) > 1:
                assert [(each.state, each.source) for each in chain] == [
                    ("superseded", "blind"),
                    ("current", "agreed"),
                ]
                agreed.append((record.coupons[coupon].id, chain[0].grade, chain[1].grade, chain[1].note))
    assert agreed == [("C15", 8, 9, "Looked at again together: a few fine specks, and one of brown dust.")]


def test_graders_differ_from_the_truth_by_one_at_most_and_one_is_milder(session: Session) -> None:
    record = session.record
    off: dict[str, list[int]] = {"Maren": [], "Jory": []}
    for each in record.blind_rounds.values():
        visit = record.inspections[record.blind_inspections[each.blind].inspection]
        truth = HARBOUR.percents_at(visit)
        for number, given in record.blind_grades[each.key].items():
            shown = record.coupons[each.showings[number].coupon].id
            off[each.grader].append(given.grade - grade_from_percent(truth[shown]))
    assert all({0, 1} <= set(each) <= {-1, 0, 1} for each in off.values())
    assert -1 in off["Maren"]
    assert 0.15 < fmean(off["Jory"]) - fmean(off["Maren"]) < 0.75


def test_neither_grader_gives_a_coupon_the_same_grade_every_time(session: Session) -> None:
    changed = {"Maren": 0, "Jory": 0}
    for each in session.record.blind_rounds.values():
        given = session.record.blind_grades[each.key]
        first = {shown.coupon: given[number].grade for number, shown in enumerate(each.showings) if not shown.again}
        for number, shown in enumerate(each.showings):
            changed[each.grader] += shown.again and given[number].grade != first[shown.coupon]
    assert all(1 <= each <= 6 for each in changed.values())


def test_nobody_sees_rust_where_there_is_none() -> None:
    assert looks([0.0] * 100, BlindGrader("Maren", -3.0, 1)) == [10] * 100


def test_undo_in_the_demo_stops_at_what_was_revealed(session: Session) -> None:
    assert session.undo_summary().pattern.startswith("Grade {0}: ")
    while session.undo_summary() is not None:
        session.undo()
    with pytest.raises(InputError, match="What was revealed cannot be hidden again"):
        session.undo()
    assert len(session.record.inspections) == 2
    assert session.record.hidden_inspection is None
    while session.redo() is not None:
        pass
    assert len(session.record.inspections) == 3


def test_visits_that_are_not_blind_are_graded_openly() -> None:
    assert [round(HARBOUR.day_of(each)) for each in HARBOUR.visits if HARBOUR.blind_at(each)] == list(BLIND_DAYS)
