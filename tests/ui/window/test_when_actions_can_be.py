"""When each action can be done, and what is said of those that are refused."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from window_driving import START, graded, made_board

from rustboard.operations.coupons import edit_coupon as edit_coupon_operation

ALWAYS = {"file.shelf", "file.new", "file.from_plan", "file.open", "file.second_window", "file.close", "file.unpack"}
ALWAYS |= {"file.import"}
ALWAYS |= {"view.large_keys", "view.say_grades"}
ALWAYS |= {"view.system", "view.light", "view.dark", "view.sunlight", "help.keys", "help.about", "help.practice"}
ALWAYS |= {"findings.learnt"}
ANY_BOARD = ALWAYS | {"file.like", "file.copy", "file.report", "file.audit", "view.table", "view.timeline"}
ANY_BOARD |= {
    "file.save_plan",
    "file.paper",
    "file.pack",
    "board.plan",
    "findings.show",
    "findings.compare",
    "file.next",
}
ANY_BOARD |= {"inspection.agreement", "inspection.earlier", "inspection.later", "inspection.side_by_side"}
ANY_BOARD |= {f"photos.{verb}" for verb in ("outlines", "show", "film")}
ANY_BOARD |= {f"weather.{verb}" for verb in ("show", "between", "day_log")}
MINE = ANY_BOARD | {"file.grades", "inspection.add", "coupon.add", "board.treatments", "board.row", "board.column"}
MINE |= {"board.add_row", "board.add_column", "board.edit", "photos.add", "photos.paste"}
MINE |= {f"weather.{verb}" for verb in ("quiet_day", "day", "add", "site", "weigh")}
ONE_COUPON = {"coupon.grade", "coupon.edit", "coupon.treatment", "coupon.carry", "coupon.take_off", "coupon.remove"}
ONE_COUPON |= {"coupon.leave_out"}
AN_INSPECTION = {"inspection.edit", "inspection.remove", "inspection.blind", "round.next"}
A_COUPON_AT_AN_INSPECTION = {"coupon.damage"}


def test_without_a_board_only_what_makes_or_opens_one_can_be_done(desk):
    assert desk.sit_down().enabled() == ALWAYS


def test_on_an_empty_board_there_is_no_coupon_and_no_step_to_take_back(tmp_path, sitting_at):
    folder = made_board(tmp_path / "b", coupons=0, inspections=0)
    assert sitting_at(folder).enabled() == MINE


def test_on_a_board_for_reading_nothing_can_be_changed(person, yard, desk):
    assert desk.sit_down(yard).enabled() == ANY_BOARD


def test_on_a_board_with_an_inspection_its_coupons_can_be_graded(person):
    can = MINE | ONE_COUPON | AN_INSPECTION | A_COUPON_AT_AN_INSPECTION | {"edit.undo"}
    assert person.enabled() == can
    person.tap("A1")
    person.key("7", Qt.Key.Key_Left)
    assert person.enabled() == can | {"coupon.withdraw", "file.go_back"}
    person.do("edit.undo")
    assert person.enabled() == can | {"edit.redo"}


def test_on_an_empty_position_there_is_no_coupon_to_do_things_to(person):
    person.key(Qt.Key.Key_Down, Qt.Key.Key_Right)
    assert not (ONE_COUPON | A_COUPON_AT_AN_INSPECTION) & person.enabled()
    assert "coupon.add" in person.enabled()
    person.key(Qt.Key.Key_Left)
    assert person.enabled() >= ONE_COUPON | A_COUPON_AT_AN_INSPECTION


def test_before_the_first_inspection_no_damage_can_be_noted(tmp_path, sitting_at):
    person = sitting_at(made_board(tmp_path / "b", inspections=0))
    assert person.enabled() >= ONE_COUPON
    assert not A_COUPON_AT_AN_INSPECTION & person.enabled()


# ---- refusals


def test_a_coupon_with_grades_is_not_removed_and_the_sentence_stays_until_read(tmp_path, sitting_at):
    person = sitting_at(graded(made_board(tmp_path / "b"), 1, {"C01": 9}))
    person.do("coupon.remove")
    sentence = "Coupon C01 has grades, which are never erased; take it off the board instead."
    assert person.message() == sentence
    person.window.message._timer.timeout.emit()  # time passes
    person.do("coupon.take_off")  # and notes come
    assert person.message() == sentence
    person.press("Got it")
    assert person.message() == ""


def test_an_inspection_with_grades_is_not_removed(tmp_path, sitting_at):
    person = sitting_at(graded(made_board(tmp_path / "b"), 1, {"C01": 9}))
    person.do("inspection.remove")
    assert "never erased" in person.message()
    assert person.window.message.is_error()


def test_a_coupon_without_a_treatment_says_where_to_choose_one(person, yard):
    coupon = person.session.record.coupons[1]
    person.window.do(edit_coupon_operation, replace(coupon, treatment=None))
    person.do("coupon.treatment")
    assert person.message() == "This coupon has no treatment yet; choose one in Edit coupon."


def test_a_file_that_is_no_board_leaves_the_board_in_the_window_as_it_is(person, yard):
    stray = yard.parent / "board.rustboard"
    stray.write_text("not a board")
    person.answers.files = [stray]
    person.do("file.open")
    assert person.window.message.is_error()
    assert person.session.folder == yard
    person.tap("A1")
    assert person.grading() == "C01"


def test_the_board_in_the_window_opened_again_stays_open_for_writing(person, yard):
    for path in (yard, yard / "board.rustboard"):
        person.answers.files = [path]
        person.do("file.open")
        assert person.session.read_only_reason == ""


def test_a_table_of_grades_that_cannot_be_read_is_told(person, yard):
    person.answers.files = [yard / "board.rustboard"]
    person.do("file.grades")
    assert "board.rustboard" in person.message()
    assert person.window.message.is_error()


def test_grades_typed_elsewhere_that_all_fit_are_counted(person, yard):
    typed = yard.parent / "typed.csv"
    day = START + timedelta(days=1)
    typed.write_text(f"date,coupon,grade\n{day:%Y-%m-%d},C01,9\n{day:%Y-%m-%d},C02,8\n", encoding="utf-8")
    person.answers.files = [typed]
    person.do("file.grades")
    assert person.message() == "Added 2 grades from typed.csv"


def test_the_version_and_the_caution_are_in_the_about_box(person):
    seen = []
    person.answers.dialogs = [lambda box: seen.extend(label.text() for label in box.findChildren(QLabel))]
    person.do("help.about")
    assert any("replace no standard" in text for text in seen)
