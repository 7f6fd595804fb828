"""The screen that asks all boards, as a person uses it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from boards_together import three_boards
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot
from window_driving import settle

from rustboard.findings.boards.sought import Sought
from rustboard.session.jobs import InlineExecutor
from rustboard.support.settings import Settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.learnt.screen import LearntScreen


@pytest.fixture
def screen(qtbot: QtBot, tmp_path: Path) -> Iterator[LearntScreen]:
    three_boards(tmp_path / "boards")
    bridge = JobBridge(executor=InlineExecutor())
    found = LearntScreen(Settings(boards_folder=str(tmp_path / "boards")), bridge)
    qtbot.addWidget(found)
    found.resize(1366, 700)
    with qtbot.waitExposed(found):
        found.show()
    found.reload()
    settle()
    yield found
    bridge.close()
    bridge.deleteLater()
    settle()


def ask(screen: LearntScreen, text: str) -> None:
    screen.text.setFocus()
    screen.text.lineEdit().selectAll()
    QTest.keyClicks(screen.text.lineEdit(), text)
    QTest.keyClick(screen.text.lineEdit(), Qt.Key.Key_Return)
    settle()


def cells(screen: LearntScreen, column: int) -> list[str]:
    return [screen.table.item(row, column).text() for row in range(screen.table.rowCount())]


def test_a_treatment_is_asked_by_its_name_with_the_keyboard(screen):
    ask(screen, "oil")
    assert screen.sentences()[0] == "Oil was on 2 boards, with 6 coupons graded."
    assert sorted(cells(screen, 0)) == ["Back yard", "Harbour wall"]
    assert cells(screen, 2) == ["3", "3"]
    assert "Pooled over the first 42 days, as far as all these boards were watched." in screen.sentences()


def test_a_part_of_the_recipe_is_asked(screen):
    screen.part.setCurrentIndex(1)
    screen.part.activated.emit(1)
    assert [screen.text.itemText(at).lower() for at in range(screen.text.count())] == [
        "beeswax blend", "linseed oil", "clear varnish",
    ]  # fmt: skip
    ask(screen, "beeswax blend")
    assert screen.table.rowCount() == 3


def test_what_no_board_has_is_said(screen):
    ask(screen, "gold leaf")
    assert "No board that can be read has this" in screen.problem.text()
    assert screen.table.rowCount() == 0
    assert not screen.copy.isEnabled()


def test_the_answer_is_copied_as_text(screen):
    ask(screen, "oil")
    QTest.mouseClick(screen.copy, Qt.MouseButton.LeftButton)
    text = QGuiApplication.clipboard().text()
    assert text.startswith("Oil was on 2 boards")
    assert "\nBoard\tTreatment there\tCoupons\t" in text


def test_a_row_opens_its_board(screen, qtbot):
    ask(screen, "varnish")
    with qtbot.waitSignal(screen.open_asked) as asked:
        QTest.mouseClick(screen.open, Qt.MouseButton.LeftButton)
    assert asked.args[0].name == "yard"


def test_another_failing_grade_is_counted_anew(screen):
    ask(screen, "oil")
    assert "6 of its 6 coupons fell to grade 7 or lower." in screen.sentences()
    screen.failing.setValue(2)
    screen.failing.editingFinished.emit()
    settle()
    assert "None of its coupons fell to grade 2 or lower while it was watched." in screen.sentences()


def test_it_begins_with_what_is_wanted_and_keeps_it_when_boards_are_read_anew(screen):
    screen.reload(Sought("name", "hot wax"))
    settle()
    assert screen.sentences()[0].startswith("Hot wax was on 2 boards")
    screen.reload()
    settle()
    assert screen.sentences()[0].startswith("Hot wax was on 2 boards")


def test_boards_that_cannot_be_read_are_listed(screen, tmp_path):
    (tmp_path / "boards" / "broken").mkdir()
    (tmp_path / "boards" / "broken" / "board.rustboard").write_bytes(b"no board")
    screen.reload()
    settle()
    assert screen._unread.text().startswith("3 boards can be asked. Not asked: broken: ")
