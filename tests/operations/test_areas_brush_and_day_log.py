"""Outlines and areas that do not count, strokes of the brush, cards, and the day log."""

from datetime import datetime

import pytest

from rustboard.board.measured import Card, Disturbance, ExcludedArea, Stroke
from rustboard.board.model import Board, Coupon, Photo
from rustboard.board.position import Position
from rustboard.operations.areas import set_card, set_excluded_areas, set_outlines
from rustboard.operations.boards import edit_board
from rustboard.operations.brushing import add_stroke, remove_strokes
from rustboard.operations.coupons import add_coupon, move_coupon, remove_coupon
from rustboard.operations.disturbances import note_disturbance, remove_disturbance
from rustboard.operations.photos import add_photo

OUTLINE = ((30.0, 40.0), (90.0, 40.0), (90.0, 160.0), (30.0, 160.0))
HOLE = ((28.0, 4.0), (32.0, 4.0), (32.0, 8.0), (28.0, 8.0))


@pytest.fixture(autouse=True)
def _a_coupon_with_an_outline(session):
    session.do(edit_board, Board("Harbour wall", 3, 7, 700, 400))
    session.do(add_coupon, Coupon("C1", Position(0, 0), outline_mm=OUTLINE))
    session.do(add_coupon, Coupon("C2", Position(0, 1)))
    session.do(add_photo, Photo("IMG_1.jpg", "a.jpg", "0" * 64, 4000, 3000))


def areas(session):
    return [(each.coupon, each.kind, each.outline_mm) for each in session.record.excluded_areas.values()]


def test_outlines_of_several_coupons_are_drawn_in_one_step(session):
    moved = tuple((x + 100, y) for x, y in OUTLINE)
    assert session.do(set_outlines, {1: OUTLINE, 2: moved}).summary.text() == "Draw the outlines of 2 coupons"
    assert session.record.coupons[2].outline_mm == moved
    session.undo()
    assert session.record.coupons[2].outline_mm == ()


def test_an_outline_that_is_none_is_refused_and_none_is_drawn(session, refused):
    assert "crosses or touches itself" in refused(set_outlines, {2: OUTLINE, 1: ((0, 0), (60, 50), (50, 0), (0, 30))})


def test_areas_that_do_not_count_replace_those_before(session):
    session.do(set_excluded_areas, 1, [ExcludedArea(1, "hole", HOLE)])
    session.do(set_excluded_areas, 1, [ExcludedArea(1, "label", HOLE), ExcludedArea(1, "other", HOLE)])
    assert areas(session) == [(1, "label", HOLE), (1, "other", HOLE)]
    session.do(set_excluded_areas, 1, [])
    assert areas(session) == []


def test_a_hole_goes_along_when_its_coupon_moves(session):
    session.do(set_excluded_areas, 1, [ExcludedArea(1, "hole", HOLE)])
    session.do(move_coupon, 1, Position(1, 3))
    assert areas(session) == [(1, "hole", HOLE)]


def test_a_hole_stays_at_its_place_on_the_steel_when_the_outline_around_it_grows(session):
    session.do(set_excluded_areas, 1, [ExcludedArea(1, "hole", HOLE)])
    session.do(set_outlines, {1: ((20.0, 30.0), (90.0, 40.0), (90.0, 160.0), (30.0, 160.0))})
    assert areas(session) == [(1, "hole", tuple((x + 10, y + 10) for x, y in HOLE))]


@pytest.mark.parametrize(
    "bad", [(), ((0, 0), (1, 1)), ((0, 0), (9, 9), (9, 0), (0, 9)), ((0, 0), (1, 0), (float("nan"), 1))]
)
def test_an_area_that_is_none_is_refused(session, refused, bad):
    assert "that does not count cannot be kept" in refused(set_excluded_areas, 1, [ExcludedArea(1, "hole", bad)])


def test_there_is_one_card_at_most(session):
    session.do(set_card, Card("grey card", OUTLINE))
    session.do(set_card, Card("white card", OUTLINE))
    assert [each.kind for each in session.record.cards.values()] == ["white card"]
    session.do(set_card, None)
    assert session.record.cards == {}


def test_strokes_are_kept_one_by_one_and_taken_back_together(session):
    stroke = Stroke(1, 1, True, 2.5, ((1.0, 2.0), (3.0, 4.0)))
    assert session.do(add_stroke, stroke).summary.text() == "Add rust by brush on C1"
    session.do(add_stroke, Stroke(1, 1, False, 1.0, ((1.0, 2.0),)))
    assert [(each.adds, each.radius_mm, each.points_mm) for each in session.record.strokes.values()] == [
        (True, 2.5, ((1.0, 2.0), (3.0, 4.0))),
        (False, 1.0, ((1.0, 2.0),)),
    ]
    session.do(remove_strokes, 1, 1)
    assert session.record.strokes == {}
    session.undo()
    assert len(session.record.strokes) == 2


@pytest.mark.parametrize(("stroke", "words"), [
    (Stroke(1, 1, True, 0.0, ((1.0, 2.0),)), "at most 200 mm wide"),
    (Stroke(1, 1, True, 201.0, ((1.0, 2.0),)), "at most 200 mm wide"),
    (Stroke(1, 1, True, float("nan"), ((1.0, 2.0),)), "at most 200 mm wide"),
    (Stroke(1, 1, True, 1.0, ()), "1 to 2000 points"),
    (Stroke(1, 1, True, 1.0, ((1.0, 2.0),) * 2001), "1 to 2000 points"),
    (Stroke(1, 1, True, 1.0, ((1.0, float("inf")),)), "not a number"),
    (Stroke(9, 1, True, 1.0, ((1.0, 2.0),)), "This photo is no longer on the board"),
    (Stroke(1, 9, True, 1.0, ((1.0, 2.0),)), "This coupon is no longer on the board"),
])  # fmt: skip
def test_a_stroke_that_cannot_be_is_refused(refused, stroke, words):
    assert words in refused(add_stroke, stroke)


def test_a_disturbance_is_noted_changed_and_taken_out(session):
    when = datetime(2026, 3, 5, 8)
    changes = session.do(note_disturbance, Disturbance(when, "cleaned", 1, "wire brush"))
    assert changes.summary.text() == "Note in the day log: C1, cleaned"
    session.do(note_disturbance, Disturbance(when, "touched", None, key=1))
    assert session.record.disturbances == {1: Disturbance(when, "touched", None, "", 1)}
    session.do(remove_disturbance, 1)
    assert session.record.disturbances == {}


def test_the_day_log_refuses_what_it_does_not_know(session, refused):
    when = datetime(2026, 3, 5, 8)
    assert "A disturbance is one of" in refused(note_disturbance, Disturbance(when, "sold"))
    assert "check the date" in refused(note_disturbance, Disturbance(datetime(1600, 1, 1), "touched"))
    assert "no longer in the day log" in refused(note_disturbance, Disturbance(when, "touched", key=7))
    assert "no longer in the day log" in refused(remove_disturbance, 7)
    assert "This coupon is no longer" in refused(note_disturbance, Disturbance(when, "touched", 9))


def test_a_coupon_never_measured_goes_with_its_areas_and_strokes(session):
    session.do(set_excluded_areas, 1, [ExcludedArea(1, "hole", HOLE)])
    session.do(add_stroke, Stroke(1, 1, True, 2.5, ((1.0, 2.0),)))
    session.do(remove_coupon, 1)
    assert (session.record.excluded_areas, session.record.strokes) == ({}, {})
    session.undo()
    assert len(session.record.excluded_areas) == len(session.record.strokes) == 1
