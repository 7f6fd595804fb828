"""Crash files: what they say, and above all what they do not."""

from __future__ import annotations

import logging
import sqlite3
import sys
import threading
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from rustboard.app import crash
from rustboard.store import folder
from rustboard.support import paths
from rustboard.support.problems import InputError

SECRET = "Castle Grantham, gate 4"
NOON = datetime(2026, 3, 2, 12)


def caught(*arguments: object) -> Exception:
    """Return what our own `photo_path` raises for arguments that nobody should give it."""
    try:
        folder.photo_path(*arguments)  # type: ignore[arg-type]
    except TypeError as error:
        return error
    raise AssertionError("nothing was raised")


def raised(error: Exception) -> Exception:
    try:
        raise error
    except type(error) as again:
        return again


def crash_files() -> list[Path]:
    return sorted(paths.log_folder().glob("*")) if paths.log_folder().exists() else []


def test_a_crash_file_says_where_in_our_source_and_with_which_versions() -> None:
    text = crash.crash_text(caught(7, "photo.jpg"), NOON, ["12:00:00 INFO rustboard.store opened"])
    assert "Rustboard 0." in text
    assert f"Python {sys.version.split()[0]}" in text
    assert "rustboard/store/folder.py:" in text
    assert "in photo_path" in text
    assert "TypeError: unsupported operand" in text
    assert text.endswith("Last log lines:\n12:00:00 INFO rustboard.store opened\n")


@pytest.mark.parametrize(
    "error",
    [
        KeyError(SECRET),
        ValueError(SECRET),
        TypeError(SECRET),  # harmless only from our own source
        InputError(SECRET, file=SECRET),
        OSError(28, "No space left on device", f"/home/ada/{SECRET}"),
        sqlite3.OperationalError(f"no such column: {SECRET}"),
        type("Special", (AttributeError,), {})(SECRET),
    ],
    ids=lambda each: type(each).__name__,
)
def test_what_an_error_quotes_is_left_out(error: Exception) -> None:
    text = crash.crash_text(raised(error), NOON)
    assert type(error).__name__ in text
    assert SECRET not in text
    assert "ada" not in text


def test_the_number_of_a_disk_error_is_kept() -> None:
    assert "OSError (errno 28)" in crash.crash_text(raised(OSError(28, "full", SECRET)), NOON)


def test_causes_are_told_first_and_without_what_they_quote() -> None:
    try:
        try:
            raise KeyError(SECRET)
        except KeyError as cause:
            raise RuntimeError(SECRET) from cause
    except RuntimeError as error:
        text = crash.crash_text(error, NOON)
    assert text.index("KeyError") < text.index("RuntimeError")
    assert SECRET not in text


def test_an_endless_recursion_is_told_in_bounds() -> None:
    def deeper(depth: int) -> int:
        return deeper(depth + 1) + 1

    try:
        deeper(0)
    except RecursionError as error:
        text = crash.crash_text(error, NOON)
    assert "more ..." in text
    assert len(text.splitlines()) < 130


def test_source_files_are_named_without_this_computers_folders() -> None:
    assert crash.shortened(crash.__file__) == "rustboard/app/crash.py"
    assert crash.shortened(logging.__file__) == "logging/__init__.py"
    assert crash.shortened(pytest.__file__) == "pytest/__init__.py"
    assert crash.shortened(f"/home/ada/{SECRET}/script.py") == "(another file)"
    assert crash.shortened("<frozen importlib._bootstrap>") == "<frozen importlib._bootstrap>"


def record(name: str, message: str, *arguments: object) -> logging.LogRecord:
    return logging.LogRecord(name, logging.INFO, "somewhere.py", 1, message, arguments, None)


def test_log_lines_are_kept_without_what_was_filled_in() -> None:
    handler = crash.LastLines()
    for each in (
        record("rustboard.store.backup", "no backup of %s today, %d tried", SECRET, 3),
        record("rustboard.store.backup", "%d bytes", SECRET),
        record("rustboard.store.backup", "%(board)s opened", {"board": SECRET}),
        record("PIL.Image", f"cannot read {SECRET}"),
        record("rustboarding", f"surfing at {SECRET}"),
    ):
        handler.handle(each)
    assert [each.split(" ", 1)[1] for each in handler.lines] == [
        "INFO rustboard.store.backup no backup of … today, 3 tried",
        "INFO rustboard.store.backup %d bytes",
        "INFO rustboard.store.backup %(board)s opened",
        "INFO PIL.Image",
        "INFO rustboarding",
    ]


def test_only_the_last_log_lines_are_kept() -> None:
    handler = crash.LastLines()
    for number in range(crash.LOG_LINES + 50):
        handler.handle(record("rustboard", "step %d", number))
    assert len(handler.lines) == crash.LOG_LINES
    assert handler.lines[-1].endswith(f"step {crash.LOG_LINES + 49}")


def test_what_is_logged_goes_into_the_crash_file_and_not_onto_the_console(
    capsys: pytest.CaptureFixture[str],
) -> None:
    crash.keep_log_lines()
    logging.getLogger("rustboard.store").info("opened")
    assert capsys.readouterr() == ("", "")
    file = crash.write_crash_file(ValueError())
    assert file is not None
    assert file.read_text(encoding="utf-8").endswith(" INFO rustboard.store opened\n")


def test_the_oldest_crash_files_make_room() -> None:
    for minute in range(crash.FILES_KEPT + 5):
        at = NOON + timedelta(minutes=minute)
        crash.write_crash_file(ValueError(), clock=lambda at=at: at)
    names = [each.name for each in crash_files()]
    assert len(names) == crash.FILES_KEPT
    assert names[0].startswith("crash-2026-03-02-120500")
    assert names[-1].startswith("crash-2026-03-02-122400")


def test_a_log_folder_that_cannot_be_written_is_no_second_crash(own_home: Path) -> None:
    (own_home / "rustboard").write_text("a file where the folder should be", encoding="utf-8")
    assert crash.write_crash_file(ValueError()) is None
    assert "could not write down which" in crash.report_fault(ValueError())


def test_the_developer_may_see_everything(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    crash.report_fault(raised(ValueError(SECRET)))
    assert capsys.readouterr().err == ""
    monkeypatch.setenv(crash.DEBUG_VARIABLE, "1")
    crash.report_fault(raised(ValueError(SECRET)))
    assert f"ValueError: {SECRET}" in capsys.readouterr().err


@pytest.mark.usefixtures("own_hooks")
def test_a_fault_that_nothing_caught_is_told_once() -> None:
    told: list[str] = []
    crash.install_crash_hook(told.append)
    for _ in range(60):  # a window that fails to paint
        error = caught(7, "photo.jpg")
        sys.excepthook(type(error), error, error.__traceback__)
    another = raised(ValueError(SECRET))
    sys.excepthook(type(another), another, another.__traceback__)
    assert len(told) == len(crash_files()) == 2
    assert str(crash_files()[0].parent) in told[0]
    assert SECRET not in told[1]


@pytest.mark.usefixtures("own_hooks")
def test_a_fault_in_another_thread_is_told_too() -> None:
    told: list[str] = []
    crash.install_crash_hook(told.append)
    thread = threading.Thread(target=folder.photo_path, args=(7, "photo.jpg"))
    thread.start()
    thread.join()
    assert len(told) == len(crash_files()) == 1


@pytest.mark.usefixtures("own_hooks")
def test_a_users_error_that_nothing_caught_is_told_as_it_is() -> None:
    told: list[str] = []
    crash.install_crash_hook(told.append)
    error = InputError("The disk is full.", file="board.rustboard")
    sys.excepthook(InputError, error, None)
    assert told == ["board.rustboard: The disk is full."]
    assert crash_files() == []
