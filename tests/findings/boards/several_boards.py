"""Boards made up for tests of what several boards say together."""

from __future__ import annotations

from datetime import datetime, timedelta

from rustboard.board.exposure_clock import control_clock, day_clock
from rustboard.board.layout import Layout, Lot
from rustboard.board.model import Board, Coupon, Grading, Inspection, Treatment
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.record import BoardRecord
from rustboard.board.series import inspection_days
from rustboard.findings.coupons.subject import FindingsRequest, subject_of

START = datetime(2026, 3, 2, 9)


def board(grades, *, name="b", method="complete", days=(30,), controls=True, fair=False, **about):
    """A board from grades by name of treatment, one row of coupons for each; ``bare`` are controls.

    A grade is one number, or several, one for each inspection at ``days``. With ``method="rows"`` the coupons of a
    treatment hang in one column, one in each row.
    """
    coupons, current, treatments = {}, {}, {}
    wide = max(map(len, grades.values()))
    for number, (title, given) in enumerate(grades.items(), 1):
        treatments[number] = Treatment(f"T{number}", title, protectant=title, key=number)
        for place, each in enumerate(given):
            key = 100 * number + place
            position = Position(place, number - 1) if method == "rows" else Position(number - 1, place)
            role = "control" if controls and title == "bare" else "test"
            coupons[key] = Coupon(f"C{key}", position, number, role, key=key)
            series = each if isinstance(each, tuple) else (each,)
            current[key] = {
                visit: Grading(visit, key, visit, grade, "", None, "", "eye", "", "2026-03-02T09:00:00")
                for visit, grade in enumerate(series, 1)
                if grade is not None
            }
    size = (wide, len(grades)) if method == "rows" else (len(grades), wide)
    record = BoardRecord(Board(name, *size, started=START, **about), treatments, coupons)
    record.current = {key: given for key, given in current.items() if given}
    record.inspections = {
        visit: Inspection(START + timedelta(days=day), key=visit) for visit, day in enumerate(days, 1)
    }
    drawn = method != "hand"
    record.layouts = {1: Layout(method=method, seed=7 if drawn else None, fair_edges=fair, key=1)}
    if drawn:
        record.lots = {key: Lot(key, each.position, key) for key, each in coupons.items()}
    return record


def request(record, measure="last grade", clock="days", failing=7):
    """A board asked by one measure on one clock."""
    days = inspection_days(record)
    made = control_clock(record, days) if clock == "controls" else day_clock(days)
    return FindingsRequest(record, made, Question("pairs", failing_grade=failing, measure=measure))


def subject(record, *args, **more):
    """A board as the findings see it."""
    return subject_of(request(record, *args, **more))


def texts(sentences):
    """Sentences as plain text."""
    return [each.text() for each in sentences]
