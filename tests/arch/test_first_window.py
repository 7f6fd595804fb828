"""What is on the way to the first window, and that signals may be sent without end."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

HEAVY = {"scipy", "pandas", "openpyxl", "cv2", "PIL"}

# Stands in for the event loop: lets the board be painted and everything that follows the first paint happen,
# then notes what is loaded and ends. Nothing in the program knows of it.
SHOW_BOARD = """
import json, sys, time
from PySide6.QtWidgets import QApplication, QMainWindow

def shown_windows():
    windows = QApplication.topLevelWidgets()
    return [w for w in windows if isinstance(w, QMainWindow) and w.isVisible()]

def exec_for_a_while(*_):
    application = QApplication.instance()
    patience = time.monotonic() + 60
    while not shown_windows() and time.monotonic() < patience:
        application.processEvents()
    titles = [w.windowTitle() for w in shown_windows()]
    settled = time.monotonic() + 2
    while time.monotonic() < settled:
        application.processEvents()
    print(json.dumps({"titles": titles, "loaded": sorted({m.split(".")[0] for m in sys.modules})}))
    for window in shown_windows():
        window.close()
    return 0

QApplication.exec = exec_for_a_while
from rustboard.app.main import run
sys.exit(run(sys.argv[1:]))
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


def test_twenty_thousand_signals_are_sent_and_received() -> None:
    sent = python(SEND_SIGNALS)
    assert sent.returncode == 0, sent.stderr
    assert sent.stdout.split() == ["20000"]
