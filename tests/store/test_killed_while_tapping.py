"""A process that taps grades is killed without warning at random moments; nothing acknowledged is lost."""

from __future__ import annotations

import json
import random
import sqlite3
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from store_boards import empty_board, folder_state, graded_board, interrupted_copy, tables_of
from tapping_process import shown

from rustboard.board.model import Coupon, Inspection
from rustboard.board.position import Position
from rustboard.operations.coupons import add_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.session.session import Session
from rustboard.store.check import CheckResult, check_board
from rustboard.support.clock import wall_clock

ROUNDS = 26
BOARDS = 2
SCRIPT = Path(__file__).with_name("tapping_process.py")


@dataclass
class Tapping:
    """A tapping process and the file that it writes what is acknowledged into."""

    process: subprocess.Popen[bytes]
    output: Path

    def kill(self, dice: random.Random) -> list[dict]:
        """Let it work for a moment, kill it, and return what it has acknowledged."""
        if dice.random() < 0.85:
            # Told by what was done and not by the clock: on a slow disk it is to have worked as much.
            self._wait_until_told(dice.randint(1, 60))
            time.sleep(dice.uniform(0, 0.02))
        else:  # some die while they open the board
            time.sleep(dice.uniform(0.05, 0.3))
        self.process.kill()
        self.process.wait()
        text = self.output.read_text()
        return [json.loads(line) for line in text.splitlines(keepends=True) if line.endswith("\n")]

    def _wait_until_told(self, lines: int) -> None:
        give_up = time.monotonic() + 30
        while self.output.read_text().count("\n") < lines:
            assert self.process.poll() is None, "the process ended by itself"
            assert time.monotonic() < give_up
            time.sleep(0.005)


@contextmanager
def tapping(folder: Path, number: int) -> Iterator[Tapping]:
    """Start a tapping process; one still running at the end is killed."""
    output = folder.with_suffix(".txt")
    command = [sys.executable, str(SCRIPT), str(folder), str(number)]
    with output.open("wb") as stream, subprocess.Popen(command, stdout=stream) as process:
        try:
            yield Tapping(process, output)
        finally:
            process.kill()


def audit_length(folder: Path) -> int:
    with closing(sqlite3.connect(f"file:{folder / 'board.rustboard'}?mode=ro", uri=True)) as connection:
        (count,) = connection.execute("SELECT count(*) FROM audit").fetchone()
    return int(count)


@dataclass
class Known:
    """What the test knows of a board: its audit lines, and what it showed then."""

    folder: Path
    audit: int
    shown: list

    def assert_still_there(self, lines: list[dict]) -> None:
        """The board is as last acknowledged, or one step further, which was on the disk before it could be said."""
        if lines:
            self.audit, self.shown = self.audit + lines[-1]["done"], lines[-1]["shown"]
        with closing(Session(self.folder)) as session:
            assert session.read_only_reason == "", "the lock of a killed process was still held"
            steps = audit_length(self.folder) - self.audit
            assert steps in (0, 1)
            if steps:
                was_undo = session.audit()[0][2] == "undo"
                (session.redo if was_undo else session.undo)()
            assert shown(session) == self.shown
            self.audit = audit_length(self.folder)


def assert_clean_without_writing(folder: Path) -> CheckResult:
    before = folder_state(folder)
    result = check_board(folder)
    assert result.problems == []
    assert folder_state(folder) == before, "looking a board over wrote something"
    return result


def prepared_board(folder: Path) -> Known:
    empty_board(folder)
    with closing(Session(folder)) as session:
        for number in range(6):
            session.do(add_coupon, Coupon(f"C{number}", Position(0, number)))
        session.do(add_inspection, Inspection(wall_clock().replace(year=1999)))
        return Known(folder, audit_length(folder), shown(session))


def test_a_killed_process_loses_no_acknowledged_grade_and_undo_reaches_back_to_the_empty_board(
    tmp_path,
):
    dice = random.Random(20260302)
    empty = tables_of(empty_board(tmp_path / "empty"))
    boards = [prepared_board(tmp_path / f"board {number}") for number in range(BOARDS)]
    taps = interrupted = 0
    for number in range(ROUNDS):
        with ExitStack() as stack:
            processes = [stack.enter_context(tapping(board.folder, number)) for board in boards]
            told = [process.kill(dice) for process in processes]
        for board, lines in zip(boards, told, strict=True):
            taps += lines[-1]["done"] if lines else 0
            interrupted += bool(assert_clean_without_writing(board.folder).notes)
            board.assert_still_there(lines)
            assert assert_clean_without_writing(board.folder).notes == []
    assert taps > 10 * ROUNDS * BOARDS, "the processes hardly worked, so killing them proved little"
    for folder in [board.folder for board in boards]:
        with closing(Session(folder)) as session:
            while session.undo() is not None:
                pass
            assert session.record.coupons == session.record.inspections == session.record.current == {}
        assert tables_of(folder) == empty
        assert check_board(folder).problems == []


@pytest.fixture
def cut_off(tmp_path: Path) -> Path:
    """A board whose last write was cut off in the middle."""
    return interrupted_copy(graded_board(tmp_path / "whole", coupons=20), tmp_path / "cut off")


def test_a_write_cut_off_is_seen_by_the_check_and_taken_back_without_writing(cut_off, tmp_path):
    before = folder_state(cut_off)
    result = check_board(cut_off)
    assert result.problems == []
    assert result.notes == ["The last write was cut off; it will be taken back when the board is next opened."]
    assert result.counts["grading"] == 40
    assert folder_state(cut_off) == before


def test_a_write_cut_off_is_taken_back_when_the_board_is_opened(cut_off, tmp_path):
    assert (cut_off / "board.rustboard-journal").stat().st_size > 0
    with closing(Session(cut_off)) as session:
        assert {each.note for each in session.record.coupons.values()} == {""}
        assert len(list(session.record.current_gradings())) == 40
    assert tables_of(cut_off) == tables_of(tmp_path / "whole")
    assert not (cut_off / "board.rustboard-journal").exists()
    assert check_board(cut_off).notes == []


def test_a_write_under_way_in_another_window_is_not_called_cut_off(tmp_path):
    folder = graded_board(tmp_path / "b")
    with closing(sqlite3.connect(folder / "board.rustboard", isolation_level=None)) as writer:
        writer.execute("BEGIN IMMEDIATE")
        writer.execute("UPDATE coupon SET note = 'half way'")
        assert (folder / "board.rustboard-journal").stat().st_size > 0
        result = check_board(folder)
        writer.execute("ROLLBACK")
    assert (result.problems, result.notes) == ([], [])
