"""What becomes of single rows and cells: kept, told, left out, counted."""

from __future__ import annotations

from datetime import datetime

import pytest
from logger_files import read_as_guessed, readings

from rustboard.board.weather import MOST_TOLD
from rustboard.support.problems import InputError
from rustboard.weather.logger_file.decode import decode_logger_file
from rustboard.weather.logger_file.guess import guess_options
from rustboard.weather.logger_file.options import Column, FileOptions
from rustboard.weather.logger_file.preview import preview
from rustboard.weather.logger_file.read import ReadLoggerFile, read_logger_file

HEAD = "time,Temperature (°C),Humidity (%),Rain (mm)\n"
COLUMNS = (
    Column("time", "time"),
    Column("Temperature (°C)", "temperature", "C"),
    Column("Humidity (%)", "humidity", "%"),
    Column("Rain (mm)", "rain", "mm"),
)
PLAIN = FileOptions(",", ".", 1, 1, "day first", COLUMNS)


def read(rows: str, options: FileOptions = PLAIN) -> ReadLoggerFile:
    return read_logger_file(decode_logger_file((HEAD + rows).encode(), "log.csv"), options)


def test_a_bad_cell_is_told_with_row_and_title_and_the_rest_of_its_row_is_kept() -> None:
    found = read("2026-03-02 10:00,1,60,0\n2026-03-02 10:10,12x,61,0\n")
    assert readings(found)[1] == ("2026-03-02 10:10:00", {"humidity": 61, "rain": 0})
    assert [each.sentence() for each in found.told] == [
        "log.csv, row 3, column Temperature (°C): “12x” is not a number; the reading was left out."
    ]
    assert (found.left_out, found.unusable["temperature"], found.missing["temperature"]) == (0, 1, 0)


def test_a_row_without_a_time_or_without_any_number_is_left_out_and_told() -> None:
    found = read("soon,1,60,0\n2026-13-02 10:00,1,60,0\n2026-03-02 10:00,,,\n2026-03-02 10:10,1,,\n")
    assert len(found.table) == 1
    assert found.left_out == 3
    assert [each.row for each in found.told] == [2, 3, 4]
    assert "“soon” is not a date and time" in found.told[0].what
    assert "2026-13-02" in found.told[1].what
    assert found.told[2].what == "The row holds no reading and was left out."


@pytest.mark.parametrize(
    "mark", ["-999", "-9999.0", "NaN", "NA", "n/a", "---", "", "null", '"--"', " - ", "9999", "#N/A"]
)
def test_marks_for_no_reading_are_missing_and_no_problem(mark: str) -> None:
    found = read(f"2026-03-02 10:00,1,60,0\n2026-03-02 10:10,{mark},61,0\n")
    assert found.told == ()
    assert (found.missing["temperature"], found.unusable["temperature"]) == (1, 0)
    assert readings(found)[1] == ("2026-03-02 10:10:00", {"humidity": 61, "rain": 0})


@pytest.mark.parametrize(
    ("cell", "column"), [("71,60,0", 1), ("1,106,0", 2), ("1,-1,0", 2), ("1,60,501", 3), ("1,60,-1", 3)]
)
def test_what_cannot_be_true_is_told_and_left_out(cell: str, column: int) -> None:
    found = read(f"2026-03-02 10:00,{cell}\n2026-03-02 10:10,1,60,0\n")
    (told,) = found.told
    assert (told.row, told.column) == (2, COLUMNS[column].title)
    assert len(readings(found)[0][1]) == 2


def test_humidity_a_little_above_100_is_100() -> None:
    found = read("2026-03-02 10:00,1,104.9,0\n")
    assert found.told == ()
    assert readings(found)[0][1]["humidity"] == 100


def test_a_point_in_a_file_with_decimal_commas_is_no_number() -> None:
    options = FileOptions(";", ",", 0, 0, "day first", COLUMNS[:2])
    text = decode_logger_file(b"02.03.2026 10:00;1.024,5\n02.03.2026 10:10;1,5\n02.03.2026 10:20;1.5\n")
    found = read_logger_file(text, options)
    assert readings(found) == [("2026-03-02 10:10:00", {"temperature": 1.5})]
    assert all("decimal mark is a comma" in each.what for each in found.told)
    assert found.left_out == 2


def test_endless_and_true_are_no_numbers() -> None:
    found = read("2026-03-02 10:00,inf,True,0\n2026-03-02 10:10,1e999,True,0\n")
    assert [len(values) for _, values in readings(found)] == [1, 1]
    assert found.unusable == {"temperature": 2, "humidity": 2, "rain": 0}


def test_repeated_times_are_kept_and_counted() -> None:
    row = "2026-03-02 10:00,1,60,0\n"
    found = read(row + row + row + "2026-03-02 10:00,2,60,0\n2026-03-02 10:10,1,,0\n2026-03-02 10:10,1,,0\n")
    assert (len(found.table), found.repeated_times, found.repeated_rows) == (6, 4, 3)


def test_quotation_marks_that_nobody_closed_cost_no_row() -> None:
    found = read('2026-03-02 10:00,1,"60,0\n2026-03-02 10:10,2,60,0\n"2026-03-02 10:20",3,"60","0"\n')
    assert [values["temperature"] for _, values in readings(found)] == [1, 2, 3]


def test_rows_longer_and_shorter_than_the_titles() -> None:
    found = read("2026-03-02 10:00,1\n2026-03-02 10:10,2,60,0,7,8,9\n")
    assert readings(found) == [
        ("2026-03-02 10:00:00", {"temperature": 1}),
        ("2026-03-02 10:10:00", {"temperature": 2, "humidity": 60, "rain": 0}),
    ]


def test_many_bad_rows_are_counted_and_the_first_told() -> None:
    found = read("2026-03-02 10:00,1,60,0\n" + "bad,1,60,0\n" * (MOST_TOLD + 50))
    assert (found.left_out, len(found.told)) == (MOST_TOLD + 50, MOST_TOLD)


def test_no_row_at_all_is_refused_with_the_first_reason() -> None:
    with pytest.raises(InputError, match=r"No row can be used.*row 2, column time"):
        read("bad,1,60,0\n")
    with pytest.raises(InputError, match="no row below the titles"):
        read("")


@pytest.mark.parametrize(
    ("columns", "said"),
    [
        (COLUMNS[1:], "No column holds the time"),
        (COLUMNS[:1], "No column holds readings"),
        ((COLUMNS[0], COLUMNS[1], COLUMNS[1]), "Two columns are said to hold the temperature"),
        ((Column("d", "date"), COLUMNS[1]), "No column holds the time"),
        ((COLUMNS[0], Column("d", "date"), COLUMNS[1]), "Choose one column with date and time"),
        ((COLUMNS[0], Column("t", "temperature", "mm")), "cannot have the unit"),
    ],
)
def test_options_by_which_nothing_can_be_read_are_refused(columns: tuple[Column, ...], said: str) -> None:
    with pytest.raises(InputError, match=said):
        read("2026-03-02 10:00,1,60,0\n", FileOptions(",", ".", 1, 1, "day first", columns))


@pytest.mark.parametrize(
    ("clock", "shown"),
    [
        ("UTC", "2026-03-02 08:00:00"),
        ("UTC+01:00", "2026-03-02 09:00:00"),
        ("UTC-05:30", "2026-03-02 02:30:00"),
        ("Europe/Berlin", "2026-03-02 10:00:00"),
        ("", "2026-03-02 10:00:00"),
    ],
)
def test_an_offset_counts_where_the_clock_is_a_fixed_one(clock: str, shown: str) -> None:
    found = read("2026-03-02T10:00+02:00,1,60,0\n", FileOptions(",", ".", 1, 1, "day first", COLUMNS, clock))
    assert readings(found)[0][0] == shown


def test_the_order_of_dates_can_be_changed_by_a_person() -> None:
    rows = "02/03/2026 10:00,1,60,0\n"
    assert readings(read(rows))[0][0] == "2026-03-02 10:00:00"
    options = FileOptions(",", ".", 1, 1, "month first", COLUMNS)
    assert readings(read(rows, options))[0][0] == "2026-02-03 10:00:00"


def test_times_of_a_thousand_shapes_and_more_are_left_out_not_lost_in_silence() -> None:
    words = ["x" * (1 + number % 37) + "y" * (number // 37) for number in range(1_200)]
    found = read("2026-03-02 10:00,1,60,0\n" * 3 + "".join(f"{each},1,60,0\n" for each in words))
    assert (len(found.table), found.left_out) == (3, 1_200)


def test_a_time_longer_than_all_others_is_read_or_told() -> None:
    rows = "".join(f"2026-03-02 {minute // 60:02}:{minute % 60:02},1,60,0\n" for minute in range(500))
    long = "Monday 02 March 2026 20:00:00 +00:00,1,60,0\n2026-03-02 21:00 and a remark that has no end,1,60,0\n"
    found = read(rows[: len(rows) // 2] + rows[len(rows) // 2 :].replace("\n", "\n" + long, 1))
    assert "2026-03-02 20:00:00" in [when for when, _ in readings(found)]
    assert (len(found.table), found.left_out) == (501, 1)
    assert "and a remark" in found.told[0].what


def test_the_preview_shows_cells_and_what_they_mean() -> None:
    text = decode_logger_file((HEAD + "\n2026-03-02 10:00,1.5,106\n2026-03-02 25:00,x,60,0.2,9\n").encode())
    first, second = preview(text, PLAIN)
    assert (first.row, first.cells) == (3, ("2026-03-02 10:00", "1.5", "106", ""))
    assert (first.when, first.values) == (
        datetime(2026, 3, 2, 10),
        {"temperature": 1.5, "humidity": None, "rain": None},
    )
    assert (second.when, second.values) == (None, {"temperature": None, "humidity": 60, "rain": 0.2})


def test_the_preview_says_the_same_as_the_reading() -> None:
    text = decode_logger_file(
        "Datum;Uhrzeit;Temp °F;Regen in\n13.03.2026;1:05 PM;50;0,1\n13.03.2026;1:15 PM;-999;0,2\n".encode()
    )
    options = guess_options(text).options
    shown = [
        (each.when, {name: v for name, v in each.values.items() if v is not None}) for each in preview(text, options)
    ]
    wanted = readings(read_logger_file(text, options))
    assert [str(when) for when, _ in shown] == [when for when, _ in wanted]
    assert [{name: round(value, 3) for name, value in values.items()} for _, values in shown] == [
        v for _, v in wanted
    ]


def test_the_preview_takes_half_made_options() -> None:
    text = decode_logger_file(b"time,t\n2026-03-02 10:00,1\n")
    options = FileOptions(",", ".", 1, 1, "day first", (Column("time", "date"), Column("t")))
    (row,) = preview(text, options)
    assert (row.when, row.values) == (None, {})


def test_a_role_given_to_another_column_is_taken_from_the_first() -> None:
    options = PLAIN.with_column(3, "temperature", "mm")
    assert [each.role for each in options.columns] == ["time", "ignored", "humidity", "temperature"]
    assert options.columns[3].unit == "C"


def test_guessing_and_reading_agree_on_the_rows_above() -> None:
    found = read_as_guessed("\n\nstation;x\n\ntime;temp C\n;C\n2026-03-02 10:00;bad\n2026-03-02 10:10;1\n")
    assert [each.row for each in found.told] in ([7], [])
    assert len(found.table) == 1
