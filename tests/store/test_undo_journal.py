"""The journal: how much of it is kept, and that what is left of it fits together."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from store_boards import NOW, do, empty_board, graded_board, opened, plant, raw, tables_of

from rustboard.board.model import Board, Coupon
from rustboard.board.position import Position
from rustboard.operations.boards import edit_board
from rustboard.operations.coupons import add_coupon
from rustboard.store import journal
from rustboard.support.problems import InputError


def undo(store):
    return store.step("undo", now=NOW, who="")


def redo(store):
    return store.step("redo", now=NOW, who="")


@pytest.fixture
def folder(tmp_path):
    """A board renamed ten times: ``name 0`` to ``name 9``."""
    folder = empty_board(tmp_path / "b")
    with opened(folder) as store:
        for number in range(10):
            do(store, edit_board, Board(f"name {number}"))
    return folder


def prune(folder, most):
    with raw(folder) as connection:
        connection.execute("BEGIN")
        journal.prune(connection, most)
        connection.execute("COMMIT")
        orphans = connection.execute(
            "SELECT count(*) FROM journal_row WHERE entry NOT IN (SELECT key FROM journal)"
        ).fetchone()
    assert orphans == (0,)


def test_the_oldest_steps_are_forgotten_and_the_rest_can_be_undone(folder):
    prune(folder, 4)
    with opened(folder) as store:
        while undo(store) is not None:
            pass
        assert store.read().board.name == "name 5"
        assert len(store.audit()) == 14


def test_of_undone_steps_the_first_to_be_done_again_are_kept(folder):
    with opened(folder) as store:
        while undo(store) is not None:
            pass
    prune(folder, 4)
    with opened(folder) as store:
        names = []
        while redo(store) is not None:
            names.append(store.read().board.name)
    assert names == ["name 0", "name 1", "name 2", "name 3"]


def test_a_journal_within_its_bound_is_left_alone(folder):
    before = tables_of(folder)
    prune(folder, 10)
    with opened(folder) as store:
        assert sum(1 for _ in iter(lambda: undo(store), None)) == 10
    assert tables_of(folder)["board"] != before["board"]


def test_opening_a_board_prunes_its_journal(folder, monkeypatch):
    monkeypatch.setattr(journal.prune, "__defaults__", (3,))
    with opened(folder) as store:
        assert sum(1 for _ in iter(lambda: undo(store), None)) == 3


def test_a_new_step_takes_the_place_of_those_undone(folder):
    with opened(folder) as store:
        undo(store)
        undo(store)
        do(store, edit_board, Board("another way"))
        assert redo(store) is None
        undo(store)
        assert store.read().board.name == "name 7"
        redo(store)
        assert store.read().board.name == "another way"


def test_an_operation_that_changes_nothing_leaves_no_entry_and_keeps_what_can_be_done_again(folder):
    with opened(folder) as store:
        undo(store)
        audit = store.audit()
        do(store, edit_board, Board("name 8"))
        assert store.audit() == audit
        redo(store)
        assert store.read().board.name == "name 9"


def test_a_step_whose_rows_were_changed_past_the_program_is_refused(folder):
    plant(folder, "UPDATE board SET note = 'by hand'")
    with opened(folder) as store:
        with pytest.raises(InputError) as caught:
            undo(store)
        assert caught.value.problem.what == (
            "The board is no longer as this step left it, so it cannot be taken back or done again."
        )
        assert store.read().board.note == "by hand"


def test_a_failing_operation_leaves_no_trace(folder):
    def half_way(tx):
        edit_board(tx, Board("half way"))
        raise ZeroDivisionError

    before = tables_of(folder)
    with opened(folder) as store:
        audit, step = store.audit(), store.next_step("undo")
        with pytest.raises(ZeroDivisionError):
            do(store, half_way)
        assert (store.audit(), store.next_step("undo")) == (audit, step)
    assert tables_of(folder) == before


def test_numbers_come_back_exactly(tmp_path):
    folder = empty_board(tmp_path / "b")
    outline = ((0.1 + 0.2, 1e-300), (1 / 3, 0.0), (7.0, 99999.99999999999))
    with opened(folder) as store:
        do(store, add_coupon, Coupon("C1", Position(0, 0), outline_mm=outline))
        do(store, edit_board, Board("x", incline_deg=45, width_mm=0.1, started=datetime(1900, 1, 1)))
        record = store.read()
        assert record.coupons[1].outline_mm == outline
        assert repr(record.board.incline_deg) == "45.0"
        undo(store), undo(store)
        redo(store), redo(store)
        assert store.read() == record
        assert repr(store.read()) == repr(record)


def test_undoing_one_grade_does_not_search_through_all_of_them(tmp_path):
    # Without the indexes behind the foreign keys each undone row reads the whole table of gradings.
    folder = graded_board(tmp_path / "b")
    plant(
        folder,
        "INSERT INTO inspection (at, grader, light, surface, note) WITH n(i) AS (SELECT 1 UNION ALL SELECT i + 1 "
        "FROM n WHERE i < 20000) SELECT '2030-01-01T00:00:00', '', '', '', '' FROM n",
        "INSERT INTO grading (coupon, inspection, grade, distribution, grader, source, note, recorded, state) "
        "SELECT coupon.key, inspection.key, 7, '', '', 'eye', '', '', 'superseded' FROM coupon, inspection",
    )
    with raw(folder) as connection:
        connection.execute("PRAGMA foreign_keys = ON")
        for table, column in (("grading", "coupon"), ("grading", "inspection"), ("grading", "replaces"),
                              ("coupon", "treatment"), ("photo", "inspection"), ("blind_inspection", "photo"),
                              ("blind_round", "blind"), ("blind_grade", "round"), ("blind_grade", "coupon"),
                              ("blind_grade", "replaces"), ("pair_choice", "inspection"),
                              ("pair_choice", "left_coupon"), ("pair_choice", "right_coupon"),
                              ("damage", "coupon"), ("damage", "inspection")):  # fmt: skip
            plan = connection.execute(f"EXPLAIN QUERY PLAN SELECT 1 FROM {table} WHERE {column} = 5").fetchall()
            assert "USING" in plan[0][3], (table, column)


def test_a_day_later_everything_can_still_be_undone(folder):
    with opened(folder, now=NOW + timedelta(days=1)) as store:
        while undo(store) is not None:
            pass
        assert store.read().board.name == "Harbour wall"


def test_what_joins_the_newest_step_is_undone_and_redone_with_it(folder):
    with opened(folder) as store:
        do(store, add_coupon, Coupon("C01", Position(0, 0)))
        step = store.newest_step()
        store.apply(edit_board, Board("joined"), now=NOW, who="", joins=step)
        assert store.newest_step() == step
        summary, _ = undo(store)
        assert "C01" in summary.parts
        assert (store.read().board.name, store.read().coupons) == ("name 9", {})
        redo(store)
        assert (store.read().board.name, len(store.read().coupons)) == ("joined", 1)


def test_what_cannot_join_is_a_step_of_its_own(folder):
    with opened(folder) as store:
        renamed = store.newest_step()
        store.apply(edit_board, Board("the same row again"), now=NOW, who="", joins=renamed)
        assert store.newest_step() != renamed
        undo(store)
        assert store.read().board.name == "name 9"
        do(store, add_coupon, Coupon("C01", Position(0, 0)))
        store.apply(edit_board, Board("late"), now=NOW, who="", joins=renamed)
        undo(store)
        assert (store.read().board.name, len(store.read().coupons)) == ("name 9", 1)
