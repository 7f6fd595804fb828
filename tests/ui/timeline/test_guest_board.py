"""Another board laid over the timeline of the open one."""

from __future__ import annotations

import pytest
from boards_together import three_boards
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from rustboard.session.guest_board import GuestBoard, guest_board
from rustboard.session.jobs import Progress
from rustboard.session.other_boards import PoolRequest, ReadRequest, pool_boards, read_boards
from rustboard.session.session import Session
from rustboard.ui.theme import SCHEMES
from rustboard.ui.timeline.panel import TimelinePanel

LIGHT = SCHEMES["light"]
pytestmark = pytest.mark.qt_log_ignore("This plugin does not support propagateSizeHints")


@pytest.fixture
def guest(tmp_path) -> tuple[Session, GuestBoard]:
    folders = three_boards(tmp_path / "boards")
    boards = read_boards(ReadRequest(folders), Progress())
    pooled = pool_boards(PoolRequest(boards, boards.matching), Progress())
    session = Session(folders[0])
    yield session, guest_board(pooled, 1, 0)
    session.close()


@pytest.fixture
def panel(guest, qtbot: QtBot) -> TimelinePanel:
    panel = TimelinePanel(guest[0], LIGHT)
    guest[0].selection.subscribe(panel.selection_changed)
    qtbot.addWidget(panel)
    panel.resize(480, 560)
    panel.show()
    qtbot.waitExposed(panel)
    yield panel
    panel.close()


def inks(panel: TimelinePanel) -> list[str]:
    return [line.ink.name() for line in panel.plot().guests.lines]


def test_what_both_boards_have_can_be_laid_over(guest) -> None:
    _, board = guest
    assert [(each.name, each.own) for each in board.tracks] == [
        ("hot wax", "T1"), ("oil", "T2"), ("control", "control"),
    ]  # fmt: skip
    assert board.places["days"] == (7, 21, 60)
    assert set(board.places) == {"days", "controls"}


def test_the_other_boards_lines_lie_over_in_the_inks_of_their_own(panel, guest) -> None:
    assert panel.guest.text() == ""
    panel.guest.lay_over(guest[1])
    assert panel.guest.text() == (
        "Dashed: the same on Back yard, medians; it goes on beyond this board's last inspection"
    )
    assert inks(panel) == [LIGHT.series[0], LIGHT.series[1], LIGHT.series[2]]
    assert "hot wax on Back yard: 8 at day 60." in panel.accessibleDescription()
    line = panel.plot().guests.lines[0]
    assert [line.point(at).x() for at in range(3)] == [7, 21, 60]
    before = panel.plot().grab().toImage()
    panel.guest.off.setFocus()
    QTest.keyClick(panel.guest.off, Qt.Key.Key_Space)
    assert inks(panel) == []
    assert panel.guest.isHidden()
    assert panel.plot().grab().toImage() != before


def test_only_what_is_shown_of_the_open_board_is_laid_over(panel, guest) -> None:
    session, board = guest
    panel.guest.lay_over(board)
    oiled = next(each for each in session.record.coupons_in_order() if each.treatment == 2)
    session.selection.choose({oiled.key}, oiled.key)
    assert len(panel.plot().guests.lines) == 1
    assert panel.plot().guests.lines[0].series == board.tracks[1].series
    panel.guest.lay_over(GuestBoard("Elsewhere", board.places, ()))
    assert panel.guest.text() == "Elsewhere has nothing of what is shown here."


def test_a_board_without_the_clock_of_the_axis_says_so(panel, guest) -> None:
    board = guest[1]
    panel.guest.lay_over(GuestBoard(board.name, {"controls": board.places["controls"]}, board.tracks))
    assert panel.guest.text() == "Back yard is not known by what this axis counts; choose another axis."
    assert inks(panel) == []
