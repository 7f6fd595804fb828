"""Loggers' files in the window: shown first, changed by hand, added in one step, refused in sentences."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from photo_bench import Bench
from PySide6.QtCore import QMimeData, QPoint, QPointF, QSize, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog
from window_driving import Desk, Person, cancel, made_board, reopened, settle, wait_until

from rustboard.board.record import site_of
from rustboard.session.changes import ChangeSet
from rustboard.session.logger_profiles import LoggerProfiles
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.logger_commands import LoggerCommands
from rustboard.ui.loggers.clock_field import ClockField, fixed_clocks, system_zone, zone_names
from rustboard.ui.loggers.dialog import LoggerFileDialog
from rustboard.ui.loggers.preview_table import BAD_SIGN
from rustboard.ui.theme import LIGHT, SCHEMES, Scheme, apply_scheme

SMALLEST = QSize(683 - 16, 384 - 48)
"""What a screen of 1366 x 768 at 200 % has room for."""

GERMAN = """\
Gerät: Hofwand;;
Zeit;Temperatur [°C];rel. Feuchte [%]
01.03.2026 00:00;6,5;91
01.03.2026 00:10;6,x;90
13.03.2026 00:20;6,9;
31.02.2026 00:30;6,9;90
"""
AMERICAN = """\
Plot Title: YARD
Logger Serial Number: 2093
"#","Date Time, GMT-06:00","Temp, °F","RH, %"
1,03/25/26 11:45:00 AM,50.0,85.0
2,03/25/26 12:00:00 PM,68.0,84.0
3,03/25/26 12:15:00 PM,Error,83.0
"""
DOUBTFUL = """\
date\ttime\tvalue 1\tvalue 2
01/03/2026\t00:00\t6.0\t95
01/03/2026\t02:00\t6.2\t93
01/03/2026\t04:00\t6.7\t94
02/03/2026\t06:00\t6.1\t90
"""
UNTOLD = """\
Time,Foo
2026-03-01 00:00,1.5
2026-03-01 01:00,1.7
2026-03-01 02:00,4.1
"""


class Bringing(Bench):
    """Somebody who brings loggers' files to a board."""

    def __init__(self, folder: Path, *, read_only: bool = False) -> None:
        super().__init__(folder, read_only=read_only)
        self.commands = LoggerCommands(
            self.widget,
            self.answers,  # type: ignore[arg-type]
            self.do_joined,
            Settings(),
            self.bridge,
            LIGHT,
        )
        self.serve(self.commands)

    def do_joined(self, operation: object, *arguments: object, joins: int = 0) -> ChangeSet | None:
        """Run an operation as the window does, also as part of the step before."""
        try:
            return self.session.do(operation, *arguments, joins=joins)  # type: ignore[arg-type]
        except InputError as error:
            self.failed.append(str(error))
            return None

    def bring(self, *paths: Path, work: object = None, then_add: bool = True) -> None:
        """Bring files; do some work in each dialog, and press Add, or Cancel."""

        def answer(dialog: LoggerFileDialog) -> bool | None:
            if callable(work):
                work(dialog)
            if not then_add:
                return cancel(dialog)
            assert dialog._add.isEnabled(), dialog.problem.text()
            dialog._add.click()
            return None

        self.answers.dialogs = [answer] * len(paths)
        self.commands.add_paths(list(paths))

    def look(self, path: Path, work: object) -> None:
        """Bring a file, look at its dialog, and close that again."""
        self.bring(path, work=work, then_add=False)


@pytest.fixture
def person(qapp: QApplication, tmp_path: Path) -> Iterator[Bringing]:
    apply_scheme(qapp, LIGHT)
    person = Bringing(made_board(tmp_path / "Yard"))
    yield person
    person.close()


def written(folder: Path, text: str, name: str = "logger.csv") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def cell(dialog: LoggerFileDialog, row: int, column: int) -> str:
    return str(dialog.table.rows.index(row, column).data())


def read_anew(dialog: LoggerFileDialog) -> None:
    """Wait until the file has been read as the fields say now."""
    wait_until(lambda: not dialog._is_stale, "for the file to be read anew")


def choose(dialog: LoggerFileDialog, column: int, role: str) -> None:
    """Say what a column holds."""
    field = dialog.table.header.lists[column][0]
    field.setCurrentIndex(field.findData(role))
    read_anew(dialog)


# ---- what is seen


def test_a_german_file_is_shown_as_it_stands_and_as_it_is_understood(person: Bringing, tmp_path: Path) -> None:
    def look(dialog: LoggerFileDialog) -> None:
        fields = dialog.fields
        assert (fields.delimiter.currentData(), fields.decimal.currentData()) == (";", ",")
        assert (fields.dates.currentData(), fields.lines.value()) == ("day first", 2)
        assert fields.logger_name() == "Hofwand"
        assert fields.clock.clock() == ""
        assert cell(dialog, 0, 1) == "6,5\n→ 6.5 °C"
        assert cell(dialog, 1, 1) == f"6,x\n{BAD_SIGN} cannot be used"
        assert cell(dialog, 2, 2) == "\n→ no reading"
        assert cell(dialog, 3, 0).startswith(f"31.02.2026 00:30\n{BAD_SIGN}")
        bad = dialog.table.rows.index(1, 1)
        assert bad.data(Qt.ItemDataRole.BackgroundRole).color().name() == LIGHT.error
        assert dialog._summary.text().startswith("3 readings from")
        assert "1 row left out" in dialog._summary.text()
        told = [dialog.left_out.item(row).text() for row in range(dialog.left_out.count())]
        assert [each.split(",")[0] for each in told] == ["row 4", "row 6"]

    person.look(written(tmp_path, GERMAN), look)


def test_fahrenheit_is_shown_in_celsius_and_the_clock_of_the_file_counts(person: Bringing, tmp_path: Path) -> None:
    def look(dialog: LoggerFileDialog) -> None:
        assert dialog.fields.clock.clock() == "UTC-06:00"
        assert dialog.fields.dates.currentData() == "month first"
        assert cell(dialog, 0, 2) == "50.0\n→ 10 °C"
        assert cell(dialog, 2, 2) == "Error\n→ no reading"
        assert cell(dialog, 0, 0) == "1", "what is not needed is not understood"

    person.look(written(tmp_path, AMERICAN), look)


def test_what_the_file_does_not_settle_is_told_until_the_person_does(person: Bringing, tmp_path: Path) -> None:
    def settle_it(dialog: LoggerFileDialog) -> None:
        assert "the day first or the month first" in dialog._doubts.text()
        assert not dialog._doubts.isHidden()
        dates = dialog.fields.dates
        dates.setCurrentIndex(dates.findData("month first"))
        assert not dialog._add.isEnabled(), "what is shown is not what the fields say"
        read_anew(dialog)
        assert "the day first or the month first" not in dialog._doubts.text()
        assert "“value 1”" in dialog._doubts.text(), "the other doubts stay"
        assert dialog._add.isEnabled()

    person.bring(written(tmp_path, DOUBTFUL), work=settle_it)
    (kept,) = person.session.record.weather_files.values()
    assert (kept.first.month, kept.first.day) == (1, 3)


def test_a_column_is_what_the_person_says(person: Bringing, tmp_path: Path) -> None:
    def say(dialog: LoggerFileDialog) -> None:
        choose(dialog, 2, "dew point")
        unit = dialog.table.header.lists[2][1]
        assert not unit.isHidden()
        unit.setCurrentIndex(unit.findData("F"))
        read_anew(dialog)
        choose(dialog, 3, "ignored")
        assert dialog.table.header.lists[3][1].isHidden()

    person.bring(written(tmp_path, DOUBTFUL), work=say)
    (kept,) = person.session.record.weather_files.values()
    assert kept.quantities == ("dew point",)


def test_columns_that_say_nothing_can_be_told(person: Bringing, tmp_path: Path) -> None:
    def say(dialog: LoggerFileDialog) -> None:
        choose(dialog, 1, "ignored")
        assert "No column holds readings" in dialog.problem.text()
        assert not dialog._add.isEnabled()
        choose(dialog, 1, "wind")
        assert dialog.problem.text() == ""

    person.bring(written(tmp_path, UNTOLD), work=say)
    (kept,) = person.session.record.weather_files.values()
    assert kept.quantities == ("wind",)


def test_lines_before_the_data_and_the_mark_between_cells_lay_the_table_anew(
    person: Bringing, tmp_path: Path
) -> None:
    def lay(dialog: LoggerFileDialog) -> None:
        dialog.fields.lines.setValue(3)
        read_anew(dialog)
        assert cell(dialog, 0, 1).startswith("6,x")
        delimiter = dialog.fields.delimiter
        delimiter.setCurrentIndex(delimiter.findData("\t"))
        read_anew(dialog)
        assert dialog.table.rows.columnCount() == 1
        assert dialog.problem.text() != ""
        delimiter.setCurrentIndex(delimiter.findData(";"))
        dialog.fields.lines.setValue(2)
        read_anew(dialog)
        assert cell(dialog, 0, 1).endswith("6.5 °C")

    person.bring(written(tmp_path, GERMAN), work=lay)
    assert [each.count for each in person.session.record.weather_files.values()] == [3]


# ---- adding


def test_readings_are_added_and_undone_in_one_step_with_the_zone(person: Bringing, tmp_path: Path) -> None:
    def say_zone(dialog: LoggerFileDialog) -> None:
        assert not dialog.fields.zone.isHidden(), "the times are told by UTC and the board's zone is not known"
        dialog.fields.zone.set_clock("nowhere")
        read_anew(dialog)
        dialog._add.click()
        assert dialog.isVisible()
        assert "Choose the zone" in dialog.problem.text()
        dialog.fields.zone.set_clock("America/Chicago")
        read_anew(dialog)

    person.bring(written(tmp_path, AMERICAN), work=say_zone)
    assert site_of(person.session.record).zone == "America/Chicago"
    assert len(person.session.record.weather_files) == 1
    assert person.told == ["3 readings of YARD added."]
    person.session.undo()
    assert site_of(person.session.record).zone == ""
    assert person.session.record.weather_files == {}


def test_the_zone_is_asked_for_only_where_the_clock_matters(person: Bringing, tmp_path: Path) -> None:
    person.look(written(tmp_path, GERMAN), lambda dialog: _hidden_zone(dialog))


def _hidden_zone(dialog: LoggerFileDialog) -> None:
    assert dialog.fields.zone.isHidden()
    dialog.fields.clock.set_clock("UTC")
    read_anew(dialog)
    assert not dialog.fields.zone.isHidden()


def test_the_very_file_again_cannot_be_added_but_read_otherwise_it_takes_its_place(
    person: Bringing, tmp_path: Path
) -> None:
    file = written(tmp_path, DOUBTFUL)
    person.bring(file)

    def otherwise(dialog: LoggerFileDialog) -> None:
        assert "on the board already, read in the same way" in dialog._summary.text()
        assert not dialog._add.isEnabled()
        choose(dialog, 3, "ignored")
        assert "takes its place" in dialog._summary.text()

    person.bring(file, work=otherwise)
    (kept,) = person.session.record.weather_files.values()
    assert kept.quantities == ("temperature",)


def test_readings_of_the_same_time_of_the_same_logger_are_told_of(person: Bringing, tmp_path: Path) -> None:
    person.bring(written(tmp_path, GERMAN, "march.csv"))
    longer = GERMAN + "14.03.2026 00:00;7,0;80\n"

    def look(dialog: LoggerFileDialog) -> None:
        assert "The board has readings of this logger" in dialog._summary.text()
        assert "march.csv" in dialog._summary.text()

    person.look(written(tmp_path, longer, "all.csv"), look)


def test_several_files_come_one_after_the_other_with_the_same_options_offered(
    person: Bringing, tmp_path: Path
) -> None:
    first, second = written(tmp_path, DOUBTFUL, "a.txt"), written(tmp_path, DOUBTFUL + "\n", "b.txt")
    seen = []

    def once(dialog: LoggerFileDialog) -> None:
        seen.append(dialog.fields.dates.currentData())
        if len(seen) == 1:
            dates = dialog.fields.dates
            dates.setCurrentIndex(dates.findData("month first"))
            dialog.fields.logger.setEditText("gate")
            read_anew(dialog)
        assert dialog.fields.logger_name() == "gate"

    person.bring(first, second, work=once)
    assert seen == ["day first", "month first"]
    assert [each.logger for each in person.session.record.weather_files.values()] == ["gate", "gate"]
    assert person.told == ["4 readings of gate added. 4 readings of gate added."]


def test_one_file_of_several_can_be_skipped_and_cancel_ends_them_all(person: Bringing, tmp_path: Path) -> None:
    files = [written(tmp_path, GERMAN + "\n" * number, f"{number}.csv") for number in range(3)]
    titles = []

    def skip(dialog: LoggerFileDialog) -> bool:
        titles.append(dialog.windowTitle())
        dialog._skip.click()
        return False

    person.answers.dialogs = [skip, cancel]
    person.commands.add_paths(files)
    assert titles == ["Readings of 0.csv, 2 more to come"]
    assert person.answers.asked == ["LoggerFileDialog"] * 2
    assert person.session.record.weather_files == {}


def test_how_files_are_read_is_kept_as_a_profile_and_found_again(person: Bringing, tmp_path: Path) -> None:
    def keep(dialog: LoggerFileDialog) -> None:
        dates = dialog.fields.dates
        dates.setCurrentIndex(dates.findData("month first"))
        read_anew(dialog)
        person.answers.dialogs.insert(0, lambda ask: ask._name.setText("my gate"))
        dialog.fields.keep.click()
        assert dialog.fields.profile.currentText() == "my gate"

    person.look(written(tmp_path, DOUBTFUL), keep)
    assert [each.name for each in LoggerProfiles().profiles()] == ["my gate"]

    def found(dialog: LoggerFileDialog) -> None:
        assert dialog.fields.profile.currentText() == "my gate"
        assert dialog.fields.dates.currentData() == "month first"
        assert dialog._doubts.text() == "", "a person has settled it"
        dialog.fields.profile.setCurrentIndex(0)
        assert dialog.fields.dates.currentData() == "day first"
        assert dialog._doubts.text() != ""

    person.look(written(tmp_path, DOUBTFUL + "\n", "next.txt"), found)


# ---- refusals


@pytest.mark.parametrize(
    ("content", "said"),
    [(b"", "empty"), (b"PK\x03\x04", "workbook"), (b"\0\1\2\3" * 9, "not a text file"), (b"a,b\n1,2\n", "time")],
)
def test_what_is_no_loggers_file_says_so_and_adds_nothing(
    person: Bringing, tmp_path: Path, content: bytes, said: str
) -> None:
    (tmp_path / "odd.csv").write_bytes(content)

    def look(dialog: LoggerFileDialog) -> None:
        assert said in dialog.problem.text()
        assert not dialog._add.isEnabled()
        assert not dialog.fields.isEnabled()

    person.look(tmp_path / "odd.csv", look)


def test_a_file_that_is_not_there_is_told_without_a_dialog(person: Bringing, tmp_path: Path) -> None:
    person.commands.add_paths([tmp_path / "gone.csv", tmp_path])
    assert person.answers.asked == []
    assert ["There is no such file" in person.failed[0], "This is a folder" in person.failed[1]] == [True, True]


def test_a_board_open_elsewhere_refuses_with_its_reason(qapp: QApplication, tmp_path: Path) -> None:
    folder = made_board(tmp_path / "Yard")
    with closing(Session(folder, who="Ann")):
        second = Bringing(folder)
        second.commands.add_paths([written(tmp_path, GERMAN)])
        assert second.answers.asked == []
        assert second.session.read_only_reason in second.failed[0]
        assert second.failed[0].endswith("No readings were added.")
        second.close()


def test_taking_a_file_off_can_be_undone(person: Bringing, tmp_path: Path) -> None:
    person.bring(written(tmp_path, GERMAN))
    (key,) = person.session.record.weather_files
    person.commands.remove(key)
    assert person.session.record.weather_files == {}
    assert person.told[-1] == "The readings of logger.csv are off the board. Undo brings them back."
    person.session.undo()
    assert list(person.session.record.weather_files) == [key]


# ---- the dialog as a whole


@pytest.mark.parametrize("scheme", SCHEMES.values(), ids=str)
def test_it_fits_the_smallest_screen(qapp: QApplication, tmp_path: Path, scheme: Scheme) -> None:
    apply_scheme(qapp, scheme)
    person = Bringing(made_board(tmp_path / "Yard"))

    def look(dialog: LoggerFileDialog) -> None:
        least = dialog.minimumSizeHint()
        assert least.width() <= SMALLEST.width()
        assert least.height() <= SMALLEST.height()
        dialog.resize(SMALLEST)
        settle()
        assert dialog.size() == SMALLEST
        assert dialog.table.viewport().height() >= dialog.table.verticalHeader().defaultSectionSize()

    person.look(written(tmp_path, AMERICAN), look)
    person.close()


def test_tab_goes_from_the_table_through_the_lists_of_the_columns(person: Bringing, tmp_path: Path) -> None:
    def walk(dialog: LoggerFileDialog) -> None:
        dialog.activateWindow()
        assert QTest.qWaitForWindowActive(dialog)
        dialog.table.setFocus()
        header = dialog.table.header
        wanted = [header.lists[0][0], header.lists[1][0], header.lists[1][1], header.lists[2][0], header.lists[2][1]]
        for each in wanted:
            QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
            assert QApplication.focusWidget() is each

    person.look(written(tmp_path, GERMAN), walk)


def test_every_letter_of_the_dialog_is_given_once(person: Bringing, tmp_path: Path) -> None:
    def look(dialog: LoggerFileDialog) -> None:
        from PySide6.QtWidgets import QLabel, QPushButton

        texts = [each.text() for each in dialog.findChildren(QLabel) if each.buddy() is not None]
        texts += [each.text() for each in dialog.findChildren(QPushButton)]
        texts += [dialog._tabs.tabText(number) for number in range(dialog._tabs.count())]
        letters = [text[text.index("&") + 1].lower() for text in texts if "&" in text]
        assert len(letters) == len(set(letters)), sorted(letters)

    person.look(written(tmp_path, GERMAN), look)


def test_clocks_to_choose_from() -> None:
    assert fixed_clocks()[0] == "UTC-12:00"
    assert fixed_clocks()[-1] == "UTC+14:00"
    assert "Europe/Berlin" in zone_names()
    assert system_zone() == "" or "/" in system_zone() or system_zone() == "UTC"


def test_a_clock_field_keeps_the_boards_own_as_nothing(qapp: QApplication) -> None:
    field = ClockField()
    assert field.clock() == ""
    assert field.currentText() == "the board's own clock"
    field.set_clock("Europe/Berlin")
    assert field.clock() == "Europe/Berlin"


# ---- the window


def dropped(person: Person, *paths: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(each)) for each in paths])
    button, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(QPoint(20, 20), Qt.DropAction.CopyAction, data, button, none)
    QApplication.sendEvent(person.page, enter)
    assert enter.isAccepted()
    QApplication.sendEvent(person.page, QDropEvent(QPointF(20, 20), Qt.DropAction.CopyAction, data, button, none))
    settle()


def test_a_loggers_file_dropped_on_the_board_is_shown(desk: Desk, person_at: Person, tmp_path: Path) -> None:
    def add(dialog: QDialog) -> None:
        dialog._add.click()  # type: ignore[attr-defined]

    person_at.answers.dialogs = [add]
    dropped(person_at, written(tmp_path, GERMAN))
    assert person_at.answers.asked == ["LoggerFileDialog"]
    folder = person_at.session.folder
    person_at.stand_up()
    with reopened(folder) as session:
        assert len(session.record.weather_files) == 1


def test_photos_dropped_on_the_board_are_photos_as_before(desk: Desk, person_at: Person, tmp_path: Path) -> None:
    photo = tmp_path / "a.jpg"
    photo.write_bytes(b"no picture")
    dropped(person_at, photo, written(tmp_path, GERMAN))
    assert person_at.answers.asked == ["IntakeDialog"]


@pytest.fixture
def person_at(desk: Desk, yard: Path) -> Person:
    return desk.sit_down(yard)
