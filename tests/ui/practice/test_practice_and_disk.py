"""What the dialog says of a disk that refuses and a history that is damaged, and how it waits for pictures."""

from __future__ import annotations

from concurrent.futures import Executor, Future

from practice_desk import click, grade_all, key, says
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication

from rustboard.scales.practice import exercise
from rustboard.store.practice_history import read_history
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge
from rustboard.ui.practice import dialog as dialog_module


def answers(file):
    return [each.number for kept in read_history(file).exercises for each in kept.answers]


def test_while_the_disk_refuses_one_sentence_says_so_and_nothing_is_lost(practising, file):
    dialog = practising()
    click(dialog.start.start)
    grade_all(dialog, until=2)
    kept = file.read_bytes()
    file.unlink()
    file.mkdir()
    grade_all(dialog, until=4)
    assert dialog.problem.text() == (
        "practice.jsonl: This is a folder, and a file is needed; choose a file. "
        "You can go on; grades not on the disk yet: 2. They are tried again with the next."
    )
    assert says(dialog, "5 of 44")
    file.rmdir()
    file.write_bytes(kept)
    grade_all(dialog, until=5)
    assert dialog.problem.text() == ""
    assert answers(file) == [0, 1, 2, 3, 4]


def test_leaving_with_grades_that_are_not_on_the_disk_takes_a_second_word(practising, file):
    file.mkdir(parents=True)
    dialog = practising()
    click(dialog.start.start)
    grade_all(dialog, until=3)
    key(dialog, Qt.Key.Key_Escape)
    assert dialog.isVisible()
    assert "Grades that would be lost: 3. Close once more to leave without them." in dialog.problem.text()
    grade_all(dialog, until=4)
    key(dialog, Qt.Key.Key_Escape)
    assert dialog.isVisible(), "after another grade it is asked anew"
    key(dialog, Qt.Key.Key_Escape)
    assert not dialog.isVisible()


def test_esc_held_down_is_one_word(practising, file):
    file.mkdir(parents=True)
    dialog = practising()
    click(dialog.start.start)
    grade_all(dialog, until=3)
    for held in (False, True, True):
        press = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Escape, Qt.KeyboardModifier.NoModifier, "", held)
        QApplication.sendEvent(dialog.focusWidget(), press)
    assert dialog.isVisible()
    key(dialog, Qt.Key.Key_Escape)
    assert not dialog.isVisible()


def test_closing_by_the_windows_own_button_asks_as_well_and_saves_what_it_can(practising, file):
    file.mkdir(parents=True)
    dialog = practising()
    click(dialog.start.start)
    grade_all(dialog, until=3)
    dialog.close()
    assert dialog.isVisible()
    file.rmdir()
    dialog.close()
    assert not dialog.isVisible()
    assert answers(file) == [0, 1, 2]


def test_a_damaged_history_is_told_on_the_first_page_and_put_aside(practising, file):
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(b"torn")
    dialog = practising()
    assert dialog.problem.text() == (
        "Your practice history practice.jsonl cannot be read; it is put aside when you next grade."
    )
    click(dialog.start.start)
    grade_all(dialog, until=1)
    assert dialog.problem.text() == ""
    assert answers(file) == [0]
    assert file.with_name("practice.damaged-1.jsonl").read_bytes() == b"torn"


class Later(Executor):
    """Runs jobs when told to, in the order in which they were asked for."""

    def __init__(self):
        self.waiting = []

    def submit(self, fn, /, *args, **kwargs):
        self.waiting.append(lambda: fn(*args, **kwargs))
        return Future()

    def run_one(self):
        self.waiting.pop(0)()


def test_the_next_coupon_is_asked_for_while_this_one_is_graded_and_awaited_when_it_is_late(practising, file):
    later = Later()
    bridge = JobBridge(executor=later)
    dialog = practising(own_bridge=bridge)
    click(dialog.start.start)
    assert len(later.waiting) == 2, "this one and the next"
    assert says(dialog, "The coupon is being painted…")
    assert not dialog.grading.keys.isEnabled()
    key(dialog, "5")
    assert answers(file) == []
    later.run_one()
    assert dialog.grading.keys.isEnabled()
    assert says(dialog, "Which grade is it?")
    key(dialog, "5")
    assert answers(file) == [0]
    assert says(dialog, "The coupon is being painted…"), "the next is late"
    assert not dialog.grading.view.has_image(), "the coupon graded is not taken for the next"
    later.run_one()
    assert says(dialog, "Which grade is it?")
    assert len(later.waiting) == 1
    bridge.close()


def test_a_coupon_that_cannot_be_painted_is_told_and_tried_again_later(practising, file, monkeypatch):
    paint, failing = dialog_module.paint_practice_coupon, [True]

    def sometimes(coupon, progress):
        if failing and coupon.number == 1:
            raise InputError("There is no memory left for the next coupon.")
        return paint(coupon, progress)

    monkeypatch.setattr(dialog_module, "paint_practice_coupon", sometimes)
    dialog = practising()
    click(dialog.start.start)
    assert "no memory left" in dialog.problem.text()
    failing.clear()
    key(dialog, "5")
    assert says(dialog, "2 of 44")
    assert dialog.grading.keys.isEnabled()


def test_another_window_that_finished_the_exercise_first_is_told(practising, file):
    dialog = practising()
    click(dialog.start.start)
    grade_all(dialog, until=3)
    dialog.reject()
    waiting = practising()
    other = practising()
    click(other.start.go_on)
    grade_all(other)
    click(waiting.start.go_on)
    assert "no unfinished exercise" in waiting.problem.text()
    assert waiting.start.go_on.isHidden()
    assert len(exercise(5)) == len(answers(file))
