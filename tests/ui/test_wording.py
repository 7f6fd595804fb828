"""How times are written on the screen."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from datetime import datetime

import pytest
from PySide6.QtCore import QLocale

from rustboard.ui.wording import date_only, date_time


@pytest.fixture
def central_europe(qapp: object, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    before = QLocale()
    QLocale.setDefault(QLocale(QLocale.Language.German, QLocale.Country.Germany))
    monkeypatch.setenv("TZ", "Europe/Berlin")
    if sys.platform != "win32":
        time.tzset()
    yield
    monkeypatch.undo()
    if sys.platform != "win32":
        time.tzset()
    QLocale.setDefault(before)


def test_an_hour_that_summer_time_skips_is_written_as_the_clock_at_the_board_showed_it(central_europe: None) -> None:
    skipped = datetime(2026, 3, 29, 2, 30)  # 02:00 to 03:00 does not exist in Central Europe that night
    assert (date_time(skipped), date_only(skipped)) == ("29.03.26 02:30", "29.03.26")
