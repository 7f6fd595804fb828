"""A wrong camera clock put right: what the shift counts from, what it will make, and times typed by hand."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

import pytest
from PySide6.QtCore import QLocale, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from rustboard.ui.forms.form import WrongFieldError
from rustboard.ui.forms.typed_time import TypedTimeField
from rustboard.ui.intake.clock_row import ClockRow
from rustboard.ui.intake.photo_table import PhotoTable

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")

SHOWN = datetime(2026, 3, 9, 10, 15, 42)
GERMANY, STATES, SWEDEN = QLocale.Country.Germany, QLocale.Country.UnitedStates, QLocale.Country.Sweden


@pytest.fixture(params=[GERMANY, STATES, SWEDEN], ids=["day first", "month first", "year first"])
def country(request: pytest.FixtureRequest, qapp: object) -> Iterator[QLocale.Country]:
    before = QLocale()
    QLocale.setDefault(QLocale(QLocale.Language.AnyLanguage, request.param))
    yield request.param
    QLocale.setDefault(before)


def type_over(field: TypedTimeField, text: str) -> None:
    field.setFocus()
    QTest.keyClick(field, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClicks(field, text)


@pytest.fixture
def field(country: QLocale.Country, qtbot: QtBot) -> TypedTimeField:
    field = TypedTimeField(SHOWN)
    qtbot.addWidget(field)
    field.show()
    return field


def test_what_is_not_touched_keeps_its_seconds(field: TypedTimeField) -> None:
    assert field.when() == SHOWN


def test_every_key_typed_stands_where_it_was_typed(field: TypedTimeField, country: QLocale.Country) -> None:
    written = {GERMANY: "31.12.2027 18:05", STATES: "12/31/2027 6:05 PM", SWEDEN: "2027-12-31 18:05"}[country]
    type_over(field, written)
    assert field.text() == written
    assert field.when() == datetime(2027, 12, 31, 18, 5)


@pytest.mark.parametrize(
    ("text", "when"),
    [
        ("2028-02-29 7:05", datetime(2028, 2, 29, 7, 5)),
        ("2028-02-29 07:05:33", datetime(2028, 2, 29, 7, 5, 33)),
        ("18:40", datetime(2026, 3, 9, 18, 40)),
        ("12:05 am", datetime(2026, 3, 9, 0, 5)),
    ],
)
def test_the_year_may_come_first_and_a_time_alone_is_of_the_day_shown(
    field: TypedTimeField, text: str, when: datetime
) -> None:
    type_over(field, text)
    assert field.when() == when


def test_one_digit_can_be_put_right(field: TypedTimeField) -> None:
    at = field.text().index("15")
    field.setCursorPosition(at + 2)
    QTest.keyClick(field, Qt.Key.Key_Backspace)
    QTest.keyClicks(field, "8")
    assert field.when() == datetime(2026, 3, 9, 10, 18)


@pytest.mark.parametrize(
    "text", ["", "soon", "10", "2026-02-30 10:00", "2026-03-09 25:00", "1888-03-09 10:00", "9:5:3:1"]
)
def test_what_cannot_be_a_time_is_told_with_an_example(field: TypedTimeField, text: str) -> None:
    example = field.text()
    type_over(field, text)
    if not text:
        field.clear()
    with pytest.raises(WrongFieldError) as wrong:
        field.when()
    assert example in wrong.value.sentence


# ---- the shift


@pytest.fixture
def row(qtbot: QtBot) -> ClockRow:
    row = ClockRow(SHOWN)
    qtbot.addWidget(row)
    return row


def test_the_result_is_shown_while_the_shift_is_typed(row: ClockRow) -> None:
    row.show_chosen(SHOWN, has_clock=True, there=True, counted_from=datetime(2026, 3, 9, 10, 15))
    assert "Counted from the camera's time" in row._result.text()
    QTest.keyClicks(row._span, "-2:15")
    assert "8:00" in row._result.text().rpartition("becomes")[2]
    QTest.keyClicks(row._span, " and a bit")
    assert "becomes" not in row._result.text(), "what cannot be read promises nothing"
    row.show_chosen(None, has_clock=False, there=False)
    assert row._result.text() == "Counted from the camera's time, whatever was set before."


def test_times_on_the_board_are_shifted_from_what_they_are(qtbot: QtBot) -> None:
    row = ClockRow(SHOWN, on_board=True)
    qtbot.addWidget(row)
    assert row._result.text() == "Counted from the time a photo has now."


def test_a_second_shift_takes_the_place_of_the_first(row: ClockRow, qtbot: QtBot) -> None:
    row.show_shift(3_600)
    row.show_chosen(
        datetime(2026, 3, 9, 11, 15), has_clock=True, there=True, counted_from=datetime(2026, 3, 9, 10, 15)
    )
    row._span.clear()
    QTest.keyClicks(row._span, "+2 h")
    assert "12:15" in row._result.text().rpartition("becomes")[2]


@pytest.mark.parametrize("width", [320, 640, 1200])
def test_no_heading_of_the_list_is_cut(qtbot: QtBot, width: int) -> None:
    table = PhotoTable(["Photo", "Taken", "Camera's clock", "Inspection"], "Photos")
    qtbot.addWidget(table)
    table.resize(width, 300)
    table.show()
    header = table.horizontalHeader()
    for column in (1, 2):
        assert header.sectionSize(column) >= header.sectionSizeHint(column)
