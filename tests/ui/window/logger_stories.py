"""What a person does in the window with loggers' files, told for `test_every_action`."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from window_driving import Person, reopened

READINGS = """\
Time,Temperature (°C),Humidity (%)
2026-03-02 09:00,6.5,91
2026-03-02 09:10,6.7,90
2026-03-02 09:20,6.9,n/a
2026-03-02 09:30,broken,
"""


def add_loggers_file(person: Person, yard: Path) -> None:
    file = yard.parent / "fence.csv"
    file.write_text(READINGS, encoding="utf-8")
    person.answers.files = [file]
    person.answers.dialogs = [lambda dialog: dialog._add.click()]
    person.do("weather.add")
    assert "3 readings of logger added, 1 row left out" in person.message()
    person.stand_up()
    with reopened(yard) as session:
        (kept,) = session.record.weather_files.values()
        assert (kept.name, kept.count, kept.left_out) == ("fence.csv", 3, 1)


STORIES: dict[str, Callable[[Person, Path], None]] = {"weather.add": add_loggers_file}
