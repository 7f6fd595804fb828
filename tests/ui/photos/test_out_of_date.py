"""Figures that no longer fit the board: they are said to be measured again, and are taken over by nobody."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from measured_boards import fitting, measurement
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from window_driving import Person, settle

from rustboard.board.measured import Disturbance, ExcludedArea
from rustboard.operations.areas import set_excluded_areas
from rustboard.operations.boards import edit_board
from rustboard.operations.coupons import edit_coupon
from rustboard.operations.disturbances import note_disturbance
from rustboard.operations.measuring import keep_measuring
from rustboard.session import measuring
from rustboard.session.jobs import Progress
from rustboard.session.measuring import MeasureRequest, MeasureResult
from rustboard.session.out_of_date import OutOfDate

HOLE = ((10.0, 10.0), (16.0, 10.0), (16.0, 16.0), (10.0, 16.0))


def smaller(person: Person) -> None:
    coupon = person.session.record.coupons[1]
    left = min(x for x, _ in coupon.outline_mm)
    outline = tuple((x if x == left else x - 4, y) for x, y in coupon.outline_mm)
    person.window.do(edit_coupon, replace(coupon, outline_mm=outline))


def with_hole(person: Person) -> None:
    person.window.do(set_excluded_areas, 1, [ExcludedArea(1, "hole", HOLE)])


def with_margin(person: Person) -> None:
    person.window.do(edit_board, replace(person.session.record.board, edge_margin_mm=7.0))


def cleaned(person: Person) -> None:
    when = person.session.record.photos[2].taken
    assert when is not None
    person.window.do(note_disturbance, Disturbance(when - timedelta(hours=1), "cleaned", 1))


CHANGES = {"outline": smaller, "hole": with_hole, "margin": with_margin, "day log": cleaned}


def look_at(person: Person, coupon: int) -> None:
    person.session.selection.choose({coupon}, coupon)
    settle()


@pytest.mark.parametrize("change", CHANGES)
def test_figures_of_another_outline_or_day_log_are_to_be_measured_again(looking, change):
    person = looking()
    screen = person.window.photos.screen
    CHANGES[change](person)
    settle()
    look_at(person, 1)
    assert person.reads("To be measured again")
    assert "To be measured again" in next(each.words for each in screen.stage.board.marks if each.coupon == 1)
    assert not person.reads("no longer kept on this computer"), "its masks are of another outline"
    assert not screen.stage.figures._accept.isEnabled()
    QTest.keyClick(screen, Qt.Key.Key_Return)
    assert person.session.record.grading(1, 2) is None, "an old figure is not taken over"
    assert "measure again" in screen.head._title.text()
    assert screen.head._measure.text() == "Measure 2 photos"


def test_all_confident_ones_leave_out_what_is_to_be_measured_again(looking):
    person = looking()
    smaller(person)
    settle()
    person.press("Take over all 3 confident")
    assert sorted(person.session.record.current) == [2, 3, 4]
    assert "C01: to be measured again" in person.message()


def test_undo_of_the_change_makes_the_figures_fit_again(looking):
    person = looking()
    smaller(person)
    person.do("edit.undo")
    settle()
    look_at(person, 1)
    assert not person.reads("To be measured again")
    assert person.window.photos.screen.head._measure.text() == "Measure again"


@pytest.mark.parametrize("kind", ["debris cleared", "other"])
def test_what_the_day_log_says_for_people_alone_changes_no_figure(looking, kind):
    person = looking()
    when = person.session.record.photos[2].taken
    person.window.do(note_disturbance, Disturbance(when - timedelta(hours=1), kind, 1))
    assert OutOfDate(person.session.record).to_measure() == []


def test_what_was_done_after_the_last_photo_waits_for_the_next(looking):
    person = looking()
    when = person.session.record.photos[2].taken
    person.window.do(note_disturbance, Disturbance(when + timedelta(hours=1), "cleaned", 1))
    assert OutOfDate(person.session.record).to_measure() == []


def test_another_name_of_a_coupon_changes_no_figure(looking):
    person = looking()
    person.window.do(edit_coupon, replace(person.session.record.coupons[1], id="N1"))
    assert OutOfDate(person.session.record).to_measure() == []


def test_without_an_outline_a_figure_fits_no_more_and_cannot_be_measured(looking):
    person = looking()
    coupon = person.session.record.coupons[4]
    person.window.do(edit_coupon, replace(coupon, outline_mm=()))
    assert OutOfDate(person.session.record).to_measure() == []
    assert OutOfDate(person.session.record).in_photo(2) == {4: {"shape"}}
    person.do("edit.undo")
    assert OutOfDate(person.session.record).in_photo(2) == {}


def test_measuring_makes_them_fit_and_does_not_measure_all_anew(looking, monkeypatch):
    asked: list[MeasureRequest] = []

    def measure(request: MeasureRequest, progress: Progress) -> MeasureResult:
        asked.append(request)
        found = [fitting(request.record, measurement(photo, 1, 0.2)) for photo in (1, 2)]
        return MeasureResult(measurements=tuple(found))

    monkeypatch.setattr(measuring, "measure", measure)
    person = looking()
    smaller(person)
    settle()
    person.press("Measure 2 photos")
    settle(8)
    assert [each.again for each in asked] == [False]
    look_at(person, 1)
    assert not person.reads("To be measured again")
    assert person.reads("0.20 %")


def test_what_was_measured_by_an_outline_changed_meanwhile_is_not_kept(looking, monkeypatch):
    person = looking()

    def measure(request: MeasureRequest, progress: Progress) -> MeasureResult:
        found = [fitting(request.record, measurement(2, coupon, 5.0)) for coupon in (1, 2)]
        smaller(person)
        return MeasureResult(measurements=tuple(found))

    monkeypatch.setattr(measuring, "measure", measure)
    person.press("Measure again")
    settle(8)
    assert [person.session.record.measured[2][coupon].percent for coupon in (1, 2)] == [0.12, 5.0]
    assert "to be measured again: C01" in person.message()


def test_figures_of_an_older_board_file_are_to_be_measured_again(looking):
    person = looking()
    old = measurement(2, 1, 0.5)  # its settings are those of no board
    person.window.do(keep_measuring, (), [old])
    assert OutOfDate(person.session.record).confident(person.session.record.photos[2]) == [2, 3, 4]
