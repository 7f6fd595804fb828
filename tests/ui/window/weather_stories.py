"""What a person does in the window with weather and exposure."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog
from weathered_boards import daily_table, put_readings
from window_driving import START, Person, filling, reopened

from rustboard.board.record import site_of


def show_weather(person: Person, yard: Path) -> None:
    person.do("weather.show")
    assert person.reads("Nothing is known of the weather") or person.window.weather.screen.is_shown()
    put_readings(person.session, daily_table(START - timedelta(days=1), 20))
    screen = person.window.weather.screen.screen
    assert screen is not None
    assert screen.exposure.isVisible()
    assert [screen.tabs.tabText(each).replace("&", "") for each in range(screen.tabs.count())] == [
        "Exposure", "Loggers' files", "Corrosivity", "Weighed coupons",
    ]  # fmt: skip
    person.key(Qt.Key.Key_Escape)
    assert person.page.isVisible()


def describe_site(person: Person, yard: Path) -> None:
    def berlin(dialog: QDialog) -> None:
        filling(zone="Europe/Berlin")(dialog)

    person.answers.dialogs = [berlin]
    person.do("weather.site")
    person.stand_up()
    with reopened(yard) as session:
        assert site_of(session.record).zone == "Europe/Berlin"


STORIES: dict[str, Callable[[Person, Path], None]] = {
    "weather.show": show_weather,
    "weather.site": describe_site,
}
