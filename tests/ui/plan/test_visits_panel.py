"""The calendar of inspections on the plan screen: typed, suggested, added, removed, dated, saved."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import datetime, time, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QLabel, QListWidget, QPushButton, QSpinBox, QTimeEdit, QWidget
from pytestqt.qtbot import QtBot

from rustboard.board.inspection_days import InspectionDays
from rustboard.board.model import Board, Inspection
from rustboard.operations.calendars import set_calendar
from rustboard.operations.inspections import add_inspection
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.tables import BoardRow
from rustboard.support.problems import InputError
from rustboard.ui.board_page import BoardPage
from rustboard.ui.calendar_commands import CalendarCommands
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.plan.visits_panel import VisitsPanel
from rustboard.ui.wording import date_only

START = datetime(2026, 3, 2, 9)
NOW = datetime(2026, 3, 18, 12)


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    create_board(tmp_path / "b", BoardRow(Board("Harbour wall", started=START)))
    session = Session(tmp_path / "b", clock=lambda: NOW)
    yield session
    session.close()


def sitting(session: Session, qtbot: QtBot) -> VisitsPanel:
    def do(operation: Callable[..., object], *arguments: object, origin: object = None) -> ChangeSet | None:
        try:
            return session.do(operation, *arguments, origin=origin)  # type: ignore[arg-type]
        except InputError:
            return None

    panel = VisitsPanel(session, do, clock=lambda: NOW)
    session.feed.subscribe(panel.apply)
    qtbot.addWidget(panel)
    panel.resize(360, 600)
    panel.show()
    return panel


@pytest.fixture
def panel(session: Session, qtbot: QtBot) -> VisitsPanel:
    return sitting(session, qtbot)


def press(panel: QWidget, text: str, qtbot: QtBot) -> None:
    button = next(each for each in panel.findChildren(QPushButton) if each.text().replace("&", "") == text)
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def lines(panel: VisitsPanel) -> list[str]:
    found = panel.findChild(QListWidget)
    return [found.item(row).text() for row in range(found.count())]


def type_days(panel: VisitsPanel, text: str, qtbot: QtBot) -> None:
    panel._days.selectAll()
    qtbot.keyClicks(panel._days, text)
    qtbot.keyClick(panel._days, Qt.Key.Key_Return)


def test_days_are_suggested_for_as_long_as_the_board_hangs(
    session: Session, panel: VisitsPanel, qtbot: QtBot
) -> None:
    assert "No inspections are planned yet." in panel._next.text()
    press(panel, "Suggest days", qtbot)
    assert session.record.calendar.days == (0, 1, 2, 4, 8, 16, 32, 64)
    panel._duration.setValue(100)
    press(panel, "Suggest days", qtbot)
    assert session.record.calendar.days == (0, 1, 2, 4, 8, 16, 32, 64, 100)
    assert panel._days.text() == "0, 1, 2, 4, 8, 16, 32, 64, 100"
    session.undo()
    assert panel._days.text() == "0, 1, 2, 4, 8, 16, 32, 64"


def test_typed_days_are_kept_sorted(session: Session, panel: VisitsPanel, qtbot: QtBot) -> None:
    type_days(panel, "8; 1 2 4", qtbot)
    assert session.record.calendar.days == (1, 2, 4, 8)
    assert panel._days.text() == "1, 2, 4, 8"
    steps = len(session.audit())
    type_days(panel, "1,2,4,8", qtbot)
    assert len(session.audit()) == steps


def test_what_is_no_day_is_told_and_nothing_is_changed(session: Session, panel: VisitsPanel, qtbot: QtBot) -> None:
    type_days(panel, "1, soon", qtbot)
    assert "“soon” is not a day" in panel.findChild(ProblemLine).text()
    assert session.record.calendars == {}
    type_days(panel, "1, 3", qtbot)
    assert panel.findChild(ProblemLine).text() == ""
    assert session.record.calendar.days == (1, 3)


def test_days_have_their_dates_and_what_became_of_them(session: Session, panel: VisitsPanel) -> None:
    session.do(set_calendar, InspectionDays((0, 2, 4, 8, 16, 32)))
    for day in (0, 5):
        session.do(add_inspection, Inspection(START + timedelta(days=day)))

    def on(day: int) -> str:
        return date_only(START + timedelta(days=day))

    assert lines(panel) == [
        f"Day 0  ·  {on(0)}  ·  done",
        f"Day 2  ·  {on(2)}  ·  missed",
        f"Day 4  ·  {on(4)}  ·  done on {on(5)}",
        f"Day 8  ·  {on(8)}  ·  missed",
        f"Day 16  ·  {on(16)}  ·  due",
        f"Day 32  ·  {on(32)}",
    ]
    assert panel._next.text() == "Look due today (day 16). 1 planned look before it was missed."


def test_without_a_start_there_are_days_but_no_dates(session: Session, panel: VisitsPanel, qtbot: QtBot) -> None:
    session.do(set_calendar, InspectionDays((0, 7)))
    qtbot.mouseClick(panel._begins, Qt.MouseButton.LeftButton, pos=panel._begins.rect().center() / 2)
    assert session.record.board.started is None
    assert lines(panel) == ["Day 0", "Day 7"]
    assert "but no dates" in panel._next.text()
    assert not panel._begins_at.isEnabled()
    session.do(add_inspection, Inspection(START))
    assert "Days count from the first inspection." in panel._next.text()


def test_the_start_is_set_here_too(session: Session, panel: VisitsPanel) -> None:
    panel._begins_at.set_when(datetime(2026, 4, 1, 7, 30))
    assert session.record.board.started == datetime(2026, 4, 1, 7, 30)
    session.undo()
    assert panel._begins_at.when() == START
    assert session.undo_summary() is None


def test_days_are_added_and_removed_one_by_one(session: Session, panel: VisitsPanel, qtbot: QtBot) -> None:
    session.do(set_calendar, InspectionDays((0, 7, 14)))
    looks = panel.findChild(QListWidget)
    adding = next(each for each in panel.findChildren(QSpinBox) if each.accessibleName() == "Day to add")
    assert adding.value() == 15
    adding.setValue(10)
    press(panel, "Add this day", qtbot)
    assert session.record.calendar.days == (0, 7, 10, 14)
    looks.setCurrentRow(1)
    press(panel, "Take the chosen day out", qtbot)
    assert session.record.calendar.days == (0, 10, 14)
    looks.setCurrentRow(2)
    looks.setFocus()
    qtbot.keyClick(looks, Qt.Key.Key_Delete)
    assert session.record.calendar.days == (0, 10)


def test_hour_and_reminder_are_kept(session: Session, panel: VisitsPanel, qtbot: QtBot) -> None:
    session.do(set_calendar, InspectionDays((0, 7)))
    panel._hour.setTime(panel._hour.time().addSecs(-3_600))
    assert session.record.calendar.hour == time(8)
    remind = next(each for each in panel.findChildren(QCheckBox) if each.text() == "&Remind me")
    qtbot.keyClick(remind, Qt.Key.Key_Space)
    assert not session.record.calendar.remind
    session.undo()
    assert remind.isChecked()


def test_more_days_than_a_calendar_holds_are_refused_and_the_old_ones_come_back(
    session: Session, panel: VisitsPanel, qtbot: QtBot
) -> None:
    session.do(set_calendar, InspectionDays(tuple(range(400))))
    press(panel, "Add this day", qtbot)
    assert len(session.record.calendar.days) == len(lines(panel)) == 400


def test_reading_only_nothing_can_be_changed(session: Session, qtbot: QtBot) -> None:
    session.do(set_calendar, InspectionDays((0, 7)))
    with closing(Session(session.folder, read_only=True)) as watching:
        panel = sitting(watching, qtbot)
        fields = (panel._days, panel._begins, panel._begins_at, panel._suggest, panel._hour, panel._remind)
        assert not any(each.isEnabled() for each in fields)
        panel.findChild(QListWidget).setCurrentRow(0)
        enabled = [each.text() for each in panel.findChildren(QPushButton) if each.isEnabled()]
        assert enabled == ["Save for my &calendar (.ics)…"]


def test_every_control_has_a_name(panel: VisitsPanel) -> None:
    buddies = {each.buddy() for each in panel.findChildren(QLabel)}
    for kind in (QSpinBox, QTimeEdit, QListWidget):
        for each in panel.findChildren(kind):
            assert each.accessibleName() or each in buddies


def test_the_panel_lives_in_a_narrow_column(panel: VisitsPanel, session: Session) -> None:
    session.do(set_calendar, InspectionDays(tuple(range(60))))
    assert panel.minimumSizeHint().width() <= 360


class Answering:
    """Answers where to save."""

    def __init__(self, path: Path | None) -> None:
        self.path = path
        self.start: Path | None = None

    def save_file(self, title: str, start: Path, kinds: str) -> Path | None:
        self.start = start
        return self.path


def saving(panel: VisitsPanel, session: Session, answer: Path | None) -> tuple[Answering, list[str], list[str]]:
    asker, told, failed = Answering(answer), [], []  # type: ignore[var-annotated]
    commands = CalendarCommands(panel, asker, lambda *_: None)  # type: ignore[arg-type]
    page = BoardPage.__new__(BoardPage)
    page.session = session
    commands.page = page
    commands.told.connect(told.append)
    commands.failed.connect(failed.append)
    panel.ics_asked.connect(commands.save_ics)
    return asker, told, failed


def test_the_calendar_file_is_saved_where_the_user_wants_it(
    session: Session, panel: VisitsPanel, qtbot: QtBot, tmp_path: Path
) -> None:
    asker, told, failed = saving(panel, session, tmp_path / "looks")
    session.do(set_calendar, InspectionDays((0, 7)))
    press(panel, "Save for my calendar (.ics)…", qtbot)
    assert asker.start == session.folder / "b.ics"
    assert (tmp_path / "looks.ics").read_bytes().count(b"BEGIN:VEVENT") == 2
    assert failed == []
    assert told == [f"Wrote 2 looks to {tmp_path / 'looks.ics'}; open it with your calendar program."]


def test_without_a_start_it_says_so_before_it_asks_for_a_name(
    session: Session, panel: VisitsPanel, qtbot: QtBot, tmp_path: Path
) -> None:
    asker, told, failed = saving(panel, session, tmp_path / "looks.ics")
    session.do(set_calendar, InspectionDays((0, 7)))
    panel._begins.click()
    press(panel, "Save for my calendar (.ics)…", qtbot)
    assert (asker.start, told) == (None, [])
    assert failed == ["A calendar needs dates; say when the exposure begins first."]


def test_thinking_better_of_it_writes_nothing(
    session: Session, panel: VisitsPanel, qtbot: QtBot, tmp_path: Path
) -> None:
    _, told, failed = saving(panel, session, None)
    session.do(set_calendar, InspectionDays((0, 7)))
    press(panel, "Save for my calendar (.ics)…", qtbot)
    assert told == failed == []
    assert list(tmp_path.rglob("*.ics")) == []
