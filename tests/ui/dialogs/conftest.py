"""A board to ask about, and a way to show a dialog."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

import pytest
from dialog_showing import BRACKET, PLATE, D, SetCountry, Show
from PySide6.QtCore import QLocale
from PySide6.QtWidgets import QDialog
from pytestqt.qtbot import QtBot

from rustboard.board.model import Board, Coupon, Inspection, Treatment
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord


@pytest.fixture
def record() -> BoardRecord:
    return BoardRecord(
        Board("Harbour wall", 2, 4, width_mm=400, height_mm=400, started=datetime(2026, 3, 2, 9)),
        treatments={
            1: Treatment("T1", "hot beeswax blend", "wax", "wire brushed", key=1),
            2: Treatment("T2", "", "oil", coats=2, cost_per_m2=3.25, minutes_per_m2=40.0, key=2),
        },
        coupons={
            1: Coupon("C01", Position(0, 0), 1, substrate="mild steel", outline_mm=PLATE, key=1),
            2: Coupon("C02", Position(0, 1), 1, "control", "mild steel", BRACKET, "dented", 2),
        },
        inspections={1: Inspection(datetime(2026, 3, 9, 10, 30, 17), "Ada", "overcast", "dry", "windy", 1)},
    )


@pytest.fixture
def show(qtbot: QtBot) -> Show[QDialog]:
    """Shows a dialog as the window does, and gives it the keyboard."""

    def shown(dialog: D) -> D:
        qtbot.addWidget(dialog)
        with qtbot.waitActive(dialog):
            dialog.show()
            dialog.activateWindow()
        return dialog

    return shown


@pytest.fixture
def users_country(qapp: object) -> Iterator[SetCountry]:
    """Sets how numbers and dates are written, until the test ends."""
    before = QLocale()

    def live_in(country: QLocale.Country) -> None:
        QLocale.setDefault(QLocale(QLocale.Language.AnyLanguage, country))

    yield live_in
    QLocale.setDefault(before)


@pytest.fixture
def german(users_country: SetCountry) -> None:
    """The user writes a decimal comma, and the day before the month."""
    users_country(QLocale.Country.Germany)
