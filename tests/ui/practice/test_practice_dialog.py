"""The exercise from start to end, by keys and by mouse, left and gone on with."""

from __future__ import annotations

import pytest
from practice_desk import click, everything_said, grade_all, grade_by_key, key, says, shown_words
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QTableWidget, QWidget
from window_driving import settle

from rustboard.scales.practice import TOTAL, exercise
from rustboard.store.practice_history import read_history
from rustboard.ui.measured_words import percent_text
from rustboard.ui.practice.grade_keys import DigitKey
from rustboard.ui.theme import px_of_mm


def answers(file):
    return [(each.number, each.grade) for kept in read_history(file).exercises for each in kept.answers]


def test_the_first_page_says_what_will_happen_and_who_grades(practising):
    dialog = practising()
    assert dialog.start.grader() == "Ann"
    assert says(dialog, "You grade 44 drawn coupons, all different, in about ten minutes.")
    assert says(dialog, "For the first 12 the truth is not told")
    assert says(dialog, "Ann has not finished an exercise yet.")
    assert dialog.start.start.hasFocus()
    assert dialog.start.go_on.isHidden()


def test_without_a_name_nothing_begins(practising, file):
    dialog = practising(grader="")
    assert dialog.start.who.hasFocus() or dialog.start.who.lineEdit().hasFocus()
    assert not dialog.start.start.isEnabled()
    assert says(dialog, "Say who grades")
    QTest.keyClicks(dialog.start.who.lineEdit(), "Berta")
    assert dialog.start.start.isEnabled()
    click(dialog.start.start)
    assert read_history(file).exercises[0].begun.grader == "Berta"


def test_a_whole_exercise_by_keys_alone(practising, file):
    dialog = practising()
    key(dialog, Qt.Key.Key_Space)
    assert says(dialog, "Before: the truth is not told")
    assert says(dialog, "1 of 44")
    for coupon in exercise(5):
        before = len(answers(file))
        assert before == coupon.number
        key(dialog, Qt.Key.Key_T if coupon.grade == 10 else str(coupon.grade))
        assert answers(file)[-1] == (coupon.number, coupon.grade), "on the disk before the next coupon"
        assert dialog.grading.card.tells() == (coupon.part == "learning")
        if coupon.part == "learning":
            assert says(dialog, "Right.")
            key(dialog, Qt.Key.Key_Space if coupon.number % 2 else Qt.Key.Key_Return)
    assert says(dialog, "All coupons are graded.")
    assert says(dialog, "12 of 12")
    assert says(dialog, "On average you graded neither too good nor too bad, before and after alike.")
    assert says(dialog, "No single grade stands out.")
    key(dialog, Qt.Key.Key_Space)
    assert says(dialog, "Exercises of Ann, before → after")
    table = dialog.findChild(QTableWidget)
    figures = ["0 → 0", "0.0 → 0.0", "12 → 12 of 12", "12 → 12 of 12"]
    assert [table.item(0, place).text() for place in range(1, 5)] == figures


def test_by_mouse_or_finger(practising, file):
    dialog = practising()
    click(dialog.start.start)
    for number in range(12):
        click(dialog.grading.keys.keys[number % 11])
    assert [grade for _, grade in answers(file)] == [number % 11 for number in range(12)]
    assert says(dialog, "Learning: the truth follows each grade")
    click(dialog.grading.keys.keys[6])
    assert dialog.grading.card.tells()
    click(dialog.grading.card.go_on)
    assert says(dialog, "14 of 44")


def test_the_truth_is_told_with_percent_grade_and_what_was_given(practising):
    dialog = practising()
    click(dialog.start.start)
    grade_all(dialog, until=13)
    coupon = exercise(5)[13]
    given = coupon.grade - 2 if coupon.grade > 5 else coupon.grade + 2
    key(dialog, str(given))
    words = shown_words(dialog)
    assert str(coupon.grade) in words
    assert str(given) in words
    assert f"{percent_text(coupon.percent)} % rusted" in words
    assert says(dialog, "2 grades too bad" if given < coupon.grade else "2 grades too good")
    assert says(dialog, "14 of 44"), "the coupon in view is still the one graded"


def said_at(practising, file, seed: int, coupon: int, *, answered: bool = False) -> list[str]:
    """Return all that the dialog holds in words when it asks for a coupon; every coupon before it got a 5."""
    file.unlink(missing_ok=True)
    dialog = practising(seed=seed)
    click(dialog.start.start)
    for _ in range(coupon):
        grade_by_key(dialog, 5)
    if answered:
        key(dialog, "5")
    said = everything_said(dialog)
    assert not dialog.grading.view.is_marked()
    dialog.reject()
    return said


@pytest.mark.parametrize("coupon", [0, 11, 12, 20, 32])
def test_nothing_in_the_dialog_tells_the_truth_before_the_answer(practising, file, coupon):
    # Exercises with other coupons leave every widget with the same words: then no word can hang on the truth.
    first = said_at(practising, file, 5, coupon)
    others = [seed for seed in range(20, 40) if exercise(seed)[coupon].grade != exercise(5)[coupon].grade][:3]
    for seed in others:
        assert said_at(practising, file, seed, coupon) == first
    assert len(first) > 50


@pytest.mark.parametrize("coupon", [0, 11, 32, 42])
def test_nothing_tells_it_after_the_answer_either_where_the_truth_is_not_told(practising, file, coupon):
    first = said_at(practising, file, 5, coupon, answered=True)
    assert said_at(practising, file, 21, coupon, answered=True) == first


def test_the_same_look_at_all_words_sees_the_truth_where_it_is_told(practising, file):
    said = said_at(practising, file, 5, 13, answered=True)
    assert f"{percent_text(exercise(5)[13].percent)} % rusted" in "\n".join(said)
    assert said != said_at(practising, file, 21, 13, answered=True)


def test_m_marks_the_rust_once_the_truth_is_told_and_not_before(practising):
    dialog = practising()
    click(dialog.start.start)
    view = dialog.grading.view
    grade_all(dialog, until=12)
    key(dialog, "m")
    assert not view.is_marked()
    key(dialog, "5")
    bare = view.grab().toImage()
    key(dialog, "m")
    assert view.is_marked()
    marked = view.grab().toImage()
    middle = view.to_widget(3.5, 3.5).toPoint()
    assert QColor(marked.pixel(middle)).blue() > QColor(bare.pixel(middle)).blue() + 60
    clean = view.to_widget(6.5, 10.5).toPoint()
    assert marked.pixel(clean) == bare.pixel(clean)
    key(dialog, "m")
    assert view.grab().toImage() == bare
    key(dialog, "m", Qt.Key.Key_Return)
    assert not view.is_marked(), "the next coupon is bare"
    key(dialog, "5")
    assert view.is_marked(), "and marked again as soon as its truth is told"


def test_a_key_held_down_or_pressed_again_gives_no_second_grade(practising, file):
    dialog = practising()
    click(dialog.start.start)
    grade_all(dialog, until=12)
    key(dialog, "5", "6", "t")
    assert len(answers(file)) == 13
    key(dialog, Qt.Key.Key_Return)
    press = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_5, Qt.KeyboardModifier.NoModifier, "5", True)
    QApplication.sendEvent(dialog.focusWidget(), press)
    assert len(answers(file)) == 13


def test_a_double_click_grades_one_coupon_and_not_the_next_unseen(practising, file):
    dialog = practising()
    click(dialog.start.start)
    pressed = dialog.grading.keys.keys[4]
    for kind in (QEvent.Type.MouseButtonPress, QEvent.Type.MouseButtonDblClick):  # as the system sends them
        for each in (kind, QEvent.Type.MouseButtonRelease):
            left, at = Qt.MouseButton.LeftButton, QPointF(pressed.rect().center())
            held = Qt.MouseButton.NoButton if each == QEvent.Type.MouseButtonRelease else left
            event = QMouseEvent(each, at, pressed.mapToGlobal(at), left, held, Qt.KeyboardModifier.NoModifier)
            QApplication.sendEvent(pressed, event)
    assert answers(file) == [(0, 4)]
    assert says(dialog, "2 of 44")
    click(pressed)
    assert answers(file) == [(0, 4), (1, 4)]


def test_other_keys_give_nothing(practising, file):
    dialog = practising()
    click(dialog.start.start)
    assert dialog.focusWidget() is dialog.grading.view
    key(dialog, Qt.Key.Key_Return, Qt.Key.Key_Space, "x", Qt.Key.Key_Plus, Qt.Key.Key_Minus, Qt.Key.Key_Left)
    QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_5, Qt.KeyboardModifier.ControlModifier)
    assert answers(file) == []
    assert says(dialog, "1 of 44")


def test_zero_is_a_grade_and_no_zoom(practising, file):
    dialog = practising()
    click(dialog.start.start)
    key(dialog, Qt.Key.Key_Plus)
    nearer = dialog.grading.view.px_per_unit()
    key(dialog, "0")
    assert answers(file) == [(0, 0)]
    assert dialog.grading.view.px_per_unit() < nearer, "the next coupon is shown whole"


@pytest.mark.parametrize(("typed", "grade"), [("7", 7), ("0", 0), ("t", 10), ("T", 10)])
@pytest.mark.parametrize("modifier", ["NoModifier", "KeypadModifier", "ShiftModifier"])
def test_digits_of_the_number_pad_and_capital_letters_are_taken_too(practising, file, typed, grade, modifier):
    dialog = practising()
    click(dialog.start.start)
    QTest.keyClick(dialog.focusWidget(), typed, Qt.KeyboardModifier[modifier])
    assert answers(file) == [(0, grade)]


def test_enter_begins_from_the_name_and_from_the_button_and_leads_back_from_the_end(practising, file):
    dialog = practising(grader="")
    QTest.keyClicks(dialog.focusWidget(), "Ann")
    key(dialog, Qt.Key.Key_Return)
    assert says(dialog, "1 of 44")
    grade_all(dialog, until=3)
    dialog.reject()
    again = practising()
    key(again, Qt.Key.Key_Return)
    assert says(again, "4 of 44")
    grade_all(again)
    key(again, Qt.Key.Key_Return)
    assert says(again, "Exercises of Ann")
    assert again.start.start.hasFocus()


def test_whoever_hears_the_window_is_told_the_truth_with_the_button(practising):
    dialog = practising()
    click(dialog.start.start)
    grade_all(dialog, until=12)
    button = dialog.grading.card.go_on
    assert button.accessibleDescription() == ""
    key(dialog, "5")
    assert button.hasFocus()
    assert f"Truth: grade {exercise(5)[12].grade}, " in button.accessibleDescription()
    key(dialog, Qt.Key.Key_Return)
    assert button.accessibleDescription() == ""


def test_with_tab_and_enter_alone(practising, file):
    dialog = practising()
    click(dialog.start.start)
    for _ in range(30):
        if isinstance(dialog.focusWidget(), DigitKey):
            break
        key(dialog, Qt.Key.Key_Tab)
    chosen = dialog.focusWidget()
    assert isinstance(chosen, DigitKey)
    key(dialog, Qt.Key.Key_Return)
    assert answers(file) == [(0, chosen.grade)]
    assert dialog.focusWidget() is chosen, "the keyboard stays where it is"
    key(dialog, Qt.Key.Key_Space)
    assert len(answers(file)) == 2


def test_escape_leaves_and_the_exercise_is_gone_on_with_at_the_same_coupon(practising, file):
    dialog = practising()
    click(dialog.start.start)
    grade_all(dialog, until=17)
    colour = QColor(dialog.grading.view.image().pixel(0, 0)).red()
    key(dialog, Qt.Key.Key_Escape)
    assert not dialog.isVisible()
    again = practising(seed=99)
    assert again.start.go_on.text() == "&Go on with coupon 18 of 44"
    assert again.start.start.text() == "&Start a new one instead"
    assert again.start.go_on.hasFocus()
    click(again.start.go_on)
    assert says(again, "18 of 44")
    assert QColor(again.grading.view.image().pixel(0, 0)).red() == colour
    grade_all(again)
    assert len(answers(file)) == TOTAL
    assert says(again, "All coupons are graded.")


def test_left_while_the_truth_is_told_it_goes_on_with_the_next(practising):
    dialog = practising()
    click(dialog.start.start)
    grade_all(dialog, until=14)
    key(dialog, "5")
    assert dialog.grading.card.tells()
    key(dialog, Qt.Key.Key_Escape)
    assert practising().start.go_on.text() == "&Go on with coupon 16 of 44"


def test_the_history_follows_the_name_in_the_field(practising):
    dialog = practising()
    click(dialog.start.start)
    grade_all(dialog, off=1)
    assert says(dialog, "of a grade too good")
    assert any("you give" in each for each in shown_words(dialog))
    click(dialog.end.history)
    table = dialog.findChild(QTableWidget)
    assert table.isVisible()
    line = dialog.start.who.lineEdit()
    line.selectAll()
    QTest.keyClicks(line, "Berta")
    settle()
    assert says(dialog, "Berta has not finished an exercise yet.")
    assert not table.isVisible()
    assert [dialog.start.who.itemText(place) for place in range(dialog.start.who.count())] in ([], ["Ann"])
    assert [practising("").start.who.itemText(0)] == ["Ann"]


@pytest.mark.parametrize(
    "name", ['=HYPERLINK("x")', "🧲" * 200, "W" * 400, "a\x00b\u202ec", "<h1>x</h1> &", "\ud800"]
)
def test_any_name_is_shown_and_kept(practising, name):
    dialog = practising(grader=name)
    click(dialog.start.start)
    grade_all(dialog, until=2)
    width = dialog.width()
    assert width <= dialog.screen().availableGeometry().width()
    dialog.reject()
    again = practising(grader=name)
    assert again.start.go_on.text() == "&Go on with coupon 3 of 44"
    assert not again.grab().isNull()


def test_every_control_has_a_name_and_is_large_enough_for_a_finger(practising):
    dialog = practising()
    click(dialog.start.start)
    grade_all(dialog, until=12)
    key(dialog, "5")
    dialog.grading.card.ask("learning", None)
    for each in dialog.findChildren(QAbstractButton):
        if each.parent() is not None and isinstance(each.parent(), QComboBox | QTableWidget):
            continue
        assert each.text() or each.accessibleName(), each
    for each in dialog.grading.keys.keys.values():
        assert each.width() >= px_of_mm(each, 15)
        assert each.height() >= px_of_mm(each, 9)
        assert each.accessibleName().startswith(f"Grade {each.grade}: ")
    for each in (dialog.grading.card.go_on, dialog.grading.card.mark, dialog.start.start, dialog.end.history):
        assert each.minimumHeight() >= px_of_mm(each, 9)
    assert dialog.grading.view.accessibleName()
    assert dialog.start.who.accessibleName() or any(
        each.buddy() is dialog.start.who for each in dialog.findChildren(QWidget) if hasattr(each, "buddy")
    )


def test_letters_of_the_buttons_in_view_are_given_once(practising):
    dialog = practising()
    pages = [lambda: None, lambda: click(dialog.start.start), lambda: grade_by_key(dialog, 3)]
    for act in pages:
        act()
        texts = [each.text() for each in dialog.findChildren(QAbstractButton) if each.isVisible()]
        letters = [text[text.index("&") + 1].lower() for text in texts if "&" in text]
        assert len(letters) == len(set(letters)), texts
