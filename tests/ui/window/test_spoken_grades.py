"""What is said through the screen reader: the words, and that nothing comes of it where nobody listens."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QAccessibleEvent
from PySide6.QtWidgets import QLabel
from window_driving import made_board

from rustboard.board.model import Coupon, Grading
from rustboard.ui import spoken
from rustboard.ui.spoken import grade_in_words, graded_sentence, say


def grading(grade: int, letter: str = "", percent: float | None = None) -> Grading:
    return Grading(1, 1, 1, grade, letter, percent, "Ann", "eye", "", "")


@pytest.fixture
def heard(monkeypatch) -> list[str]:
    """What a screen reader would be given."""
    found: list[str] = []

    def hear(event: QAccessibleEvent) -> None:
        if isinstance(event, QAccessibleAnnouncementEvent):
            found.append(event.message())

    monkeypatch.setattr(QAccessible, "isActive", staticmethod(lambda: True))
    monkeypatch.setattr(QAccessible, "updateAccessibility", staticmethod(hear))
    return found


@pytest.mark.parametrize(("given", "words"), [
    (grading(7, "S"), "7, spot"),
    (grading(10), "10"),
    (grading(4, "G"), "4, general"),
    (grading(5, "P", 2.5), "2.5 %, grade 5, pinpoint"),
    (grading(3, "H", 12.0), "12 %, grade 3, hybrid"),
])  # fmt: skip
def test_a_grade_in_words(given, words):
    assert grade_in_words(given) == words


def test_the_sentence_names_the_coupon_graded_and_the_next():
    assert graded_sentence(Coupon("C05"), grading(7, "S"), Coupon("C06")) == "C05: 7, spot. Next: C06"
    assert graded_sentence(Coupon("C24"), grading(7), None) == "C24: 7. Every coupon is graded."


def test_each_grade_of_a_round_is_said_when_it_is_wanted(person, heard):
    person.tap("A1")
    person.key("9")
    assert heard == [], "silent until it is asked for"
    person.do("view.say_grades")
    person.key("s", "7", "t")
    person.key("%", "2", ",", "5", Qt.Key.Key_Return)
    assert heard == ["C02: 7, spot. Next: C03", "C03: 10. Next: C04", "C04: 2.5 %, grade 5. Every coupon is graded."]


def test_a_name_that_means_harm_is_said_in_one_plain_line(heard, qtbot, qapp):
    label = QLabel()
    qtbot.addWidget(label)
    say(label, "a\x07b\n" + "c" * 1000)
    (said,) = heard
    assert len(said) <= 300
    assert said.isprintable()


def test_where_nobody_listens_nothing_is_said(qtbot, qapp, monkeypatch):
    found = []
    monkeypatch.setattr(QAccessible, "isActive", staticmethod(lambda: False))
    monkeypatch.setattr(QAccessible, "updateAccessibility", staticmethod(found.append))
    label = QLabel()
    qtbot.addWidget(label)
    say(label, "7")
    assert found == []


def test_a_desktop_that_cannot_say_anything_is_no_reason_to_stop(qtbot, qapp, monkeypatch):
    label = QLabel()
    qtbot.addWidget(label)
    monkeypatch.setattr(QAccessible, "isActive", staticmethod(lambda: True))
    with monkeypatch.context() as without:
        without.delattr(spoken.QtGui, "QAccessibleAnnouncementEvent")
        say(label, "7")

    def refuse(event):
        raise RuntimeError("no bridge")

    monkeypatch.setattr(QAccessible, "updateAccessibility", staticmethod(refuse))
    say(label, "7")
    assert label.isEnabled()


def test_the_setting_is_the_same_in_another_window(person, desk, tmp_path):
    person.do("view.say_grades")
    other = desk.sit_down(made_board(tmp_path / "Other"))
    assert other.checked("view.say_grades")
