"""What a person does on the screen that shows two coupons at a time."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

from photographed_boards import middle
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from window_driving import Person, settle, wait_until

from rustboard.board.pair_choice import PairChoice
from rustboard.session.session import Session
from rustboard.ui.side_by_side.screen import SideBySideScreen

ACTION = "inspection.side_by_side"


def choices_on_disk(folder: Path) -> list[PairChoice]:
    """Return the choices that count, oldest first, read anew."""
    with closing(Session(folder, read_only=True)) as session:
        return sorted(session.record.pair_choices.values(), key=lambda each: each.key)


def told(choices: list[PairChoice]) -> list[tuple[int, int, str]]:
    return [(each.left, each.right, each.rustier) for each in choices]


class Comparer:
    """Compares in one window.

    Attributes:
        person: who sits before it.
    """

    def __init__(self, person: Person) -> None:
        self.person = person

    @property
    def screen(self) -> SideBySideScreen:
        screen = self.person.window.pairs.screen
        assert screen is not None, "it was never opened"
        return screen

    def open(self) -> None:
        self.person.do(ACTION)

    def begin(self, grader: str = "Ann") -> None:
        """Open the comparison in the name of a grader, and begin or go on."""
        self.open()
        self.screen.start.name.setEditText(grader)
        QTest.keyClick(self.screen.start.begin, Qt.Key.Key_Space)
        wait_until(lambda: not self.person.window.bridge.busy(), "for the pictures")
        settle()

    def is_comparing(self) -> bool:
        return self.person.window.pairs.is_comparing()

    def pair(self) -> tuple[int, int]:
        """Return which coupons are in view; a person does not know."""
        pair = self.screen.compare.pair
        assert pair is not None
        return tuple(pair)

    def pictured(self) -> tuple[int, int]:
        """Return which coupons the two pictures show, by their colours."""
        left, right = (middle(each.image())[1] // 50 for each in self.screen.compare.pictures)
        return left, right

    def key(self, *keys: Qt.Key) -> None:
        self.person.key(*keys)

    def finish(self) -> int:
        """Choose the coupon with the higher key until there is nothing more to ask; return how many it took."""
        count = 0
        while self.is_comparing():
            left, right = self.pair()
            self.key(Qt.Key.Key_Left if left > right else Qt.Key.Key_Right)
            count += 1
        wait_until(lambda: not self.person.window.bridge.busy(), "for the order")
        settle()
        return count
