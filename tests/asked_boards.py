"""Boards made up for findings: coupons by treatment, grades by inspection, in memory."""

from datetime import datetime, timedelta

from rustboard.board.exposure_clock import day_clock
from rustboard.board.layout import Layout, Lot
from rustboard.board.model import Board, Coupon, Grading, Inspection, Treatment
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.record import BoardRecord
from rustboard.board.series import InspectionDay
from rustboard.findings.coupons.subject import FindingsRequest, subject_of

START = datetime(2026, 3, 2, 9)
CONTROL = 0


def placed_board(rows, grades, *, treatments, method="complete", started=START, **layout):
    """A board from its rows of treatments (characters; 0 = control, . = empty); coupons are numbered as one reads.

    ``grades`` is a list of inspections, one every ten days; each a list of grades (or None) in the coupons' order.
    """
    coupons, lots, current = {}, {}, {}
    for row, line in enumerate(rows):
        for column, char in enumerate(line):
            if char == ".":
                continue
            key, place = len(coupons) + 1, Position(row, column)
            role = "control" if char == "0" else "test"
            coupons[key] = Coupon(f"C{key:02}", place, None if char == "0" else int(char), role, key=key)
            if method != "hand":
                lots[key] = Lot(key, place, key)
    inspections = {}
    number = 0
    for visit, graded in enumerate(grades, 1):
        inspections[visit] = Inspection(START + timedelta(days=10 * visit), "Ada", key=visit)
        for key, grade in zip(coupons, graded, strict=True):
            if grade is not None:
                number += 1
                current.setdefault(key, {})[visit] = Grading(
                    number, key, visit, grade, "", None, "Ada", "blind", "", "2026-03-02T09:00:00"
                )
    layout.setdefault("fair_edges", False)
    rules = Layout(method=method, seed=None if method == "hand" else 7, drawn_rows=len(rows),
                   drawn_columns=len(rows[0]), key=1, **layout)  # fmt: skip
    return BoardRecord(
        Board("b", len(rows), len(rows[0]), started=started, incline_deg=0.0),
        dict(treatments),
        coupons,
        inspections,
        current=current,
        layouts={1: rules},
        lots=lots,
    )


def treatment(key, name="", **facts):
    return Treatment(f"T{key}", name, key=key, **facts)


def asked(record, question=None):
    """The record as the findings see it, asked its own question or another, on the clock of days."""
    days = tuple(InspectionDay(each.key, record.day_of(each.at)) for each in record.inspections_in_order())
    return subject_of(FindingsRequest(record, day_clock(days), question or record.question or Question()))
