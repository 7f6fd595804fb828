"""Two processes practise at once and are killed without warning; no answer that was acknowledged is lost."""

from __future__ import annotations

import subprocess
import sys
import time
from contextlib import ExitStack
from pathlib import Path

from rustboard.scales.practice import TOTAL, exercise
from rustboard.session.practice import Practice
from rustboard.store.practice_history import read_history

SCRIPT = Path(__file__).with_name("practising_process.py")
GRADERS = {"Ann": 5, "Berta": 6}


def acknowledged(output: Path) -> int:
    """Return the last number that a process got out whole."""
    whole = [line for line in output.read_text().splitlines(keepends=True) if line.endswith("\n")]
    return int(whole[-1]) if whole else 0


def kill_in_the_middle(file: Path, after: int) -> dict[str, int]:
    """Let both practise until each has so many answers acknowledged, kill both; return how many each had."""
    outputs = {grader: file.with_name(f"{grader} {after}.txt") for grader in GRADERS}
    with ExitStack() as stack:
        processes = []
        for grader, seed in GRADERS.items():
            stream = stack.enter_context(outputs[grader].open("wb"))
            command = [sys.executable, str(SCRIPT), str(file), grader, str(seed)]
            processes.append(stack.enter_context(subprocess.Popen(command, stdout=stream)))
            stack.callback(processes[-1].kill)
        give_up = time.monotonic() + 60
        while min(map(acknowledged, outputs.values())) < after:
            assert all(each.poll() is None for each in processes), "a process ended by itself"
            assert time.monotonic() < give_up
            time.sleep(0.005)
        for each in processes:
            each.kill()
    return {grader: acknowledged(output) for grader, output in outputs.items()}


def test_what_was_acknowledged_is_on_the_disk_and_the_exercise_goes_on_from_there(tmp_path: Path) -> None:
    file = tmp_path / "practice.jsonl"
    told = dict.fromkeys(GRADERS, 0)
    for after in (3, 19, 50):
        for grader, count in kill_in_the_middle(file, after).items():
            told[grader] += count
        for grader, seed in GRADERS.items():
            kept = [each for each in read_history(file).exercises if each.begun.grader == grader]
            on_disk = sum(len(each.answers) for each in kept)
            # One more may have been on the disk before it could be said, each time.
            assert told[grader] <= on_disk <= told[grader] + 1
            told[grader] = on_disk
            for each in kept:
                assert [answer.number for answer in each.answers] == list(range(len(each.answers)))
                assert all(answer.off == 0 for answer in each.answers)
            practice = Practice(file)
            if len(kept[-1].answers) < TOTAL:
                practice.go_on(grader)
                assert practice.wanted()[0] == exercise(seed)[len(kept[-1].answers)]
    assert all(count >= 3 + 19 + 50 for count in told.values())
