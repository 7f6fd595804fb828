"""What is on the way to the first window, and that signals may be sent without end."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

HEAVY = {"scipy", "pandas", "openpyxl", "cv2", "PIL", "rustboard.findings"}

# Stands in for the event loop: lets the board be painted and everything that follows the first paint happen,
# then notes what is loaded and ends. Nothing in the program knows of it.
SHOW_BOARD = """
import json, sys, time
from PySide6.QtWidgets import QApplication, QMainWindow

def shown_windows():
    windows = QApplication.topLevelWidgets()
    return [w for w in windows if isinstance(w, QMainWindow) and w.isVisible()]

def is_working():
    return any(w.page.weather.is_working() for w in shown_windows() if w.page is not None)

def settle(application, seconds):
    until, patience = time.monotonic() + seconds, time.monotonic() + 60
    while time.monotonic() < until or (is_working() and time.monotonic() < patience):
        application.processEvents()

def exec_for_a_while(*_):
    application = QApplication.instance()
    patience = time.monotonic() + 60
    while not shown_windows() and time.monotonic() < patience:
        application.processEvents()
    titles = [w.windowTitle() for w in shown_windows()]
    settle(application, 2)
    for window in shown_windows():
        if window.page is not None:
            window.page.show_timeline(True)  # this screen is too small for it to show itself
    settle(application, 1)
    timelines = [w.page.timeline for w in shown_windows() if w.page is not None]
    lanes = [each.weather.shows_lane() for each in timelines if each is not None]
    roots = {m.split(".")[0] for m in sys.modules}
    loaded = sorted(roots | {m for m in sys.modules if m == "rustboard.findings"})
    print(json.dumps({"titles": titles, "loaded": loaded, "lanes": lanes}))
    for window in shown_windows():
        window.close()
    return 0

QApplication.exec = exec_for_a_while
from rustboard.app.main import run
sys.exit(run(sys.argv[1:]))
"""

BOARD_WITH_WEATHER = """
import sys
from contextlib import closing
from datetime import datetime
from pathlib import Path
import numpy as np
from rustboard.board.model import Board, Coupon, Inspection
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.weather import GivenReadings, add_weather_file
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.tables import BoardRow
from rustboard.weather.packing import pack
from rustboard.weather.readings import ReadingTable

folder, start = Path(sys.argv[1]), datetime(2026, 3, 2, 9)
create_board(folder, BoardRow(Board("Yard fence", started=start)))
hours = np.arange(240)
seconds = (start - datetime(1970, 1, 1)).total_seconds() + 3600 * hours
readings = {"temperature": 5.0 + hours % 7, "humidity": 70.0 + hours % 25, "rain": (hours % 9 == 0) * 0.5}
packed = pack(ReadingTable(seconds.astype(np.int64), readings))
with closing(Session(folder)) as session:
    session.do(add_coupon, Coupon("C01"))
    session.do(add_inspection, Inspection(start))
    session.do(grade_coupon, GivenGrade(1, 1, 10))
    file = GivenReadings("porch.csv", "a" * 64, "porch", "", tuple(readings), 240, start, start, packed)
    session.do(add_weather_file, file)
"""

# Python 3.11 with PySide6 6.12 loses references to None, True and small numbers at each signal sent and aborts.
SEND_SIGNALS = """
import sys
from PySide6.QtCore import QCoreApplication, QObject, Signal, Slot

class Sender(QObject):
    number = Signal(int)
    truth = Signal(bool)
    thing = Signal(object)
    nothing = Signal()

class Receiver(QObject):
    def __init__(self):
        super().__init__()
        self.heard = 0

    @Slot(int)
    @Slot(bool)
    @Slot(object)
    def on_value(self, value):
        self.heard += 1

    @Slot()
    def on_nothing(self):
        self.heard += 1

application = QCoreApplication([])
sender, receiver = Sender(), Receiver()
for signal in (sender.number, sender.truth, sender.thing):
    signal.connect(receiver.on_value)
sender.nothing.connect(receiver.on_nothing)
for turn in range(5_000):
    sender.number.emit(turn)
    sender.truth.emit(turn % 2 == 0)
    sender.thing.emit(None)
    sender.nothing.emit()
print(receiver.heard)
"""


def python(code: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", code, *arguments], capture_output=True, text=True, timeout=180, check=False
    )


def test_the_board_is_shown_without_loading_the_heavy_libraries(tmp_path: Path) -> None:
    plan, board = tmp_path / "plan.json", tmp_path / "Yard fence"
    coupons = [{"id": f"C0{number}", "position": f"A{number}"} for number in (1, 2, 3)]
    plan.write_text(json.dumps({"board": {"name": "Yard fence"}, "coupons": coupons}), encoding="utf-8")
    run = "import sys\nfrom rustboard.app.main import run\nsys.exit(run(sys.argv[1:]))"
    made = python(run, "new", str(board), "--plan", str(plan))
    assert made.returncode == 0, made.stderr

    shown = python(SHOW_BOARD, str(board))
    assert shown.returncode == 0, shown.stderr
    seen = json.loads(shown.stdout.splitlines()[-1])
    assert any("Yard fence" in title for title in seen["titles"])
    assert "PySide6" in seen["loaded"]
    assert not HEAVY & set(seen["loaded"])


def test_the_weather_under_the_timeline_is_shown_without_them_too(tmp_path: Path) -> None:
    board = tmp_path / "Yard fence"
    made = python(BOARD_WITH_WEATHER, str(board))
    assert made.returncode == 0, made.stderr

    shown = python(SHOW_BOARD, str(board))
    assert shown.returncode == 0, shown.stderr
    seen = json.loads(shown.stdout.splitlines()[-1])
    assert seen["lanes"] == [True]
    assert not HEAVY & set(seen["loaded"])


def test_twenty_thousand_signals_are_sent_and_received() -> None:
    sent = python(SEND_SIGNALS)
    assert sent.returncode == 0, sent.stderr
    assert sent.stdout.split() == ["20000"]
