"""How long a large board takes to plan: 12 rows of 20, 240 coupons, 20 treatments (run it by hand).

Prints seconds of our own work beside the time SQLite takes to write the same coupons bare, in one run on one machine.
The budget of the plan: the lots, their place on the disk and the words about them in under a second.
"""

from __future__ import annotations

import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from statistics import median

from rustboard.board.layout import Layout
from rustboard.board.lots import draw_lots
from rustboard.board.model import Board, Plan, Treatment
from rustboard.operations.layouts import draw_board_lots, set_layout, set_replicates
from rustboard.session.new_board import create_from_plan
from rustboard.session.session import Session

ROWS, COLUMNS, TREATMENTS = 12, 20, 20
_RUNS = 5


def seconds(work: Callable[[], object]) -> float:
    """Return the median of a few runs."""
    taken = []
    for _ in range(_RUNS):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return median(taken)


def large_board(folder: Path) -> Path:
    """Make the board: as many coupons of each treatment as it has room for."""
    treatments = tuple(Treatment(f"T{number + 1}") for number in range(TREATMENTS))
    create_from_plan(folder, Plan(Board("Large", ROWS, COLUMNS, incline_deg=45.0), treatments))
    with closing(Session(folder)) as session:
        for key in sorted(session.record.treatments):
            session.do(set_replicates, key, ROWS * COLUMNS // TREATMENTS, "control" if key == 1 else "test")
    return folder


def bare_write(path: Path) -> None:
    """Write as many rows with plain SQLite, as safely."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("CREATE TABLE IF NOT EXISTS t (a INTEGER, b INTEGER, c INTEGER)")
        with connection:
            connection.executemany("INSERT INTO t VALUES (?, ?, ?)", [(n, n, n) for n in range(4 * ROWS * COLUMNS)])


def main() -> int:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as home:
        folder = large_board(Path(home) / "Large")
        bare = seconds(lambda: bare_write(Path(home) / "bare.db"))
        with closing(Session(folder)) as session:
            for method in ("complete", "rows"):
                for drain in ("none", "columns", "spacing", "drip edges"):
                    layout = replace(Layout(), method=method, drain=drain)
                    session.do(set_layout, layout)
                    coupons = [(each.key, each.treatment) for each in session.record.coupons.values()]
                    pure = seconds(lambda: draw_lots(ROWS, COLUMNS, coupons, layout, 7, 45.0))  # noqa: B023
                    whole = seconds(lambda: session.do(draw_board_lots, 7))
                    sys.stdout.write(
                        f"{method:9} {drain:11} lots {pure * 1000:6.1f} ms; with the disk {whole * 1000:6.1f} ms, "
                        f"{whole / bare:5.1f} x a bare write\n"
                    )
    return 0


if __name__ == "__main__":
    sys.exit(main())
