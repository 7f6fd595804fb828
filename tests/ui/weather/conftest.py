"""Somebody before the weather of a board."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import closing
from datetime import date, timedelta
from pathlib import Path

import pytest
from weathered_boards import daily_table, put_day, put_readings
from window_driving import START, Desk, Person, made_board, settle

from rustboard.session.session import Session


@pytest.fixture
def looking(desk: Desk, tmp_path: Path) -> Callable[..., Person]:
    """Sits somebody down before the weather of a board inspected four times, a week apart, the first at its start.

    A logger knows the first nine days and the last ones; the 13th and 14th of March are noted by hand.
    """

    def sit(*, weather: bool = True) -> Person:
        folder = made_board(tmp_path / "Pier", inspections=4)
        if weather:
            with closing(Session(folder)) as session:
                told = ("Row 8: “--” is no number.", "Row 9: 140 % cannot be.")
                put_readings(session, daily_table(START, 9), "a.csv", left_out=3, told=told)
                put_readings(session, daily_table(START + timedelta(days=14), 9, 2), "b.csv", "Fence", clock="UTC")
                put_day(session, date(2026, 3, 13), conditions=("rain",), rain_mm=6.5, wet_hours=14.0)
                put_day(session, date(2026, 3, 14), conditions=("dew",))
        person = desk.sit_down(folder)
        person.do("weather.show")
        settle(8)
        return person

    return sit
