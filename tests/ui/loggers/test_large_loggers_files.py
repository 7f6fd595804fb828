"""Files that take a while: the beginning at once, progress, a way to stop, and no answer that is out of date."""

from __future__ import annotations

from pathlib import Path

import pytest
from later import Later
from PySide6.QtWidgets import QDialog
from window_driving import Desk, Person, settle, wait_until

from rustboard.session import weather_intake
from rustboard.ui.loggers.dialog import LoggerFileDialog

HEAD = "Time,Temperature (°C),Humidity (%)\n"


@pytest.fixture
def jobs() -> Later:
    return Later()


@pytest.fixture
def person(desk: Desk, yard: Path, jobs: Later) -> Person:
    desk._executor = lambda: jobs
    desk.open(yard, new_window=True)
    window = desk.windows[-1]
    jobs.run()
    wait_until(lambda: window.page is not None and window.page.timeline is not None)
    return Person(desk, window)


def file_of(folder: Path, rows: int) -> Path:
    path = folder / "large.csv"
    lines = (f"2026-03-{1 + n // 1440:02} {n // 60 % 24:02}:{n % 60:02},6.5,9{n % 10}\n" for n in range(rows))
    path.write_text(HEAD + "".join(lines), encoding="utf-8")
    return path


def in_dialog(person: Person, path: Path, work: object) -> None:
    """Bring a file, and do some work in its dialog."""

    def answer(dialog: QDialog) -> None:
        assert callable(work)
        work(dialog)
        dialog.reject()

    person.answers.dialogs = [answer]
    person.window.weather.loggers.add_paths([path])


def test_the_beginning_is_shown_before_the_whole_is_read(
    person: Person, jobs: Later, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(weather_intake, "LARGE_BYTES", 1_000)
    monkeypatch.setattr(weather_intake, "_BEGINNING_BYTES", 2_000)

    def watch(dialog: LoggerFileDialog) -> None:
        assert dialog._stop.isEnabled()
        assert not dialog.fields.isEnabled()
        jobs.waiting.pop(0)()
        settle()
        assert dialog.table.rows.rowCount() == 12
        assert "This is the beginning" in dialog._summary.text()
        assert not dialog._add.isEnabled()
        jobs.run()
        assert dialog._summary.text().startswith("2000 readings")
        assert dialog._add.isEnabled()
        assert not dialog._stop.isEnabled()

    in_dialog(person, file_of(tmp_path, 2_000), watch)


def test_an_answer_to_options_that_changed_meanwhile_is_dropped(person: Person, jobs: Later, tmp_path: Path) -> None:
    def change_twice(dialog: LoggerFileDialog) -> None:
        jobs.run()
        dialog.fields.logger.setEditText("gate")
        wait_until(lambda: jobs.waiting, "for the file to be read anew")
        dialog.fields.logger.setEditText("gate 2")
        jobs.run()
        assert not dialog._add.isEnabled(), "what was read is not what the fields say"
        wait_until(lambda: jobs.waiting, "for the file to be read once more")
        jobs.run()
        assert dialog._add.isEnabled()
        assert dialog.reading is not None
        assert dialog.reading.given is not None
        assert dialog.reading.given.logger == "gate 2"

    in_dialog(person, file_of(tmp_path, 30), change_twice)


def test_reading_can_be_stopped_and_begun_again(person: Person, jobs: Later, tmp_path: Path) -> None:
    def stop(dialog: LoggerFileDialog) -> None:
        jobs.run()
        dialog.fields.logger.setEditText("gate")
        wait_until(lambda: jobs.waiting, "for the file to be read anew")
        dialog._stop.click()
        assert dialog.problem.text().startswith("Stopped; nothing was added.")
        jobs.run()
        assert not dialog._add.isEnabled()
        dialog.fields.logger.setEditText("gate 2")
        wait_until(lambda: jobs.waiting, "for the file to be read once more")
        jobs.run()
        assert dialog._add.isEnabled()
        assert dialog.problem.text() == ""

    in_dialog(person, file_of(tmp_path, 30), stop)


def test_stopping_while_the_file_is_loaded_closes_the_dialog(person: Person, jobs: Later, tmp_path: Path) -> None:
    def stop(dialog: LoggerFileDialog) -> None:
        dialog._stop.click()
        assert not dialog.isVisible()
        jobs.run()

    in_dialog(person, file_of(tmp_path, 30), stop)
    assert person.session.record.weather_files == {}
