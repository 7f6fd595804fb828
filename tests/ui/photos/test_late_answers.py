"""Answers that come late: after the board, its photos, its strokes or the day in view are others."""

from __future__ import annotations

import pytest
from later import Later
from measured_boards import measured_board, measurement
from photographed_boards import PX_PER_MM
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from window_driving import Desk, Person, settle

from rustboard.board.measured import PhotoPlacing, Stroke
from rustboard.operations.brushing import add_stroke
from rustboard.operations.measuring import place_photo
from rustboard.operations.photos import remove_photo, tie_photo
from rustboard.session import measuring
from rustboard.session.jobs import Progress
from rustboard.session.measuring import MeasureRequest, MeasureResult
from rustboard.ui.photos.screen import PhotoScreen

PLACE = tuple(map(float, (PX_PER_MM, 0, 0, 0, PX_PER_MM, 0, 0, 0, 1)))
STROKE = Stroke(2, 1, True, 2.0, ((30.0, 40.0), (30.0, 50.0)))


@pytest.fixture
def later(desk: Desk) -> Later:
    later = Later()
    desk._executor = lambda: later
    return later


@pytest.fixture
def found(monkeypatch: pytest.MonkeyPatch) -> list[MeasureResult | Exception]:
    """What measuring will find, or stumble over; the last stands for all that follow."""
    found: list[MeasureResult | Exception] = []

    def measure(request: MeasureRequest, progress: Progress) -> MeasureResult:
        answer = found.pop(0) if len(found) > 1 else found[0]
        if isinstance(answer, Exception):
            raise answer
        return answer

    monkeypatch.setattr(measuring, "measure", measure)
    return found


@pytest.fixture
def person(desk: Desk, later: Later, tmp_path) -> Person:
    person = desk.sit_down(measured_board(tmp_path / "Fence"))
    person.do("photos.show")
    person.session.selection.choose({1}, 1)
    later.run()
    return person


def screen_of(person: Person) -> PhotoScreen:
    screen = person.window.photos.screen
    assert screen is not None
    return screen


def percent(person: Person, photo: int = 2, coupon: int = 1) -> float | None:
    return person.session.record.measured[photo][coupon].percent


def paint(person: Person) -> None:
    screen_of(person)._keep_stroke(STROKE)
    settle()


# ---- measuring


def test_figures_of_a_board_that_was_left_are_not_written_into_the_next(person, later, found, tmp_path):
    found.append(MeasureResult(measurements=(measurement(2, 1, 5.0),)))
    paint(person)
    other = measured_board(tmp_path / "Wall")
    person.window.show_board(other)
    while later.waiting:
        later.waiting.pop(0)()  # before the window has come round to deleting the photos of the board it left
    assert percent(person) == 0.12
    later.run()
    assert percent(person) == 0.12


def test_figures_with_a_stroke_that_was_undone_meanwhile_are_not_kept(person, later, found):
    found.append(MeasureResult(measurements=(measurement(2, 1, 5.0),)))
    paint(person)
    person.do("edit.undo")
    later.run()
    assert person.session.record.strokes == {}
    assert percent(person) == 0.12


def test_a_place_that_a_person_gave_while_it_was_measured_stays(person, later, found):
    lost = PhotoPlacing(2, None, because="The board was not found.")
    found.append(MeasureResult((lost,), (measurement(1, 1, 7.0), measurement(2, 1, 7.0))))
    person.window.photos.measure()
    person.window.do(place_photo, PhotoPlacing(2, PLACE, placed_by="corners"))
    later.run()
    assert person.session.record.photos[2].placed_by == "corners"
    assert percent(person, photo=1) == 7.0
    assert percent(person, photo=2) == 0.12, "measured where the board is not"


def test_a_photo_taken_off_the_board_meanwhile_costs_only_what_was_found_in_it(person, later, found):
    found.append(MeasureResult(measurements=(measurement(1, 1, 7.0), measurement(2, 1, 7.0))))
    person.window.photos.measure()
    person.window.do(remove_photo, 2)
    later.run()
    assert percent(person, photo=1) == 7.0
    assert not person.window.message.is_error()


def test_a_stroke_drawn_while_all_is_measured_counts_in_the_end(person, later, found):
    without, with_it = measurement(2, 1, 0.5), measurement(2, 1, 5.0)
    found.extend([MeasureResult(measurements=(without,)), MeasureResult(measurements=(with_it,))])
    person.window.photos.measure()
    person.window.do(add_stroke, STROKE)
    later.run()
    assert percent(person) == 5.0


def test_after_a_fault_of_ours_nothing_is_shown_as_being_measured(person, later, found, qtbot):
    found.append(ZeroDivisionError("ours"))
    person.window.photos.measure()
    assert screen_of(person).head._progress.isVisible()
    with qtbot.capture_exceptions() as caught:
        later.run()
    assert [kind for kind, *_ in caught] == [ZeroDivisionError]
    assert not screen_of(person).head._progress.isVisible()
    assert "mistake of its own" in person.message()


def test_what_measuring_revised_is_not_said_in_the_status_line(person, later, found):
    found.append(MeasureResult(measurements=(measurement(2, 1, 5.0),)))
    person.window.photos.measure()
    later.run()
    assert percent(person) == 5.0
    assert "5 %" not in person.window.statusBar().currentMessage(), "whoever grades blind would read it"


# ---- pictures


def test_a_board_cut_from_where_a_photo_was_placed_before_is_not_shown(person, later):
    screen = screen_of(person)
    views = screen.stage.views
    views.placed_anew()
    screen.show_day()  # asks for the board as the photo is placed now
    asked, later.waiting = later.waiting, []
    person.do("photos.show")  # to the tiles
    person.window.do(place_photo, PhotoPlacing(2, (2.2, *PLACE[1:]), placed_by="corners"))
    for each in asked:
        each()
    settle()
    assert views.board(2) is None
    assert views.coupon(2, 1) is None
    person.do("photos.show")
    later.run()
    assert views.board(2) is not None
    assert views.coupon(2, 1) is not None


# ---- what is left behind


def test_a_hidden_board_does_not_blink(person):
    screen = screen_of(person)
    screen.stage.tools.compare.click()
    screen.stage.tools.comparing._ways.button(1).click()
    settle()
    assert screen.stage.coupon.comparison.is_running()
    assert screen.stage.board.comparison.is_running()
    screen.stage.tools._seen.button(2).click()
    settle()
    assert not screen.stage.board.comparison.is_running()
    screen.stage.tools.comparing._rate.setValue(7)
    screen.stage.tools.comparing._ways.button(1).click()
    settle()
    assert not screen.stage.board.comparison.is_running()
    person.do("photos.show")
    assert not screen.stage.coupon.comparison.is_running()


def test_the_other_day_is_let_go_when_the_screen_is_left_with_the_key_down(person):
    screen = screen_of(person)
    QTest.keyPress(screen, Qt.Key.Key_B)
    assert screen.stage.coupon.comparison.shows_other()
    person.do("photos.show")
    person.do("photos.show")
    assert not screen.stage.coupon.comparison.shows_other()


def test_the_photos_take_the_colours_of_the_window(person, desk):
    desk.set_scheme("dark")
    settle()
    assert screen_of(person).stage.board._scheme.name == person.window.scheme.name == "dark"


def test_a_window_that_was_minimised_comes_back_on_the_same_day(person):
    screen = screen_of(person)
    person.window.do(tie_photo, 1, None)
    screen.choose_day(1)
    assert person.session.selection.inspection == 2, "a photo of no visit is in view"
    person.window.showMinimized()
    settle()
    person.window.showNormal()
    settle()
    assert screen.choice.this == 1
    assert person.session.selection.photo == 1
