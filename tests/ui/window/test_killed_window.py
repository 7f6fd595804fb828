"""The real window is killed without warning while somebody grades; every grade its tiles showed is there."""

from __future__ import annotations

import json
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest
from window_driving import assert_sound, grades_on_disk, made_board, reopened

ROUNDS = 8
SCRIPT = Path(__file__).with_name("window_tapping.py")
SECONDS = 60


def killed_while_tapping(board: Path, seed: int, dice: random.Random) -> list[dict[str, str]]:
    """Start the window, kill it at a random moment, and return what its tiles have shown, one after the other."""
    output = board.with_suffix(".txt")
    with (
        output.open("wb") as stream,
        subprocess.Popen([sys.executable, str(SCRIPT), str(board), str(seed)], stdout=stream) as process,
    ):
        try:
            give_up = time.monotonic() + SECONDS
            while output.read_bytes().count(b"\n") < 2:
                assert process.poll() is None, "the window ended by itself"
                assert time.monotonic() < give_up
                time.sleep(0.005)
            time.sleep(dice.uniform(0, 0.5))
        finally:
            process.kill()
    lines = output.read_text().splitlines(keepends=True)
    return [json.loads(line) for line in lines if line.endswith("\n")]


@pytest.mark.skipif(sys.platform == "win32", reason="there a killed process may keep its files locked for a moment")
def test_a_killed_window_loses_no_grade_that_a_tile_showed(tmp_path):
    board = made_board(tmp_path / "Yard")
    dice = random.Random(20261125)
    said = 0
    for number in range(ROUNDS):
        before = grades_on_disk(board)
        shown = killed_while_tapping(board, number, dice)
        assert shown[0] == before, "the window shows what the last one left"
        said += len(shown)
        assert_sound(board)
        with reopened(board):  # the lock went with its process
            pass
        now = grades_on_disk(board)
        # What the disk has beyond the last word said is at most the one tap that was cut off before its word.
        different = {name for name in now.keys() | shown[-1].keys() if now.get(name) != shown[-1].get(name)}
        assert len(different) <= 1
    assert said > ROUNDS * 5, "the windows hardly worked, so killing them proved little"
    with reopened(board) as session:
        while session.undo() is not None:
            pass
        assert session.record.coupons == {}
    assert_sound(board)
