"""The photo screen in the window: days, coupons, taking over, looking only."""

from __future__ import annotations

import pytest
from measured_boards import measured_board, measurement
from photographed_boards import photographed
from PySide6.QtCore import QEvent, QPoint, QPointF, QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton, QWidget
from window_driving import Person, send_mouse, settle

from rustboard.board.measured import PhotoPlacing
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.measuring import keep_measuring, place_photo
from rustboard.operations.photos import tie_photo
from rustboard.ui.photos.screen import PhotoScreen


def screen_of(person: Person) -> PhotoScreen:
    screen = person.window.photos.screen
    assert screen is not None
    return screen


def day(person: Person) -> int | None:
    return screen_of(person).choice.this


def press(widget: QWidget, *keys: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    for key in keys:
        QTest.keyClick(widget, key, modifier)
        settle()


def tap_coupon(person: Person, coupon: int) -> None:
    board = screen_of(person).stage.board
    mark = next(each for each in board.marks if each.coupon == coupon)
    xs, ys = zip(*mark.outline_mm, strict=True)
    middle = QPointF((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    at = board.viewport.transform(board.panes()[0][0]).map(middle)
    QTest.mouseClick(board, Qt.MouseButton.LeftButton, pos=at.toPoint())
    settle()


def visible_buttons(person: Person) -> list[str]:
    buttons = screen_of(person).findChildren(QPushButton)
    return [each.text().replace("&", "") for each in buttons if each.isVisible()]


# ---- there and back


def test_f8_shows_the_photos_and_leads_back_to_the_same_board(looking):
    person = looking()
    inspection = person.session.selection.inspection
    assert screen_of(person).isVisible()
    assert person.checked("photos.show")
    assert "coupon.grade" not in person.enabled(), "the tiles are not in view"
    person.do("photos.show")
    assert person.page.isVisible()
    assert person.session.selection.inspection == inspection
    assert person.session.selection.photo is None


def test_the_newest_photo_of_the_inspection_in_view_comes_first(looking):
    person = looking(photos=3)
    assert day(person) == 3
    person.do("photos.show")
    person.page.look_at(2)
    person.do("photos.show")
    assert day(person) == 2
    assert person.session.selection.photo == 2


def test_the_board_follows_to_the_day_in_view(looking):
    person = looking(photos=3)
    screen_of(person).choose_day(1)
    settle()
    assert person.session.selection.inspection == 1
    person.do("photos.show")
    assert person.page.isVisible()
    assert person.session.selection.inspection == 1
    assert day(person) == 1


def test_the_photos_follow_when_another_inspection_comes_into_view(looking):
    person = looking(photos=3)
    person.page.look_at(1)
    settle()
    assert day(person) == 1
    assert person.session.selection.photo == 1


def test_a_photo_of_no_inspection_stays_in_view_and_is_said_to_be_of_another_day(looking):
    person = looking(photos=3)
    person.window.do(tie_photo, 2, None)
    screen_of(person).choose_day(2)
    settle()
    assert person.session.selection.inspection == 3, "the board has no day to follow to"
    assert person.reads("the board shows another day")
    tap_coupon(person, 2)
    assert day(person) == 2
    screen_of(person).choose_day(3)
    settle()
    assert not person.reads("the board shows another day")


def test_an_inspection_without_a_photo_leaves_the_photo_in_view_and_says_so(looking):
    person = looking(photos=3)
    person.window.do(tie_photo, 2, 3)
    settle()
    person.page.look_at(2)
    settle()
    assert day(person) == 3
    assert person.reads("the board shows another day")


def test_escape_ends_comparing_first_and_then_leads_back(looking):
    person = looking()
    press(screen_of(person), Qt.Key.Key_C)
    assert screen_of(person).stage.tools.compare.isChecked()
    press(screen_of(person), Qt.Key.Key_Escape)
    assert screen_of(person).isVisible()
    press(screen_of(person), Qt.Key.Key_Escape)
    assert person.page.isVisible()


def test_grading_a_coupon_leads_away_from_the_photos(looking):
    person = looking()
    person.page.open_grading(1)
    settle()
    assert person.grading() == "C01"
    assert not person.window.photos.is_shown()


# ---- days


def test_arrows_home_and_end_walk_through_the_days(looking):
    person = looking(photos=4)
    row = screen_of(person).strip.row
    press(row, Qt.Key.Key_Home)
    assert day(person) == 1
    press(row, Qt.Key.Key_Right, Qt.Key.Key_Right)
    assert day(person) == 3
    press(row, Qt.Key.Key_Left)
    assert day(person) == 2
    press(row, Qt.Key.Key_End, Qt.Key.Key_Right)
    assert day(person) == 4, "after the last there is none"
    press(screen_of(person), Qt.Key.Key_PageUp)
    assert day(person) == 3


def test_a_tap_on_a_day_brings_it_into_view_and_says_it_in_words(looking):
    person = looking(photos=3)
    row = screen_of(person).strip.row
    QTest.mouseClick(row, Qt.MouseButton.LeftButton, pos=row.rect_of(0).center())
    settle()
    assert day(person) == 1
    assert "day 0" in row.accessibleName()
    assert "measured" in row.accessibleName()
    assert "newest" not in row.accessibleName()
    press(row, Qt.Key.Key_End)
    assert "newest" in row.accessibleName()


def test_the_strip_is_pulled_and_turned_without_choosing_a_day(looking):
    person = looking(photos=5)
    strip, before = screen_of(person).strip, day(person)
    bar = strip.horizontalScrollBar()
    person.resize(QSize(440, 600))
    assert bar.maximum() > 200
    bar.setValue(bar.maximum())
    start = QPointF(strip.row.rect_of(3).center())
    send_mouse(strip.row, QEvent.Type.MouseButtonPress, start)
    send_mouse(strip.row, QEvent.Type.MouseMove, start + QPointF(60, 0))
    send_mouse(strip.row, QEvent.Type.MouseButtonRelease, start)
    assert bar.value() == bar.maximum() - 60
    assert day(person) == before
    at = strip.mapTo(person.window, strip.viewport().geometry().center())
    QTest.wheelEvent(person.window.windowHandle(), at, QPoint(0, 120))
    settle()
    assert bar.value() == max(0, bar.maximum() - 60 - strip.row.item_width())


def test_a_photo_in_which_the_board_was_not_found_says_why_and_offers_to_place_it(looking):
    person = looking()
    person.window.do(place_photo, PhotoPlacing(2, None, because="Only two of the four markers are to be seen."))
    settle()
    screen = screen_of(person)
    assert "Only two of the four markers" in screen.stage.board.this.missing
    assert "board not found" in screen.strip.row.accessibleName()
    asked = []
    screen.place_asked.disconnect()
    screen.place_asked.connect(asked.append)
    person.press("Place the board")
    assert asked == [2]
    assert screen.stage.board.this.image is None


def test_a_photo_whose_file_is_gone_is_said_to_be_missing(tmp_path, desk):
    folder = measured_board(tmp_path / "Fence")
    for file in (folder / "photos").iterdir():
        file.unlink()
    person = desk.sit_down(folder)
    person.do("photos.show")
    assert "missing" in screen_of(person).stage.board.this.missing
    assert not screen_of(person).stage.tools.brush.isChecked()


def test_a_board_without_photos_says_what_to_do_and_carries_the_button(person):
    person.do("photos.show")
    assert person.reads("No photos yet")
    assert visible_buttons(person) == ["Add photos…"]


# ---- coupons


def test_a_tap_on_the_board_chooses_the_coupon_here_and_on_the_board(looking):
    person = looking()
    tap_coupon(person, 3)
    assert person.session.selection.focus == 3
    assert "C03" in screen_of(person).stage.board.accessibleName()
    assert "photo: 7-S, 0.12 % (0.05 to 0.30)" in screen_of(person).stage.board.accessibleName()


def test_arrows_walk_from_coupon_to_coupon(looking):
    person = looking()
    tap_coupon(person, 1)
    board = screen_of(person).stage.board
    press(board, Qt.Key.Key_Right)
    assert person.session.selection.focus == 2
    press(board, Qt.Key.Key_Left, Qt.Key.Key_Down)
    assert person.session.selection.focus == 4
    press(board, Qt.Key.Key_Down)
    assert person.session.selection.focus == 4, "nothing hangs below"


def test_outlines_are_drawn_as_the_coupon_hung_in_this_photo(looking):
    person = looking(measurement(2, 1, motion=(3.0, -2.0, 0.0, 1.0)))
    board = screen_of(person).stage.board
    moved = next(each for each in board.marks if each.coupon == 1).outline_mm
    assert moved[0] == (23.0, 8.0), "the record has its corner at 20, 10"
    screen_of(person).choose_day(1)
    assert next(each for each in board.marks if each.coupon == 1).outline_mm[0] == (20.0, 10.0)


def test_missing_and_other_coupons_are_marked_in_words(looking):
    person = looking(
        measurement(2, 1, None, low=None, high=None, present="missing"), measurement(2, 2, present="other")
    )
    marks = {each.coupon: each for each in screen_of(person).stage.board.marks}
    assert "not there" in marks[1].words
    assert marks[1].digits == ""
    assert "Another coupon hangs here" in marks[2].words


def test_the_figures_say_everything_in_words(looking):
    person = looking(measurement(2, 1, warnings=("surface wet",), newest=True, confident=False))
    tap_coupon(person, 1)
    for text in ("0.05 to 0.30 %", "3, largest 1.5 mm²", "0.4 %", "surface wet", "may still prove to be dirt"):
        assert person.reads(text), text
    assert person.reads("not graded at this inspection")
    assert person.reads("Wants a closer look")


def test_the_figures_tell_of_revisions_and_keep_both_values(looking):
    person = looking()
    revised = measurement(2, 1, 0.02, reason="what lay there on day 0 was gone")
    person.window.do(keep_measuring, (), [revised])
    person.window.do(grade_coupon, GivenGrade(1, 2, 8, "S", grader="Ann"))
    tap_coupon(person, 1)
    assert person.reads("0.12 %, grade 7-S; revised because: what lay there on day 0 was gone")
    assert person.reads("0.02 %, grade 9-S")
    assert person.reads("8-S, Ann")


# ---- taking over


def test_enter_takes_one_over_in_the_graders_name_and_goes_on(looking):
    person = looking()
    tap_coupon(person, 1)
    press(screen_of(person), Qt.Key.Key_Return)
    grading = person.session.record.grading(1, 2)
    assert grading is not None
    assert (grading.grade, grading.distribution, grading.percent) == (7, "S", 0.12)
    assert (grading.source, grading.grader) == ("photo confirmed", "Ann")
    assert person.session.selection.focus == 2
    person.do("edit.undo")
    assert person.session.record.grading(1, 2) is None


def test_enter_on_a_button_presses_it_and_takes_nothing_over(looking):
    person = looking()
    masks = screen_of(person).stage.tools.masks
    press(masks, Qt.Key.Key_Return)
    assert not masks.isChecked()
    assert not person.session.record.current


def test_all_confident_ones_are_taken_over_and_the_others_are_named_with_their_reason(looking):
    unsure = measurement(2, 2, confident=False, warnings=("half of it lies in glare",))
    person = looking(unsure, measurement(2, 3, None, low=None, high=None, present="missing"))
    assert person.reads("C02: half of it lies in glare")
    person.press("Take over all 2 confident")
    assert sorted(person.session.record.current) == [1, 4]
    message = person.message()
    assert message.startswith("Took over 2 grades.")
    assert "C02: half of it lies in glare" in message
    assert "C03: The coupon is not there" in message
    person.do("edit.undo")
    assert person.session.record.current == {}


def test_a_photo_without_an_inspection_says_why_nothing_can_be_taken_over(looking):
    person = looking()
    person.window.do(tie_photo, 2, None)
    settle()
    tap_coupon(person, 1)
    buttons = screen_of(person).findChildren(QPushButton)
    button = next(each for each in buttons if each.text().startswith("Take over 7"))
    assert not button.isEnabled()
    assert "belongs to no inspection" in button.toolTip()


# ---- looking only


def test_on_a_board_for_reading_there_is_nothing_that_changes_it(tmp_path, desk):
    folder = measured_board(tmp_path / "Fence")
    desk.sit_down(folder)
    second = desk.sit_down(folder)
    second.do("photos.show")
    shown = visible_buttons(second)
    assert not [each for each in shown if each.startswith(("Take over", "Measure", "Place", "Add photos"))]
    assert not screen_of(second).stage.tools.brush.isEnabled()
    press(screen_of(second), Qt.Key.Key_Return, Qt.Key.Key_P)
    assert second.session.record.current == {}


# ---- measuring


def test_what_cannot_be_measured_is_a_sentence_that_stays_until_read(tmp_path, desk):
    folder = photographed(tmp_path / "Fence")
    for file in (folder / "photos").iterdir():
        file.unlink()
    person = desk.sit_down(folder)
    person.do("photos.show")
    person.press("Measure 2 photos")
    assert person.window.message.is_error()
    person.window.message._timer.timeout.emit()  # time passes
    assert person.message() != ""


@pytest.mark.parametrize("size", [(1366, 768), (683, 384)])
def test_nothing_asks_for_more_room_than_the_window_has(looking, size):
    person = looking()
    person.window.resize(*size)
    settle()
    for key in (Qt.Key.Key_C, Qt.Key.Key_P):
        press(screen_of(person), key)
        assert person.window.minimumSizeHint().width() <= size[0]
        assert person.window.minimumSizeHint().height() <= size[1]
    pictures = (screen_of(person).stage.board, screen_of(person).stage.coupon)
    assert any(each.isVisible() for each in pictures)
    assert QPoint(0, 0) == screen_of(person).pos()
