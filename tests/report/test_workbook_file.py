"""The file: whole or not at all, the same bytes for the same board, and plain words when it cannot be written."""

from __future__ import annotations

import errno
import io
import os
from datetime import UTC, datetime
from pathlib import Path

import pytest
from openpyxl import load_workbook
from report_boards import MADE, BoardBuilder, hostile_board, small_board

from rustboard.board.model import Board
from rustboard.report.choice import ReportChoice
from rustboard.report.content import ReportContent
from rustboard.report.workbook import workbook_bytes, write_workbook
from rustboard.support.problems import InputError


def test_the_same_board_and_time_make_the_same_bytes() -> None:
    first = workbook_bytes(ReportContent(hostile_board(), MADE))
    assert first == workbook_bytes(ReportContent(hostile_board(), MADE))
    assert first != workbook_bytes(ReportContent(hostile_board(), MADE.replace(year=2027)))


def test_the_file_says_whose_it_is() -> None:
    properties = load_workbook(io.BytesIO(workbook_bytes(ReportContent(small_board(), MADE)))).properties
    assert (properties.title, properties.creator) == ("Harbour wall spring", "Smith & Daughter")
    assert (properties.created, properties.modified) == (MADE, MADE)
    nobody = load_workbook(
        io.BytesIO(workbook_bytes(ReportContent(BoardBuilder(Board("B")).record, MADE)))
    ).properties
    assert not nobody.creator


@pytest.mark.parametrize("generated", [datetime(2026, 5, 1, 17, 30, tzinfo=UTC), datetime(1970, 1, 1)])
def test_a_time_with_a_zone_or_before_zip_files_is_no_trouble(generated: datetime) -> None:
    said = load_workbook(io.BytesIO(workbook_bytes(ReportContent(small_board(), generated=generated))))["Cover"]
    values = [cell.value for row in said.iter_rows() for cell in row]
    assert generated.replace(tzinfo=None) in values


def test_paper_can_be_letter() -> None:
    workbook = load_workbook(
        io.BytesIO(workbook_bytes(ReportContent(small_board(), MADE, choice=ReportChoice(paper="Letter"))))
    )
    assert {str(sheet.page_setup.paperSize) for sheet in workbook} == {"1"}


def test_an_older_workbook_is_replaced(tmp_path: Path) -> None:
    path = tmp_path / "board.xlsx"
    path.write_bytes(b"older")
    write_workbook(ReportContent(small_board(), MADE), path)
    assert load_workbook(path).sheetnames[0] == "Cover"
    assert os.listdir(tmp_path) == ["board.xlsx"]


def failing(error: OSError, monkeypatch: pytest.MonkeyPatch, where: str) -> None:
    def fail(*_: object, **__: object) -> None:
        raise error

    monkeypatch.setattr(where, fail)


@pytest.mark.parametrize(
    ("number", "where", "words"),
    [
        (errno.ENOSPC, "os.fsync", "The disk is full"),
        (errno.EACCES, "os.replace", "close it where it is open"),
        (errno.EROFS, "os.open", "does not allow writing"),
        (errno.EIO, "os.fsync", "could not be written"),
    ],
)
def test_when_the_disk_refuses_the_older_workbook_stays_and_a_sentence_names_the_file(
    number: int, where: str, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "board.xlsx"
    path.write_bytes(b"older")
    failing(OSError(number, os.strerror(number)), monkeypatch, where)
    with pytest.raises(InputError) as caught:
        write_workbook(ReportContent(small_board(), MADE), path)
    monkeypatch.undo()
    assert words in caught.value.problem.what
    assert caught.value.problem.file == "board.xlsx"
    assert caught.value.problem.what.endswith(".")
    assert path.read_bytes() == b"older"
    assert os.listdir(tmp_path) == ["board.xlsx"]


def test_a_folder_that_does_not_exist_is_named(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="does not exist; create it"):
        write_workbook(ReportContent(small_board(), MADE), tmp_path / "nowhere" / "board.xlsx")


def test_a_folder_of_that_name_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "board.xlsx").mkdir()
    with pytest.raises(InputError, match="A folder has this name"):
        write_workbook(ReportContent(small_board(), MADE), tmp_path / "board.xlsx")
    assert os.listdir(tmp_path) == ["board.xlsx"]


def test_a_link_keeps_pointing_where_it_did(tmp_path: Path) -> None:
    target, link = tmp_path / "kept" / "board.xlsx", tmp_path / "board.xlsx"
    target.parent.mkdir()
    target.write_bytes(b"older")
    try:
        link.symlink_to(target)
    except OSError:
        pytest.skip("this system does not let an ordinary user make links")
    write_workbook(ReportContent(small_board(), MADE), link)
    assert link.is_symlink()
    assert load_workbook(target).sheetnames[0] == "Cover"
