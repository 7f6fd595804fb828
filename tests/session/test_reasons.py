"""Why figures were revised: the record of changes says the true reason."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace
from datetime import timedelta

import pytest
from painted_boards import add, board_of, measured, painted

from rustboard.board.measured import Disturbance, ExcludedArea, Stroke
from rustboard.operations.areas import set_excluded_areas
from rustboard.operations.boards import edit_board
from rustboard.operations.brushing import add_stroke, remove_strokes
from rustboard.operations.disturbances import note_disturbance
from rustboard.session.out_of_date import OutOfDate
from rustboard.session.photo_days import photos_in_order


@pytest.fixture
def session(tmp_path):
    with closing(board_of(tmp_path / "board", painted())) as opened:
        measured(opened, tmp_path / "cache")
        yield opened


@pytest.fixture
def cache(tmp_path, session):
    return tmp_path / "cache"


def rustiest(session):
    last = photos_in_order(session.record)[-1].key
    return max(session.record.coupons, key=lambda key: session.record.measured[last][key].percent)


def reasons(session, coupon):
    """Return the reasons of a coupon's figures, by the photos' order."""
    return [session.record.measured[each.key][coupon].reason for each in photos_in_order(session.record)]


def brushed(session, coupon):
    last = photos_in_order(session.record)[-1].key
    session.do(add_stroke, Stroke(last, coupon, False, 30.0, ((5.0, 5.0), (40.0, 60.0))))
    return last


def test_after_a_stroke_the_reason_is_the_hand_here_and_in_the_other_photos(session, cache):
    coupon = rustiest(session)
    last = brushed(session, coupon)
    measured(session, cache)
    *others, own = reasons(session, coupon)
    assert own == "corrected by hand"
    assert set(others) <= {"", "judged together with another photo, which was corrected by hand"}
    assert session.record.measured[last][coupon].replaces is not None


def test_strokes_taken_back_are_a_correction_by_hand_too(session, cache):
    coupon = rustiest(session)
    last = brushed(session, coupon)
    measured(session, cache)
    session.do(remove_strokes, last, coupon)
    measured(session, cache)
    assert reasons(session, coupon)[-1] == "corrected by hand"


def test_after_a_hole_the_reason_is_what_counts(session, cache):
    coupon = rustiest(session)
    hole = ((0.0, 0.0), (20.0, 0.0), (20.0, 60.0), (0.0, 60.0))
    session.do(set_excluded_areas, coupon, [ExcludedArea(coupon, "hole", hole)])
    assert OutOfDate(session.record).in_photo(photos_in_order(session.record)[-1].key) == {coupon: {"shape"}}
    measured(session, cache)
    assert set(reasons(session, coupon)) == {"its outline or what counts of it changed"}
    assert OutOfDate(session.record).to_measure() == []
    others = session.record.coupons.keys() - {coupon}
    assert {reason for each in others for reason in reasons(session, each)} == {""}


def test_after_another_margin_and_an_entry_in_the_day_log_both_are_told(session, cache):
    coupon = rustiest(session)
    photos = photos_in_order(session.record)
    session.do(note_disturbance, Disturbance(photos[-1].taken - timedelta(hours=1), "touched", coupon))
    session.do(edit_board, replace(session.record.board, edge_margin_mm=8.0))
    measured(session, cache)
    assert reasons(session, coupon)[-1] == (
        "its outline or what counts of it changed; the day log says otherwise what was done to it"
    )


def test_one_more_photo_makes_no_figure_out_of_date(tmp_path):
    with closing(board_of(tmp_path / "board", painted(), photos=3)) as session:
        measured(session, tmp_path / "cache")
        add(session, painted().photos[3])
        standing = OutOfDate(session.record)
        assert [standing.in_photo(each.key) for each in photos_in_order(session.record)] == [{}] * 4
        assert len(standing.to_measure()) == 1
        measured(session, tmp_path / "cache")
        told = {reason for coupon in session.record.coupons for reason in reasons(session, coupon)}
        assert told <= {"", "judged together with other photos", "what lay there has gone since, so it was dirt"}
