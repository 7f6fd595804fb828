"""What the cover says of a board that repeats an earlier one."""

from __future__ import annotations

from datetime import datetime

from rustboard.board.model import Board
from rustboard.board.record import BoardRecord
from rustboard.board.shelving import Forerunner
from rustboard.report.content import ReportContent
from rustboard.report.cover import cover_facts
from rustboard.report.pages.cover_page import cover_facts as facts_on_pages

NOW = datetime(2026, 9, 1, 12)


def test_the_cover_tells_what_the_board_repeats_and_what_was_changed():
    record = BoardRecord(Board("Second"))
    assert "Repeats" not in {label for label, _, _ in cover_facts(ReportContent(record, NOW))}
    record.forerunners = {1: Forerunner("=First", None, "wax", "site from wall to roof")}
    facts = {label: value for label, value, _ in cover_facts(ReportContent(record, NOW))}
    assert facts["Repeats"] == "=First, changed: site from wall to roof"


def test_the_cover_on_pages_tells_the_same():
    record = BoardRecord(Board("Second"))
    assert "Repeats" not in dict(facts_on_pages(ReportContent(record, NOW)))
    record.forerunners = {1: Forerunner("=First", None, "wax", "site from wall to roof")}
    told = dict(facts_on_pages(ReportContent(record, NOW)))
    assert told["Repeats"] == "=First, changed: site from wall to roof"
