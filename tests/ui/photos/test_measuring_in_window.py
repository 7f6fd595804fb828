"""Measuring from the window: progress, Stop, what is told, and grading meanwhile."""

from __future__ import annotations

import threading

import pytest
from measured_boards import fitting, measurement
from photographed_boards import photographed
from PySide6.QtCore import Qt
from window_driving import Desk, Person, settle, wait_until

from rustboard.session import measuring
from rustboard.session.jobs import Progress
from rustboard.session.measuring import MeasureRequest, MeasureResult
from rustboard.support.problems import Problem


@pytest.fixture
def busy_desk(desk: Desk) -> Desk:
    """Windows whose jobs run beside them, as in the program."""
    desk._executor = lambda: None
    return desk


class Measuring:
    """Stands in for the job: does a step when it is told to."""

    def __init__(self) -> None:
        self.go_on, self.asked_again = threading.Event(), False
        self.stopped = False

    def __call__(self, request: MeasureRequest, progress: Progress) -> MeasureResult:
        self.asked_again = request.again
        progress.step(1, 2)
        while not self.go_on.wait(0.01):
            self.stopped = progress.cancelled
            progress.step(1, 2)
        plain = [measurement(photo, coupon) for photo in (1, 2) for coupon in (1, 2, 3)]
        hidden = [measurement(photo, 4, None, low=None, high=None) for photo in (1, 2)]
        found = [fitting(request.record, each) for each in (*plain, *hidden)]
        return MeasureResult(
            measurements=tuple(found), problems=(Problem("Coupon C04 is hidden in every photo.", file="b.jpg"),)
        )


@pytest.fixture
def job(monkeypatch) -> Measuring:
    job = Measuring()
    monkeypatch.setattr(measuring, "measure", job)
    return job


@pytest.fixture
def before_photos(busy_desk: Desk, tmp_path, job) -> Person:
    person = busy_desk.sit_down(photographed(tmp_path / "Fence"))
    person.do("photos.show")
    return person


def screen_of(person: Person):
    screen = person.window.photos.screen
    assert screen is not None
    return screen


def test_measuring_goes_on_while_one_grades_and_problems_stay_until_read(before_photos, job):
    person = before_photos
    person.press("Measure 2 photos")
    wait_until(lambda: screen_of(person).head._progress.text() == "1 of 2", "for progress")
    assert screen_of(person).head._stop.isVisible()
    person.do("photos.show")  # back to the board
    wait_until(lambda: "Measuring the photos: 1 of 2" in person.message(), "for progress in the bar")
    person.tap("A1")
    person.tap_grade(7)
    assert person.session.record.grading(1, 2) is not None
    job.go_on.set()
    wait_until(lambda: person.window.message.is_error(), "for the end")
    assert "Coupon C04 is hidden in every photo." in person.message()
    assert person.session.record.measured[2][3].percent == 0.12
    assert not job.asked_again
    person.press("Got it")
    person.do("edit.undo")
    assert person.session.record.measured == {}, "one step"


def test_stop_leaves_nothing_half_done_and_it_may_be_asked_again(before_photos, job):
    person = before_photos
    person.press("Measure 2 photos")
    wait_until(lambda: screen_of(person).head._progress.text() == "1 of 2", "for progress")
    person.press("Stop")
    wait_until(lambda: job.stopped or not person.window.bridge.busy(), "for the job to notice")
    settle()
    assert person.session.record.measured == {}
    assert person.message().startswith("Stopped measuring")
    job.go_on.set()
    person.press("Measure 2 photos")
    wait_until(lambda: bool(person.session.record.measured), "for the second try")


def test_closing_the_board_stops_measuring(before_photos, job):
    person = before_photos
    person.press("Measure 2 photos")
    wait_until(lambda: screen_of(person).head._progress.text() == "1 of 2", "for progress")
    person.do("file.shelf")
    wait_until(lambda: not person.window.bridge.busy(), "for the job to end")
    assert person.window.photos.screen is None


def test_when_everything_is_measured_it_is_measured_anew(before_photos, job):
    person = before_photos
    job.go_on.set()
    person.press("Measure 2 photos")
    wait_until(lambda: bool(person.session.record.measured), "for the end")
    person.press("Measure again")
    wait_until(lambda: job.asked_again, "for the second run")
    wait_until(lambda: not person.window.bridge.busy(), "for its end")


def test_a_double_click_on_stop_does_not_begin_anew_and_no_button_moves(before_photos, job):
    person = before_photos
    head = screen_of(person).head
    assert not head._stop.isEnabled()
    places = [each.geometry() for each in (head._measure, head._stop, head._back)]
    person.press("Measure 2 photos")
    wait_until(lambda: head._progress.text() == "1 of 2", "for progress")
    assert [each.geometry() for each in (head._measure, head._stop, head._back)] == places
    assert not head._measure.isEnabled()
    where = head._stop.mapTo(person.window, head._stop.rect().center())
    for _ in range(2):
        under = person.window.childAt(where)
        assert under is head._stop
        person.click(under)
    wait_until(lambda: job.stopped or not person.window.bridge.busy(), "for the job to notice")
    assert person.message().startswith("Stopped measuring")
    assert head._measure.isEnabled()
    assert [each.geometry() for each in (head._measure, head._stop, head._back)] == places
    job.go_on.set()
    wait_until(lambda: not person.window.bridge.busy(), "for its end")
    assert person.session.record.measured == {}


def test_a_key_pressed_twice_on_measure_neither_stops_nor_leaves(before_photos, job):
    person = before_photos
    head = screen_of(person).head
    head._measure.setFocus()
    person.key(Qt.Key.Key_Space)
    wait_until(lambda: head._progress.text() == "1 of 2", "for progress")
    person.key(Qt.Key.Key_Space)
    assert not job.stopped
    assert person.window.photos.is_shown()
    assert head._stop.isEnabled()
    job.go_on.set()
    wait_until(lambda: bool(person.session.record.measured), "for the end")


def test_who_only_reads_sees_neither_measure_nor_stop(desk, tmp_path):
    folder = photographed(tmp_path / "Fence")
    desk.sit_down(folder)
    reader = desk.sit_down(folder)
    reader.do("photos.show")
    head = screen_of(reader).head
    assert not head._measure.isVisible()
    assert not head._stop.isVisible()
