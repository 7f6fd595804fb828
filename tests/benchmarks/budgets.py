"""The budgets of the window, the disk and the memory, as ratios measured in one run.

Run it: ``python tests/benchmarks/budgets.py [PART...]``; parts are start, grade, drag, open, memory. It takes about a
minute and a half, and offscreen, so that no desktop takes part. A ratio of 1 or less keeps the budget.

* start: the demo board painted, and its timeline painted, against a bare window of the same size, each a new process.
* grade: one tap on a key until the next coupon is shown, less the time of the disk's own commit.
* drag: one move of a dragged tile until it is painted, 96 coupons.
* open: a board with 100,000 gradings opened, against SQLite handing out those rows.
* memory: a window that has looked at many of 365 photos of 96 coupons.
"""

from __future__ import annotations

import gc
import io
import json
import os
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
HERE = Path(__file__).resolve()
sys.path[:0] = [str(HERE.parents[2]), str(HERE.parent)]

START_RUNS = 5
TAPS = 60
WINDOW = (1366, 768)
PATIENCE = 60.0
BUDGETS = {
    "board on screen": 2.5,
    "timeline usable": 5.0,
    "grade tapped": 16.0,
    "drag": 1000 / 60,
    "open": 2.0,
    "memory": 400.0,
}


def say(line: str) -> None:
    """Write a line."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def judged(name: str, measured: float, unit: str, what: str) -> None:
    """Write one budget: measured, allowed, and their ratio."""
    allowed = BUDGETS[name]
    verdict = "kept" if measured <= allowed else "MISSED"
    say(f"{what}: {measured:.2f} {unit}, allowed {allowed:.1f}: {measured / allowed:.2f} of the budget, {verdict}")


def child(what: str, *arguments: str) -> dict[str, Any]:
    """Run a part in a process of its own and return what it measured; ``began`` is when it was asked for."""
    environment = {**os.environ, "RUSTBOARD_DEBUG": "1", "RUSTBOARD_BENCHMARK_BEGAN": repr(time.time())}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)  # an installed program is compiled already
    command = [sys.executable, str(HERE), "--child", what, *arguments]
    run = subprocess.run(command, env=environment, capture_output=True, text=True, check=False, timeout=120)
    if run.returncode:
        raise RuntimeError(f"{what}: {run.stderr[-2000:]}")
    found: dict[str, Any] = json.loads(run.stdout.splitlines()[-1])
    return found


def since_asked() -> float:
    """Return seconds since this process was asked for."""
    return time.time() - float(os.environ["RUSTBOARD_BENCHMARK_BEGAN"])


# ---- start


def painted_watch() -> Any:
    """Return a new watch that notes when widgets were first painted."""
    from PySide6.QtCore import QEvent, QObject

    class Watch(QObject):
        """Notes first paintings."""

        def __init__(self) -> None:
            super().__init__()
            self.seen: dict[int, float] = {}

        def eventFilter(self, watched: QObject, event: QEvent) -> bool:
            """Note a painting; Qt calls this."""
            if event.type() == QEvent.Type.Paint and id(watched) not in self.seen:
                self.seen[id(watched)] = since_asked()
            return False

        def follow(self, widget: QObject) -> None:
            """Watch a widget."""
            widget.installEventFilter(self)

    return Watch()


def bare_window() -> None:
    """Show an empty window, and say when it was painted."""
    from PySide6.QtWidgets import QApplication, QMainWindow

    application = QApplication([])
    window, watch = QMainWindow(), painted_watch()
    watch.follow(window)
    window.resize(*WINDOW)
    window.show()
    while id(window) not in watch.seen:
        application.processEvents()
    say(json.dumps({"painted": watch.seen[id(window)]}))
    window.close()


def our_window(board: str) -> None:
    """Start the program on a board as its command does; say when board and timeline were painted."""
    from PySide6.QtWidgets import QApplication

    def watch_instead(*_: object) -> int:
        from rustboard.ui.start import _RUNNING

        window = _RUNNING[-1].windows[0]
        window.resize(*WINDOW)  # the screen that is none is smaller
        watch, page = painted_watch(), window.page
        watch.follow(page.tiles.canvas)
        give_up = time.monotonic() + PATIENCE
        timeline = None
        while time.monotonic() < give_up and (timeline is None or id(timeline) not in watch.seen):
            QApplication.processEvents()
            if timeline is None and page.timeline is not None:
                timeline = page.timeline.plot().viewport()
                watch.follow(timeline)
                timeline.update()
        found = {"painted": watch.seen[id(page.tiles.canvas)], "timeline": watch.seen[id(timeline)]}
        say(json.dumps({**found, "size": [window.width(), window.height()]}))
        window.close()
        return 0

    QApplication.exec = watch_instead  # type: ignore[method-assign,assignment]
    from rustboard.app.main import run

    raise SystemExit(run([board]))


def measure_start() -> None:
    """Compare processes that show the demo board with processes that show nothing."""
    from rustboard.app.demo.build import build_boards
    from rustboard.app.demo.harbour import HARBOUR

    with tempfile.TemporaryDirectory() as folder:
        os.environ["RUSTBOARD_HOME"] = str(Path(folder) / "home")
        (board,) = build_boards(Path(folder), (HARBOUR,), lambda *_: None)
        os.environ["PYTHONPYCACHEPREFIX"] = str(Path(folder) / "compiled")
        child("bare")
        child("ours", str(board))  # writes what later runs find: compiled modules, settings, today's copy
        bare, ours = [], []
        for _ in range(START_RUNS):
            bare.append(child("bare")["painted"])
            ours.append(child("ours", str(board)))
    empty = statistics.median(bare)
    board_shown = statistics.median(each["painted"] for each in ours)
    timeline_shown = statistics.median(each["timeline"] for each in ours)
    say(f"a bare window: {1000 * empty:.0f} ms; the demo board: {1000 * board_shown:.0f} ms")
    judged("board on screen", board_shown / empty, "x a bare window", "demo board on screen")
    judged("timeline usable", timeline_shown / empty, "x a bare window", "its timeline usable")


# ---- boards of a size


@contextmanager
def large_board(coupons: int, inspections: int) -> Iterator[Path]:
    """Make a board of that size with noisy falling grades; yield its folder, closed."""
    from timeline_frames import board

    with tempfile.TemporaryDirectory() as folder:
        os.environ["RUSTBOARD_HOME"] = str(Path(folder) / "home")
        with board(Path(folder) / "b", coupons, inspections):
            pass
        yield Path(folder) / "b"


@contextmanager
def window_on(board: Path) -> Iterator[Any]:
    """Show the real window on a board, with its own pool, and let it come to rest."""
    from rustboard.support.settings import Settings
    from rustboard.ui.start import Program, make_application

    settings = Settings(scheme="light", boards_folder=str(board.parent / "none"))
    make_application(settings)
    program = Program(settings)
    program.open(board, new_window=True)
    window = program.windows[0]
    window.resize(*WINDOW)
    rest(window)
    try:
        yield window
    finally:
        window.close()


def rest(window: Any, least: float = 0.3) -> None:
    """Let the window finish what it does beside itself."""
    from PySide6.QtWidgets import QApplication

    begun = time.monotonic()
    while window.bridge.busy() or time.monotonic() - begun < least:
        QApplication.processEvents()
        if time.monotonic() - begun > PATIENCE:
            raise RuntimeError("the window never came to rest")


# ---- a grade


class TimedConnection:
    """A connection that keeps the time its commits took."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection
        self.commits: list[float] = []

    def execute(self, statement: str, *arguments: Any) -> Any:
        """Run a statement."""
        if statement != "COMMIT":
            return self._connection.execute(statement, *arguments)
        began = time.perf_counter()
        cursor = self._connection.execute(statement, *arguments)
        self.commits.append(1000 * (time.perf_counter() - began))
        return cursor

    def __getattr__(self, name: str) -> Any:
        return getattr(self._connection, name)


def tapped(window: Any) -> tuple[list[float], list[float]]:
    """Grade one coupon after the other; return ms of our own work and of the disk's commit, tap by tap."""
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication

    store = window.page.session._store
    timed = store._connection = TimedConnection(store._connection)
    window.page.grade_next()
    rest(window)
    own = []
    for number in range(TAPS):
        key = window.page.panel.guide.keys[(number * 7 + 3) % 11]
        gc.collect()
        began = time.perf_counter()
        QTest.mouseClick(key, Qt.MouseButton.LeftButton)
        QApplication.sendPostedEvents()
        QApplication.processEvents()
        own.append(1000 * (time.perf_counter() - began))
    store._connection = timed._connection
    commits = timed.commits[-TAPS:]
    return [whole - commit for whole, commit in zip(own, commits, strict=True)], commits


def measure_grade() -> None:
    """Tap grades on a new inspection of a large board."""
    from rustboard.board.model import Inspection
    from rustboard.operations.inspections import add_inspection
    from rustboard.session.session import Session

    for coupons, inspections in ((21, 9), (96, 365)):
        with large_board(coupons, inspections) as board:
            with closing(Session(board)) as session:
                session.do(add_inspection, Inspection(datetime(2027, 1, 1, 9)))
            with window_on(board) as window:
                own, commits = tapped(window)
        name = f"a grade tapped, {coupons} x {inspections}"
        say(
            f"{name}: 19 of 20 within {nearly_all(own):.1f} ms; the disk's commit {statistics.median(commits):.1f} ms"
        )
        judged("grade tapped", statistics.median(own), "ms of own work", name)


def nearly_all(values: list[float]) -> float:
    """Return what 19 of 20 values do not exceed."""
    return statistics.quantiles(values, n=20)[-1]


# ---- a drag


def measure_drag() -> None:
    """Drag a tile about a board of 96."""
    from PySide6.QtCore import QEvent, QPointF, Qt
    from timeline_frames import frames, mouse

    with large_board(96, 12) as board, window_on(board) as window:
        canvas = window.page.tiles.canvas
        tile = canvas.grid.tile
        start = QPointF(canvas.grid.row_header + tile.width() / 2, canvas.grid.column_header + tile.height() / 2)
        mouse(canvas, QEvent.Type.MouseButtonPress, start, Qt.MouseButton.LeftButton)

        def move(number: int) -> None:
            across = abs((number * 9) % (2 * 600) - 600)
            place = start + QPointF(20 + across, 10 + number * 2)
            mouse(canvas, QEvent.Type.MouseMove, place, Qt.MouseButton.LeftButton)

        taken = frames(canvas, move)
        if canvas.carry is None:
            raise RuntimeError("nothing was dragged")
        mouse(canvas, QEvent.Type.MouseButtonRelease, QPointF(-50, -50), Qt.MouseButton.NoButton)
    mean = statistics.fmean(taken)
    say(f"dragging a tile, 96 coupons: {1000 / mean:.0f} frames a second; 19 of 20 within {nearly_all(taken):.1f} ms")
    judged("drag", mean, "ms a frame", "dragging a tile, 96 coupons")


# ---- opening


def measure_open() -> None:
    """Open a board with 100,000 gradings, and let SQLite hand out the same rows."""
    from rustboard.session.session import Session

    with large_board(96, 1_090) as board:
        with closing(Session(board)) as session:
            count = sum(map(len, session.record.current.values()))
        ours, bare = [], []
        for _ in range(5):
            bare.append(seconds(lambda: read_rows(board / "board.rustboard")))
            ours.append(seconds(lambda: Session(board).close()))
    ratio = statistics.median(ours) / statistics.median(bare)
    name = f"opening a board with {count:,} gradings"
    say(f"{name}: {1000 * statistics.median(ours):.0f} ms; SQLite alone {1000 * statistics.median(bare):.0f} ms")
    judged("open", ratio, "x SQLite", name)


def read_rows(file: Path) -> int:
    """Read every grading as SQLite hands it out."""
    with closing(sqlite3.connect(file)) as connection:
        return len(connection.execute("SELECT * FROM grading").fetchall())


def seconds(work: Callable[[], object]) -> float:
    """Return how long something takes."""
    gc.collect()
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


# ---- memory


def add_photos(board: Path, count: int) -> None:
    """Give each of the first inspections a photo of its own."""
    from PIL import Image

    from rustboard.board.model import Photo
    from rustboard.operations.photos import add_photo
    from rustboard.session.session import Session
    from rustboard.store.photos import keep_photo

    size = (1600, 1200)
    stream = io.BytesIO()
    Image.effect_noise(size, 40).convert("RGB").save(stream, "JPEG", quality=60)
    place = (size[0] / 1200, 0.0, 0.0, 0.0, size[1] / 800, 0.0, 0.0, 0.0, 1.0)
    with closing(Session(board)) as session:
        visits = session.record.inspections_in_order()[:count]

        def add_all(tx: Any) -> Any:
            for number, visit in enumerate(visits):
                # Bytes after the end of a JPEG are no part of the picture, and make each file another one.
                file, digest = keep_photo(board, f"{number}.jpg", stream.getvalue() + str(number).encode(), visit.at)
                at = visit.at + timedelta(seconds=1)
                summary = add_photo(tx, Photo(f"{number}.jpg", file, digest, *size, at, visit.key, place))
            return summary

        session.do(add_all)


def give_size(board: Path) -> None:
    """State the board's size, so that coupons without an outline are cut from their cells."""
    from dataclasses import replace

    from rustboard.operations.boards import edit_board
    from rustboard.session.session import Session

    with closing(Session(board)) as session:
        session.do(edit_board, replace(session.record.board, width_mm=1200.0, height_mm=800.0))


def look_about(board: str) -> None:
    """Step through inspections with their photos, in the tiles and while grading; say how much memory that took."""
    with window_on(Path(board)) as window:
        inspections = [each.key for each in window.page.session.record.inspections_in_order()]
        window.page.session.selection.choose(window.page.session.record.coupons)
        for number, key in enumerate(inspections[:: len(inspections) // 16]):
            if number == 12:
                window.page.open_grading(1)
            window.page.look_at(key)
            rest(window, 0.01)
        photos = window.page.session.record.photos.values()
        kept = sum(bool(window.page.pictures.images(each)) for each in photos)
        found = {"now": memory("VmRSS"), "peak": memory("VmHWM"), "kept": kept}
    say(json.dumps(found))


def memory(line: str) -> float:
    """Return a line of Linux's account of this process, in MB."""
    for each in Path("/proc/self/status").read_text().splitlines():
        if each.startswith(f"{line}:"):
            return int(each.split()[1]) / 1024
    raise RuntimeError(f"no {line}")


def measure_memory() -> None:
    """Look at many photos of a large board, in a process of its own."""
    if not Path("/proc/self/status").exists():
        say("memory: only measured on Linux")
        return
    with large_board(96, 365) as board:
        give_size(board)
        add_photos(board, 365)
        found = child("look", str(board))
    say(f"memory, 96 coupons, 365 photos: {found['now']:.0f} MB at the end; photos kept: {found['kept']}")
    judged("memory", found["peak"], "MB at most", "memory, 96 coupons, 365 photos")


PARTS: dict[str, Callable[[], None]] = {
    "start": measure_start,
    "grade": measure_grade,
    "drag": measure_drag,
    "open": measure_open,
    "memory": measure_memory,
}
CHILDREN: dict[str, Callable[..., None]] = {"bare": bare_window, "ours": our_window, "look": look_about}


def main() -> None:
    """Measure the parts asked for, or all."""
    if sys.argv[1:2] == ["--child"]:
        CHILDREN[sys.argv[2]](*sys.argv[3:])
        return
    began = time.monotonic()
    for part in sys.argv[1:] or PARTS:
        PARTS[part]()
    say(f"measured in {time.monotonic() - began:.0f} s")


if __name__ == "__main__":
    main()
