"""The weather of days by hand: the calendar, one tap for a dry day, several days in a row, everything undone."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from photo_bench import Bench
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog
from window_driving import Answer, cancel, filling, made_board

from rustboard.board.measured import Disturbance
from rustboard.board.weather import DayNote, Site
from rustboard.operations.disturbances import note_disturbance
from rustboard.operations.weather import describe_site, note_day
from rustboard.ui.daylog.day_dialog import DayWeatherDialog
from rustboard.ui.daylog.dialog import DayLogDialog
from rustboard.ui.daylog_commands import DayLogCommands
from rustboard.ui.theme import LIGHT, apply_scheme

NOW = datetime(2026, 3, 12, 7, 45)
TODAY = NOW.date()


class Desk(Bench):
    def __init__(self, folder: Path, *, read_only: bool = False) -> None:
        super().__init__(folder, read_only=read_only)
        self.commands = DayLogCommands(self.widget, self.answers, self.do, lambda: NOW)  # type: ignore[arg-type]
        self.serve(self.commands)

    def open(self, *answers: Answer) -> None:
        """Show the log and answer its dialogs in turn."""
        self.answers.dialogs = list(answers)
        self.commands.day_log()

    def noted(self) -> dict[date, DayNote]:
        return {each.day: each for each in self.session.record.day_notes.values()}


@pytest.fixture
def desk(qapp: QApplication, tmp_path: Path) -> Iterator[Desk]:
    apply_scheme(qapp, LIGHT)
    desk = Desk(made_board(tmp_path / "Yard"))
    yield desk
    desk.close()


def ticking(*names: str, **fields: str) -> Answer:
    """Answer: tick conditions, write into fields."""

    def fill(dialog: QDialog) -> None:
        assert isinstance(dialog, DayWeatherDialog)
        for name in names:
            QTest.mouseClick(dialog._ticks[name], Qt.MouseButton.LeftButton, pos=QPoint(8, 8))  # type: ignore[index]
        filling(**fields)(dialog)

    return fill


def test_one_tap_notes_that_today_was_dry(desk: Desk) -> None:
    desk.commands.quiet_day()
    assert desk.noted() == {TODAY: DayNote(TODAY, ("dry",), key=1)}
    assert "is noted as dry; nothing happened" in desk.told[-1]
    desk.session.undo()
    assert desk.noted() == {}


def test_a_day_that_is_noted_is_not_overwritten_by_one_tap(desk: Desk) -> None:
    desk.do(note_day, DayNote(TODAY, ("dew",)))
    desk.commands.quiet_day()
    assert desk.noted()[TODAY].conditions == ("dew",)
    assert desk.told[-1].endswith("dew is noted already; nothing was changed.")


def test_the_weather_of_a_day_is_asked_for_and_kept(desk: Desk) -> None:
    desk.answers.dialogs = [ticking("dew", "rain", rain="4,2", highest="11", lowest="-0.5", wet="9")]
    desk.commands.note_day()
    assert desk.noted() == {TODAY: DayNote(TODAY, ("dew", "rain"), 4.2, 11.0, -0.5, 9.0, "", 1)}


def test_a_dry_day_excludes_the_others_and_the_others_a_dry_day(desk: Desk) -> None:
    def look(dialog: DayWeatherDialog) -> bool:
        for names, left in ((("rain", "fog"), {"rain", "fog"}), (("dry",), {"dry"}), (("dew",), {"dew"})):
            ticking(*names)(dialog)
            assert set(dialog._conditions()) == left
        return cancel(dialog)

    desk.answers.dialogs = [look]
    desk.commands.note_day()
    assert desk.noted() == {}


def test_the_dialog_says_what_a_day_counts_as(desk: Desk) -> None:
    desk.do(describe_site, Site(dew_day_hours=7, wet_day_hours=11))

    def look(dialog: DayWeatherDialog) -> bool:
        said = dialog._meaning.text
        assert said().startswith("Says nothing about wetness yet")
        ticking("dew")(dialog)
        assert said().startswith("Counts as 7 hours wet unless")
        ticking("rain")(dialog)
        assert said().startswith("Counts as 11 hours wet unless")
        ticking(wet="3,5")(dialog)
        assert said() == "Counts as 3.5 hours wet, as you say."
        return cancel(dialog)

    desk.answers.dialogs = [look]
    desk.commands.note_day()


def test_several_days_are_noted_in_a_row(desk: Desk) -> None:
    def three_days(dialog: DayWeatherDialog) -> None:
        for name in ("dew", "frost"):
            ticking(name)(dialog)
            QTest.mouseClick(dialog._next, Qt.MouseButton.LeftButton)
        assert dialog.day() == TODAY
        assert not dialog._next.isEnabled()
        ticking("dry")(dialog)

    desk.answers.dialogs = [three_days]
    desk.commands.ask_weather(TODAY - timedelta(days=2))
    assert [desk.noted()[TODAY - timedelta(days=back)].conditions for back in (2, 1, 0)] == [
        ("dew",), ("frost",), ("dry",),
    ]  # fmt: skip


def test_what_cannot_be_is_said_and_the_dialog_stays(desk: Desk) -> None:
    def wrong(dialog: DayWeatherDialog) -> bool:
        ticking("rain", highest="2", lowest="5")(dialog)
        QTest.mouseClick(dialog._next, Qt.MouseButton.LeftButton)
        assert dialog.isVisible()
        assert "The lowest temperature is above the highest" in dialog.problem.text()
        dialog.accept()
        assert dialog.isVisible()
        assert (dialog._high.text(), dialog._low.text()) == ("2", "5")
        ticking(lowest="cold")(dialog)
        QTest.mouseClick(dialog._next, Qt.MouseButton.LeftButton)
        assert dialog.problem.text() != ""
        return cancel(dialog)

    desk.answers.dialogs = [wrong]
    desk.commands.ask_weather(TODAY - timedelta(days=1))
    assert desk.noted() == {}


def test_what_was_typed_of_a_day_waits_while_another_is_looked_at(desk: Desk) -> None:
    def there_and_back(dialog: DayWeatherDialog) -> None:
        dialog.activateWindow()
        assert QTest.qWaitForWindowActive(dialog)
        ticking("fog", rain="0,5")(dialog)
        QTest.keyClick(dialog, Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier)
        assert dialog.day() == TODAY - timedelta(days=1)
        assert dialog._conditions() == ()
        ticking("dew")(dialog)
        QTest.keyClick(dialog, Qt.Key.Key_Right, Qt.KeyboardModifier.AltModifier)
        assert (dialog._conditions(), dialog._rain.text()) == (("fog",), "0.5")

    desk.answers.dialogs = [there_and_back]
    desk.commands.note_day()
    assert {day: each.conditions for day, each in desk.noted().items()} == {
        TODAY: ("fog",), TODAY - timedelta(days=1): ("dew",),
    }  # fmt: skip
    desk.session.undo()
    assert desk.noted() == {}


def test_a_number_that_is_none_is_mended_before_another_day_is_shown(desk: Desk) -> None:
    def wrong(dialog: DayWeatherDialog) -> bool:
        ticking("rain", rain="much")(dialog)
        QTest.mouseClick(dialog._back, Qt.MouseButton.LeftButton)
        assert (dialog.day(), dialog._rain.text()) == (TODAY, "much")
        assert dialog.problem.text() != ""
        return cancel(dialog)

    desk.answers.dialogs = [wrong]
    desk.commands.note_day()


def test_the_day_before_is_a_button_away_and_shows_what_is_noted(desk: Desk) -> None:
    desk.do(note_day, DayNote(TODAY - timedelta(days=1), ("fog",), 0.5))

    def back(dialog: DayWeatherDialog) -> bool:
        QTest.mouseClick(dialog._back, Qt.MouseButton.LeftButton)
        assert dialog.day() == TODAY - timedelta(days=1)
        assert (dialog._conditions(), dialog._rain.text()) == (("fog",), "0.5")
        return cancel(dialog)

    desk.answers.dialogs = [back]
    desk.commands.note_day()


# ---- the calendar


def test_the_calendar_is_walked_by_keys_and_enter_notes_the_day(desk: Desk) -> None:
    def walk(dialog: DayLogDialog) -> None:
        month = dialog.calendar.month
        assert dialog.focusWidget() is month
        for key in (Qt.Key.Key_Left, Qt.Key.Key_Up):
            QTest.keyClick(month, key)
        assert dialog.day() == date(2026, 3, 4)
        assert dialog.panel.text().startswith("Wednesday, 4 March 2026\nNothing is noted")
        desk.answers.dialogs = [ticking("dew")]
        QTest.keyClick(month, Qt.Key.Key_Return)
        assert "dew" in dialog.panel.text()
        QTest.keyClick(month, Qt.Key.Key_PageUp)
        assert month.month_name() == "February 2026"
        QTest.keyClick(month, Qt.Key.Key_Home)
        assert dialog.day() == TODAY

    desk.open(walk)
    assert desk.noted()[date(2026, 3, 4)].conditions == ("dew",)


def test_a_click_chooses_a_day_and_one_tap_notes_it_dry(desk: Desk) -> None:
    def click(dialog: DayLogDialog) -> None:
        month = dialog.calendar.month
        QTest.mouseClick(month, Qt.MouseButton.LeftButton, pos=month.place_of(date(2026, 3, 9)).toPoint())
        assert dialog.day() == date(2026, 3, 9)
        dialog.panel._quiet.click()
        assert not dialog.panel._quiet.isEnabled()
        assert "dry" in dialog.panel.text()

    desk.open(click)
    assert desk.noted()[date(2026, 3, 9)].conditions == ("dry",)


def test_days_not_noted_are_filled_only_when_asked(desk: Desk) -> None:
    desk.do(note_day, DayNote(TODAY - timedelta(days=4), ("rain",)))
    desk.do(note_day, DayNote(TODAY - timedelta(days=2), ("fog",)))

    def fill(dialog: DayLogDialog) -> None:
        assert len(desk.noted()) == 2
        assert dialog.panel._fill.text() == "All 2 days not noted were &dry"
        dialog.panel._fill.click()
        assert not dialog.panel._fill.isVisible()

    desk.open(fill)
    assert [desk.noted()[TODAY - timedelta(days=back)].conditions for back in (4, 3, 2, 1)] == [
        ("rain",), ("dry",), ("fog",), ("dry",),
    ]  # fmt: skip
    assert TODAY not in desk.noted()  # it is not over
    desk.session.undo()
    assert len(desk.noted()) == 2


def test_a_note_is_taken_back(desk: Desk) -> None:
    desk.do(note_day, DayNote(TODAY, ("fog",)))
    desk.open(lambda dialog: dialog.panel._forget.click())
    assert desk.noted() == {}


def test_what_is_still_to_come_cannot_be_noted(desk: Desk) -> None:
    def look(dialog: DayLogDialog) -> None:
        dialog.calendar.month.choose(TODAY + timedelta(days=1))
        assert not dialog.panel._quiet.isEnabled()
        assert not dialog.panel._weather.isEnabled()
        dialog.calendar.month.opened.emit()

    desk.open(look)
    assert desk.answers.asked == ["DayLogDialog"]


def test_something_that_happened_on_the_chosen_day_is_of_that_day(desk: Desk) -> None:
    def add(dialog: DayLogDialog) -> None:
        dialog.calendar.month.choose(date(2026, 3, 5))
        desk.answers.dialogs = [lambda entry: None]
        dialog._add.click()
        assert dialog.calendar.month.words_of(date(2026, 3, 5)).endswith("Disturbances: 1.")

    desk.open(add)
    (entry,) = desk.session.record.disturbances.values()
    assert entry.at == datetime(2026, 3, 5, 12)


def test_choosing_a_day_chooses_what_happened_then(desk: Desk) -> None:
    desk.do(note_disturbance, Disturbance(NOW - timedelta(days=3), "lost", 1))
    desk.do(note_disturbance, Disturbance(NOW, "touched", 1))

    def look(dialog: DayLogDialog) -> None:
        dialog.calendar.month.choose(TODAY - timedelta(days=3))
        assert desk.session.record.disturbances[dialog.chosen() or 0].kind == "lost"

    desk.open(look)


def test_every_day_is_told_to_the_screen_reader(desk: Desk) -> None:
    desk.do(note_day, DayNote(date(2026, 3, 2), ("rain",), 4.2))

    def look(dialog: DayLogDialog) -> None:
        dialog.calendar.month.choose(date(2026, 3, 2))
        said = dialog.calendar.month.accessibleName()
        assert said.split("\n") == ["Monday, 2 March 2026", "rain; 4.2 mm of rain", "Inspection."]

    desk.open(look)


def test_a_board_for_reading_shows_its_days_and_offers_no_change(desk: Desk, tmp_path: Path) -> None:
    desk.do(note_day, DayNote(TODAY, ("fog",)))
    reader = Desk(tmp_path / "Yard", read_only=True)

    def look(dialog: DayLogDialog) -> None:
        assert "fog" in dialog.panel.text()
        assert not any(each.isVisible() for each in dialog.panel._buttons())
        dialog.calendar.month.opened.emit()

    reader.open(look)
    assert reader.answers.asked == ["DayLogDialog"]
    reader.close()
