"""One open board: do, undo, redo, what is told, going back, and the other window."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from session_boards import NOW, opened, prepared

from rustboard.board.model import Coupon, Inspection, Photo
from rustboard.board.position import Position
from rustboard.operations.boards import edit_board
from rustboard.operations.coupons import add_coupon, move_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.operations.inspections import add_inspection
from rustboard.operations.photos import add_photo
from rustboard.session.session import Session
from rustboard.store.photos import keep_photo
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary


@pytest.fixture
def session(tmp_path):
    session = prepared(tmp_path / "b")
    yield session
    session.close()


@pytest.fixture
def told(session):
    """The change sets told from now on."""
    changes = []
    session.feed.subscribe(changes.append)
    return changes


def rename(session, name):
    return session.do(edit_board, replace(session.record.board, name=name))


def test_what_is_done_is_told_once_and_can_be_seen_when_it_is_told(session):
    seen = []
    session.feed.subscribe(lambda changes: seen.append((changes, session.record.grading(1, 1).grade)))
    screen = object()
    changes = session.do(grade_coupon, GivenGrade(1, 1, 7, "S"), origin=screen)
    assert seen == [(changes, 7)]
    assert changes.origin is screen
    assert (changes.tables, changes.coupons, changes.direction) == ({"grading": {1}}, {1}, "do")
    assert changes.touches("coupon", "grading")
    assert not changes.touches("coupon")


def test_undo_and_redo_tell_the_same_rows_with_their_direction_and_origin(session, told):
    rename(session, "x")
    screen = object()
    assert (session.undo(screen).direction, session.redo().direction) == ("undo", "redo")
    assert [(each.direction, each.origin, each.tables) for each in told] == [
        ("do", None, {"board": {1}}),
        ("undo", screen, {"board": {1}}),
        ("redo", None, {"board": {1}}),
    ]
    assert {each.summary for each in told} == {Summary("Edit the board: {0}", ("name",))}


def test_what_changes_nothing_is_not_told(session, told):
    rename(session, "Harbour wall")
    assert told == []


def test_undo_with_nothing_to_undo_is_no_step(session, told):
    assert session.redo() is None
    while session.undo() is not None:
        pass
    told.clear()
    assert session.undo() is None
    assert session.undo_summary() is None
    assert told == []


def test_the_next_steps_are_named(session):
    rename(session, "x")
    assert session.undo_summary().text() == "Edit the board: name"
    assert session.redo_summary() is None
    session.undo()
    assert session.undo_summary().text() == "Add inspection of 2026-03-09 09:00"
    assert session.redo_summary().text() == "Edit the board: name"


def test_the_record_follows_grades_through_correction_withdrawal_and_undo(session):
    session.do(grade_coupon, GivenGrade(1, 1, 7))
    session.do(grade_coupon, GivenGrade(1, 1, 6))
    assert session.record.grading(1, 1).grade == 6
    session.do(withdraw_grade, 1, 1)
    assert session.record.current == {}
    session.undo()
    assert session.record.grading(1, 1).grade == 6
    session.undo()
    assert session.record.grading(1, 1).grade == 7
    session.undo()
    assert session.record.current == {}


def test_a_listener_may_not_make_another_change_and_none_is_made(session, tmp_path):
    def meddle(changes):
        with pytest.raises(RuntimeError, match="a listener of a change may not make another change"):
            rename(session, "meddled")
        with pytest.raises(RuntimeError, match="a listener of a change may not make another change"):
            session.undo()

    session.feed.subscribe(meddle)
    rename(session, "x")
    session.feed.unsubscribe(meddle)
    assert session.record.board.name == "x"
    with closing(opened(tmp_path / "b", read_only=True)) as other:
        assert other.record.board.name == "x"


def test_when_a_listener_fails_the_change_stands_and_the_others_hear_of_it(session, told, tmp_path):
    def fail(changes):
        raise ZeroDivisionError

    heard = []
    session.feed.subscribe(fail)
    session.feed.subscribe(heard.append)
    with pytest.raises(ZeroDivisionError):
        rename(session, "x")
    assert len(told) == len(heard) == 1
    assert session.record.board.name == "x"
    session.feed.unsubscribe(fail)
    rename(session, "y")
    assert len(heard) == 2


def test_the_selection_forgets_what_undo_takes_away_before_that_is_told(session):
    session.do(add_coupon, Coupon("new"))
    session.do(add_inspection, Inspection(datetime(2026, 4, 1)))
    session.selection.choose([1, 4], focus=4)
    session.selection.look_at(3)
    seen = []
    session.feed.subscribe(lambda changes: seen.append((session.selection.inspection, session.selection.coupons)))
    session.undo()
    session.undo()
    assert seen == [(None, {1, 4}), (None, {1})]
    assert session.selection.focus is None


def test_the_audit_says_who_did_what_when_newest_first(session):
    session.who = "Ann"
    rename(session, "x")
    session.undo()
    assert session.audit()[:2] == [
        ("2026-03-02T09:00:00", "Ann", "undo", Summary("Edit the board: {0}", ("name",))),
        ("2026-03-02T09:00:00", "Ann", "edit_board", Summary("Edit the board: {0}", ("name",))),
    ]


def test_undo_reaches_back_before_the_program_was_last_closed(tmp_path):
    prepared(tmp_path / "b").close()
    with closing(opened(tmp_path / "b")) as session:
        assert not session.can_go_back()
        session.undo()
        assert sorted(session.record.inspections) == [1]


class TestGoingBackToTheOpening:
    def test_all_that_was_done_since_is_taken_back(self, tmp_path):
        prepared(tmp_path / "b").close()
        with closing(opened(tmp_path / "b")) as session:
            before = session.record.board
            assert not session.can_go_back()
            for name in "xyz":
                rename(session, name)
            assert session.can_go_back()
            assert session.go_back_to_opening() == 3
            assert session.record.board == before
            assert not session.can_go_back()
            assert session.redo() is not None

    def test_what_was_undone_since_is_done_again(self, tmp_path):
        prepared(tmp_path / "b").close()
        with closing(opened(tmp_path / "b")) as session:
            session.undo()
            session.undo()
            assert session.can_go_back()
            assert session.go_back_to_opening() == 2
            assert sorted(session.record.inspections) == [1, 2]
            assert not session.can_go_back()

    def test_steps_that_were_undone_before_the_opening_stay_undone(self, tmp_path):
        session = prepared(tmp_path / "b")
        session.undo()
        session.close()
        with closing(opened(tmp_path / "b")) as session:
            assert not session.can_go_back()
            session.redo()
            assert session.can_go_back()
            assert session.go_back_to_opening() == 1
            assert sorted(session.record.inspections) == [1]

    def test_it_ends_where_a_new_step_took_the_place_of_older_ones(self, tmp_path):
        prepared(tmp_path / "b").close()
        with closing(opened(tmp_path / "b")) as session:
            session.undo()
            rename(session, "x")
            assert session.go_back_to_opening() == 1
            assert sorted(session.record.inspections) == [1], "the second is beyond undo; the audit tells of it"
            assert not session.can_go_back()

    def test_a_window_that_only_reads_has_nothing_to_take_back(self, session, tmp_path):
        with closing(opened(tmp_path / "b", read_only=True)) as reader:
            rename(session, "x")
            assert not reader.can_go_back()
            assert reader.go_back_to_opening() == 0


def test_another_windows_changes_are_told_as_such_and_read_whole(session, tmp_path):
    with closing(opened(tmp_path / "b", read_only=True)) as reader:
        heard = []
        reader.feed.subscribe(heard.append)
        reader.selection.choose([1])
        session.do(move_coupon, 1, Position(2, 2))
        session.do(grade_coupon, GivenGrade(1, 1, 7))
        assert reader.look_for_outside_changes()
        assert reader.record == session.record
        (changes,) = heard
        assert changes.direction == "outside"
        assert changes.touches("grading")
        assert changes.coupons == {1, 2, 3}
        assert reader.selection.coupons == {1}
        assert not reader.look_for_outside_changes()


def test_ones_own_changes_are_not_another_windows(session):
    rename(session, "x")
    session.undo()
    assert not session.look_for_outside_changes()


def test_a_damaged_board_is_not_left_locked(tmp_path):
    import sqlite3

    prepared(tmp_path / "b").close()
    with closing(sqlite3.connect(tmp_path / "b" / "board.rustboard")) as connection:
        connection.execute("UPDATE inspection SET at = 'teatime'")
        connection.commit()
    with pytest.raises(InputError, match="Row 1 of the table inspection is damaged"):
        Session(tmp_path / "b")
    with closing(sqlite3.connect(tmp_path / "b" / "board.rustboard")) as connection:
        connection.execute("UPDATE inspection SET at = '2026-01-01T00:00:0' || key")
        connection.commit()
    with closing(Session(tmp_path / "b")) as session:
        assert session.read_only_reason == ""


def test_a_photo_is_found_where_it_was_kept_also_after_the_folder_moved(tmp_path):
    session = prepared(tmp_path / "b")
    file, digest = keep_photo(session.folder, "IMG.jpg", b"bytes", NOW)
    session.do(add_photo, Photo("IMG.jpg", file, digest, 4, 3, NOW))
    assert session.photo_file(1).read_bytes() == b"bytes"
    session.close()
    (tmp_path / "b").rename(tmp_path / "moved")
    with closing(opened(tmp_path / "moved")) as session:
        assert session.photo_file(1) == tmp_path / "moved" / "photos" / file
        session.photo_file(1).unlink()
        assert session.photo_file(1) is None


def test_the_clock_gives_the_time_of_the_lock_the_audit_and_the_grades(tmp_path):
    prepared(tmp_path / "b").close()
    later = NOW + timedelta(days=3)
    with closing(Session(tmp_path / "b", clock=lambda: later)) as session:
        session.do(grade_coupon, GivenGrade(1, 1, 7))
        session.keep_alive()
        assert session.record.grading(1, 1).recorded == later.isoformat()
        assert session.audit()[0][0] == later.isoformat()
    assert (tmp_path / "b" / "backups" / "board-2026-03-05.rustboard").exists()
