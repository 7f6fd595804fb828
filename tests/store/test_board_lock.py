"""One writer at a time, and why the second window may only read."""

from __future__ import annotations

import json
import os
import platform
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime, timedelta, timezone

import pytest
from store_boards import NOW, do, folder_state, graded_board, opened

from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.session.session import Session
from rustboard.store import lock
from rustboard.store.lock import BoardLock
from rustboard.support.problems import InputError

HOLDER = """
import sys, time
from pathlib import Path
from rustboard.session.session import Session
session = Session(Path(sys.argv[1]))
sys.stdout.write(session.read_only_reason + "\\n")
sys.stdout.flush()
sys.stdin.readline()
session.close()
"""
HERE = "The board is open in another window on this computer, so it is open for reading only here."


@pytest.fixture
def folder(tmp_path):
    return graded_board(tmp_path / "b")


@contextmanager
def holder(folder) -> Iterator[subprocess.Popen[str]]:
    """Another process that has the board open."""
    command = [sys.executable, "-c", HOLDER, str(folder)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        try:
            assert process.stdout.readline() == "\n", "the other process could not write"
            yield process
        finally:
            process.kill()


def note_of_another_computer(folder, seen: str, computer: str = "workshop-2") -> None:
    (folder / lock.NOTE_NAME).write_text(json.dumps({"computer": computer, "process": 7, "seen": seen}))


def utc(minutes: float) -> str:
    """Return a time that lies minutes after NOW."""
    return (NOW.astimezone(UTC) + timedelta(minutes=minutes)).isoformat()


def test_a_second_process_reads_and_says_why_until_the_first_closes(folder):
    with holder(folder) as process:
        with closing(Session(folder)) as session:
            assert session.read_only_reason == HERE
            assert len(session.record.coupons) == 3
            with pytest.raises(InputError, match=HERE):
                session.do(grade_coupon, GivenGrade(1, 1, 3))
        assert (folder / lock.NOTE_NAME).exists(), "the second window took away the note of the first"
        process.communicate("close\n", timeout=20)
    with closing(Session(folder)) as session:
        assert session.read_only_reason == ""


def test_the_lock_of_a_killed_process_is_free_at_once(folder):
    with holder(folder) as process:
        process.kill()
        process.wait()
        assert (folder / lock.NOTE_NAME).exists()
        with closing(Session(folder)) as session:
            assert session.read_only_reason == ""


def test_a_second_window_of_the_same_process_reads_only(folder):
    with opened(folder), opened(folder) as second:
        assert second.read_only_reason == HERE
        second.close()
        with opened(folder) as third:
            assert third.read_only_reason == HERE


def test_a_window_that_only_reads_sees_what_the_other_changes(folder):
    with opened(folder) as writer, closing(Session(folder)) as reader:
        assert not reader.look_for_outside_changes()
        do(writer, grade_coupon, GivenGrade(1, 1, 2))
        assert reader.look_for_outside_changes()
        assert reader.record == writer.read()
        assert not reader.look_for_outside_changes()


@pytest.mark.parametrize("minutes", [0, -4.9, 4.9])
def test_a_fresh_note_of_another_computer_keeps_this_one_to_reading(folder, minutes):
    note_of_another_computer(folder, utc(minutes))
    before = folder_state(folder)[lock.NOTE_NAME]
    with opened(folder) as store:
        assert store.read_only_reason == (
            "The board is open in another window on the computer “workshop-2”, so it is open for reading only here."
        )
    assert folder_state(folder)[lock.NOTE_NAME] == before


@pytest.mark.parametrize("minutes", [-5, -10_000, 5, 10_000])
def test_a_stale_note_or_one_from_the_future_is_a_leftover(folder, minutes):
    note_of_another_computer(folder, utc(minutes))
    with opened(folder) as store:
        assert store.read_only_reason == ""


def test_two_computers_in_two_time_zones_understand_each_other(folder):
    east = timezone(timedelta(hours=9))
    note_of_another_computer(folder, (NOW.astimezone(east) - timedelta(minutes=1)).isoformat())
    with opened(folder) as store:
        assert "workshop-2" in store.read_only_reason


def test_a_note_of_this_computer_without_a_lock_is_a_leftover(folder):
    note_of_another_computer(folder, utc(0), platform.node())
    with opened(folder) as store:
        assert store.read_only_reason == ""


@pytest.mark.parametrize("content", [
    b"", b"{", b"[]", b"7", b"\xff\xfe", b"[" * 4000, b"x" * 10_000, b'{"computer": "a"}',
    b'{"computer": "a", "process": 1e999, "seen": "2026-03-02T09:00:00"}',
    b'{"computer": "a", "process": 1, "seen": "0001-01-01T00:00:00+23:00"}',
    b'{"computer": "a", "process": 1, "seen": 5}',
])  # fmt: skip
def test_a_torn_or_planted_note_is_passed_over(folder, content):
    (folder / lock.NOTE_NAME).write_bytes(content)
    with opened(folder) as store:
        assert store.read_only_reason == ""


def test_the_name_of_the_other_computer_is_made_safe_to_show(folder):
    note_of_another_computer(folder, utc(0), "\x1b[31m" + "x" * 500)
    with opened(folder) as store:
        assert "\x1b" not in store.read_only_reason
        assert len(store.read_only_reason) < 200


def test_the_note_is_renewed_and_taken_away_when_the_board_closes(folder):
    with opened(folder) as store:
        first = json.loads((folder / lock.NOTE_NAME).read_bytes())
        store.renew_lock(NOW + timedelta(minutes=1))
        second = json.loads((folder / lock.NOTE_NAME).read_bytes())
    assert (first["computer"], first["process"]) == (platform.node(), os.getpid())
    assert datetime.fromisoformat(second["seen"]) - datetime.fromisoformat(first["seen"]) == timedelta(minutes=1)
    assert not (folder / lock.NOTE_NAME).exists()


def test_closing_twice_does_nothing_and_a_closed_board_does_not_renew_its_note(folder):
    with opened(folder) as store:
        store.close()
        store.renew_lock(NOW)
    assert not (folder / lock.NOTE_NAME).exists()


def test_a_board_that_cannot_be_opened_gives_its_lock_back(folder):
    content = (folder / "board.rustboard").read_bytes()
    (folder / "board.rustboard").write_bytes(content[:4096] + bytes(len(content) - 4096))
    with pytest.raises(InputError), opened(folder):
        pass
    (folder / "board.rustboard").write_bytes(content)
    with opened(folder) as store:
        assert store.read_only_reason == ""


@pytest.mark.skipif(sys.platform == "win32", reason="Windows asks for rights to make links")
def test_a_lock_or_note_that_is_a_link_is_not_followed(folder, tmp_path):
    precious = tmp_path / "precious.txt"
    precious.write_text("mine")
    (folder / lock.LOCK_NAME).unlink()
    (folder / lock.LOCK_NAME).symlink_to(precious)
    (folder / lock.NOTE_NAME).symlink_to(precious)
    with opened(folder) as store:
        assert store.read_only_reason == "The folder cannot be written, so the board is open for reading only."
    (folder / lock.LOCK_NAME).unlink()
    with opened(folder) as store:
        assert store.read_only_reason == ""
    assert precious.read_text() == "mine"


def test_a_disk_that_cannot_lock_is_named_as_the_reason(folder, monkeypatch):
    def refuse(self):
        raise NotImplementedError

    monkeypatch.setattr(lock.FileLock, "acquire", refuse)
    assert BoardLock(folder).take(NOW) == (
        "This disk cannot lock files, so the board is open for reading only; copy its folder to another disk."
    )


def test_the_lock_writes_no_warning_and_leaves_only_its_empty_file(folder, caplog):
    with opened(folder), opened(folder):
        pass
    assert not [record for record in caplog.records if record.levelname != "DEBUG"]
    assert {each.name for each in folder.iterdir() if each.name.startswith(".")} <= {lock.LOCK_NAME}
    assert (folder / lock.LOCK_NAME).stat().st_size == 0
