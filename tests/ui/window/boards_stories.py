"""What a person does in the window with past boards."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from window_driving import Person, graded, made_board, settle

from rustboard.board.record import forerunner_of
from rustboard.ui.next_board.dialog import NextBoardDialog


def compare_with_another(person: Person, yard: Path) -> None:
    other = graded(made_board(person.desk.settings.boards_path() / "Porch"), 1, {"C01": 6})
    person.answers.dialogs = [lambda box: box.list.item(0).setCheckState(Qt.CheckState.Checked)]
    person.do("findings.compare")
    settle(8)
    screen = person.window.boards.comparing.screen
    assert screen is not None
    assert screen.isVisible()
    assert screen.folders == (person.session.folder, other)
    assert any("C01 at A1: grade 6" in each for each in screen.tiles.words())
    assert "coupon.grade" not in person.enabled()
    person.press("&Back")
    assert person.page.isVisible()


def ask_all_boards(person: Person, yard: Path) -> None:
    graded(made_board(person.desk.settings.boards_path() / "Porch"), 1, {"C01": 6})
    person.tap("A1")
    person.do("findings.learnt")
    settle(8)
    screen = person.window.boards.learnt.screen
    assert screen is not None
    assert screen.sentences()[0] == "Beeswax blend was on 2 boards, with 1 coupon graded."
    person.press("&Back")
    assert person.page.isVisible()


def next_board(person: Person, yard: Path) -> None:
    def change(dialog: NextBoardDialog) -> None:
        dialog.fields["site"].selectAll()
        QTest.keyClicks(dialog.fields["site"], "roof")
        dialog.name.setText("Yard again")

    person.answers.dialogs = [change]
    person.do("file.next")
    settle(8)
    record = person.session.record
    assert record.board.name == "Yard again"
    forerunner = forerunner_of(record)
    assert forerunner is not None
    assert (forerunner.name, forerunner.changed) == ("Yard", "site from none to roof")


STORIES: dict[str, Callable[[Person, Path], None]] = {
    "findings.compare": compare_with_another,
    "findings.learnt": ask_all_boards,
    "file.next": next_board,
}
