"""How long a grader waits: from the key to the next coupon on the screen, and for each move of the slider.

Run it: ``python tests/benchmarks/grading_round.py [--board FOLDER]``. Without a board the demo's is painted first.
The board is copied; a new visit is added, and all its coupons are graded by keys, by somebody who looks at each for
as long as the next one's pictures need.

Printed for each way of grading: the time from the key until the next coupon is painted with everything it has; how
much of that the record took (one transaction, synced to the disk); how long the next coupon's pictures then took to
be ready; how many coupons came with a picture missing. For the slider: the time of one move with its painting.
Budgets: 100 ms beside the record from key to coupon; a frame of 30 a second for a move.
"""

from __future__ import annotations

import argparse
import os
import shutil
import statistics
import sys
import tempfile
import time
from datetime import timedelta
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from rustboard.app.demo.build import build_demo
from rustboard.board.model import Inspection
from rustboard.operations.inspections import add_inspection
from rustboard.session.session import Session
from rustboard.support.settings import Settings
from rustboard.ui.board_page import BoardPage
from rustboard.ui.main_window import MainWindow
from rustboard.ui.start import Program, make_application

SIZE = (1366, 768)
KEY_BUDGET_MS = 100.0
MOVE_BUDGET_MS = 1000 / 30
WAYS = ("keys on plain steel", "keys on this coupon", "percent")


class TimedRecord:
    """Stands before a session's ``do`` and keeps how long the last change took."""

    def __init__(self, session: Session) -> None:
        self._do = session.do
        self.last_ms = 0.0
        session.do = self  # type: ignore[method-assign]

    def __call__(self, *arguments: object, **more: object) -> object:
        begun = time.perf_counter()
        try:
            return self._do(*arguments, **more)  # type: ignore[arg-type]
        finally:
            self.last_ms = (time.perf_counter() - begun) * 1000


def quiet(window: MainWindow) -> float:
    """Let the window finish all it has under way; return how long that took, in ms."""
    begun = time.perf_counter()
    calm = 0
    while calm < 20:
        QApplication.processEvents()
        calm = 0 if window.bridge.busy() else calm + 1
        time.sleep(0.001)
    return (time.perf_counter() - begun) * 1000


def missing(page: BoardPage, way: str) -> int:
    """Return how many pictures of the coupon in view are not there."""
    panel = page.panel
    if way == "percent":
        return (panel.picker.pair.image() is None) + (panel.picker.pair._own is None)
    return sum(key._picture is None for key in panel.guide.keys.values()) + sum(
        shot.image is None for shot in panel.views._shots
    )


def stale(page: BoardPage, way: str) -> bool:
    """Return whether pictures of the coupon in view are still to come."""
    return way != "keys on plain steel" and any(known.asked for known in page.panel.body.ahead._kinds.values())


def a_round(window: MainWindow, way: str) -> None:
    """Grade a fresh visit in one way, and print the figures."""
    page = window.page
    last = page.session.record.inspections_in_order()[-1]
    window.do(add_inspection, Inspection(last.at + timedelta(days=7), "Ann"))
    page.look_at(page.session.record.inspections_in_order()[-1].key)
    page.grade_next()
    panel = page.panel
    if panel.picker.isVisible() != (way == "percent"):
        panel.options.toggle_by_percent()
    if panel.options.on_coupon() != (way == "keys on this coupon"):
        panel.options.toggle_on_coupon()
    quiet(window)
    record = TimedRecord(page.session)
    whole, on_disk, ready, gone = [], [], [], 0
    while page.grading_coupon() is not None:
        begun = time.perf_counter()
        QTest.keyClick(panel, Qt.Key.Key_Return if way == "percent" else Qt.Key.Key_7)
        QApplication.processEvents()  # until it is painted
        whole.append((time.perf_counter() - begun) * 1000)
        on_disk.append(record.last_ms)
        if page.grading_coupon() is not None:
            gone += bool(missing(page, way)) or stale(page, way)
        ready.append(quiet(window))
    page.session.do = record._do
    beside = [one - other for one, other in zip(whole, on_disk, strict=True)]
    sys.stdout.write(
        f"{way:22} {len(whole):2} coupons: key to next {statistics.median(whole):6.1f} ms, worst {max(whole):6.1f}; "
        f"record {statistics.median(on_disk):5.1f}; beside it {statistics.median(beside):5.1f}, "
        f"worst {max(beside):5.1f} ({statistics.median(beside) / KEY_BUDGET_MS:.2f} of the budget); "
        f"next ready after {statistics.median(ready):6.0f}; missing {gone}\n"
    )


def moves(window: MainWindow) -> None:
    """Drag the slider from end to end and back, and print the figures."""
    page = window.page
    page.open_grading(sorted(page.session.record.coupons)[0])
    if not page.panel.picker.isVisible():
        page.panel.options.toggle_by_percent()
    quiet(window)
    picker = page.panel.picker
    for name, places in (("0 to 100 %", range(0, 10_001, 100)), ("33 to 100 %", range(8_870, 10_001, 20))):
        times = []
        for place in places:
            begun = time.perf_counter()
            picker.slider.setValue(place)
            picker.pair.repaint()
            QApplication.processEvents()
            times.append((time.perf_counter() - begun) * 1000)
        sys.stdout.write(
            f"slider, {name:12} median {statistics.median(times):5.1f} ms, worst {max(times):5.1f} "
            f"({statistics.median(times) / MOVE_BUDGET_MS:.2f} of the budget), "
            f"{picker.pair._growing.places.size} px counted\n"
        )


def main() -> int:
    """Run all; return the exit code."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--board", type=Path)
    chosen = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["RUSTBOARD_HOME"] = str(Path(folder) / "home")
        source = chosen.board or build_demo(Path(folder) / "demo", lambda *_: None)[0]
        board = Path(folder) / "board"
        shutil.copytree(source, board)
        settings = Settings(scheme="light")
        make_application(settings)
        program = Program(settings)
        program.open(board, new_window=True)
        (window,) = program.windows
        window.resize(*SIZE)
        quiet(window)
        for way in WAYS:
            a_round(window, way)
        moves(window)
        window.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
