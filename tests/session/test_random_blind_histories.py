"""Whatever is graded blind, undone, refused, closed and opened: the record is what the disk holds.

Every final step (a finished round, a reveal) is a wall that undo does not pass; between walls it goes all the way.
"""

from __future__ import annotations

import shutil
import tempfile
from contextlib import closing
from pathlib import Path

import pytest
from hypothesis import event, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule
from session_boards import opened, prepared

from rustboard.board.model import Coupon
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.operations.blind import (
    BlindChoice,
    GivenBlind,
    agree_grade,
    begin_round,
    finish_round,
    give_blind,
    reveal,
    start_blind,
    withdraw_blind,
)
from rustboard.operations.blind_steps import FINAL_STEPS
from rustboard.operations.coupons import add_coupon, move_coupon, remove_coupon, take_off
from rustboard.operations.damage import GivenDamage, note_damage, withdraw_damage
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.operations.inspections import remove_inspection
from rustboard.operations.side_by_side import GivenChoice, choose, withdraw_choice
from rustboard.session.session import Session
from rustboard.store.check import check_board
from rustboard.support.problems import InputError

keys = st.sampled_from([1, 1, 2, 2, 3, 4])
grades = st.integers(-1, 11)
letters = st.sampled_from(["", "", "S", "G", "Q"])
notes = st.sampled_from(["", "", "drip", "\ud800", "{0}", "x" * 400])
graders = st.sampled_from(["Ann", "ann ", "Bo", "Cy", ""])
shares = st.sampled_from([0.0, 25.0, 100.0, -1.0])
kinds = st.sampled_from(["stain", "creep", "edge rust", "sofa"])


class BlindHistory(RuleBasedStateMachine):
    """One board, and what it held after each step since the last wall."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp(prefix="rustboard-blind-"))
        self.session = prepared(self.folder / "b")
        self.done: list[BoardRecord] = [self.session.record.snapshot()]
        self.undone: list[BoardRecord] = []
        self.walled = False

    def teardown(self) -> None:
        while len(self.done) > 1:
            self.undo()
        if self.walled:
            with pytest.raises(InputError, match="What was revealed cannot be hidden again"):
                self.session.undo()
        self.session.close()
        assert check_board(self.folder / "b").problems == []
        shutil.rmtree(self.folder)

    def attempt(self, operation, *arguments) -> bool:
        before = self.session.record.snapshot()
        try:
            changes = self.session.do(operation, *arguments)
        except InputError as error:
            told = error.problem.what
        else:
            told = ""
        if told:
            assert told.endswith(".")
            assert self.session.record == before
            return False
        if changes.tables:
            self.undone = []
            if changes.summary.pattern in FINAL_STEPS:
                self.done, self.walled = [], True
                event(changes.summary.pattern)
            self.done.append(self.session.record.snapshot())
        return True

    @rule(inspection=keys, share=shares)
    def start(self, inspection, share):
        self.attempt(start_blind, BlindChoice(inspection, "bench", None, share))

    @precondition(lambda self: self.session.record.hidden_inspection is None)
    @rule(grader=st.sampled_from(["Ann", "Bo"]), share=st.sampled_from([0.0, 50.0]))
    def start_at_an_inspection_not_yet_blind_and_begin(self, grader, share):
        record = self.session.record
        blind = {each.inspection for each in record.blind_inspections.values()}
        free = [key for key in record.inspections if key not in blind]
        if free and self.attempt(start_blind, BlindChoice(free[0], "bench", None, share)):
            self.attempt(begin_round, record.hidden_inspection.key, grader, 7)

    @precondition(lambda self: self.session.record.hidden_inspection is not None and self.open_round() is None)
    @rule(grader=graders)
    def begin_at_the_hidden_one(self, grader):
        self.attempt(begin_round, self.session.record.hidden_inspection.key, grader, 7)

    @rule(blind=keys, grader=graders, seed=st.integers(0, 2**62))
    def begin(self, blind, grader, seed):
        self.attempt(begin_round, blind, grader, seed)

    @precondition(lambda self: self.open_round() is not None)
    @rule(share=st.floats(0, 1), grade=grades, letter=letters, note=notes)
    def give(self, share, grade, letter, note):
        one = self.open_round()
        number = int(share * len(one.showings))
        self.attempt(give_blind, GivenBlind(one.key, number, grade, letter, None, note))

    @precondition(lambda self: self.open_round() is not None)
    @rule(grade=st.integers(0, 10))
    def give_the_rest_and_finish(self, grade):
        one = self.open_round()
        for number in range(len(one.showings)):
            if number not in self.session.record.blind_grades.get(one.key, {}):
                assert self.attempt(give_blind, GivenBlind(one.key, number, grade))
        assert self.attempt(finish_round, one.key)

    def open_round(self):
        rounds = self.session.record.blind_rounds.values()
        return next((each for each in rounds if each.finished is None), None)

    @rule(key=keys, number=st.integers(0, 7))
    def withdraw(self, key, number):
        self.attempt(withdraw_blind, key, number)

    @rule(key=keys)
    def finish(self, key):
        self.attempt(finish_round, key)

    @precondition(lambda self: self.session.record.hidden_inspection is not None)
    @rule()
    def reveal_all(self):
        assert self.attempt(reveal, self.session.record.hidden_inspection.key)
        assert self.session.record.hidden_inspection is None

    @rule(coupon=keys, inspection=keys, grade=grades, letter=letters)
    def agree(self, coupon, inspection, grade, letter):
        self.attempt(agree_grade, coupon, inspection, grade, letter)

    @rule(coupon=keys, inspection=keys, grade=st.integers(0, 10))
    def grade_openly(self, coupon, inspection, grade):
        hidden = self.session.record.hidden_inspection
        done = self.attempt(grade_coupon, GivenGrade(coupon, inspection, grade))
        assert not (done and hidden is not None and hidden.inspection == inspection)

    @rule(coupon=keys, inspection=keys)
    def withdraw_openly(self, coupon, inspection):
        self.attempt(withdraw_grade, coupon, inspection)

    @rule(left=keys, right=keys, inspection=keys, side=st.sampled_from(["left", "right", "neither", "up"]))
    def choose_side_by_side(self, left, right, inspection, side):
        self.attempt(choose, GivenChoice(inspection, "Ann", left, right, side))

    @rule(key=keys)
    def take_a_choice_back(self, key):
        self.attempt(withdraw_choice, key)

    @rule(coupon=keys, inspection=keys, kind=kinds, percent=st.none() | st.floats(-1, 101), note=notes)
    def note_some_damage(self, coupon, inspection, kind, percent, note):
        creep = {"scribe_mm": 1.0, "widths_mm": (2.0, 3.5)} if kind == "creep" else {}
        self.attempt(note_damage, GivenDamage(coupon, inspection, kind, percent, note=note, **creep))

    @rule(coupon=keys, inspection=keys, kind=kinds)
    def take_damage_back(self, coupon, inspection, kind):
        self.attempt(withdraw_damage, coupon, inspection, kind)

    @rule(key=keys, operation=st.sampled_from([take_off, remove_coupon, remove_inspection]))
    def take_something_away(self, key, operation):
        self.attempt(operation, key)

    @rule(key=keys, column=st.integers(0, 6))
    def hang_a_coupon(self, key, column):
        if not self.attempt(add_coupon, Coupon(f"C{key}", Position(1, column))):
            self.attempt(move_coupon, key, Position(0, column))

    @precondition(lambda self: len(self.done) > 1)
    @rule()
    def undo(self):
        assert self.session.undo() is not None
        self.undone.append(self.done.pop())
        assert self.session.record == self.done[-1]

    @precondition(lambda self: self.undone)
    @rule()
    def redo(self):
        assert self.session.redo() is not None
        self.done.append(self.undone.pop())
        assert self.session.record == self.done[-1]

    @precondition(lambda self: self.walled and len(self.done) == 1)
    @rule()
    def undo_at_the_wall(self):
        assert self.session.undo_summary() is None
        with pytest.raises(InputError, match="What was revealed cannot be hidden again"):
            self.session.undo()

    @rule()
    def close_and_open_again(self):
        record = self.session.record
        self.session.close()
        self.session = opened(self.folder / "b")
        assert self.session.record == record

    @invariant()
    def record_is_what_the_disk_holds(self):
        with closing(Session(self.folder / "b", read_only=True)) as other:
            assert other.record == self.session.record

    @invariant()
    def hidden_grades_are_none_of_the_boards(self):
        record = self.session.record
        hidden = record.hidden_inspection
        if hidden is not None:
            here = [graded[hidden.inspection] for graded in record.current.values() if hidden.inspection in graded]
            assert {each.source for each in here} <= {"eye"}


# Each example is a board on a disk, so few of them with many steps.
BlindHistory.TestCase.settings = settings(settings.get_profile("ci"), max_examples=25, stateful_step_count=40)
TestBlindHistory = BlindHistory.TestCase
