"""Which parts a board has something for is told from the board alone, and why not."""

from __future__ import annotations

from datetime import date, datetime

from rustboard.board.model import Board, Coupon, Grading, Inspection, Photo, Treatment
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.board.weather import DayNote
from rustboard.session.report_parts import parts_missing

NOW = datetime(2026, 3, 2, 9)


def test_an_empty_board_has_only_what_needs_nothing() -> None:
    missing = parts_missing(BoardRecord(Board("Quay")))
    assert missing == {
        "map": "no coupon",
        "summary": "no grade",
        "histories": "no grade",
        "comparisons": "no grade",
        "failing": "no grade",
        "value": "no grade",
        "exposure": "no weather",
        "photos": "no photo",
        "treatments": "no treatment",
        "graders": "one grader",
        "plan": "no plan",
    }


def graded() -> BoardRecord:
    record = BoardRecord(Board("Quay"))
    record.treatments[1] = Treatment("T1", key=1)
    record.coupons[1] = Coupon("C1", Position(0, 0), 1, key=1)
    record.inspections[1] = Inspection(NOW, key=1)
    record.current[1] = {1: Grading(1, 1, 1, 8, "G", None, "Ann", "eye", "", NOW.isoformat())}
    return record


def test_what_is_added_to_a_board_is_no_longer_missing() -> None:
    record = graded()
    assert set(parts_missing(record)) == {"value", "exposure", "photos", "graders", "plan"}
    assert parts_missing(record)["value"] == "no cost"
    record.treatments[1] = Treatment("T1", key=1, minutes_per_m2=40)
    record.photos[1] = Photo("a.jpg", "a.jpg", "0" * 64, 10, 10, key=1)
    record.day_notes[1] = DayNote(date(2026, 3, 2), rain_mm=3, key=1)
    assert set(parts_missing(record)) == {"graders", "plan"}
