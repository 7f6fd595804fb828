"""What a person does in the window with past boards."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from window_driving import Person, graded, made_board, settle


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


STORIES: dict[str, Callable[[Person, Path], None]] = {
    "findings.compare": compare_with_another,
    "findings.learnt": ask_all_boards,
}
