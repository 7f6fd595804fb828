"""A start in a real window (run it under Xvfb): grade two coupons and change the plan by keys, look, read the disk.

Not a pytest test, because those run offscreen: `.ci/run` starts it. Exit code 0 when all is as it should be.
"""

from __future__ import annotations

import os
import sys
import tempfile
from contextlib import closing
from datetime import datetime
from pathlib import Path

HERE = Path(__file__).resolve().parent
_ENOUGH_COLOURS = 60


def main() -> int:
    """Run the story; return the exit code."""
    os.environ.pop("QT_QPA_PLATFORM", None)
    with tempfile.TemporaryDirectory() as folder:
        os.environ["RUSTBOARD_HOME"] = str(Path(folder) / "home")
        return _story(Path(folder))


def _story(folder: Path) -> int:
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication

    from rustboard.app.main import run
    from rustboard.board.model import Inspection
    from rustboard.operations.inspections import add_inspection
    from rustboard.session.session import Session
    from rustboard.support.settings import Settings
    from rustboard.ui.start import Program, make_application

    board = folder / "Board"
    if run(["new", str(board), "--plan", str(HERE.parent / "resources" / "examples" / "plan.json")]) != 0:
        return _fail("the example plan made no board")
    with closing(Session(board)) as session:
        session.do(add_inspection, Inspection(datetime(2026, 3, 3, 9)))
    make_application(Settings())
    if QApplication.platformName() in {"offscreen", "minimal"}:
        return _fail(f"this is no real window but Qt's platform {QApplication.platformName()}")
    program = Program(Settings())
    program.open(board, new_window=True)
    (window,) = program.windows
    QTest.qWaitForWindowExposed(window)
    QTest.qWait(1_500)
    QTest.keyClick(window.page.tiles.canvas, Qt.Key.Key_Return)
    QTest.qWait(1_500)
    QTest.keyClick(window.page.panel, Qt.Key.Key_T)
    QTest.keyClick(window.page.panel, Qt.Key.Key_7)
    QTest.qWait(500)
    window.actions_by_id.by_id["board.plan"].trigger()  # without a window manager no window is active for F9
    QTest.qWait(1_000)
    if window.plan.screen is None or not window.plan.screen.isVisible():
        return _fail("the plan did not come into view")
    window.plan.screen.map.setFocus()
    first = window.plan.screen.map.tiles[window.plan.screen.map.focus_place()].id
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Right, Qt.Key.Key_Return):
        QTest.keyClick(window.plan.screen.map, key)
    QTest.qWait(500)
    window.actions_by_id.by_id["photos.show"].trigger()
    QTest.qWait(1_000)
    if not window.photos.is_shown():
        return _fail("the photos did not come into view")
    shot = window.screen().grabWindow(window.winId()).toImage()
    colours = {shot.pixel(x, y) for x in range(0, shot.width(), 3) for y in range(0, shot.height(), 3)}
    with closing(Session(board, read_only=True)) as reader:
        grades = sorted(each.grade for given in reader.record.current.values() for each in given.values())
        places = {each.id: each.position.label for each in reader.record.coupons.values() if each.position}
    window.close()
    if grades != [7, 10]:
        return _fail(f"the grades on disk are {grades}, not 7 and 10")
    if places[first] != "A2":
        return _fail(f"coupon {first} was carried to A2 on the plan, and hangs at {places[first]} on disk")
    if len(colours) < _ENOUGH_COLOURS:
        return _fail(f"the screen shows only {len(colours)} colours: nothing was painted")
    sys.stdout.write(
        f"real window: {shot.width()} x {shot.height()}, {len(colours)} colours, grades {grades} on disk\n"
    )
    return 0


def _fail(sentence: str) -> int:
    sys.stderr.write(f"real window: {sentence}\n")
    return 1


if __name__ == "__main__":
    sys.exit(main())
