"""Grading by percent in the window: the switch, what Enter gives, what is recorded, and that it stays chosen."""

from __future__ import annotations

import pytest
from measured_boards import measured_board
from photographed_boards import photographed
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton
from window_driving import Person, grades_on_disk, gradings_on_disk, made_board, reopened, settle

from rustboard.board.measured import ExcludedArea
from rustboard.operations.areas import set_excluded_areas
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.scales.percent_scale import place_of
from rustboard.support import paths
from rustboard.support.settings import load_settings

KEY = Qt.Key


def button(person: Person, name: str) -> QPushButton:
    return next(each for each in person.panel.findChildren(QPushButton) if each.accessibleName().startswith(name))


@pytest.fixture
def by_percent(person: Person) -> Person:
    person.tap("A1")
    person.key("%")
    return person


def test_the_switch_shows_the_slider_in_the_place_of_the_keys_and_is_remembered(person, yard, sitting_at, tmp_path):
    person.tap("A1")
    assert person.panel.guide.isVisible()
    person.click(button(person, "Grade by percent"))
    assert person.panel.picker.isVisible()
    assert not person.panel.guide.isVisible()
    assert load_settings().by_percent
    other = sitting_at(made_board(tmp_path / "Other"))
    other.tap("A1")
    assert other.panel.picker.isVisible()
    other.key("%")
    assert other.panel.guide.isVisible()
    assert not load_settings().by_percent
    person.panel.show_coupon(2)
    assert person.panel.guide.isVisible(), "the first window has followed"


def test_a_board_is_graded_by_percent_with_keys_alone(by_percent, yard):
    person = by_percent
    for keys in (("0", ",", "2"), ("5", "5"), (KEY.Key_PageUp,), ()):
        person.key(*keys, KEY.Key_Return)
    assert person.message() == "Every coupon on the board is graded at this inspection."
    person.stand_up()
    assert grades_on_disk(yard) == {"C01": "7", "C02": "0", "C03": "9", "C04": "10"}
    with reopened(yard) as session:
        found = [session.record.grading(key, 1) for key in (1, 2, 3, 4)]
    assert [(each.percent, each.source) for each in found] == [
        (0.2, "eye"), (55.0, "eye"), (0.017, "eye"), (0.0, "eye"),
    ]  # fmt: skip


def test_a_board_is_graded_by_percent_with_the_mouse_alone(by_percent, yard):
    person = by_percent
    slider = person.panel.picker.slider
    left, right = slider._ends()
    for percent in (0.05, 2.0, 20.0, 80.0):
        at = QPoint(round(left + place_of(percent) * (right - left)), 10)
        QTest.mouseClick(slider, Qt.MouseButton.LeftButton, pos=at)
        person.click(button(person, "Give "))
    person.stand_up()
    assert grades_on_disk(yard) == {"C01": "8", "C02": "5", "C03": "2", "C04": "0"}


def test_the_letter_pressed_is_recorded_with_the_percent_where_the_grade_carries_one(by_percent, yard):
    by_percent.key("g", "3", KEY.Key_Return)
    by_percent.key("p", "0", KEY.Key_Return)
    assert by_percent.panel.hasFocus()
    by_percent.stand_up()
    assert grades_on_disk(yard) == {"C01": "5G", "C02": "10"}


def test_a_digit_types_a_percent_and_gives_no_grade(by_percent):
    by_percent.key("7")
    assert by_percent.grading() == "C01"
    assert by_percent.session.record.current == {}
    assert by_percent.panel.picker.field.hasFocus()
    by_percent.key(KEY.Key_Escape)
    assert by_percent.panel.hasFocus()
    assert by_percent.panel.picker.percent() == 0
    by_percent.key("%", "7")
    assert by_percent.session.record.grading(1, 1).percent is None, "by the keys a digit is a grade again"


def test_what_is_no_percent_is_told_and_nothing_is_recorded(by_percent):
    by_percent.key("9", "9", "9", KEY.Key_Return)
    assert "not a percent of a surface" in by_percent.message()
    assert by_percent.session.record.current == {}
    assert by_percent.grading() == "C01"


def test_a_coupon_begins_at_the_percent_it_was_given_or_the_middle_of_its_grade_or_else_at_nothing(by_percent, yard):
    person = by_percent
    person.key("1", "2", ".", "5", KEY.Key_Return)
    person.window.do(grade_coupon, GivenGrade(2, 1, 7, "S"))
    starts = {}
    for coupon in (1, 2, 3):
        person.panel.show_coupon(coupon)
        starts[coupon] = person.panel.picker.percent()
    assert starts == {1: 12.5, 2: 0.17, 3: 0.0}


def test_the_slider_stays_where_it_was_moved_to_while_other_things_change(by_percent):
    by_percent.key(KEY.Key_PageUp, "s", "n")
    by_percent.key("x", KEY.Key_Return)  # a note
    assert by_percent.panel.picker.percent() == 0.017
    by_percent.key(KEY.Key_Return)
    grading = by_percent.session.record.grading(1, 1)
    assert (grading.percent, grading.distribution, grading.note) == (0.017, "S", "x")


def test_a_percent_given_anew_corrects_the_grade_and_keeps_the_one_before(by_percent, yard):
    by_percent.key("1", KEY.Key_Return, KEY.Key_Left)
    by_percent.key("2", KEY.Key_Return)
    by_percent.stand_up()
    assert [(each.percent, each.state) for each in gradings_on_disk(yard, 1)] == [
        (1.0, "superseded"), (2.0, "current"),
    ]  # fmt: skip


def test_enter_gives_the_percent_on_the_slider_and_does_not_take_the_photos_over(desk, tmp_path):
    person = desk.sit_down(measured_board(tmp_path / "Fence"))
    person.tap("A1")
    person.key("8", KEY.Key_Left)  # graded, so that the photo's suggestion shows
    person.key("%")
    assert person.panel.photo_line._take.isVisible()
    assert person.panel.picker.percent() == 0.055, "the middle of grade 8"
    person.key(KEY.Key_Return)
    record = person.session.record
    found = record.grading(1, person.session.selection.inspection)
    assert (found.percent, found.source) == (0.055, "eye")
    person.key(KEY.Key_Left, "%", KEY.Key_Return)
    found = person.session.record.grading(1, person.session.selection.inspection)
    assert found.source != "eye", "by the keys Enter takes the photo's over, as before"


def test_in_a_window_for_reading_one_may_look_and_give_nothing(person, desk, yard):
    person.tap("A1")
    person.key("%")
    reader = desk.sit_down(yard)
    reader.tap("A1")
    reader.key(KEY.Key_PageUp, KEY.Key_Return)
    assert reader.panel.picker.percent() > 0
    assert grades_on_disk(yard) == {}


def test_the_key_for_the_guide_on_the_coupon_does_nothing_by_percent_where_it_always_is(by_percent):
    by_percent.key("c")
    assert not by_percent.panel.options.on_coupon()
    by_percent.key("%", "c")
    assert by_percent.panel.options.on_coupon()


def test_the_keys_that_lead_from_coupon_to_coupon_work_on(by_percent):
    by_percent.key(KEY.Key_Right)
    assert by_percent.grading() == "C02"
    by_percent.key(KEY.Key_Left, KEY.Key_Escape)
    assert by_percent.grading() == ""


def test_the_coupon_itself_stands_beside_the_painted_one(tmp_path, sitting_at):
    person = sitting_at(photographed(tmp_path / "b"))
    person.tap("A2")
    person.key("%")
    settle()
    pair = person.panel.picker.pair
    assert len(pair.places()) == 2
    assert pair._own.width() > 300, "cut large"
    middle = pair.image().pixelColor(pair.image().rect().center())
    assert (middle.red(), middle.green()) == (200, 100), "the first photo's second coupon, without rust"
    person.key(KEY.Key_End)
    assert pair.image().pixelColor(pair.image().rect().center()) != middle
    assert not person.panel.views.isVisible()


def test_no_rust_is_painted_on_an_area_of_the_coupon_that_does_not_count(tmp_path, sitting_at):
    person = sitting_at(photographed(tmp_path / "b"))
    person.tap("A2")
    person.key("%", KEY.Key_End)
    image = person.panel.picker.pair.image()
    middle = image.rect().center()
    assert image.pixelColor(middle).getRgb()[:2] != (200, 100)
    label = ((20.0, 30.0), (40.0, 30.0), (40.0, 50.0), (20.0, 50.0))  # the middle of its 60 x 80 mm
    person.window.do(set_excluded_areas, 2, [ExcludedArea(2, "label", label)])
    settle()
    assert person.panel.picker.pair.image().pixelColor(middle).getRgb()[:2] == (200, 100), "the first photo's steel"


def test_without_a_photo_only_the_painted_plate_has_a_place(by_percent):
    assert len(by_percent.panel.picker.pair.places()) == 1
    assert by_percent.panel.picker.pair.image() is not None


def test_a_disk_that_refuses_the_setting_is_told_and_the_slider_is_there(person):
    person.tap("A1")
    paths.settings_file().unlink()
    paths.settings_file().mkdir()
    person.key("%")
    assert person.panel.picker.isVisible()
    assert person.message() != ""
