"""Blind grading in an open board: where undo ends, going back, closing in the middle, and the other window."""

from __future__ import annotations

from contextlib import closing

import pytest
from blind_steps import begin, give_all, start, whole_round
from session_boards import opened, prepared

from rustboard.board.blind import BlindGrade
from rustboard.operations.blind import GivenBlind, agree_grade, finish_round, give_blind, reveal, withdraw_blind
from rustboard.operations.damage import GivenDamage, note_damage
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.side_by_side import GivenChoice, choose
from rustboard.session.session import Session
from rustboard.support.problems import InputError

NOT_TAKEN_BACK = (
    "What was revealed cannot be hidden again, so this is not taken back; correct or withdraw grades instead."
)


@pytest.fixture
def session(tmp_path):
    session = prepared(tmp_path / "b")
    yield session
    session.close()


def refused_undo(session: Session) -> str:
    before = session.record.snapshot()
    with pytest.raises(InputError) as caught:
        session.undo()
    assert session.record == before
    return caught.value.problem.what


def test_undo_takes_back_what_a_grader_did_in_his_round_and_redo_does_it_again(session):
    before = session.record.snapshot()
    key = begin(session, start(session), "Ann")
    give_all(session, key, 7)
    session.do(give_blind, GivenBlind(key, 0, 6))
    session.do(withdraw_blind, key, 1)
    after = session.record.snapshot()
    while session.undo_summary().pattern != "Add inspection of {0}":
        session.undo()
    assert session.record == before
    while session.redo() is not None:
        pass
    assert session.record == after


def test_undo_stops_at_a_finished_round_with_a_sentence(session):
    blind = start(session)
    whole_round(session, blind, "Ann", 7)
    assert session.undo_summary() is None
    assert refused_undo(session) == NOT_TAKEN_BACK
    key = begin(session, blind, "Bo")
    session.do(give_blind, GivenBlind(key, 0, 5))
    session.undo(), session.undo()
    assert set(session.record.blind_rounds) == {1}
    assert refused_undo(session) == NOT_TAKEN_BACK


def test_undo_stops_at_a_reveal_with_a_sentence_and_what_came_after_is_taken_back(session):
    blind = start(session)
    whole_round(session, blind, "Ann", 7)
    session.do(reveal, blind)
    session.do(agree_grade, 1, 1, 8)
    session.do(grade_coupon, GivenGrade(2, 1, 5))
    session.undo(), session.undo()
    assert {each[1].source for each in session.record.current.values()} == {"blind"}
    assert session.undo_summary() is None
    assert refused_undo(session) == NOT_TAKEN_BACK
    assert refused_undo(session) == NOT_TAKEN_BACK
    assert session.redo().summary.text() == "Agree on C1: 8"


def test_what_was_undone_before_a_reveal_is_not_done_again_after_it(session):
    blind = start(session)
    key = begin(session, blind, "Ann")
    give_all(session, key, 7)
    session.do(give_blind, GivenBlind(key, 0, 2))
    session.undo()
    session.do(reveal, blind)
    assert session.redo_summary() is None
    assert session.redo() is None


def test_going_back_to_the_opening_stops_at_what_was_revealed(session):
    blind = start(session)
    whole_round(session, blind, "Ann", 7)
    session.do(reveal, blind)
    assert not session.can_go_back()
    assert session.go_back_to_opening() == 0
    session.do(grade_coupon, GivenGrade(1, 1, 5))
    session.do(grade_coupon, GivenGrade(2, 1, 5))
    assert session.can_go_back()
    assert session.go_back_to_opening() == 2
    assert not session.can_go_back()
    assert {each[1].source for each in session.record.current.values()} == {"blind"}


def test_going_back_to_the_opening_stops_at_a_finished_round(session):
    blind = start(session)
    whole_round(session, blind, "Ann", 7)
    key = begin(session, blind, "Bo")
    session.do(give_blind, GivenBlind(key, 0, 5))
    assert session.go_back_to_opening() == 2
    assert [each.grader for each in session.record.blind_rounds.values()] == ["Ann"]
    assert session.record.hidden_inspection is not None


def test_a_board_closed_in_a_hidden_state_goes_back_to_it_and_no_further(session, tmp_path):
    blind = start(session)
    whole_round(session, blind, "Ann", 7)
    session.close()
    with closing(opened(tmp_path / "b")) as again:
        assert not again.can_go_back()
        key = begin(again, blind, "Bo")
        again.do(give_blind, GivenBlind(key, 0, 5))
        assert again.can_go_back()
        assert again.go_back_to_opening() == 2
        assert refused_undo(again) == NOT_TAKEN_BACK


def test_a_round_broken_off_goes_on_in_the_same_order_with_every_grade_and_still_hidden(tmp_path):
    folder = tmp_path / "b"
    session = prepared(folder, coupons=7)
    key = begin(session, start(session), "Ann", seed=2026)
    showings = session.record.blind_rounds[key].showings
    for number in range(len(showings)):
        session.do(give_blind, GivenBlind(key, number, number % 11))
        before = session.record
        session.close()
        session = opened(folder)
        assert session.record == before
        assert session.record.hidden_inspection.key == 1
        assert session.record.blind_rounds[key].showings == showings
        given = session.record.blind_grades[key]
        assert {at: each.grade for at, each in given.items()} == {at: at % 11 for at in range(number + 1)}
        assert session.record.current == {}
    session.do(finish_round, key)
    session.close()


def test_undo_after_opening_again_takes_back_the_grade_given_last(session, tmp_path):
    key = begin(session, start(session), "Ann")
    session.do(give_blind, GivenBlind(key, 0, 7))
    session.do(give_blind, GivenBlind(key, 1, 6))
    session.close()
    with closing(opened(tmp_path / "b")) as again:
        assert again.undo_summary().text() == "Blind grade 2 of 5: 6"
        again.undo()
        assert set(again.record.blind_grades[key]) == {0}


def test_a_second_window_follows_every_step(session, tmp_path):
    with closing(Session(tmp_path / "b", read_only=True)) as other:
        told = []
        other.feed.subscribe(told.append)

        def follows() -> bool:
            return other.look_for_outside_changes() and other.record == session.record

        blind = start(session)
        assert follows()
        assert other.record.hidden_inspection is not None
        key = begin(session, blind, "Ann")
        assert follows()
        session.do(give_blind, GivenBlind(key, 0, 7))
        assert follows()
        session.undo()
        assert follows()
        assert other.record.blind_grades == {}
        give_all(session, key, 6)
        session.do(finish_round, key)
        session.do(reveal, blind)
        assert follows()
        assert other.record.current[1][1].source == "blind"
        session.do(choose, GivenChoice(1, "Ann", 1, 2, "neither"))
        session.do(note_damage, GivenDamage(1, 1, "stain", 10.0))
        assert follows()
        assert len(other.record.pair_choices) == len(other.record.damages) == 1
        assert {"blind_grade", "pair_choice", "damage", "blind_round", "blind_inspection"} <= told[-1].tables.keys()


def test_a_grade_is_told_with_its_row_alone(session):
    key = begin(session, start(session), "Ann")
    changes = session.do(give_blind, GivenBlind(key, 0, 7))
    assert (changes.tables, changes.coupons, changes.inspections) == ({"blind_grade": {1}}, frozenset(), frozenset())
    corrected = session.do(give_blind, GivenBlind(key, 0, 6))
    assert corrected.tables == {"blind_grade": {1, 2}}
    assert isinstance(session.record.blind_grades[key][0], BlindGrade)


def test_a_snapshot_taken_in_the_middle_stays_as_it_was(session):
    key = begin(session, start(session), "Ann")
    session.do(give_blind, GivenBlind(key, 0, 7))
    before = session.record.snapshot()
    session.do(give_blind, GivenBlind(key, 1, 7))
    session.do(reveal, 1)
    assert set(before.blind_grades[key]) == {0}
    assert before.hidden_inspection is not None
