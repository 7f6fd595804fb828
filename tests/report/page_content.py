"""Contents of reports for the tests of pages and drawings."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from report_boards import MADE

from rustboard.board.model import Board, Coupon, Grading, Inspection, Treatment
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.report.choice import ReportChoice, Shop
from rustboard.report.content import ReportContent
from rustboard.session.jobs import Progress
from rustboard.session.reporting import ReportRequest, gather_content

SHOP = Shop("Smith & Daughter", "1 Quay Street\nPort Town")


def content_of(record: BoardRecord, **choice: object) -> ReportContent:
    """Everything a report of a board is written from, without photos."""
    request = ReportRequest(record, MADE, "Anna", choice=ReportChoice(**choice), shop=SHOP)  # type: ignore[arg-type]
    return gather_content(request, Progress())


def large_board(coupons: int, treatments: int, name: str = "treatment {0}") -> BoardRecord:
    """A board of two inspections with so many coupons, spread evenly over so many treatments, and no control."""
    columns = min(50, coupons)
    rows = -(-coupons // columns)
    record = BoardRecord(Board("Large", rows, columns, started=datetime(2026, 3, 2, 9)))
    for number in range(1, treatments + 1):
        record.treatments[number] = Treatment(f"T{number}", name.format(number), key=number)
    record.inspections = {key: Inspection(datetime(2026, 3, 2 + 7 * key, 9), key=key) for key in (1, 2)}
    for number in range(coupons):
        key = number + 1
        kind = number % treatments + 1
        record.coupons[key] = Coupon(f"C{key:04d}", Position(number // columns, number % columns), kind, key=key)
        for look in (1, 2):
            grade = max(0, 10 - look * (kind % 5) - number % 2)
            grading = Grading(2 * key + look, key, look, grade, "", None, "", "eye", "", "2026-03-02T09:00:00")
            record.current.setdefault(key, {})[look] = grading
    return record


def renamed(record: BoardRecord, text: str) -> BoardRecord:
    """The board with one text everywhere a person can write one."""
    record.board = replace(record.board, name=text, site=text, shelter=text, customer=text, shop=text, note=text)
    record.treatments = {
        key: replace(each, id=f"T{key}", name=text, family=text, preparation=text, protectant=text, note=text)
        for key, each in record.treatments.items()
    }
    record.coupons = {key: replace(each, id=f"{text[:60]}{key}", note=text) for key, each in record.coupons.items()}
    return record
