"""A process that grades blind is killed at random moments: same order, no grade lost, still hidden."""

from __future__ import annotations

import json
import random
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

from blind_tapping_process import shown
from store_boards import empty_board

from rustboard.board.model import Coupon, Inspection
from rustboard.board.position import Position
from rustboard.operations.blind import BlindChoice, reveal, start_blind
from rustboard.operations.coupons import add_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.session.session import Session
from rustboard.store.check import check_board
from rustboard.support.clock import wall_clock

KILLS = 12
SCRIPT = Path(__file__).with_name("blind_tapping_process.py")


def audit_length(folder: Path) -> int:
    with closing(sqlite3.connect(f"file:{folder / 'board.rustboard'}?mode=ro", uri=True)) as connection:
        (count,) = connection.execute("SELECT count(*) FROM audit").fetchone()
    return int(count)


def hidden_board(folder: Path) -> Path:
    empty_board(folder)
    with closing(Session(folder)) as session:
        for number in range(21):
            session.do(add_coupon, Coupon(f"C{number}", Position(number // 7, number % 7)))
        session.do(add_inspection, Inspection(wall_clock().replace(year=1999)))
        session.do(start_blind, BlindChoice(1, "bench", None, 100.0))
    return folder


def killed_after(folder: Path, number: int, lines: int) -> dict:
    """Let a process grade until it has said so many lines, kill it, and return what it said last."""
    output = folder.with_suffix(".txt")
    command = [sys.executable, str(SCRIPT), str(folder), str(number)]
    with output.open("wb") as stream, subprocess.Popen(command, stdout=stream) as process:
        give_up = time.monotonic() + 60
        try:
            while output.read_text().count("\n") < lines:
                assert process.poll() is None, "the process ended by itself"
                assert time.monotonic() < give_up
                time.sleep(0.005)
        finally:
            process.kill()
    whole = [line for line in output.read_text().splitlines(keepends=True) if line.endswith("\n")]
    return json.loads(whole[-1])


def as_told(session: Session) -> list[list[object]]:
    """Return what the board shows, as the process would have written it."""
    return json.loads(json.dumps(shown(session)))


def assert_still_hidden(session: Session) -> None:
    assert session.record.hidden_inspection.inspection == 1
    assert session.record.current == {}


def test_a_killed_process_loses_no_blind_grade_and_changes_no_order(tmp_path):
    dice = random.Random(20260302)
    folder = hidden_board(tmp_path / "b")
    orders: dict[int, list] = {}
    steps = 0
    for number in range(KILLS):
        audit = audit_length(folder)
        told = killed_after(folder, number, dice.randint(1, 70))
        steps += told["done"]
        assert check_board(folder).problems == []
        with closing(Session(folder)) as session:
            assert session.read_only_reason == "", "the lock of a killed process was still held"
            assert_still_hidden(session)
            further = audit_length(folder) - audit - told["done"]
            assert further in (0, 1)  # a step may be on the disk before it could be said
            rounds, grades = as_told(session)
            if further and session.audit()[0][2] == "finish_round":
                assert (grades, rounds[-1][:4]) == (told["shown"][1], told["shown"][0][-1][:4])
            elif further:
                (session.redo if session.audit()[0][2] == "undo" else session.undo)()
                assert as_told(session) == told["shown"]
            else:
                assert [rounds, grades] == told["shown"]
            for key, *_, order, _ in rounds:
                assert orders.setdefault(key, order) == order
    assert steps > 15 * KILLS, "the processes hardly worked, so killing them proved little"
    assert len(orders) >= 2
    with closing(Session(folder)) as session:
        session.do(reveal, 1)
        assert session.record.hidden_inspection is None
        assert {each[1].source for each in session.record.current.values()} == {"blind"}
    assert check_board(folder).problems == []
