"""What a person does in the window with the weather of days."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QDialog
from window_driving import Person, reopened


def quiet_day(person: Person, yard: Path) -> None:
    person.do("weather.quiet_day")
    assert "is noted as dry" in person.message()
    person.do("weather.quiet_day")
    assert "is noted already" in person.message()
    person.stand_up()
    with reopened(yard) as session:
        assert [each.conditions for each in session.record.day_notes.values()] == [("dry",)]


def weather_of_a_day(person: Person, yard: Path) -> None:
    def foggy(dialog: QDialog) -> None:
        dialog._ticks["fog"].click()

    person.answers.dialogs = [foggy]
    person.do("weather.day")
    person.stand_up()
    with reopened(yard) as session:
        assert [each.conditions for each in session.record.day_notes.values()] == [("fog",)]


STORIES: dict[str, Callable[[Person, Path], None]] = {
    "weather.quiet_day": quiet_day,
    "weather.day": weather_of_a_day,
}
