"""The workbook written beside the window can be stopped, and then leaves the file as it was."""

from datetime import datetime

import pytest

import rustboard.report.workbook
from rustboard.board.model import Board
from rustboard.board.record import BoardRecord
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.reporting import write_report

MADE = datetime(2026, 5, 1, 17, 30)


def test_a_workbook_is_written_where_it_was_asked_for(tmp_path):
    path = tmp_path / "a.xlsx"
    assert write_report(BoardRecord(Board("Harbour")), path, MADE, "Mara", Progress()) == path
    assert path.read_bytes().startswith(b"PK")


def test_a_workbook_that_is_stopped_while_it_is_made_leaves_the_old_file(tmp_path, monkeypatch):
    path = tmp_path / "a.xlsx"
    path.write_bytes(b"the old one")
    progress = Progress()

    def stopped_meanwhile(*_, **__):
        progress.cancel()
        return b"the new one"

    monkeypatch.setattr(rustboard.report.workbook, "workbook_bytes", stopped_meanwhile)
    with pytest.raises(Cancelled):
        write_report(BoardRecord(Board("Harbour")), path, MADE, "Mara", progress)
    assert path.read_bytes() == b"the old one"
    assert list(tmp_path.iterdir()) == [path]
