"""What the photo suggests, beside the keys of grading, on the tiles and in the table."""

from __future__ import annotations

import pytest
from measured_boards import measured_board, measurement
from PySide6.QtCore import Qt
from window_driving import Person, settle

from rustboard.support.settings import load_settings
from rustboard.ui.board.table import PHOTO, BoardTable
from rustboard.ui.grid.geometry import Place

SUGGESTION = "photo: 7-S, 0.12 % (0.05 to 0.30)"


@pytest.fixture
def grading(desk, tmp_path) -> Person:
    person = desk.sit_down(measured_board(tmp_path / "Fence", measurement(2, 4, None, low=None, high=None)))
    person.tap("A1")
    return person


def tile_words(person: Person, label: str) -> str:
    canvas = person.page.tiles.canvas
    return canvas.text_of(Place(person.session.record.coupons[int(label)].position))


def test_it_is_hidden_until_the_person_has_graded(grading):
    assert not grading.reads("7-S, 0.12 %")
    grading.key(Qt.Key.Key_Return)
    assert grading.session.record.current == {}, "what is hidden cannot be taken over"
    grading.key("8", Qt.Key.Key_Left)
    assert grading.grading() == "C01"
    assert grading.reads(SUGGESTION)


@pytest.mark.parametrize("width", [700, 860, 1060, 1220, 1340])
def test_no_button_moves_whatever_the_photo_says(desk, tmp_path, width):
    changed = (
        measurement(2, 1, 0.004, low=0.0, high=0.0123, resolvable_percent=0.0345, distribution=""),
        measurement(2, 2, 45.0, low=40.0, high=51.2),
        measurement(2, 4, None, low=None, high=None),
    )
    person = desk.sit_down(measured_board(tmp_path / "Fence", *changed))
    person.window.resize(width, 768)
    person.tap("A1")
    options, line = person.panel.options, person.panel.photo_line
    places = set()
    for coupon in (1, 2, 3, 4):
        person.panel.show_coupon(coupon)
        for _ in range(2):
            settle()
            places.add((options._withdraw.geometry().getRect(), options._note.geometry().getRect(), options.height()))
            if line.isVisible():
                line._blind.click()
    assert len(places) == 1


def test_a_board_without_measurements_keeps_no_room_for_them(person):
    person.tap("A1")
    options = person.panel.options
    assert person.panel.photo_line.isHidden()
    assert options.layout().itemAt(options.layout().count() - 1).sizeHint().width() == 0


def test_who_does_not_grade_blind_sees_it_at_once_and_takes_it_over_by_enter(grading):
    grading.panel.photo_line._blind.click()
    settle()
    assert grading.reads(SUGGESTION)
    assert not load_settings().hide_suggestion, "remembered"
    grading.key(Qt.Key.Key_Return)
    given = grading.session.record.grading(1, 2)
    assert given is not None
    assert (given.grade, given.distribution, given.source, given.grader) == (7, "S", "photo confirmed", "Ann")
    assert grading.grading() == "C02", "on to the next"
    grading.press("Take over 7-S")
    assert grading.session.record.grading(2, 2) is not None


def test_a_grade_by_eye_is_kept_beside_the_one_taken_over(grading):
    grading.key("9", Qt.Key.Key_Left)
    grading.key(Qt.Key.Key_Return)
    states = [(each.grade, each.source, each.state) for each in grading.session.gradings(1, 2)]
    assert states == [(9, "eye", "superseded"), (7, "photo confirmed", "current")]


def test_a_coupon_that_was_not_measured_has_no_line(grading):
    grading.page.open_grading(4)
    assert not grading.panel.photo_line.isVisible()


def test_tile_and_table_say_it_only_after_grading(grading):
    assert "photo:" not in tile_words(grading, "1")
    grading.key("8")
    assert SUGGESTION in tile_words(grading, "1")
    assert "photo:" not in tile_words(grading, "2")
    grading.key(Qt.Key.Key_Escape)
    grading.do("view.table")
    table = grading.page.tiles._table
    assert isinstance(table, BoardTable)
    assert [table.model().index(row, PHOTO).data() for row in range(2)] == ["7-S, 0.12 %", ""]
