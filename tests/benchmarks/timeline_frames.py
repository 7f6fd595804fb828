"""How long a frame of the timeline takes while panning and zooming a large board, all coupons chosen.

Run it: ``python tests/benchmarks/timeline_frames.py [--coupons N] [--inspections N]``. Budget: 60 frames a second.

A frame is one real mouse or wheel event and everything until its picture is painted. Grades jump up and down by one
between inspections as those of a tired grader do, which is the worst case: a step nearly everywhere.
"""

from __future__ import annotations

import argparse
import math
import os
import random
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent, QPointingDevice, QWheelEvent
from PySide6.QtWidgets import QApplication, QWidget

from rustboard.board.model import Board, Coupon, Inspection, Treatment
from rustboard.board.position import Position
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.treatments import add_treatment
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.tables import INSPECTIONS, BoardRow
from rustboard.store.transaction import Transaction
from rustboard.support.summary import Summary
from rustboard.ui.theme import LIGHT, apply_scheme
from rustboard.ui.timeline.panel import TimelinePanel

BUDGET_MS = 1000 / 60
COLUMNS = 12
FRAMES = 120
ZOOMS = (("pan, 4 of 5 days in view", 1), ("pan, half of the days", 2), ("pan, a tenth of the days", 7))
"""Turns of the wheel before each pan, on top of those before."""


def fill(tx: Transaction, coupons: int, inspections: int) -> Summary:
    """Put coupons, inspections and noisy falling grades on a board."""
    chance = random.Random(5)
    start = datetime(2025, 3, 3, 9)
    for number in range(8):
        add_treatment(tx, Treatment(f"T{number + 1}", f"treatment {number + 1}"))
    for number in range(coupons):
        place = Position(*divmod(number, COLUMNS))
        add_coupon(tx, Coupon(f"C{number + 1:02d}", place, treatment=number % 8 + 1))
    visits = [tx.put(INSPECTIONS, Inspection(start + timedelta(days=day))) for day in range(inspections)]
    for coupon in range(1, coupons + 1):
        for day, visit in enumerate(visits):
            true = 10 - 9 * day / inspections * (0.4 + coupon / coupons)
            grade = max(0, min(10, round(true + chance.uniform(-0.9, 0.9))))
            if chance.random() > 0.03:
                grade_coupon(tx, GivenGrade(coupon, visit, grade))
    return Summary("Fill the board")


@contextmanager
def board(folder: Path, coupons: int, inspections: int) -> Iterator[Session]:
    """Open a board of that size."""
    create_board(folder, BoardRow(Board("Large board", rows=-(-coupons // COLUMNS), columns=COLUMNS)))
    session = Session(folder)
    try:
        session.do(fill, coupons, inspections)
        yield session
    finally:
        session.close()


def mouse(view: QWidget, kind: QEvent.Type, at: QPointF, held: Qt.MouseButton) -> None:
    """Send one mouse event."""
    button = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else Qt.MouseButton.LeftButton
    event = QMouseEvent(kind, at, view.mapToGlobal(at), button, held, Qt.KeyboardModifier.NoModifier)
    QApplication.sendEvent(view, event)


def wheel(view: QWidget, at: QPointF, turn: int) -> None:
    """Send one turn of the wheel."""
    device = QPointingDevice.primaryPointingDevice()
    event = QWheelEvent(
        at, view.mapToGlobal(at), QPoint(), QPoint(0, turn), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
        Qt.MouseEventSource.MouseEventNotSynthesized, device,
    )  # fmt: skip
    QApplication.sendEvent(view, event)


class PaintCounter(QObject):
    """Knows whether a view was painted."""

    def __init__(self) -> None:
        """Start with nothing painted."""
        super().__init__()
        self._painted = 0

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Count paintings; Qt calls this."""
        self._painted += event.type() == QEvent.Type.Paint
        return False

    def take(self) -> int:
        """Return how often the view was painted since this was last asked."""
        painted, self._painted = self._painted, 0
        return painted


def frames(view: QWidget, move: Callable[[int], None]) -> list[float]:
    """Return the ms of each frame: one move, what follows, and its picture; moves without one do not count."""
    counter = PaintCounter()
    view.installEventFilter(counter)
    taken = []
    for number in range(FRAMES):
        started = time.perf_counter()
        move(number)
        QApplication.sendPostedEvents()
        ended = time.perf_counter()
        if counter.take():
            taken.append((ended - started) * 1000)
    view.removeEventFilter(counter)
    return taken


def measure(panel: TimelinePanel) -> dict[str, list[float]]:
    """Return the ms of each frame by what was done."""
    view = panel.plot().viewport()
    middle = QPointF(view.width() / 2, view.height() / 2)
    results = {"zoom": frames(view, lambda n: wheel(view, middle, 30 if n < FRAMES / 2 else -30))}
    for name, notches in ZOOMS:
        for _ in range(notches):
            wheel(view, middle, 120)
        mouse(view, QEvent.Type.MouseButtonPress, middle, Qt.MouseButton.LeftButton)
        results[name] = frames(
            view,
            lambda n: mouse(
                view,
                QEvent.Type.MouseMove,
                middle + QPointF(36 * math.sin(0.4 + n / 5), 0),
                Qt.MouseButton.LeftButton,
            ),
        )
        mouse(view, QEvent.Type.MouseButtonRelease, middle + QPointF(20, 0), Qt.MouseButton.NoButton)
    for name, taken in results.items():
        if len(taken) < FRAMES * 0.9:
            raise RuntimeError(f"{name}: only {len(taken)} of {FRAMES} moves were painted")
    panel.plot().show_all_days()
    results["pointing along the lines"] = frames(
        view, lambda n: mouse(view, QEvent.Type.MouseMove, QPointF(60 + 2 * n, middle.y()), Qt.MouseButton.NoButton)
    )
    return results


def say(line: str) -> None:
    """Write a line."""
    sys.stdout.write(line + "\n")


def grade_again(session: Session, panel: TimelinePanel) -> float:
    """Return the ms the panel takes to show one corrected grade."""
    changes = session.do(grade_coupon, GivenGrade(1, len(session.record.inspections), 5, note="looked at again"))
    started = time.perf_counter()
    panel.apply(changes)
    panel.plot().viewport().repaint()
    return (time.perf_counter() - started) * 1000


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--coupons", type=int, default=96)
    parser.add_argument("--inspections", type=int, default=365)
    wanted = parser.parse_args()
    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    apply_scheme(app, LIGHT)
    with (
        tempfile.TemporaryDirectory() as folder,
        board(Path(folder) / "b", wanted.coupons, wanted.inspections) as session,
    ):
        session.selection.choose(session.record.coupons)
        panel = TimelinePanel(session, LIGHT)
        panel.resize(480, 640)
        started = time.perf_counter()
        panel.show()
        app.processEvents()
        first = (time.perf_counter() - started) * 1000
        results = measure(panel)
        moving = [each for name, taken in results.items() if not name.startswith("pointing") for each in taken]
        mean, worst = statistics.fmean(moving), statistics.quantiles(moving, n=20)[-1]
        size = f"timeline, {wanted.coupons} x {wanted.inspections}"
        say(f"{size}: {mean:.1f} ms a frame, ratio to {BUDGET_MS:.1f} ms: {mean / BUDGET_MS:.2f}")
        say(f"{size}: 19 of 20 frames within {worst:.1f} ms, ratio {worst / BUDGET_MS:.2f}")
        for name, taken in results.items():
            say(f"  {name}: {statistics.fmean(taken):.1f} ms, slowest {max(taken):.1f} ms")
        say(f"  shown for the first time: {first:.0f} ms")
        say(f"  one more grade shown: {grade_again(session, panel):.1f} ms")
        panel.close()


if __name__ == "__main__":
    main()
