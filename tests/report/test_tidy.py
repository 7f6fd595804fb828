"""The tidy table of grades, as JSON rows and as CSV."""

from __future__ import annotations

import csv
import io
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from report_boards import HOSTILE, BoardBuilder, hostile_board, small_board

from rustboard.report.tidy import CELL_LIMIT, cell_text, grade_rows, grades_csv, guarded
from rustboard.support.text import from_spreadsheet, printable

# Promised in the description of the command `grades`.
KEYS = [
    "coupon", "position", "treatment", "role", "inspected", "grade", "distribution", "percent", "grader", "source",
    "note",
]  # fmt: skip


def test_a_row_has_the_promised_keys_in_their_order() -> None:
    assert {tuple(row) for row in grade_rows(small_board())} == {tuple(KEYS)}


def test_a_row_says_everything_about_its_grade() -> None:
    made = BoardBuilder()
    wax = made.treatment("T1", name="hot beeswax blend")
    coupon = made.coupon("C01", "A2", wax)
    made.grade(coupon, made.inspection(1.5), 7, "S", 0.12, grader="Ann", source="photo", note="drip edge")
    assert grade_rows(made.record) == [
        {
            "coupon": "C01",
            "position": "A2",
            "treatment": "T1",
            "role": "test",
            "inspected": "2026-03-03T21:00:00",
            "grade": 7,
            "distribution": "S",
            "percent": 0.12,
            "grader": "Ann",
            "source": "photo",
            "note": "drip edge",
        }
    ]


def test_rows_go_by_time_then_as_one_reads_the_board() -> None:
    rows = grade_rows(small_board())
    assert [(row["inspected"], row["coupon"]) for row in rows][:5] == [
        ("2026-03-02T09:00:00", "C01"),
        ("2026-03-02T09:00:00", "C02"),
        ("2026-03-02T09:00:00", "C03"),
        ("2026-03-02T09:00:00", "C04"),
        ("2026-03-05T09:00:00", "C01"),
    ]
    assert len(rows) == 15  # 4 coupons at 4 inspections, one left out


def test_a_coupon_off_the_board_without_a_known_treatment_leaves_those_fields_empty() -> None:
    made = BoardBuilder()
    coupon = made.coupon("spare", None, 99)
    made.grade(coupon, made.inspection(0), 10)
    (row,) = grade_rows(made.record)
    assert (row["position"], row["treatment"], row["percent"]) == ("", "", None)


def test_rows_can_be_written_as_json() -> None:
    rows = grade_rows(small_board())
    assert json.loads(json.dumps(rows)) == rows


def test_the_csv_has_the_same_rows_and_columns() -> None:
    record = small_board()
    rows = list(csv.DictReader(io.StringIO(grades_csv(record))))
    assert list(rows[0]) == KEYS
    said = [{name: "" if value is None else str(value) for name, value in row.items()} for row in grade_rows(record)]
    assert rows == said


def test_csv_lines_end_in_a_line_feed_only() -> None:
    text = grades_csv(small_board())
    assert text.endswith("\n")
    assert "\r" not in text


def test_a_board_without_grades_gives_no_rows_and_a_bare_header() -> None:
    empty = BoardBuilder().record
    assert grade_rows(empty) == []
    assert grades_csv(empty) == ",".join(KEYS) + "\n"


def test_no_field_of_the_csv_can_run_as_a_formula() -> None:
    rows = list(csv.reader(io.StringIO(grades_csv(hostile_board()))))
    assert len(rows) == len(HOSTILE) + 1
    assert [field for row in rows for field in row if field.startswith(("=", "+", "-", "@", "\t", "\r"))] == []
    assert [row[0] for row in rows[1:4]] == ['\'=HYPERLINK("x")', "'+1", "'-1"]


@given(st.text())
def test_text_comes_back_from_the_csv_as_it_can_be_shown(text: str) -> None:
    made = BoardBuilder()
    made.grade(made.coupon("C01", "A1"), made.inspection(0), 5, note=text)
    (row,) = csv.DictReader(io.StringIO(grades_csv(made.record), newline=""))
    assert from_spreadsheet(row["note"]) == printable(text, lines=True)


@pytest.mark.parametrize("extra", [-2, -1, 0, 1, 2, 40_000])
@pytest.mark.parametrize("first", ["n", "="])
def test_text_longer_than_a_cell_is_cut_and_says_so(first: str, extra: int) -> None:
    text = first + "n" * (CELL_LIMIT - 1 + extra)
    shown = guarded(text)
    assert isinstance(shown, str)
    assert len(shown) <= CELL_LIMIT
    assert shown.endswith("…") == (cell_text(text) != text)
