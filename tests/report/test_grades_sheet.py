"""The sheet of grades is the CSV, cell for cell, in a real table with real dates."""

from __future__ import annotations

import io
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pandas as pd
import pytest
from pandas.testing import assert_frame_equal
from report_boards import HOSTILE, MADE, START, BoardBuilder, door_board, hostile_board, small_board
from workbook_reading import opened

from rustboard.board.record import BoardRecord
from rustboard.report.content import ReportContent
from rustboard.report.tidy import CELL_LIMIT, COLUMNS, grades_csv
from rustboard.report.workbook import write_workbook

TEXT = dict.fromkeys(sorted(set(COLUMNS) - {"inspected", "grade", "percent"}), str)


def written_both_ways(record: BoardRecord, folder: Path) -> tuple[Path, io.StringIO]:
    path = folder / "board.xlsx"
    write_workbook(ReportContent(record, MADE), path)
    return path, io.StringIO(grades_csv(record))


def alike(frame: pd.DataFrame) -> pd.DataFrame:
    """Bring the two readers' dates and blank numbers to one type: they choose it by what a column happens to hold."""
    return frame.astype({"inspected": "datetime64[us]", "grade": "int64", "percent": "float64"})


@pytest.mark.parametrize("board", [small_board, door_board, hostile_board])
def test_pandas_reads_the_sheet_and_the_csv_alike(board: Callable[[], BoardRecord], tmp_path: Path) -> None:
    path, text = written_both_ways(board(), tmp_path)
    # Text columns as text and nothing taken for a missing value but a blank percent: a name may be 007 or NaN.
    percent_only = {"percent": [""]}
    sheet = pd.read_excel(path, sheet_name="Grades", dtype=TEXT, keep_default_na=False, na_values=percent_only)
    table = pd.read_csv(text, dtype=TEXT, keep_default_na=False, na_values=percent_only, parse_dates=["inspected"])
    assert list(sheet.columns) == list(COLUMNS)
    assert_frame_equal(alike(sheet), alike(table))


def test_pandas_reads_a_usual_board_alike_without_being_told_anything(tmp_path: Path) -> None:
    path, text = written_both_ways(door_board(), tmp_path)
    sheet = pd.read_excel(path, sheet_name="Grades")
    table = pd.read_csv(text, parse_dates=["inspected"])
    assert len(sheet) == 376
    assert_frame_equal(sheet, table, check_dtype=False)


def test_an_ungraded_board_has_the_same_empty_table_in_both(tmp_path: Path) -> None:
    path, text = written_both_ways(BoardBuilder().record, tmp_path)
    sheet, table = pd.read_excel(path, sheet_name="Grades"), pd.read_csv(text)
    assert list(sheet.columns) == list(table.columns) == list(COLUMNS)
    assert (len(sheet), len(table)) == (0, 0)


def test_cells_hold_numbers_dates_and_text() -> None:
    made = BoardBuilder()
    made.grade(made.coupon("C01", "A1"), made.inspection(1.5), 7, "S", 0.12, grader="Ann", note="drip edge")
    sheet = opened(made.record)["Grades"]
    values = [cell.value for cell in sheet[2]]
    assert values == [
        "C01", "A1", None, "test", datetime(2026, 3, 3, 21, 0), 7, "S", 0.12, "Ann", "eye", "drip edge"
    ]  # fmt: skip
    assert sheet["E2"].number_format == "yyyy-mm-dd hh:mm"
    assert sheet["E2"].is_date


def test_no_cell_is_an_error_or_a_formula_but_those_that_the_program_writes_on_the_summary() -> None:
    workbook = opened(hostile_board())
    live = {"LiveTreatments", "LiveCoupons"}
    kinds = {
        cell.data_type
        for sheet in workbook
        for row in sheet.iter_rows()
        for cell in row
        if sheet.title != "Summary" or not live & set(sheet.tables) or cell.column < 4
    }
    assert kinds == {"s", "inlineStr", "n", "d"}  # neither "f" nor "e"


def test_hostile_ids_stand_guarded_in_the_sheet() -> None:
    sheet = opened(hostile_board())["Grades"]
    ids = [row[0] for row in sheet.iter_rows(min_row=2, values_only=True)]
    assert ids[:4] == ['\'=HYPERLINK("x")', "'+1", "'-1", "'@x"]
    assert HOSTILE[7] in ids  # 400 characters, whole


def test_the_sheet_is_a_real_table_with_its_header_in_sight() -> None:
    sheet = opened(small_board())["Grades"]
    table = sheet.tables["Grades"]
    assert table.ref == "A1:K16"
    assert [column.name for column in table.tableColumns] == list(COLUMNS) == [cell.value for cell in sheet[1]]
    assert sheet.freeze_panes == "B2"
    assert sheet.print_title_rows == "$1:$1"
    assert sheet.dimensions == "A1:K16"


def test_times_keep_their_seconds_and_lose_only_fractions() -> None:
    made = BoardBuilder()
    coupon = made.coupon("C01", "A1")
    for number in range(60):
        made.grade(coupon, made.inspection(number * 17.31 + number / 86_400 + 0.0000001), 5)
    sheet = opened(made.record)["Grades"]
    read = [row[4] for row in sheet.iter_rows(min_row=2, values_only=True)]
    said = [each.at.replace(microsecond=0) for each in made.record.inspections_in_order()]
    assert read == said


def test_a_time_older_than_spreadsheets_know_is_written_as_text() -> None:
    made = BoardBuilder()
    made.grade(made.coupon("C01", "A1"), made.inspection((datetime(26, 3, 2, 9) - START).days), 5)
    assert opened(made.record)["Grades"]["E2"].value == "0026-03-02T09:00:00"


def test_a_note_of_any_length_fits_its_cell() -> None:
    made = BoardBuilder()
    made.grade(made.coupon("C01", "A1"), made.inspection(0), 5, note="=" * 100_000)
    note = opened(made.record)["Grades"]["K2"].value
    assert len(note) == CELL_LIMIT
    assert note.startswith("'=")
    assert note.endswith("…")
