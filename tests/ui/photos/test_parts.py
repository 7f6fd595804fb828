"""The parts of the photo screen that need no window: words, memory, zoom, blinking, masks, the brush."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from measured_boards import measured_board, measurement, painted_masks
from PySide6.QtCore import QPointF, QRect, QRectF, QSizeF
from PySide6.QtGui import QColor, QImage

from rustboard.board.measured import MOST_STROKE_POINTS
from rustboard.board.outline import bounds
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.photo.homography import mapped
from rustboard.photo.looks import Motion
from rustboard.scales.rust_grade import grade_from_percent
from rustboard.session.jobs import InlineExecutor
from rustboard.session.mask_views import MaskView
from rustboard.session.session import Session
from rustboard.ui.bridge import JobBridge
from rustboard.ui.measured_words import percent_text, suggestion_text
from rustboard.ui.photos.brush import Brush
from rustboard.ui.photos.comparison import LEAST_CHANGES, MOST_CHANGES, Comparison
from rustboard.ui.photos.day_strip import DayStrip
from rustboard.ui.photos.hung_outline import hung
from rustboard.ui.photos.kept import Kept
from rustboard.ui.photos.mask_overlay import overlay_of
from rustboard.ui.photos.photo_words import days_of, grouped, left_out
from rustboard.ui.photos.thumbnails import Thumbnails
from rustboard.ui.photos.viewport import MOST_ZOOM, Viewport
from rustboard.ui.theme import LIGHT, MASK_DIRT, MASK_RUST, MASK_UNSEEN

OUTLINE = ((30.0, 40.0), (90.0, 42.0), (88.0, 160.0), (31.0, 158.0))
shifts = st.floats(-10, 10)


# ---- outlines


@given(shifts, shifts, st.floats(-20, 20), st.floats(0.8, 1.3))
def test_an_outline_hangs_where_measuring_has_it(dx, dy, turn, scale):
    left, top, right, bottom = bounds(OUTLINE)
    matrix = Motion(dx, dy, turn, scale).matrix(((left + right) / 2, (top + bottom) / 2))
    assert np.allclose(hung(OUTLINE, (dx, dy, turn, scale)), mapped(matrix, OUTLINE), atol=1e-9)


# ---- words


@pytest.mark.parametrize(
    ("percent", "text"),
    [(0.0, "0"), (0.12, "0.12"), (0.004, "0.004"), (0.304, "0.304"), (3.456, "3.5"), (41.2, "41")],
)
def test_a_percentage_has_few_figures(percent, text):
    assert percent_text(percent) == text


@given(st.floats(0.0001, 100))
def test_a_percentage_as_written_belongs_to_the_same_grade(percent):
    written = float(percent_text(percent).replace(",", "."))
    assert grade_from_percent(written) == grade_from_percent(percent) or abs(written - percent) < 1e-5


def test_a_suggestion_says_grade_percent_and_range():
    assert suggestion_text(measurement(1, 1)) == "photo: 7-S, 0.12 % (0.05 to 0.30)"


def test_a_ten_that_the_photo_could_not_have_told_from_a_nine_says_so():
    blurred = measurement(1, 1, 0.0, low=0.0, high=0.06, resolvable_percent=0.05)
    assert suggestion_text(blurred) == "photo: 10, 0 % (0 to 0.06), not resolvable below 0.05 %"


def test_reasons_are_grouped():
    items = [("C01", "graded already"), ("C02", "glare."), ("C03", "graded already")]
    assert grouped(items) == "C01, C03: graded already; C02: glare"
    assert grouped([(f"C{number}", "glare") for number in range(10)], 2) == "C0, C1 and 8 more: glare"


def test_what_is_left_out_names_every_coupon_that_is_not_confident(tmp_path):
    folder = measured_board(tmp_path / "b", measurement(1, 2, confident=False))
    session = Session(folder)
    session.do(grade_coupon, GivenGrade(1, 1, 8, "S"))
    out = left_out(session.record, session.record.photos[1])
    session.close()
    assert out == [("C01", "graded already"), ("C02", "wants a closer look")]


# ---- memory


@given(st.lists(st.tuples(st.integers(0, 9), st.integers(1, 60)), max_size=40))
def test_no_more_is_kept_than_the_bound_and_the_newest_always(puts):
    kept: Kept[int, int] = Kept(100)
    for key, size in puts:
        kept.put(key, size, size)
        assert kept.get(key) == size
        assert kept.size == sum(kept.get(each) or 0 for each in kept.names())
        assert kept.size <= 100 or len(kept) == 1


def test_only_the_days_that_are_seen_get_pictures(qtbot, tmp_path):
    session = Session(measured_board(tmp_path / "b", photos=2), read_only=True)
    plain = session.record.photos[1]
    for key in range(3, 60):
        session.record.photos[key] = replace(plain, key=key)  # in memory alone
    bridge = JobBridge(None, InlineExecutor())
    thumbnails = Thumbnails(session, bridge)
    strip = DayStrip(thumbnails, LIGHT)
    qtbot.addWidget(strip)
    strip.row.show_days(days_of(session.record), 1, None)
    width = strip.row.item_width()
    strip.row.want_pictures(QRect(0, 0, width * 3, 1))
    photos = [each.photo for each in strip.row.days]
    made = [photo for photo in photos if thumbnails.image(photo) is not None]
    assert made == photos[: len(made)]
    assert 3 <= len(made) <= 10
    assert thumbnails.kept_bytes() <= 24 << 20
    bridge.close()
    session.close()


# ---- zoom


@given(st.floats(1, 899), st.floats(1, 599), st.lists(st.sampled_from((0.5, 0.8, 1.25, 2.0)), max_size=12))
def test_zoom_keeps_within_bounds_and_never_loses_the_picture(x, y, factors):
    view, pane = Viewport(), QRectF(0, 0, 900, 600)
    view.show(QSizeF(300, 500))
    for factor in factors:
        view.zoom_at(pane, QPointF(x, y), factor)
        assert 1 <= view.zoom <= MOST_ZOOM
        shown = view.transform(pane).mapRect(QRectF(QPointF(), view.size))
        assert shown.intersects(pane)


def test_the_place_under_the_pointer_stays_while_zooming():
    view, pane, pointer = Viewport(), QRectF(0, 0, 900, 600), QPointF(450, 200)
    view.show(QSizeF(900, 600))
    before = view.at(pane, pointer)
    view.zoom_at(pane, pointer, 3)
    assert view.at(pane, pointer).x() == pytest.approx(before.x())
    assert view.at(pane, pointer).y() == pytest.approx(before.y())


# ---- blinking


@given(st.floats(0, 1000))
def test_there_are_never_more_than_two_changes_a_second(rate):
    comparison = Comparison()
    comparison.set_rate(rate)
    assert 1000 / MOST_CHANGES <= comparison.interval_ms() <= 1000 / LEAST_CHANGES
    assert MOST_CHANGES <= 2


def test_blinking_changes_sides_and_stops_with_another_way(qtbot):
    comparison = Comparison()
    comparison.set_rate(2)
    comparison.choose("blink")
    with qtbot.waitSignal(comparison.changed, timeout=3000):
        pass
    assert comparison.shows_other()
    comparison.choose("slide")
    assert not comparison.is_running()
    assert not comparison.shows_other()


# ---- masks


def view_of(shape: tuple[int, int] = (120, 120)) -> MaskView:
    masks = painted_masks(shape)
    rgb = np.full((*shape, 3), 128, np.uint8)
    return MaskView(rgb, masks.rust, masks.debris, masks.unseen, np.ones(shape, np.bool_), 2.0, (-8.0, -8.0))


def colours_in(image: QImage | None, top: int, bottom: int) -> set[str]:
    assert image is not None
    found = (image.pixelColor(x, y) for y in range(top, bottom) for x in range(40, 60))
    return {each.name() for each in found if each.alpha() > 0}


def test_rust_dirt_and_unseen_are_told_apart_by_colour_and_pattern():
    overlay = overlay_of(view_of(), "tint")
    assert colours_in(overlay, 30, 40) == {MASK_RUST}, "filled"
    assert MASK_DIRT in colours_in(overlay, 50, 60)
    assert MASK_UNSEEN in colours_in(overlay, 70, 80)
    assert overlay is not None
    seen_through = [overlay.pixelColor(x, y).alpha() == 0 for y in range(70, 80) for x in range(40, 60)]
    assert any(seen_through), "a pattern, not a sheet"


def test_edges_alone_leave_the_rust_itself_to_be_seen():
    overlay = overlay_of(view_of(), "outline")
    assert overlay is not None
    assert overlay.pixelColor(50, 35).alpha() == 0
    assert overlay.pixelColor(50, 29) == QColor(MASK_RUST)


def test_without_a_measurement_there_is_nothing_to_lay_over():
    assert overlay_of(replace(view_of(), rust=None), "tint") is None


# ---- brush


def test_a_stroke_has_room_for_its_points_and_then_follows_the_hand():
    brush = Brush()
    brush.press(1, 2, (0.0, 0.0))
    for step in range(1, MOST_STROKE_POINTS + 50):
        brush.draw_to((step * 10.0, 0.0))
    stroke = brush.lift()
    assert stroke is not None
    assert len(stroke.points_mm) == MOST_STROKE_POINTS
    assert stroke.points_mm[-1] == ((MOST_STROKE_POINTS + 49) * 10.0, 0.0)


def test_points_that_change_nothing_are_left_out():
    brush = Brush()
    brush.press(1, 2, (5.0, 5.0))
    assert not brush.draw_to((5.01, 5.0))
    assert brush.lift() is not None
    assert brush.lift() is None
