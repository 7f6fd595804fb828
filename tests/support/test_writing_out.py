"""What is said when a file cannot be written, and the name that is offered instead."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from rustboard.support.writing_out import CannotReplaceError, free_name_beside, not_written


@pytest.mark.parametrize(
    ("name", "taken", "expected"),
    [
        ("board.xlsx", [], "board (2).xlsx"),
        ("board.xlsx", ["board (2).xlsx", "board (3).xlsx"], "board (4).xlsx"),
        ("board (2).xlsx", [], "board (3).xlsx"),
        ("board (x).xlsx", [], "board (x) (2).xlsx"),
        ("board (²).xlsx", [], "board (²) (2).xlsx"),
        ("board", [], "board (2)"),
    ],
)
def test_the_name_offered_is_free_and_stays_short(name: str, taken: list[str], expected: str, tmp_path: Path) -> None:
    for each in taken:
        (tmp_path / each).touch()
    assert free_name_beside(tmp_path / name) == tmp_path / expected


def test_a_name_that_a_broken_link_has_is_not_free(tmp_path: Path) -> None:
    try:
        (tmp_path / "board (2).xlsx").symlink_to(tmp_path / "nowhere")
    except OSError:
        pytest.skip("this system does not let an ordinary user make links")
    assert free_name_beside(tmp_path / "board.xlsx").name == "board (3).xlsx"


def test_a_file_that_is_open_elsewhere_is_told_from_a_folder_that_refuses(tmp_path: Path) -> None:
    held = tmp_path / "board.xlsx"
    refused = PermissionError(errno.EACCES, os.strerror(errno.EACCES))
    nothing_there = not_written(refused, held, "workbook")
    assert not isinstance(nothing_there, CannotReplaceError)
    assert "does not allow writing" in str(nothing_there)
    held.touch()
    open_elsewhere = not_written(refused, held, "workbook")
    assert isinstance(open_elsewhere, CannotReplaceError)
    assert "close it where it is open" in str(open_elsewhere)


def test_a_name_that_no_file_can_have_is_said(tmp_path: Path) -> None:
    assert "No file can have this name" in str(not_written(ValueError("null byte"), tmp_path / "a", "picture"))
