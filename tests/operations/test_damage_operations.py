"""Damage beside the grade: noted, put right, taken back, undone. The grade stays as it is."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime

import pytest

from rustboard.board.damage import MOST_WIDTHS, SEVERITIES, SEVERITY_WORDS
from rustboard.board.damages_noted import damages_of
from rustboard.board.model import Coupon, Inspection
from rustboard.operations.coupons import add_coupon
from rustboard.operations.damage import GivenDamage, check_damage, note_damage, withdraw_damage
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.report.tidy import tidy_grades
from rustboard.support.problems import InputError

CREEP = GivenDamage(1, 1, "creep", scribe_mm=0.5, widths_mm=(2.1, 3.0), grader="Ann")
BLISTERS = GivenDamage(1, 1, "blisters", 15.0, "m", grader="Ann")


@pytest.fixture(autouse=True)
def _a_coupon_and_an_inspection(session):
    session.do(add_coupon, Coupon("C1"))
    session.do(add_inspection, Inspection(datetime(2026, 3, 2, 9)))


def test_whoever_shows_the_coupon_is_told_of_its_damage_also_by_undo_and_redo(session):
    told = []
    session.feed.subscribe(told.append)
    session.do(note_damage, BLISTERS)
    session.undo()
    session.redo()
    session.do(withdraw_damage, 1, 1, "blisters")
    assert [(set(each.coupons), set(each.inspections)) for each in told] == [({1}, {1})] * 4
    session.feed.unsubscribe(told.append)


def test_undo_brings_back_what_was_noted_before(session):
    session.do(note_damage, BLISTERS)
    session.do(note_damage, replace(BLISTERS, percent=20.0))
    assert [each.percent for each in damages_of(session.record, 1, 1)] == [20.0]
    session.undo()
    assert [each.percent for each in damages_of(session.record, 1, 1)] == [15.0]
    session.undo()
    assert damages_of(session.record, 1, 1) == ()


def test_grades_and_their_table_are_the_same_with_damage_noted(session):
    session.do(grade_coupon, GivenGrade(1, 1, 7, "S", grader="Ann"))
    before = session.record.grading(1, 1), list(tidy_grades(session.record))
    for kind in ("edge rust", "stain", "blisters", "peeling"):
        session.do(note_damage, GivenDamage(1, 1, kind, 90.0, "x"))
    session.do(note_damage, CREEP)
    assert (session.record.grading(1, 1), list(tidy_grades(session.record))) == before


@pytest.mark.parametrize("percent", [-1.0, 100.1, math.nan, math.inf])
def test_a_share_that_cannot_be_is_refused(refused, percent):
    assert "from 0 to 100 %" in refused(note_damage, replace(BLISTERS, percent=percent))


@pytest.mark.parametrize("width", [-1.0, 1000.1, math.nan, math.inf])
def test_a_width_that_cannot_be_is_refused(refused, width):
    assert "from 0 to 1000 mm" in refused(note_damage, replace(CREEP, widths_mm=(2.1, width)))
    assert "from 0 to 1000 mm" in refused(note_damage, replace(CREEP, scribe_mm=width))


def test_too_many_widths_and_zones_narrower_than_the_scribe_are_refused(refused):
    assert "At most 100 widths" in refused(note_damage, replace(CREEP, widths_mm=(2.0,) * (MOST_WIDTHS + 1)))
    assert "never narrower" in refused(note_damage, replace(CREEP, widths_mm=(0.4,)))


def test_what_is_refused_can_be_asked_before_without_a_board(refused):
    check_damage(CREEP)
    nothing = GivenDamage(1, 1, "stain")
    with pytest.raises(InputError, match="how much is damaged") as caught:
        check_damage(nothing)
    assert str(caught.value) == refused(note_damage, nothing)


def test_every_severity_has_its_word():
    assert tuple(SEVERITY_WORDS) == SEVERITIES
