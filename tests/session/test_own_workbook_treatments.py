"""The recipes of the program's own workbook come back as they were; the workbook keeps 16 digits of a number."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

from rustboard.board.model import Board, Coupon, Grading, Inspection, Treatment
from rustboard.board.old_grades.past_board import old_treatments, past_board, usual_choice
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.session.jobs import Progress
from rustboard.session.looking import look_at_board
from rustboard.session.old_grades import TableRequest, load_old_file, make_past_board, read_old_table
from rustboard.session.reporting import write_report

TREATMENTS = (
    Treatment("T1", "hot wax", "wax", "brushed", "none", "beeswax, 120 °C", 2, "pot 3", 3.1, 40, "first\nsecond", 1),
    Treatment("T2", "=1+1", "oil", "-3", "@x", "'=oil", 1, "007", 3.14159, 1 / 3, "= 1", 2),
    Treatment("T3", key=3),
    Treatment("T4", "never put on", "film", coats=0, cost_per_m2=0.0, minutes_per_m2=0.0, key=4),
    Treatment("T5", "a_x005F_b", "x005F_", "_x000D_", "_x0041_", "1/2", key=5),
)


def test_every_field_of_every_treatment_and_coupon_comes_back(tmp_path: Path) -> None:
    coupons = {
        n: Coupon(f"C0{n}", Position(0, n), n if n != 4 else None, "control" if n == 3 else "test", key=n)
        for n in range(1, 6)
    }
    grading = Grading(1, 1, 1, 9, "S", 0.02, "Ann", "eye", "", "2026-03-02T09:00:00")
    before = BoardRecord(
        Board("Board", 3, 7),
        {each.key: each for each in TREATMENTS},
        coupons,
        {1: Inspection(datetime(2026, 3, 2, 9), key=1)},
        current={1: {1: grading}},
    )
    write_report(before, tmp_path / "report.xlsx", datetime(2026, 3, 3), "Ann", Progress())
    table = read_old_table(TableRequest(load_old_file(tmp_path / "report.xlsx", Progress())), Progress())
    reading, ours = table.reading, table.ours
    past = past_board(reading, ours, old_treatments(reading, ours), usual_choice(reading, ours))
    make_past_board(tmp_path / "made", past, (), "Ann", Progress())
    after = look_at_board(tmp_path / "made")
    found = {each.id: replace(each, key=0) for each in after.treatments.values()}
    assert found == {each.id: replace(each, key=0) for each in TREATMENTS}
    names = {key: each.id for key, each in after.treatments.items()}
    given = {each.id: (names.get(each.treatment or 0), each.position, each.role) for each in after.coupons.values()}
    assert given == {
        each.id: (None if each.treatment is None else f"T{each.treatment}", each.position, each.role)
        for each in coupons.values()
    }
