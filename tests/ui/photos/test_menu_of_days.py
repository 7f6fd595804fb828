"""The menu of a day in the strip: a photo is taken off the board, or belongs to another inspection."""

from __future__ import annotations

from measured_boards import measured_board
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu
from window_driving import Person, settle

from rustboard.operations.grading import GivenGrade, grade_coupon


def ask_menu(person: Person, photo: int, reason=QContextMenuEvent.Reason.Mouse) -> QMenu | None:
    row = person.window.photos.screen.strip.row
    at = row.place_of(photo)
    where = row.rect_of(at).center()
    QApplication.sendEvent(row, QContextMenuEvent(reason, where, row.mapToGlobal(where)))
    settle()
    return QApplication.activePopupWidget()


def test_a_photo_is_removed_by_the_menu_of_its_day_and_undo_brings_it_back(looking):
    person = looking()
    before = person.session.record.snapshot()
    person.choose(ask_menu(person, 1), "Remove this photo")
    assert list(person.session.record.photos) == [2]
    assert "Took" in person.message()
    person.do("edit.undo")
    assert person.session.record == before


def test_by_the_keyboard_the_menu_is_that_of_the_day_in_view(looking):
    person = looking()
    menu = ask_menu(person, 1, QContextMenuEvent.Reason.Keyboard)
    person.answers.dialogs = [lambda dialog: dialog.inspections.setCurrentRow(dialog.inspections.count() - 1)]
    person.choose(menu, "Belongs to inspection…")
    assert [each.inspection for each in person.session.record.photos.values()] == [1, None]


def test_the_menu_goes_without_choosing_anything(looking):
    person = looking()
    before = person.session.record.snapshot()
    menu = ask_menu(person, 1)
    QTest.keyClick(menu, Qt.Key.Key_Escape)
    QTest.mouseRelease(person.window.photos.screen.strip.row, Qt.MouseButton.RightButton, pos=QPoint(200, 20))
    settle()
    assert person.window.photos.screen.choice.this == 1
    assert person.session.record == before


def test_a_board_for_reading_has_no_such_menu(tmp_path, desk):
    folder = measured_board(tmp_path / "Fence")
    desk.sit_down(folder)
    second = desk.sit_down(folder)
    second.do("photos.show")
    settle(8)
    assert ask_menu(second, 1) is None


def test_a_refusal_is_a_sentence(looking):
    person = looking()
    person.window.do(grade_coupon, GivenGrade(1, 2, 7, "S", percent=0.12, source="photo confirmed"))
    person.do("photos.remove")
    assert "Grades were taken over from this photo" in person.message()
    assert sorted(person.session.record.photos) == [1, 2]


def test_a_photo_that_stays_with_its_grades_is_said_where_its_time_is_shifted(looking):
    person = looking()
    person.window.do(grade_coupon, GivenGrade(1, 2, 7, "S"))
    said = []

    def shift(dialog) -> None:
        dialog.clock.shifted.emit(3 * 86_400)
        said.append(dialog.problem.text())

    person.answers.dialogs = [shift]
    person.do("photos.time")
    assert "kept with the inspection" in said[0]
    assert person.session.record.photos[2].inspection == 2
