"""Taps grades in the real window until it is killed; says each time what the tiles show, once they show it.

``python window_tapping.py BOARD SEED``; run as a process of its own by test_killed_window.py.
"""

from __future__ import annotations

import json
import os
import random
import sys
from pathlib import Path

os.environ["QT_QPA_PLATFORM"] = "offscreen"
sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from PySide6.QtCore import Qt
from window_driving import Desk, Person, settle, wait_until

from rustboard.support.settings import Settings
from rustboard.ui.start import make_application


def shown(person: Person) -> dict[str, str]:
    """Return the grades that the tiles show."""
    tiles = person.page.tiles.canvas.content.tiles.values()
    return {each.id: f"{each.grading.grade}{each.grading.distribution}" for each in tiles if each.grading is not None}


def tap(person: Person, dice: random.Random) -> None:
    """Do one thing that a person grading does."""
    thing = dice.random()
    if thing < 0.2:
        person.tap(dice.choice(("A1", "A2", "A3", "B1")))
    elif thing < 0.7:
        person.tap_grade(dice.randrange(11))
    elif thing < 0.85:
        person.key(dice.choice("SGPH").lower(), dice.choice("123456789"))
    elif thing < 0.95:
        person.key(Qt.Key.Key_Delete)
    elif shown(person):  # so that the step taken back is a grade and not the making of the board
        person.do("edit.undo")


def main() -> None:
    dice = random.Random(int(sys.argv[2]))
    settings = Settings(scheme="light", grader="Ann")
    application = make_application(settings)
    desk = Desk(settings, executor=real_pool)
    person = desk.sit_down(Path(sys.argv[1]))
    if person.session.read_only_reason:
        raise SystemExit(person.session.read_only_reason)
    wait_until(lambda: person.page.timeline is not None)
    person.tap("A1")
    while True:
        settle(2)
        sys.stdout.write(json.dumps(shown(person)) + "\n")
        sys.stdout.flush()
        tap(person, dice)
        application.processEvents()


def real_pool() -> None:
    """Leave the window its own pool."""


if __name__ == "__main__":
    main()
