"""Asking for a board and for an inspection."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from dialog_showing import SetCountry, Show
from PySide6.QtCore import QDate, QDateTime, QLocale, Qt, QTime
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog, QLineEdit

from rustboard.board.model import Board, Inspection
from rustboard.board.record import BoardRecord
from rustboard.ui.dialogs.board import BoardDialog
from rustboard.ui.dialogs.inspection import InspectionDialog

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")

NOW = datetime(2026, 4, 6, 8, 15, 42)
Key = Qt.Key


def fill(field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    QTest.keyClick(field, Key.Key_Delete)
    QTest.keyClicks(field, text)


def enter(dialog: QDialog) -> None:
    QTest.keyClick(dialog.focusWidget(), Key.Key_Return)


def test_a_new_inspection_is_now_by_the_usual_grader(record: BoardRecord, show: Show) -> None:
    dialog = show(InspectionDialog(record, None, "Ada", NOW))
    enter(dialog)
    assert dialog.result() == QDialog.DialogCode.Accepted
    assert dialog.inspection() == Inspection(datetime(2026, 4, 6, 8, 15), "Ada")


def test_a_second_inspection_in_one_minute_gets_the_next(record: BoardRecord, show: Show) -> None:
    record.inspections[2] = Inspection(datetime(2026, 4, 6, 8, 15), key=2)
    dialog = show(InspectionDialog(record, None, "", NOW))
    enter(dialog)
    assert dialog.inspection().at == datetime(2026, 4, 6, 8, 16)


def test_an_unchanged_inspection_comes_back_with_its_seconds(record: BoardRecord, show: Show, german: object) -> None:
    dialog = show(InspectionDialog(record, record.inspections[1], "Ben", NOW))
    enter(dialog)
    assert dialog.inspection() == record.inspections[1]


def test_an_inspection_is_filled_in_with_the_keyboard(record: BoardRecord, show: Show) -> None:
    dialog = show(InspectionDialog(record, None, "", NOW))
    for _ in range(8):  # over the parts of the date; Tab may stop at each of them
        if dialog._grader.hasFocus():
            break
        QTest.keyClick(dialog.focusWidget(), Key.Key_Tab)
    QTest.keyClicks(dialog.focusWidget(), "Ben")
    QTest.keyClick(dialog.focusWidget(), Key.Key_Tab)
    QTest.keyClick(dialog.focusWidget(), Key.Key_W)  # wet
    QTest.keyClick(dialog.focusWidget(), Key.Key_Tab)
    QTest.keyClicks(dialog.focusWidget(), "moonlight")
    QTest.keyClick(dialog.focusWidget(), Key.Key_Tab)
    QTest.keyClicks(dialog.focusWidget(), "dew")
    QTest.keyClick(dialog.focusWidget(), Key.Key_Tab)
    enter(dialog)
    assert dialog.inspection() == Inspection(datetime(2026, 4, 6, 8, 15), "Ben", "moonlight", "wet", "dew")


@pytest.mark.parametrize(
    ("country", "shown", "keys"),
    [
        (QLocale.Country.Germany, "06.04.2026 08:15", "31122027"),
        (QLocale.Country.UnitedStates, "4/6/2026 8:15", "12312027"),
        (QLocale.Country.Sweden, "2026-04-06 08:15", "20271231"),
    ],
)
def test_the_date_is_typed_in_the_users_order_with_a_year_of_four_digits(
    record: BoardRecord, show: Show, users_country: SetCountry, country: QLocale.Country, shown: str, keys: str
) -> None:
    users_country(country)
    dialog = show(InspectionDialog(record, None, "", NOW))
    assert dialog._at.text().replace("\u202f", " ").startswith(shown)
    QTest.keyClicks(dialog._at, keys)  # each part is left when it is full
    enter(dialog)
    assert dialog.inspection().at == datetime(2027, 12, 31, 8, 15)


@pytest.mark.parametrize(
    ("country", "keys"), [(QLocale.Country.Germany, "29022028"), (QLocale.Country.UnitedStates, "2292028")]
)
def test_a_leap_day_may_be_typed_before_its_year(
    record: BoardRecord, show: Show, users_country: SetCountry, country: QLocale.Country, keys: str
) -> None:
    users_country(country)
    dialog = show(InspectionDialog(record, None, "", NOW))
    QTest.keyClicks(dialog._at, keys)
    enter(dialog)
    assert dialog.inspection().at == datetime(2028, 2, 29, 8, 15)


def test_a_day_that_its_month_lacks_becomes_the_last_one(record: BoardRecord, show: Show, german: object) -> None:
    dialog = show(InspectionDialog(record, None, "", NOW))
    QTest.keyClicks(dialog._at, "31062027")
    enter(dialog)
    assert dialog.inspection().at == datetime(2027, 6, 30, 8, 15)


def test_the_arrows_start_from_the_day_that_is_shown(record: BoardRecord, show: Show, german: object) -> None:
    dialog = show(InspectionDialog(record, None, "", NOW))
    QTest.keyClicks(dialog._at, "31")  # shown as 30 April, and the month comes next
    QTest.keyClick(dialog._at, Key.Key_Left)
    QTest.keyClick(dialog._at, Key.Key_Down)
    enter(dialog)
    assert dialog.inspection().at == datetime(2026, 4, 29, 8, 15)


def test_an_hour_that_summer_time_skips_is_a_time_all_the_same(record: BoardRecord, show: Show) -> None:
    skipped = datetime(2026, 3, 29, 2, 30)  # 02:00 to 03:00 does not exist in Central Europe that night
    dialog = show(InspectionDialog(record, Inspection(skipped, key=1), "", NOW))
    enter(dialog)
    assert dialog.inspection().at == skipped


@pytest.mark.parametrize("year", [1899, 2201, 9999])
def test_a_year_that_cannot_be_is_told(record: BoardRecord, show: Show, year: int) -> None:
    dialog = show(InspectionDialog(record, None, "", NOW))
    dialog._at.setDate(QDate(year, 5, 1))
    enter(dialog)
    assert dialog.isVisible()
    assert "between 1900 and 2200" in dialog.problem.text()


def test_the_time_of_another_inspection_is_told(record: BoardRecord, show: Show) -> None:
    record.inspections[1] = replace(record.inspections[1], at=datetime(2026, 3, 9, 10, 30))
    dialog = show(InspectionDialog(record, None, "", NOW))
    dialog._at.setDateTime(QDateTime(QDate(2026, 3, 9), QTime(10, 30), dialog._at.timeZone()))
    enter(dialog)
    assert dialog.isVisible()
    assert "already" in dialog.problem.text()


def test_a_surface_from_elsewhere_is_kept(record: BoardRecord, show: Show) -> None:
    frosty = replace(record.inspections[1], surface="frosty")
    dialog = show(InspectionDialog(record, frosty, "", NOW))
    enter(dialog)
    assert dialog.inspection() == frosty


# ---- the board


def test_a_new_board_needs_no_more_than_a_name(show: Show) -> None:
    dialog = show(BoardDialog(None, new=True))
    QTest.keyClicks(dialog.focusWidget(), "Harbour wall")
    enter(dialog)
    assert dialog.result() == QDialog.DialogCode.Accepted
    assert dialog.board() == Board("Harbour wall", 3, 7)


def test_a_new_board_is_filled_in(show: Show, german: object) -> None:
    dialog = show(BoardDialog(None, new=True, clock=lambda: datetime(2026, 4, 6, 8, 15)))
    fill(dialog._name, "Wall")
    for field, digit in ((dialog._rows, "4"), (dialog._columns, "9")):
        field.setFocus()
        field.selectAll()
        QTest.keyClicks(field, digit)
    dialog._started.setFocus()
    QTest.keyClick(dialog._started, Key.Key_Space)
    fill(dialog._site, "harbour")
    fill(dialog._incline, "45")
    fill(dialog._facing, "180")
    fill(dialog._width, "700,5")
    fill(dialog._height, "400")
    fill(dialog._margin, "2.5")
    fill(dialog._customer, "Ada & Sons")
    fill(dialog._shop, "forge")
    enter(dialog)
    assert dialog.board() == Board(
        "Wall",
        4,
        9,
        700.5,
        400.0,
        2.5,
        started=datetime(2026, 4, 6, 8, 15),
        site="harbour",
        incline_deg=45.0,
        facing_deg=180.0,
        customer="Ada & Sons",
        shop="forge",
    )


def test_an_unchanged_board_comes_back_as_it_was(show: Show, german: object) -> None:
    board = Board(
        "Wall", 4, 9, 700.25, 400, 2.5, datetime(2026, 3, 2, 9, 0, 5), "a", "open", 0.0, 359.9, "b", "c", "d\ne"
    )
    dialog = show(BoardDialog(board, new=False))
    enter(dialog)
    assert dialog.board() == board


def test_a_board_that_has_begun_may_turn_out_not_to(record: BoardRecord, show: Show) -> None:
    dialog = show(BoardDialog(record.board, new=False))
    QTest.mouseClick(dialog._started, Qt.MouseButton.LeftButton, pos=dialog._started.rect().center())
    assert not dialog._started_at.isEnabled()
    enter_in = dialog._name
    enter_in.setFocus()
    enter(dialog)
    assert dialog.board() == replace(record.board, started=None)


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("_name", "   ", "needs a name"),
        ("_incline", "181", "up to 180"),
        ("_facing", "-1", "from 0 to 360 degrees"),
        ("_facing", "south", "not a number"),
        ("_width", "100001", "The width of a board is from 0 (not given) to 100,000 mm."),
        ("_margin", "-2", "The edge margin is from 0 to 1,000 mm."),
        ("_margin", "1001", "The edge margin is from 0 to 1,000 mm."),
    ],
)
def test_what_cannot_be_is_told_at_its_field(
    record: BoardRecord, show: Show, name: str, text: str, words: str
) -> None:
    dialog = show(BoardDialog(record.board, new=False))
    fill(getattr(dialog, name), text)
    enter(dialog)
    assert dialog.isVisible()
    assert words in dialog.problem.text()
    assert dialog.focusWidget() is getattr(dialog, name)
