"""Two coupons at a time: by keys, by mouse, by touch, taken back, interrupted."""

from __future__ import annotations

import pytest
from comparing import ACTION, Comparer, choices_on_disk, told
from photographed_boards import photo_file, photographed
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from window_driving import assert_sound, made_board, send_mouse, settle

from rustboard.operations.side_by_side import GivenChoice, choose

KEY = Qt.Key


@pytest.fixture
def finger(touch_screen, comparer):
    """A finger, and a window that lies on the screen as a whole: Qt drops touches beside it."""
    screen = comparer.person.window.screen().availableSize()
    comparer.person.window.resize(screen.width() - 10, screen.height() - 10)
    settle()
    return touch_screen


# ---- the three ways to choose


def test_keys_say_which_one_is_rustier(comparer, quay):
    comparer.begin()
    pairs = []
    for key in (KEY.Key_Left, KEY.Key_Right, KEY.Key_Down, KEY.Key_Space):
        pairs.append(comparer.pair())
        comparer.key(key)
    answers = ("left", "right", "neither", "neither")
    wanted = [(*pair, answer) for pair, answer in zip(pairs, answers, strict=True)]
    assert told(choices_on_disk(quay)) == wanted, "on the disk at once, while the window is open"


def test_buttons_and_pictures_say_it_by_mouse(comparer, quay):
    comparer.begin()
    page = comparer.screen.compare
    widgets = (page.left_button, page.neither_button, page.right_button, *page.pictures)
    for widget in widgets:
        comparer.person.click(widget)
    assert [each.rustier for each in choices_on_disk(quay)] == ["left", "neither", "right", "left", "right"]


def test_buttons_and_pictures_say_it_by_touch(comparer, finger, quay):
    comparer.begin()
    page = comparer.screen.compare
    for widget in (page.right_button, page.pictures[0], page.pictures[1]):
        comparer.person.touch_widget(widget, finger)
    assert [each.rustier for each in choices_on_disk(quay)] == ["right", "left", "right"]


def test_a_second_click_of_a_double_click_chooses_nothing_of_the_next_pair(comparer, quay):
    comparer.begin()
    picture = comparer.screen.compare.pictures[0]
    QTest.mouseClick(picture, Qt.MouseButton.LeftButton)
    QTest.mouseDClick(picture, Qt.MouseButton.LeftButton)  # what Qt makes of a second press soon after
    settle()
    assert len(choices_on_disk(quay)) == 1


def test_dragging_looks_elsewhere_and_chooses_nothing(comparer, quay):
    comparer.begin()
    picture = comparer.screen.compare.pictures[0]
    picture.zoom_by(4)
    before = picture.to_widget(0, 0)
    send_mouse(picture, QEvent.Type.MouseButtonPress, QPointF(100, 100))
    for step in (110, 130, 160):
        send_mouse(picture, QEvent.Type.MouseMove, QPointF(step, 100))
    send_mouse(picture, QEvent.Type.MouseButtonRelease, QPointF(160, 100))
    assert picture.to_widget(0, 0).x() > before.x() + 30
    assert choices_on_disk(quay) == []


def test_letting_go_beside_the_picture_chooses_nothing(comparer, quay):
    comparer.begin()
    picture = comparer.screen.compare.pictures[0]
    QTest.mousePress(picture, Qt.MouseButton.LeftButton)
    QTest.mouseRelease(picture, Qt.MouseButton.LeftButton, pos=QPoint(-20, -20))
    settle()
    assert choices_on_disk(quay) == []


def test_a_key_held_down_chooses_once(comparer, quay):
    comparer.begin()
    page = comparer.screen.compare
    for again in (False, True, True):
        event = QKeyEvent(QEvent.Type.KeyPress, KEY.Key_Left, Qt.KeyboardModifier.NoModifier, "", again)
        QApplication.sendEvent(page, event)
    assert len(choices_on_disk(quay)) == 1


def test_nothing_can_be_chosen_before_the_pictures_are_there(comparer, quay):
    comparer.begin()
    page = comparer.screen.compare
    page.begin(comparer.screen._comparison, go_on=False)
    assert "being cut" in page._state.text()
    page.choose_left()
    assert choices_on_disk(quay) == []
    assert not page.left_button.isEnabled()


# ---- what is in view


def test_the_pictures_are_those_of_the_pair_and_the_next_ones_are_there_at_once(comparer):
    comparer.begin()
    while comparer.is_comparing():
        assert comparer.pictured() == comparer.pair()
        assert not comparer.person.window.bridge.busy()
        comparer.key(KEY.Key_Left)


def test_progress_counts_the_choices(comparer):
    comparer.begin()
    assert comparer.person.reads("Ann: 0 of about 8")  # 4 * log2(4)
    comparer.key(KEY.Key_Left, KEY.Key_Left)
    assert comparer.person.reads("Ann: 2 of about 8")
    assert comparer.screen.compare._bar.value() == 2


def test_keys_look_nearer_at_both_and_the_next_two_are_shown_whole(comparer):
    comparer.begin()
    pictures = comparer.screen.compare.pictures
    whole = [each.px_per_unit() for each in pictures]
    comparer.key(KEY.Key_Plus, KEY.Key_Plus, KEY.Key_Minus)
    # One step is a quarter more.
    assert [each.px_per_unit() for each in pictures] == pytest.approx([1.25 * each for each in whole])
    comparer.key(KEY.Key_0)
    assert [each.px_per_unit() for each in pictures] == pytest.approx(whole)
    comparer.key(KEY.Key_Plus, KEY.Key_Left)
    assert [each.px_per_unit() for each in pictures] == pytest.approx(whole)


def test_large_keys_are_large_here_too(comparer):
    comparer.begin()
    button = comparer.screen.compare.left_button
    usual = button.height()
    comparer.person.do("view.large_keys")
    assert button.height() > usual
    assert button.height() >= round(20 / 25.4 * button.logicalDpiX())  # 20 mm


def test_a_choice_is_said_aloud_when_that_is_wanted(comparer, monkeypatch):
    said = []
    monkeypatch.setattr("rustboard.ui.side_by_side.compare_page.say", lambda widget, text: said.append(text))
    comparer.begin()
    comparer.key(KEY.Key_Left)
    comparer.person.do("view.say_grades")
    comparer.key(KEY.Key_Right, KEY.Key_Space)
    assert said == ["2: right", "3: cannot tell"]


# ---- taking back


def test_backspace_takes_the_last_choice_back_and_shows_its_pair_again(comparer, quay):
    comparer.begin()
    comparer.key(KEY.Key_Left)
    pair, turned = comparer.pair(), [each.image() for each in comparer.screen.compare.pictures]
    comparer.key(KEY.Key_Right)
    assert comparer.pair() != pair
    comparer.key(KEY.Key_Backspace)
    assert comparer.pair() == pair
    assert [each.image() for each in comparer.screen.compare.pictures] == turned
    assert len(choices_on_disk(quay)) == 1
    comparer.person.press("Take back")
    assert choices_on_disk(quay) == []
    assert not comparer.screen.compare.back.isEnabled()


def test_undo_reaches_the_choices_of_this_sitting_and_nothing_else(comparer, quay):
    comparer.begin()
    assert "edit.undo" not in comparer.person.enabled(), "the last step made the board"
    comparer.key(KEY.Key_Left)
    comparer.person.do("edit.undo")
    assert choices_on_disk(quay) == []
    assert comparer.is_comparing()
    assert not {"edit.undo", "edit.redo", "file.go_back"} & comparer.person.enabled()
    comparer.key(KEY.Key_Backspace)
    assert len(comparer.person.session.record.inspections) == 2, "nothing of the board was taken back"


def test_a_sitting_before_is_not_taken_back(comparer, quay):
    comparer.begin()
    comparer.key(KEY.Key_Left, KEY.Key_Escape, KEY.Key_Escape)
    comparer.begin()
    comparer.key(KEY.Key_Backspace)
    assert len(choices_on_disk(quay)) == 1


# ---- interruption


def test_esc_interrupts_and_the_same_pair_comes_again(comparer, quay):
    comparer.begin()
    comparer.key(KEY.Key_Left, KEY.Key_Right)
    pair = comparer.pair()
    comparer.key(KEY.Key_Escape)
    assert not comparer.is_comparing()
    assert comparer.person.reads("2 of about 8 choices are made")
    comparer.key(KEY.Key_Escape)
    assert comparer.person.page.isVisible()
    comparer.begin()
    assert comparer.pair() == pair


def test_a_closed_window_goes_on_where_it_stopped(comparer, desk, quay):
    comparer.begin()
    comparer.key(KEY.Key_Left, KEY.Key_Right)
    pair, picture = comparer.pair(), comparer.screen.compare.pictures[0].image()
    comparer.person.stand_up()
    again = Comparer(desk.sit_down(quay))
    again.begin()
    assert again.pair() == pair
    assert again.screen.compare.pictures[0].image() == picture
    assert again.person.reads("Ann: 2 of about 8")


def test_another_screen_leaves_it_as_it_is(comparer, quay):
    comparer.begin()
    comparer.key(KEY.Key_Left)
    comparer.person.do("board.plan")
    assert not comparer.is_comparing()
    assert comparer.person.window.plan.is_shown()
    comparer.person.do("board.plan")
    assert comparer.person.page.isVisible()
    comparer.begin()
    assert comparer.person.reads("Ann: 1 of about 8")


def test_each_grader_has_choices_of_his_own(comparer, quay):
    comparer.begin("Ann")
    comparer.key(KEY.Key_Left, KEY.Key_Escape, KEY.Key_Escape)
    comparer.begin("Ben")
    assert comparer.person.reads("Ben: 0 of about 8")
    comparer.key(KEY.Key_Left)
    assert [each.grader for each in choices_on_disk(quay)] == ["Ann", "Ben"]


def test_somebody_else_who_looked_at_the_order_goes_on_in_his_own_name(comparer, quay):
    comparer.begin("Ann")
    comparer.key(KEY.Key_Left, KEY.Key_Escape)
    comparer.screen.start.name.setEditText("Berta")
    comparer.person.click(comparer.screen.start.order)
    comparer.person.press("Go on comparing")
    if not comparer.is_comparing():
        comparer.person.click(comparer.screen.start.begin)
    comparer.key(KEY.Key_Right)
    assert [each.grader for each in choices_on_disk(quay)] == ["Ann", "Berta"]


def test_who_compares_must_be_said(comparer):
    comparer.open()
    comparer.screen.start.name.setEditText(" ")
    comparer.person.press("Begin")
    assert "Write who compares" in comparer.person.message()
    assert not comparer.is_comparing()


# ---- refusals


def test_without_a_photo_it_is_refused_with_what_to_do(person):
    person.do(ACTION)
    assert "This inspection has no photo; add one" in person.message()
    assert person.page.isVisible()


def test_without_an_inspection_it_is_refused(tmp_path, sitting_at):
    person = sitting_at(made_board(tmp_path / "b", inspections=0))
    person.do(ACTION)
    assert "There is no inspection yet" in person.message()


def test_with_the_photo_away_it_is_refused(tmp_path, sitting_at):
    folder = photographed(tmp_path / "b")
    photo_file(folder, 2).unlink()
    person = sitting_at(folder)
    person.do(ACTION)
    assert "put it back there" in person.message()


def test_a_window_that_only_reads_shows_the_order_and_asks_nothing(comparer, desk, quay):
    second = desk.sit_down(quay)
    second.do(ACTION)
    assert "only reads" in second.message()
    second.window.close()
    settle()
    comparer.person.window.do(choose, GivenChoice(2, "Ann", 1, 2, "left"))
    second = Comparer(desk.sit_down(quay))
    second.open()
    assert "only reads" in second.screen.start.problem.text()
    assert not second.screen.start.begin.isEnabled()
    second.person.click(second.screen.start.order)
    assert second.screen.result.table.order_model.rowCount() == 2


def test_a_photo_that_cannot_be_read_is_told_and_nothing_is_asked(comparer, quay):
    photo_file(quay, 2).write_bytes(b"torn")
    comparer.begin()
    assert not comparer.is_comparing()
    assert comparer.person.window.message.is_error()


def test_while_an_inspection_is_hidden_it_cannot_be_reached(comparer, quay):
    person = comparer.person
    person.answers.dialogs = [lambda dialog: None]
    person.do("inspection.blind")
    settle()
    assert person.window.page is None
    assert ACTION not in person.enabled()


def test_an_inspection_added_meanwhile_brings_the_board_back(comparer):
    comparer.open()
    comparer.person.answers.dialogs = [lambda dialog: None]
    comparer.person.do("inspection.add")
    assert comparer.person.page.isVisible()


def test_the_board_is_sound_afterwards(comparer, quay):
    comparer.begin()
    count = comparer.finish()
    comparer.person.stand_up()
    assert len(choices_on_disk(quay)) == count
    assert_sound(quay)
