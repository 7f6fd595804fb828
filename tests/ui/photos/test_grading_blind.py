"""Who grades blind does not see what a photo says of a coupon before it is graded at that inspection."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from window_driving import Person, settle

from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.photos import tie_photo
from rustboard.support.settings import load_settings


def look_at(person: Person, coupon: int) -> None:
    person.session.selection.choose({coupon}, coupon)
    settle(8)


def test_figures_mask_and_suggestion_are_hidden_until_the_coupon_is_graded(looking):
    person = looking(blind=True)
    screen = person.window.photos.screen
    look_at(person, 1)
    assert person.reads("Hidden until you have graded this coupon")
    for text in ("0.12", "7-S", "Sure enough", "0.05 to 0.30"):
        assert not person.reads(text), text
    assert not screen.stage.coupon.mask_shown
    assert not screen.stage.tools.masks.isEnabled()
    assert not screen.stage.tools.brush.isEnabled()
    assert not screen.stage.figures._all.isVisible()
    mark = next(each for each in screen.stage.board.marks if each.coupon == 1)
    assert (mark.grade, mark.digits, mark.percent) == (None, "", "")
    assert "7" not in mark.words
    QTest.keyClick(screen, Qt.Key.Key_Return)
    assert person.session.record.grading(1, 2) is None


def test_after_grading_it_is_shown_and_the_others_stay_hidden(looking):
    person = looking(blind=True)
    screen = person.window.photos.screen
    person.window.do(grade_coupon, GivenGrade(1, 2, 8, "S"))
    look_at(person, 1)
    assert person.reads("0.12 %, grade 7-S")
    assert screen.stage.coupon.mask_shown
    marks = {each.coupon: each.digits for each in screen.stage.board.marks}
    assert marks == {1: "7-S", 2: "", 3: "", 4: ""}
    look_at(person, 2)
    assert person.reads("Hidden until you have graded this coupon")


def test_the_masks_of_another_day_are_hidden_too_where_that_day_is_not_graded(looking):
    person = looking(blind=True)
    screen = person.window.photos.screen
    person.window.do(grade_coupon, GivenGrade(1, 2, 8, "S"))
    look_at(person, 1)
    QTest.keyClick(screen, Qt.Key.Key_C)
    settle(8)
    assert not screen.stage.coupon.mask_shown
    assert all(each.digits == "" for each in screen.stage.board.other_marks)
    person.window.do(grade_coupon, GivenGrade(1, 1, 10))
    settle(8)
    assert screen.stage.coupon.mask_shown


def test_a_photo_of_no_inspection_hides_nothing(looking):
    person = looking(blind=True)
    person.window.do(tie_photo, 2, None)
    settle(8)
    look_at(person, 1)
    assert person.reads("0.12 %, grade 7-S")


def test_the_tick_where_one_grades_shows_it_all(looking):
    person = looking(blind=True)
    person.do("photos.show")
    person.tap("A1")
    person.panel.photo_line._blind.click()
    person.do("photos.show")
    look_at(person, 1)
    assert person.reads("0.12 %, grade 7-S")
    assert person.reads("Sure enough to take over")


def test_a_button_shows_it_without_grading_and_the_tick_follows(looking):
    person = looking(blind=True)
    look_at(person, 1)
    button = person.window.photos.screen.stage.figures._reveal
    assert button.isVisible()
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    settle(8)
    assert not button.isVisible()
    assert person.reads("0.12 %, grade 7-S")
    assert load_settings().hide_suggestion is False
    person.do("photos.show")
    person.tap("A1")
    assert not person.panel.photo_line._blind.isChecked()
