"""Whatever is done, undone, done again, refused, closed and opened: the board is exactly what its history says."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule
from session_boards import NOW, opened, prepared

from rustboard.board.grades_csv import TypedGrade
from rustboard.board.layout import DRAIN_CARES, METHODS, Layout
from rustboard.board.model import Board, Coupon, Inspection, Photo, Treatment
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.board.shelving import Forerunner
from rustboard.operations.boards import add_line, edit_board, label_axis, remove_line
from rustboard.operations.coupons import add_coupon, edit_coupon, move_coupon, remove_coupon, take_off
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.operations.inspections import add_inspection, edit_inspection, remove_inspection
from rustboard.operations.layouts import (
    draw_board_lots,
    place_markers,
    remove_markers,
    set_grid,
    set_layout,
    set_out_coupons,
    set_replicates,
)
from rustboard.operations.leaving_out import leave_out, take_back_in
from rustboard.operations.photos import add_photo
from rustboard.operations.shelving import archive, bring_back, set_forerunner, set_tags
from rustboard.operations.treatments import add_treatment, edit_treatment, remove_treatment
from rustboard.operations.typed_grades import add_typed_grades, match_typed_grades
from rustboard.session.session import Session
from rustboard.store.check import check_board
from rustboard.support.problems import InputError

keys = st.sampled_from([1, 1, 2, 2, 3, 4, 5, 8])
texts = st.sampled_from(["", "a", "A", " b ", "Ä", "ä", "=1+1", "\ud800", "\x00\n", "{0}", "🐝", "x" * 400, "\u202e"])
numbers = st.sampled_from([0, 1, 2, 3, 7, 59, 60, -1, 10**30, float("nan"), float("inf"), 0.1])
rows, columns = st.integers(-1, 4), st.integers(-1, 7)
positions = st.builds(Position, rows, columns)
names = st.integers(0, 30).map("N{}".format) | texts
axes = st.sampled_from(["row", "column"])
outlines = st.sampled_from([(), ((0, 0), (9, 0), (9, 9)), ((0, 0), (float("nan"), 0), (9, 9)), ((0, 0), (1, 1))])
moments = st.integers(0, 5).map(lambda weeks: NOW + timedelta(weeks=weeks)) | st.just(NOW.replace(year=1066))
coupons = st.builds(
    Coupon,
    names,
    st.none() | positions,
    st.none() | keys,
    st.sampled_from(["test", "test", "control", "spy"]),
    texts,
    outlines,
)
treatments = st.builds(
    Treatment, texts, texts, coats=st.none() | st.integers(-1, 200), cost_per_m2=st.none() | numbers
)
layouts = st.builds(
    Layout, st.sampled_from(METHODS), st.sampled_from(DRAIN_CARES), st.integers(0, 3), st.booleans(),
    coupon_width_mm=numbers, coupon_height_mm=numbers,
)  # fmt: skip
boards = st.builds(Board, texts, width_mm=numbers, incline_deg=st.none() | numbers, started=st.none() | moments)
inspections = st.builds(Inspection, moments, texts, note=texts)
grades = st.builds(
    GivenGrade, keys, keys, st.integers(-1, 11), st.sampled_from(["", "S", "H", "Q"]), st.none() | numbers, texts,
    st.sampled_from(["eye", "photo confirmed", "guess"]), texts,
)  # fmt: skip
typed = st.builds(
    TypedGrade, st.integers(2, 9), moments, st.booleans(), st.sampled_from(["C1", "c2", "C9"]), st.integers(0, 10),
    st.just(""), st.none(), texts, texts,
)  # fmt: skip


class History(RuleBasedStateMachine):
    """One board and the row images it must show at each step of its history."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp(prefix="rustboard-history-"))
        self.session = prepared(self.folder / "b")
        file = self.session.folder / "board.rustboard"
        self.onlooker = sqlite3.connect(f"{file.as_uri()}?mode=ro", uri=True)
        self.done = [self.images()]
        self.undone: list[dict] = []
        self.audit: list[tuple] = self.audit_lines()
        # What was done to prepare the board is part of its history.
        self.before = 6

    def teardown(self) -> None:
        self.undo_and_redo_everything()
        self.session.close()
        self.onlooker.close()
        problems = check_board(self.session.folder).problems
        # The photos are recorded here, but were never kept.
        assert [each for each in problems if "is missing from the photos folder" not in each] == []
        shutil.rmtree(self.folder)

    def undo_and_redo_everything(self) -> None:
        while self.session.redo() is not None:
            pass
        last = [*self.done, *reversed(self.undone)][-1]
        assert self.images() == last
        steps = sum(1 for _ in iter(self.session.undo, None))
        assert steps == self.before + len(self.done) + len(self.undone) - 1
        assert self.session.record == BoardRecord(Board("Harbour wall"))
        assert steps == sum(1 for _ in iter(self.session.redo, None))
        assert self.images() == last
        self.record_is_what_the_disk_holds()

    def query(self, sql: str) -> list[tuple]:
        return self.onlooker.execute(sql).fetchall()

    def images(self) -> dict[str, list[tuple]]:
        tables = (
            "board", "axis_label", "treatment", "coupon", "inspection", "grading", "photo", "layout", "lot",
            "left_out", "tag", "shelving", "forerunner",
        )  # fmt: skip
        return {table: self.query(f"SELECT * FROM {table} ORDER BY key") for table in tables}

    def audit_lines(self) -> list[tuple]:
        return self.query("SELECT * FROM audit ORDER BY key")

    def attempt(self, operation, *arguments) -> None:
        try:
            changes = self.session.do(operation, *arguments)
        except InputError as error:
            told: str | None = error.problem.what
        else:
            told = None
        after = self.images()
        if told is not None or not changes.tables:
            assert told is None or told.endswith(".")
            assert after == self.done[-1], "nothing was to change"
            return
        assert after != self.done[-1]
        self.done.append(after)
        self.undone = []

    @rule(coupon=coupons)
    def add_a_coupon(self, coupon):
        self.attempt(add_coupon, coupon)

    @rule(key=keys, reason=texts | st.sampled_from(["fell off", "x" * 501]))
    def leave_a_coupon_out(self, key, reason):
        self.attempt(leave_out, key, reason)

    @rule(key=keys)
    def take_a_coupon_back_in(self, key):
        self.attempt(take_back_in, key)

    @rule(key=keys, coupon=coupons)
    def edit_a_coupon(self, key, coupon):
        self.attempt(edit_coupon, replace(coupon, key=key))

    @rule(key=keys, position=positions)
    def move_a_coupon(self, key, position):
        self.attempt(move_coupon, key, position)

    @rule(key=keys, operation=st.sampled_from([take_off, remove_coupon, remove_treatment, remove_inspection]))
    def take_something_away(self, key, operation):
        self.attempt(operation, key)

    @rule(treatment=treatments, key=st.just(0) | keys)
    def add_or_edit_a_treatment(self, treatment, key):
        if key:
            self.attempt(edit_treatment, replace(treatment, key=key))
        else:
            self.attempt(add_treatment, treatment)

    @rule(inspection=inspections, key=st.just(0) | keys)
    def add_or_edit_an_inspection(self, inspection, key):
        if key:
            self.attempt(edit_inspection, replace(inspection, key=key))
        else:
            self.attempt(add_inspection, inspection)

    @rule(given=grades)
    def give_a_grade(self, given):
        self.attempt(grade_coupon, given)

    @rule(given=st.lists(st.tuples(keys, keys, st.integers(0, 10), texts), min_size=1, max_size=5))
    def tap_grades(self, given):
        for coupon, inspection, grade, note in given:
            self.attempt(grade_coupon, GivenGrade(coupon, inspection, grade, note=note))

    @rule(data=st.data(), note=texts, treatment=st.none() | keys)
    def change_a_coupon_that_is_there(self, data, note, treatment):
        there = sorted(self.session.record.coupons.values(), key=repr)
        coupon = data.draw(st.sampled_from(there or [Coupon("C1")]))
        self.attempt(edit_coupon, replace(coupon, note=note, treatment=treatment))

    @rule(data=st.data())
    def withdraw_a_grade_that_is_there(self, data):
        there = sorted((each.coupon, each.inspection) for *_, each in self.session.record.current_gradings())
        self.attempt(withdraw_grade, *data.draw(st.sampled_from(there or [(1, 1)])))

    @rule(data=st.data(), row=st.integers(0, 2), column=st.integers(0, 6))
    def swap_or_move_a_coupon_that_is_there(self, data, row, column):
        key = data.draw(st.sampled_from(sorted(self.session.record.coupons) or [1]))
        self.attempt(move_coupon, key, Position(row, column))

    @rule(coupon=keys, inspection=keys)
    def withdraw_a_grade(self, coupon, inspection):
        self.attempt(withdraw_grade, coupon, inspection)

    @rule(rows=st.lists(typed, max_size=6))
    def add_grades_from_a_file(self, rows):
        matched, problems = match_typed_grades(self.session.record, rows, "grades.csv")
        assert len(matched) + len(problems) == len(rows)
        self.attempt(add_typed_grades, matched)

    @rule(board=boards)
    def edit_the_board(self, board):
        self.attempt(edit_board, board)

    @rule(axis=axes, number=rows, label=texts)
    def label_a_row_or_column(self, axis, number, label):
        self.attempt(label_axis, axis, number, label)

    @rule(axis=axes, number=rows, operation=st.sampled_from([add_line, remove_line]))
    def change_the_grid(self, axis, number, operation):
        self.attempt(operation, axis, number)

    @rule(layout=layouts)
    def set_the_layout(self, layout):
        self.attempt(set_layout, layout)

    @rule(seed=st.integers(-1, 9), operation=st.sampled_from([draw_board_lots, place_markers]))
    def draw_lots_or_place_markers(self, seed, operation):
        self.attempt(operation, seed)

    @rule(key=st.none() | keys, count=st.integers(-1, 6))
    def set_the_number_of_replicates(self, key, count):
        self.attempt(set_replicates, key, count)

    @rule(rows=st.integers(0, 5), columns=st.integers(0, 8))
    def set_the_grid(self, rows, columns):
        self.attempt(set_grid, rows, columns)

    @rule(operation=st.sampled_from([set_out_coupons, remove_markers]))
    def lay_out(self, operation):
        self.attempt(operation)

    @rule(words=st.lists(texts, max_size=4) | st.just(["x" * 41]) | st.just(list("abcdefghijklmnopqrstuvwxyz")))
    def tag(self, words):
        self.attempt(set_tags, words)

    @rule(operation=st.sampled_from([archive, bring_back]))
    def put_away_or_bring_back(self, operation):
        self.attempt(operation)

    @rule(forerunner=st.none() | st.builds(Forerunner, texts, st.none() | moments, texts, texts, texts))
    def follow_another_board(self, forerunner):
        self.attempt(set_forerunner, forerunner)

    @rule(number=keys, inspection=st.none() | keys, taken=st.none() | moments)
    def add_a_photo(self, number, inspection, taken):
        photo = Photo("a.jpg", f"undated-{number:016}.jpg", str(number), 4, 3, taken, inspection)
        self.attempt(add_photo, photo)

    @rule()
    def undo(self):
        changes = self.session.undo()
        if changes is not None and len(self.done) > 1:
            self.undone.append(self.done.pop())
            assert self.images() == self.done[-1]
        elif changes is not None:
            self.session.redo()  # what prepared the board stays

    @precondition(lambda self: self.undone)
    @rule()
    def redo(self):
        assert self.session.redo() is not None
        self.done.append(self.undone.pop())
        assert self.images() == self.done[-1]

    @rule()
    def close_and_open_again(self):
        record = self.session.record
        self.session.close()
        self.session = opened(self.folder / "b")
        assert self.session.read_only_reason == ""
        assert self.session.record == record

    @invariant()
    def record_is_what_the_disk_holds(self):
        with closing(Session(self.folder / "b", read_only=True)) as other:
            assert other.record == self.session.record

    @invariant()
    def audit_only_grows(self):
        lines = self.audit_lines()
        assert lines[: len(self.audit)] == self.audit
        self.audit = lines


# Each example is a board on a disk, so few of them with many steps.
History.TestCase.settings = settings(settings.get_profile("ci"), max_examples=30, stateful_step_count=40)
TestHistory = History.TestCase
