"""Blind rounds in the real window: by keys, by mouse, by touch; interrupted anywhere; and what comes of them."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace

import pytest
from blind_driving import begin, blind_grades, hide, page_of, round_of, secret_board, settle_deleted, shown
from photographed_boards import middle
from PySide6.QtCore import QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QPushButton
from window_driving import accept, cancel, grades_on_disk, gradings_on_disk, settle

from rustboard.board.blind import TURNS
from rustboard.session.session import Session
from rustboard.store.tables import PHOTOS
from rustboard.support.summary import Summary


@pytest.fixture
def board(tmp_path):
    return secret_board(tmp_path / "Yard")


def put_photo(tx, photo):
    """Write a photo as it is given, which no operation does."""
    tx.put(PHOTOS, photo)
    return Summary("Put a photo")


def order_of(person):
    page = round_of(person)
    return [(each.coupon, each.turn, each.again) for each in page.sitting.round().showings]


def reveal(person):
    person.click(page_of(person).overview.reveal)
    person.click(page_of(person).overview.sure)
    settle_deleted()


def test_a_round_by_keys_alone_from_the_menu_to_the_reveal(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    begin(person, "Mara")
    for grade in ("8", "7", "T"):
        person.key(grade)
    person.key("G", "3")
    assert blind_grades(board) == {("Mara", 0): "8", ("Mara", 1): "7", ("Mara", 2): "10", ("Mara", 3): "3G"}
    by_coupon = {coupon: ("8", "7", "10", "3G")[at] for at, (coupon, _, _) in enumerate(order_of(person))}
    person.key(Qt.Key.Key_Return)
    settle_deleted()
    assert page_of(person).is_overview()
    person.key(Qt.Key.Key_Space)  # the keyboard is on the button that reveals
    person.key(Qt.Key.Key_Tab, Qt.Key.Key_Space)  # it asks once more, and leaves the keyboard on "Not yet"
    settle_deleted()
    assert person.page.isVisible()
    assert person.session.selection.inspection == 2
    ids = {each.key: each.id for each in person.session.record.coupons.values()}
    assert grades_on_disk(board, 2) == {ids[coupon]: grade for coupon, grade in by_coupon.items()}
    (grading,) = gradings_on_disk(board, 1, 2)
    assert (grading.source, grading.grader) == ("blind", "Mara")


def test_a_round_by_mouse_and_a_grade_put_right(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    page = begin(person, "Mara")
    person.click(page.body.guide.keys[6])
    person.click(page.head.back)
    assert page.number == 0
    person.click(page.body.guide.keys[5])
    assert blind_grades(board) == {("Mara", 0): "5"}
    person.click(page.head.skip)
    person.click(page.head.back)
    person.click(page.head.back)
    person.click(page.body.options._withdraw)
    assert blind_grades(board) == {}


def test_a_round_by_touch_alone(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    person.resize(QSize(796, 700))  # the screen of the tests is 800 px wide
    page = begin(person, "Mara")
    finger = QTest.createTouchDevice()
    for grade in (9, 8, 7, 6):
        person.touch_widget(page.body.guide.keys[grade], finger)
    assert [blind_grades(board)["Mara", number] for number in range(4)] == ["9", "8", "7", "6"]
    person.touch_widget(page.head.finish, finger)
    settle_deleted()
    person.touch_widget(page_of(person).overview.reveal, finger)
    person.touch_widget(page_of(person).overview.sure, finger)
    settle_deleted()
    assert len(grades_on_disk(board, 2)) == 4


def test_the_picture_shown_is_of_the_coupon_in_turn_and_turned(board, sitting_at):
    person = sitting_at(board)
    hide(person, share=100)
    page = begin(person, "Mara")
    seen = []
    for _ in range(8):
        assert middle(page.body.view.picture.image()) == (120, 50 * shown(person))
        seen.append(page.sitting.round().showings[page.number])
        person.key("7")
    first = {each.coupon: each.turn for each in seen if not each.again}
    assert all(first[each.coupon] != each.turn for each in seen if each.again)
    assert {each.turn for each in seen} <= set(TURNS)
    assert sum(each.again for each in seen) == 4


def test_at_the_bench_there_is_the_position_and_no_picture(board, sitting_at):
    person = sitting_at(board)
    hide(person, "bench")
    page = begin(person, "Mara")
    assert page.body.view.currentWidget() is page.body.view.place
    position = person.window.blind.session().record.coupons[shown(person)].position
    assert page.body.view.accessibleName() == f"Coupon 1 of 4, at position {position.label}"
    assert not page.body.view.picture.has_image()
    person.key("7")
    assert blind_grades(board) == {("Mara", 0): "7"}


def test_a_round_interrupted_goes_on_in_the_same_order_with_nothing_revealed_or_lost(board, sitting_at):
    person = sitting_at(board)
    hide(person, share=50)
    begin(person, "Mara")
    before = order_of(person)
    person.key("8", "7", "6")
    person.stand_up()
    again = sitting_at(board)
    assert again.window.page is None
    assert page_of(again).is_overview(), "somebody else may have come"
    again.press("Go on")
    assert order_of(again) == before
    assert round_of(again).number == 3
    assert blind_grades(board) == {("Mara", 0): "8", ("Mara", 1): "7", ("Mara", 2): "6"}
    again.key(Qt.Key.Key_Escape)
    assert page_of(again).is_overview()
    again.press("Interrupt, to all boards")
    again.window.show_board(board)
    settle_deleted()
    assert page_of(again).is_overview()


def test_two_graders_have_orders_of_their_own_and_neither_sees_the_other(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    begin(person, "Mara")
    person.key("8", "8", "8", "8", Qt.Key.Key_Return)
    settle_deleted()
    page = begin(person, "Berta")
    assert page.sitting.given(page.number) is None
    assert all(not key._given for key in page.body.guide.keys.values())
    person.key("6", "6", "6", "6", Qt.Key.Key_Return)
    settle_deleted()
    reveal(person)
    assert set(grades_on_disk(board, 2).values()) == {"6"}, "of two middle grades the worse"
    (grading,) = gradings_on_disk(board, 1, 2)
    assert grading.grader == "Mara, Berta"


def test_who_comes_next_does_not_read_the_last_grade_of_who_was_there(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    begin(person, "Mara")
    person.key("8", "7")
    assert person.window.statusBar().currentMessage() == "Blind grade 2 of 4: 7"
    person.key(Qt.Key.Key_Escape)
    assert person.window.statusBar().currentMessage() == ""


def test_undo_takes_back_what_this_grader_did_in_this_sitting_and_no_more(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    assert "edit.undo" not in person.enabled(), "the steps before name coupons and grades"
    begin(person, "Mara")
    assert "edit.undo" not in person.enabled()
    person.key("8", "7")
    person.do("edit.undo")
    assert blind_grades(board) == {("Mara", 0): "8"}
    assert round_of(person).number == 1
    person.do("edit.undo")
    assert blind_grades(board) == {}
    assert "edit.undo" not in person.enabled()
    person.key("8", "7", "6")
    person.key(Qt.Key.Key_Escape)
    person.key(Qt.Key.Key_Space)
    assert not page_of(person).is_overview()
    assert "edit.undo" not in person.enabled(), "it may be somebody else who goes on"


def test_after_the_reveal_undo_does_not_hide_it_again(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    begin(person, "Mara")
    person.key("8", "7", "6", "5", Qt.Key.Key_Return)
    settle_deleted()
    reveal(person)
    assert "edit.undo" not in person.enabled()
    person.tap("A1")
    person.key("9")
    person.do("edit.undo")
    assert gradings_on_disk(board, 1, 2)[-1].source == "blind"
    assert "edit.undo" not in person.enabled()


def test_a_reveal_is_asked_for_twice_because_it_cannot_be_taken_back(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    begin(person, "Mara")
    person.key("8", "7", "6", "5", Qt.Key.Key_Return)
    settle_deleted()
    overview = page_of(person).overview
    person.key(Qt.Key.Key_Space, Qt.Key.Key_Space)  # in haste: the second lands on "Not yet"
    settle_deleted()
    assert person.window.blind.blind_page is not None
    assert overview.reveal.isVisible()
    person.click(overview.reveal)
    assert not overview.reveal.isVisible()
    person.press("Not yet")
    assert overview.reveal.isVisible()
    assert person.window.blind.session().record.hidden_inspection is not None


def test_a_coupon_that_the_photo_does_not_show_is_not_in_the_round(board, sitting_at):
    person = sitting_at(board)
    cut_off = replace(person.session.record.photos[2], width_px=290)
    assert person.window.do(put_photo, cut_off) is not None
    hide(person)
    begin(person, "Mara")
    assert {coupon for coupon, _, _ in order_of(person)} == {1, 4}
    person.key("8", "7", Qt.Key.Key_Return)
    settle_deleted()
    assert page_of(person).is_overview(), "the round can be finished"


def test_thinking_better_of_it_before_anything_is_graded(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    begin(person, "Mara")
    person.key(Qt.Key.Key_Escape)
    person.press("Do not grade blind")
    settle_deleted()
    assert person.session.record.blind_inspections == {}
    assert person.session.record.blind_rounds == {}
    assert person.session.selection.inspection == 2
    hide(person)
    assert page_of(person).is_overview()


def test_starting_can_be_taken_back_and_done_again_where_nothing_was_graded(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    person.press("Do not grade blind")
    settle_deleted()
    person.do("edit.undo")
    settle_deleted()
    assert page_of(person).is_overview(), "what is hidden again by undo is hidden"


def test_the_dialog_thought_better_of_hides_nothing(board, sitting_at):
    person = sitting_at(board)
    person.answers.dialogs = [cancel]
    person.do("inspection.blind")
    assert person.session.record.blind_inspections == {}


def test_a_new_inspection_is_graded_blind_from_its_first_grade(board, sitting_at):
    def tick(dialog):
        dialog._blind.click()

    person = sitting_at(board)
    person.answers.dialogs = [tick, accept]
    person.do("inspection.add")
    settle_deleted()
    assert person.answers.asked == ["InspectionDialog", "StartBlindDialog"]
    page = begin(person, "Mara")
    assert page.body.view.currentWidget() is page.body.view.place, "it has no photo yet"


def test_an_inspection_is_graded_blind_once(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    begin(person, "Mara")
    person.key("8", "7", "6", "5", Qt.Key.Key_Return)
    settle_deleted()
    reveal(person)
    hide(person)
    assert person.message() == "This inspection has been graded blind already; add another inspection."


def test_a_grader_without_a_name_and_one_who_comes_twice_are_told(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    page_of(person).overview.name.setEditText(" ")
    person.press("Begin the round")
    assert person.message() == "Type the name of who grades."
    assert person.window.focusWidget() is page_of(person).overview.name, "where it is mended"
    begin(person, "Mara")
    assert person.message() == "", "what was refused is mended"
    person.key("8", "7", Qt.Key.Key_Escape)
    page_of(person).overview.name.setEditText("mara")
    person.press("Begin the round")
    assert round_of(person).number == 2, "who has a round goes on with it"
    person.key("6", "5", Qt.Key.Key_Return)
    page_of(person).overview.name.setEditText("mara")
    person.press("Begin the round")
    assert person.message() == "mara has a round at this inspection already; everybody has one."


def test_enter_presses_the_button_that_has_the_keyboard(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    begin(person, "Mara")
    person.key("8", Qt.Key.Key_Escape)
    person.key(Qt.Key.Key_Return)  # Go on
    assert round_of(person).number == 1
    assert not page_of(person).is_overview()


def test_a_note_is_written_with_the_grade_it_was_typed_for(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    begin(person, "Mara")
    coupon = shown(person)
    person.key("N")
    person.key("d", "u", "l", "l", Qt.Key.Key_Return)
    person.key("7")
    assert round_of(person).body.options.note() == ""
    person.key("6", "6", "6", Qt.Key.Key_Return)
    settle_deleted()
    reveal(person)
    assert person.session.record.grading(coupon, 2).note == "dull"


def test_every_control_of_the_blind_screens_has_a_name_for_a_screen_reader(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    begin(person, "Mara")
    page = page_of(person)
    for each in page.findChildren(QPushButton):
        assert each.text() or each.accessibleName()
    assert page.round.body.view.accessibleName() == "Picture of coupon 1 of 4"
    assert page.overview.name.accessibleName() == "Name of who grades next"
    assert any(each.buddy() is page.overview.name for each in page.findChildren(QLabel))


def test_tab_alone_reaches_every_control_of_a_round(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    page = begin(person, "Mara")
    reached = set()
    for _ in range(40):
        person.key(Qt.Key.Key_Tab)
        reached.add(person.window.focusWidget())
    wanted = {page.head.back, page.head.skip, page.head.leave, *page.body.guide.keys.values()}
    assert wanted <= reached


def test_the_demo_that_arrives_does_not_take_a_grader_from_his_round(board, sitting_at):
    from rustboard.ui.start import _DemoArrival

    person = sitting_at(board)
    hide(person)
    begin(person, "Mara")
    _DemoArrival(person.window).come([board])
    settle()
    assert not page_of(person).is_overview()


def test_a_board_that_is_graded_blind_takes_no_open_grade(board, sitting_at):
    from rustboard.operations.grading import GivenGrade, grade_coupon
    from rustboard.support.problems import InputError

    person = sitting_at(board)
    hide(person)
    person.stand_up()
    with closing(Session(board)) as session, pytest.raises(InputError, match="being graded blind"):
        session.do(grade_coupon, GivenGrade(1, 2, 7))
