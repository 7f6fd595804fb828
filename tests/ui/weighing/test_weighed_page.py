"""The page of weighed coupons: its table, its means, and what it asks for."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from weighed_boards import weighed_board

from rustboard.board.model import Board
from rustboard.board.record import BoardRecord
from rustboard.ui.theme import SCHEMES, Scheme, apply_scheme
from rustboard.ui.weighing.plain_table import PlainTable
from rustboard.ui.weighing.weighed_page import WeighedPage


def shown(qtbot: QtBot, record: BoardRecord, width: int = 1366, height: int = 640) -> WeighedPage:
    page = WeighedPage()
    qtbot.addWidget(page)
    page.resize(width, height)
    page.show_record(record)
    with qtbot.waitActive(page):
        page.show()
        page.activateWindow()
    return page


def row(table: PlainTable, number: int) -> list[str]:
    return [table.item(number, column).text() for column in range(table.columnCount())]


def test_every_weighed_coupon_has_its_row(qtbot: QtBot) -> None:
    page = shown(qtbot, weighed_board())
    assert [row(page.table, number)[0] for number in range(5)] == ["C01", "C02", "C03", "C04", "C05"]
    # 2.085 g net of the blank from 106 cm2 in 365 days: 25.03 um/y, 0.9852 mpy, 196.7 g/m2 y (worked out here).
    assert row(page.table, 0)[1:] == [
        "bare control",
        "C3 / C2",
        "365",
        "2.0850",
        "106",
        "25.03",
        "0.9852",
        "196.7",
        "120 µm deep",
    ]


def test_means_come_with_their_number_and_spread(qtbot: QtBot) -> None:
    page = shown(qtbot, weighed_board())
    # Rates of 2.085, 2.295 and 1.905 g: mean and sample deviation worked out here.
    assert row(page.means, 0)[:4] == ["bare control", "3", "365", "25.15 ± 2.34"]
    assert row(page.means, 1)[:2] == ["hot beeswax blend", "2"]


def test_the_chosen_coupon_is_told_in_words(qtbot: QtBot) -> None:
    page = shown(qtbot, weighed_board())
    assert page.chosen() == 1
    page.table.selectRow(4)
    assert page.chosen() == 5
    assert "edges are left out" in page.result.text()
    assert "No blank was cleaned" in page.result.text()


def test_the_chosen_coupon_stays_chosen_when_another_comes(qtbot: QtBot) -> None:
    record = weighed_board()
    first = record.weighings.pop(1)
    page = shown(qtbot, record)
    page.table.selectRow(1)
    assert page.chosen() == 3
    record.weighings[1] = first
    page.show_record(record)
    assert page.chosen() == 3


def test_adding_editing_and_withdrawing_are_asked_for(qtbot: QtBot) -> None:
    page = shown(qtbot, weighed_board())
    page.table.selectRow(1)
    with qtbot.waitSignal(page.add_asked):
        QTest.mouseClick(page.add, Qt.MouseButton.LeftButton)
    with qtbot.waitSignal(page.edit_asked) as edited:
        QTest.mouseClick(page.edit, Qt.MouseButton.LeftButton)
    with qtbot.waitSignal(page.withdraw_asked) as withdrawn:
        QTest.keyClick(page, Qt.Key.Key_H, Qt.KeyboardModifier.AltModifier)
    assert (edited.args, withdrawn.args) == ([2], [2])


def test_enter_in_the_table_puts_right(qtbot: QtBot) -> None:
    page = shown(qtbot, weighed_board())
    page.table.setFocus()
    page.table.setCurrentCell(2, 0)
    with qtbot.waitSignal(page.edit_asked) as edited:
        QTest.keyClick(page.table, Qt.Key.Key_Return)
    assert edited.args == [3]


def test_without_a_weighed_coupon_it_says_what_to_do(qtbot: QtBot) -> None:
    page = shown(qtbot, BoardRecord(Board("B")))
    assert page.begin.isVisible()
    assert not page.table.isVisible()
    with qtbot.waitSignal(page.add_asked):
        QTest.mouseClick(page.begin, Qt.MouseButton.LeftButton)


def test_a_board_that_is_only_read_asks_for_nothing(qtbot: QtBot) -> None:
    page = shown(qtbot, weighed_board())
    page.set_read_only("Opened to read only.")
    assert not any(each.isEnabled() for each in (page.add, page.edit, page.withdraw))
    with qtbot.assertNotEmitted(page.edit_asked):
        page.table.activated.emit(page.table.model().index(0, 0))
    page.set_read_only("")
    assert page.edit.isEnabled()


@pytest.mark.parametrize("scheme", list(SCHEMES.values()), ids=list(SCHEMES))
@pytest.mark.parametrize("size", [(1366, 640), (683, 300)])
def test_nothing_is_cut_off_at_the_side(
    qtbot: QtBot, qapp: QApplication, scheme: Scheme, size: tuple[int, int]
) -> None:
    apply_scheme(qapp, scheme)
    page = shown(qtbot, weighed_board(), *size)
    page.set_scheme(scheme)
    assert page.size().toTuple() == size
    assert page.result.widget().width() <= page.result.viewport().width()
    for button in (page.add, page.edit, page.withdraw):
        assert button.width() >= button.sizeHint().width()
        assert button.visibleRegion().boundingRect().width() == button.width()


def test_a_hostile_name_is_shown_as_it_is(qtbot: QtBot) -> None:
    record = weighed_board()
    record.coupons[1] = record.coupons[1].__class__("<b>x</b>\u202e\x00", key=1)
    page = shown(qtbot, record)
    rows = [row(page.table, number) for number in range(page.table.rowCount())]
    (found,) = [each for each in rows if "<b>" in each[0]]
    assert "\u202e" not in found[0]
    assert found[5:7] == ["–", "–"]
