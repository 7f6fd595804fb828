"""Keys for gloves: large enough in millimetres, all of them on the screen, remembered."""

from __future__ import annotations

import pytest
from photographed_boards import photographed
from PySide6.QtCore import QPoint, QRect, QSize
from PySide6.QtWidgets import QPushButton, QWidget
from window_driving import Person, settle

from rustboard.support.settings import load_settings
from rustboard.ui.grading.compare import CompareDialog
from rustboard.ui.theme import MM_PER_INCH, px_of_mm

# A small laptop, at 96 and at about 110 dots per inch in the desktop's own measure, and enlarged to twice the size.
SCREENS = [QSize(1366, 768), QSize(1192, 670), QSize(683, 384)]
GLOVE_MM = 20.0  # asked for by users with gloves; no outside source


def keys_of(person: Person) -> list[QRect]:
    return [each.geometry() for each in person.panel.guide.keys.values()]


def in_mm(person: Person, px: int) -> float:
    return px * MM_PER_INCH / person.panel.logicalDpiX()


@pytest.fixture(params=["with photos", "without"])
def grading(request, tmp_path, sitting_at, yard) -> Person:
    person = sitting_at(photographed(tmp_path / "b") if request.param == "with photos" else yard)
    person.tap("A1")
    return person


@pytest.mark.parametrize("size", SCREENS, ids=str)
@pytest.mark.parametrize("scheme", ["light", "sunlight"])
def test_every_large_key_is_20_mm_wide_and_inside_the_window(grading, size, scheme):
    grading.do(f"view.{scheme}")
    grading.do("view.large_keys")
    for _ in range(2):  # made narrow, the window first lets go of the timeline
        grading.window.resize(size)
        settle()
    assert grading.window.width() <= size.width()
    assert grading.window.height() <= size.height()
    places = keys_of(grading)
    guide = grading.panel.guide
    assert all(in_mm(grading, each.width()) >= GLOVE_MM - 0.2 for each in places)  # a px is a quarter of a mm
    assert all(in_mm(grading, each.height()) >= 12 for each in places)
    assert all(guide.rect().contains(each) for each in places)
    assert not any(one.intersects(other) for one in places for other in places if one is not other)
    assert len({each.top() for each in places}) == guide.rows()
    bottom = guide.mapTo(grading.window, guide.rect().bottomRight())
    assert grading.window.rect().contains(bottom)


@pytest.mark.parametrize("size", SCREENS, ids=str)
@pytest.mark.parametrize("scheme", ["light", "sunlight"])
@pytest.mark.parametrize("large", [False, True], ids=["usual", "large"])
def test_by_percent_everything_to_press_is_inside_the_window_too(grading, size, scheme, large):
    grading.do(f"view.{scheme}")
    grading.key("%")
    if large:
        grading.do("view.large_keys")
    for _ in range(2):
        grading.window.resize(size)
        settle()
    assert grading.window.size() == size
    picker = grading.panel.picker
    pressed = [*picker.findChildren(QPushButton), picker.field, picker.slider]
    for each in pressed:
        assert picker.rect().contains(_on(each, picker)), each
    places = [_on(each, picker) for each in pressed]
    assert not any(one.intersects(other) for one in places for other in places if one is not other)


def _on(widget: QWidget, ground: QWidget) -> QRect:
    return QRect(widget.mapTo(ground, QPoint()), widget.size())


def test_the_large_comparisons_buttons_are_large_too(person):
    person.do("view.large_keys")
    person.tap("A1")
    person.key("l")
    (dialog,) = person.panel.findChildren(CompareDialog)
    settle()
    assert all(in_mm(person, each.height()) >= 11.8 for each in dialog.findChildren(QPushButton))
    dialog.reject()


def test_in_two_rows_they_still_count_down_from_ten_in_reading_order(grading):
    grading.do("view.large_keys")
    grading.window.resize(QSize(683, 384))
    settle()
    assert grading.panel.guide.rows() == 2
    read = sorted(grading.panel.guide.keys.items(), key=lambda pair: (pair[1].y(), pair[1].x()))
    assert [grade for grade, _ in read] == list(range(10, -1, -1))


def test_the_other_buttons_grow_too_and_all_goes_back(person):
    person.tap("A1")
    person.window.resize(QSize(1366, 768))
    settle()
    buttons = [each for each in person.panel.findChildren(QPushButton) if each.isVisible()]
    before = [each.height() for each in buttons]
    person.do("view.large_keys")
    roomy = person.window.screen().size().height() >= px_of_mm(person.panel, 150)
    assert roomy, "the tests' screen is tall enough"
    assert all(in_mm(person, each.height()) >= 11.8 for each in buttons)
    person.do("view.large_keys")
    assert [each.height() for each in buttons] == before


def test_the_setting_survives_and_its_switch_shows_it(person, sitting_at, yard):
    assert not person.checked("view.large_keys")
    person.do("view.large_keys")
    assert person.checked("view.large_keys")
    assert load_settings().large_keys
    person.tap("A1")
    assert person.panel.guide.keys[7].minimumWidth() == 0
    assert person.panel.guide.keys[7].minimumSizeHint().width() >= px_of_mm(person.panel, GLOVE_MM)


def test_grades_are_given_by_large_keys(grading):
    grading.do("view.large_keys")
    for grade in (10, 4):
        grading.tap_grade(grade)
    inspection = grading.session.selection.inspection
    assert [grading.session.record.grading(key, inspection).grade for key in (1, 2)] == [10, 4]
