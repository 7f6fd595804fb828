"""Boards for tests of findings: treatments with the grades of their coupons, hung by lot or by hand."""

from dataclasses import replace
from datetime import datetime, timedelta

from rustboard.board.exposure_clock import day_clock
from rustboard.board.layout import Layout, Lot
from rustboard.board.model import Board, Coupon, Grading, Inspection, Treatment
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.record import BoardRecord
from rustboard.board.series import inspection_days
from rustboard.findings.coupons.subject import FindingsRequest, subject_of

START = datetime(2026, 3, 2, 9)


def judged_board(grades, *, control=(), method="complete", days=(30,), question=None, percents=None, **treatments):
    """A board of one row a coupon number and one column a treatment.

    Args:
        grades: by name of treatment a list of coupons, each a grade or a list with a grade for each day (None = not
            graded); controls are given apart.
        control: the coupons of the bare control.
        method: of the lots; with ``rows`` every row is a block.
        days: of the inspections.
        question: what is asked; the controls where there are any, else all pairs.
        percents: (coupon id, day) -> percent stated.
        treatments: fields of treatments by name.
    """
    names = [*grades, *(["bare"] if control else [])]
    columns = {**grades, **({"bare": control} if control else {})}
    record = BoardRecord(Board("Wall", max(map(len, columns.values()), default=1), max(len(names), 1), started=START))
    for column, name in enumerate(names):
        treatment = column + 1
        fields = treatments.get(name.replace(" ", "_"), {})
        record.treatments[treatment] = Treatment(f"T{treatment}", name, key=treatment, **fields)
        for row, given in enumerate(columns[name]):
            coupon = 100 * treatment + row
            role = "control" if name == "bare" and control else "test"
            record.coupons[coupon] = Coupon(f"C{coupon}", Position(row, column), treatment, role, key=coupon)
            record.lots[coupon] = Lot(coupon, Position(row, column), coupon)
            for number, grade in enumerate([given] if not isinstance(given, (list, tuple)) else given, 1):
                if grade is not None:
                    percent = (percents or {}).get((f"C{coupon}", days[number - 1]))
                    record.current.setdefault(coupon, {})[number] = Grading(
                        10 * coupon + number,
                        coupon,
                        number,
                        grade,
                        "",
                        percent,
                        "",
                        "blind",
                        "",
                        "2026-03-02T09:00:00",
                    )
    record.inspections = {
        number: Inspection(START + timedelta(days=day), key=number) for number, day in enumerate(days, 1)
    }
    rules = Layout(method=method, fair_edges=False, seed=None if method == "hand" else 7, key=1)
    record.layouts = {1: rules}
    if method == "hand":
        record.lots = {}
    asked = question or Question("control" if control else "pairs", key=1)
    record.questions = {1: replace(asked, key=1)}
    return record


def subject_for(record, earlier=None, clock=None, **question):
    """The board as findings see it."""
    asked = replace(record.question or Question(), **question)
    return subject_of(FindingsRequest(record, clock or day_clock(inspection_days(record)), asked, earlier))
