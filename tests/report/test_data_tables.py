"""The data sheets are the CSV files, cell for cell, whatever the texts are."""

from __future__ import annotations

import io
from datetime import date, datetime, timedelta

import pandas as pd
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl import Workbook
from pandas.testing import assert_frame_equal
from report_boards import HOSTILE, MADE, START, BoardBuilder, door_board, hostile_board, small_board

from rustboard.board.blind import BlindInspection
from rustboard.board.measured import Measurement
from rustboard.board.model import Photo
from rustboard.board.recipe import Recipe, RecipeStep, TreatmentRecipe
from rustboard.board.record import BoardRecord
from rustboard.report.content import DayReadings, ReportContent
from rustboard.report.data_tables import DATA_TABLES, MEASUREMENTS, READINGS, TREATMENTS, DataTable, write_data_table
from rustboard.report.package import packed
from rustboard.report.page_setup import PageStyle
from rustboard.report.tidy import grades_csv
from rustboard.report.written import Written

TIMES = {"inspected", "taken", "day"}
NUMBERS = {
    "grade", "percent", "low", "high", "debris_percent", "unseen_percent", "resolvable_percent", "spots",
    "largest_mm2", "coats", "cost_per_m2", "minutes_per_m2", "coupons", "recipe_steps", "recipe_cost_per_coupon",
    "recipe_cost_per_m2", "recipe_minutes_per_coupon", "recipe_minutes_per_m2", "recipe_waiting_minutes",
    "recipe_version", "wet_hours", "rain_mm", "mean_temperature_c", "lowest_temperature_c",
    "highest_temperature_c", "mean_rh_percent", "coverage",
}  # fmt: skip


def sheet_of(content: ReportContent, table: DataTable) -> bytes:
    """The workbook of one data sheet alone."""
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    sheet = workbook.create_sheet(table.sheet)
    rows = write_data_table(sheet, table, content, PageStyle("board", "today"))
    return packed(workbook, MADE, {table.sheet: Written(rows)})


def read_both(content: ReportContent, table: DataTable) -> tuple[pd.DataFrame, pd.DataFrame]:
    """The sheet and the CSV as pandas reads them: text as text, and only a blank number or time as missing."""
    kinds = {name: str for name in table.columns if name not in TIMES | NUMBERS}
    blank = {name: [""] for name in table.columns if name in TIMES | NUMBERS}
    how = {"dtype": kinds, "keep_default_na": False, "na_values": blank}
    sheet = pd.read_excel(io.BytesIO(sheet_of(content, table)), sheet_name=table.sheet, **how)
    text = pd.read_csv(io.StringIO(table.csv(content)), parse_dates=[*(TIMES & set(table.columns))], **how)
    return alike(sheet), alike(text)


def alike(frame: pd.DataFrame) -> pd.DataFrame:
    """Bring both readers' columns to one type: they choose it by what a column happens to hold."""
    kinds = {
        name: "datetime64[us]" if name in TIMES else "float64" for name in frame.columns if name in TIMES | NUMBERS
    }
    return frame.astype(kinds)


def measurement(photo: int, coupon: int, percent: float | None, **more: object) -> Measurement:
    low, high = (None, None) if percent is None else (percent * 0.8, min(100.0, percent * 1.3))
    parts: dict[str, object] = {
        "key": photo * 1_000 + coupon, "photo": photo, "coupon": coupon, "algorithm": 1, "inputs": "0" * 40,
        "percent": percent, "low": low, "high": high, "spots": 3, "largest_mm2": 1.25, "distribution": "S",
        "debris_percent": 0.4, "unseen_percent": 0.1, "resolvable_percent": 0.004, "confident": True,
        "newest": False, "motion": (0.0, 0.0, 0.0, 1.0), "present": "there", "warnings": (),
        "measured": "2026-05-01T00:00:00",
    }  # fmt: skip
    return Measurement(**{**parts, **more})  # type: ignore[arg-type]


def with_photo(record: BoardRecord, inspection: int | None, percents: dict[int, float | None], **more: object) -> int:
    key = len(record.photos) + 1
    when = record.inspections[inspection].at + timedelta(minutes=4) if inspection else None
    parts: dict[str, object] = {"taken": when, "inspection": inspection, "key": key, **more}
    record.photos[key] = Photo(f"photo {key}.jpg", f"{key}.jpg", "0" * 64, 400, 300, **parts)  # type: ignore[arg-type]
    record.measured[key] = {coupon: measurement(key, coupon, percent) for coupon, percent in percents.items()}
    return key


def day(number: int, **known: float) -> DayReadings:
    blank = dict.fromkeys(DayReadings._fields[1:-1])
    return DayReadings(date(2026, 3, 2) + timedelta(days=number), **{**blank, "coverage": 0.0, **known})


def measured_board() -> BoardRecord:
    record = small_board()
    with_photo(record, 1, {1: 0.0, 2: 0.01, 3: 0.5, 4: 2.0})
    with_photo(record, 4, {1: 0.2, 3: None})
    return record


DAYS = (
    day(0, wet_hours=1.75, rain_mm=0.0, mean_temperature_c=-6.25, coverage=0.71875),
    day(1),
    day(2, mean_rh_percent=88.5, coverage=1.0),
)


@pytest.mark.parametrize("table", DATA_TABLES, ids=[each.sheet for each in DATA_TABLES])
@pytest.mark.parametrize("board", [measured_board, door_board, hostile_board, lambda: BoardBuilder().record])
def test_pandas_reads_sheet_and_csv_alike(table, board) -> None:
    content = ReportContent(board(), MADE, days=DAYS)
    sheet, text = read_both(content, table)
    assert list(sheet.columns) == list(table.columns)
    assert len(sheet) == len(list(table.rows(content)))
    assert_frame_equal(sheet, text)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(st.one_of(st.sampled_from(HOSTILE), st.text(max_size=40)), min_size=1, max_size=6))
def test_sheet_and_csv_are_alike_whatever_is_written_on_the_board(texts: list[str]) -> None:
    made = BoardBuilder()
    inspection = made.inspection(2)
    for number, text in enumerate(texts):
        treatment = made.treatment(text, name=text, family=text, batch=text, note=text)
        coupon = made.coupon(text, f"A{number + 1}", treatment)
        step = RecipeStep("coat", product=text, note=text)
        made.record.recipes[treatment] = TreatmentRecipe(treatment, Recipe((step,)), treatment)
        made.grade(coupon, inspection, number, grader=text, note=text)
    key = with_photo(made.record, inspection, {})
    made.record.photos[key] = Photo(texts[0], "1.jpg", "0" * 64, 4, 3, made.record.inspections[1].at, 1, key=key)
    made.record.measured[key] = {
        coupon: measurement(key, coupon, 1.5, warnings=(text, text)) for coupon, text in enumerate(texts, start=1)
    }
    content = ReportContent(made.record, MADE)
    for table in DATA_TABLES:
        sheet, text = read_both(content, table)
        assert_frame_equal(sheet, text)


def test_no_text_of_any_data_sheet_begins_like_a_formula() -> None:
    record = hostile_board()
    with_photo(record, 1, dict.fromkeys(record.coupons, 1.0))
    for table in DATA_TABLES:
        for line in read_both(ReportContent(record, MADE, days=DAYS), table):
            texts = line.select_dtypes(include=["object", "string"]).to_numpy().ravel().tolist()
            assert not [each for each in texts if str(each).startswith(("=", "+", "-", "@", "\t", "\r"))]


def test_the_csv_of_grades_is_what_the_command_prints() -> None:
    content = ReportContent(door_board(), MADE)
    assert DATA_TABLES[0].csv(content) == grades_csv(content.record)


def test_a_measurement_says_what_was_found_and_whether_the_grade_rests_on_it() -> None:
    record = measured_board()
    record.current[1][1] = record.current[1][1]._replace(source="photo confirmed", percent=0.0)
    rows = list(MEASUREMENTS.rows(ReportContent(record, MADE)))
    named = [row._asdict() for row in rows]
    assert [(each["coupon"], each["photo"]) for each in named] == [
        ("C01", "photo 1.jpg"), ("C02", "photo 1.jpg"), ("C03", "photo 1.jpg"), ("C04", "photo 1.jpg"),
        ("C01", "photo 2.jpg"), ("C03", "photo 2.jpg"),
    ]  # fmt: skip
    assert [each["accepted"] for each in named] == ["yes", "no", "no", "no", "no", "no"]
    assert named[0]["taken"] == START + timedelta(minutes=4)
    assert named[0]["inspected"] == START
    assert (named[3]["percent"], named[3]["grade"], named[3]["role"]) == (2.0, 5, "control")
    assert named[5]["percent"] is None
    assert named[5]["grade"] is None


def test_a_grade_taken_from_an_earlier_measurement_is_not_said_to_rest_on_the_newer_one() -> None:
    record = measured_board()
    record.current[3][1] = record.current[3][1]._replace(source="photo confirmed", percent=0.4)
    assert {row.accepted for row in MEASUREMENTS.rows(ReportContent(record, MADE))} == {"no"}


def test_while_an_inspection_is_graded_blind_no_measurement_since_its_day_is_told() -> None:
    record = measured_board()
    with_photo(record, None, {2: 0.3})  # nobody knows when that was taken
    at = record.inspections[4].at
    with_photo(record, None, {2: 0.3}, taken=at + timedelta(days=3))
    record.blind_inspections[1] = BlindInspection(4, "photo", 2, 0.0, MADE, key=1)
    assert {row.photo for row in MEASUREMENTS.rows(ReportContent(record, MADE))} == {"photo 1.jpg"}


def test_a_treatment_stands_with_the_cost_of_its_recipe() -> None:
    record = small_board()
    steps = (
        RecipeStep("brush", minutes=4.0),
        RecipeStep("coat", product="beeswax", quantity=2.0, unit="ml", container_price=10.0, container_quantity=1.0,
                   container_unit="l", minutes=6.0),
        RecipeStep("cure", minutes=600.0, hands_on=False),
    )  # fmt: skip
    record.recipes[1] = TreatmentRecipe(1, Recipe(steps, "abc", 3), 1)
    first, second = (row._asdict() for row in TREATMENTS.rows(ReportContent(record, MADE)))
    assert first["recipe"] == "1 brush; 2 coat (beeswax); 3 cure"
    assert first["recipe_cost_per_coupon"] == pytest.approx(0.02)
    assert (first["recipe_minutes_per_coupon"], first["recipe_waiting_minutes"]) == (10.0, 600.0)
    assert (first["recipe_cost_complete"], first["recipe_version"]) == ("yes", 3)
    assert (first["coupons"], first["coupon_ids"], first["cost_per_m2"]) == (2, "C01 C02", 3.1)
    assert (second["recipe_steps"], second["recipe"], second["recipe_cost_complete"]) == (0, "", "")


def test_a_day_is_a_date_and_what_is_not_known_is_blank() -> None:
    content = ReportContent(small_board(), MADE, days=DAYS)
    lines = READINGS.csv(content).splitlines()
    assert lines[1] == "2026-03-02,1.75,0.0,-6.25,,,,0.71875"
    assert lines[2] == "2026-03-03,,,,,,,0.0"
    sheet = pd.read_excel(io.BytesIO(sheet_of(content, READINGS)), sheet_name="Readings per day")
    assert sheet["day"].tolist()[0] == pd.Timestamp(datetime(2026, 3, 2))
