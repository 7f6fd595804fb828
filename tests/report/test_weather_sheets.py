"""The sheets of exposure, day log and loggers' files: when they are there and what they hold."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest
from openpyxl import Workbook, load_workbook
from report_boards import HOSTILE, MADE, START, BoardBuilder, small_board
from workbook_reading import SHEETS, opened, rows, texts

from rustboard.board.measured import Disturbance
from rustboard.board.record import BoardRecord
from rustboard.board.weather import DayNote, Site, WeatherFile
from rustboard.report.content import ReportContent
from rustboard.report.exposure_sheet import ExposureContent, ExposureLine
from rustboard.report.tidy import cell_text
from rustboard.report.workbook import workbook_bytes

WEEK = timedelta(days=7)
METHOD = "Method and cautions"


def line(number: int = 0, **known: float | None) -> ExposureLine:
    """A week of which nothing is known but what is given."""
    nothing = dict.fromkeys(ExposureLine._fields)
    shares = dict.fromkeys(("coverage", "by_logger", "by_hand", "rain_coverage"), 0.0)
    return ExposureLine(
        **{
            **nothing,
            **shares,
            "start": START + WEEK * number,
            "end": START + WEEK * (number + 1),
            "days": 7.0,
            **known,
        }
    )


def with_exposure(content: ExposureContent, record: BoardRecord | None = None) -> Workbook:
    board = record or small_board()
    return load_workbook(io.BytesIO(workbook_bytes(ReportContent(board, MADE, exposure=content))))


def logger_file(**changed: object) -> WeatherFile:
    """A file of a week without a flaw, but for what is given."""
    usual = WeatherFile(
        name="march.csv",
        sha256="0" * 64,
        logger="Porch",
        clock="",
        quantities=("temperature", "humidity"),
        count=1_009,
        first=START,
        last=START + WEEK,
        left_out=0,
        told=(),
        added="2026-03-10T08:00:00",
        content="1" * 64,
        key=1,
    )
    return replace(usual, **changed)  # type: ignore[arg-type]


def test_a_board_without_weather_has_none_of_these_sheets_and_no_words_on_it() -> None:
    workbook = opened(small_board())
    assert not {"Exposure", "Day log", "Weather files"} & set(workbook.sheetnames)
    assert not any("ISO 9223" in text for text in texts(workbook[METHOD]))


def test_they_stand_behind_the_means_in_their_order() -> None:
    record = small_board()
    record.weather_files[1] = logger_file()
    record.day_notes[1] = DayNote(date(2026, 3, 9), ("dry",), key=1)
    names = with_exposure(ExposureContent([line()], [line()]), record).sheetnames
    at = names.index("By inspection")
    assert names[at : at + 4] == ["By inspection", "Exposure", "Day log", "Weather files"]
    assert [each for each in names if each in SHEETS] == list(SHEETS)


def test_figures_stand_under_headings_with_units_and_what_is_not_known_is_empty() -> None:
    content = ExposureContent(
        [line(coverage=0.75, by_logger=0.75, wet_hours=40.25, wet_hours_by_logger=40.25, dew_hours=12.0)], [line()]
    )
    found = rows(with_exposure(content)["Exposure"])
    heads = next(number for number, row in enumerate(found) if row[0] == "From")
    shown = dict(zip(found[heads], found[heads + 1], strict=True))
    assert (shown["From"], shown["To"], shown["Days"]) == (START, START + WEEK, 7)
    assert (shown["Wet h"], shown["by logger h"], shown["by hand h"]) == (40.25, 40.25, None)
    assert shown["Rain mm"] is None
    assert shown["Dew h"] == 12
    assert found[heads - 1][found[heads].index("Dew h")] == "Estimated"
    assert found[heads - 1][found[heads].index("In all")] == "Wetness known"


def test_sums_since_the_start_have_a_part_of_their_own() -> None:
    found = rows(with_exposure(ExposureContent([line(), line(1)], [line(days=7.0), line(days=14.0)]))["Exposure"])
    first = [row[0] for row in found]
    apart = first.index("Since the start of exposure")
    assert first.index("By inspection") < apart
    assert [row[2] for row in found[apart + 3 : apart + 5]] == [7, 14]


def test_gaps_cautions_and_climate_are_sentences() -> None:
    content = ExposureContent(
        [line()], [], ["Mean temperature 7 °C."], ["Nothing from the 3rd to the 5th."], ["Beware."]
    )
    found = texts(with_exposure(content)["Exposure"])
    for heading, sentence in (
        ("Climate", "Mean temperature 7 °C."),
        ("Not known", "Nothing from the 3rd to the 5th."),
        ("Cautions", "Beware."),
    ):
        assert found[found.index(heading) + 1] == sentence


def test_without_an_inspection_the_sheet_says_so() -> None:
    found = texts(with_exposure(ExposureContent([], [], ["Mean temperature 7 °C."]))["Exposure"])
    assert "There is no inspection after the start of exposure yet." in found
    assert "Since the start of exposure" not in found


def test_the_day_log_has_days_and_what_happened_by_time() -> None:
    builder = BoardBuilder()
    builder.coupon("C1", "A1")
    record = builder.record
    record.day_notes[1] = DayNote(date(2026, 3, 9), ("dew", "rain"), 4.5, 11.0, -1.5, 9.0, "drizzle", 1)
    record.disturbances[1] = Disturbance(datetime(2026, 3, 8, 10, 30), "touched", 1, "moved a leaf", 1)
    record.disturbances[2] = Disturbance(datetime(2026, 3, 9, 7), "board moved", None, "", 2)
    head, *found = rows(opened(record)["Day log"])
    assert [row[2] for row in found] == ["C1", "weather", "the whole board"]
    assert [row[3] for row in found] == ["touched", "dew, rain", "board moved"]
    noted = dict(zip(head, found[1], strict=True))
    assert (noted["Day"], noted["Time"]) == (datetime(2026, 3, 9), None)
    assert (noted["Rain mm"], noted["Highest °C"], noted["Lowest °C"], noted["Wet h, noted"]) == (4.5, 11, -1.5, 9)


def test_a_logger_s_file_is_a_row_with_what_was_left_out() -> None:
    record = BoardBuilder().record
    told = tuple(f"Row {number}: no number." for number in range(1, 31))
    record.weather_files[1] = logger_file(left_out=500, told=told, clock="UTC")
    head, found = rows(opened(record)["Weather files"])
    shown = dict(zip(head, found, strict=True))
    assert (shown["Logger"], shown["File"], shown["Readings"], shown["Left out"]) == ("Porch", "march.csv", 1009, 500)
    assert (shown["From"], shown["To"], shown["Clock"]) == (START, START + WEEK, "UTC")
    assert shown["Read"] == "temperature, humidity"
    assert shown["Rows left out"].splitlines()[-1] == "and 480 more"


def test_the_method_says_by_which_set_and_assumptions_it_was_read() -> None:
    record = BoardBuilder().record
    record.weather_files[1] = logger_file()
    record.day_notes[1] = DayNote(date(2026, 3, 9), ("dew",), key=1)
    record.sites[1] = Site("Europe/Berlin", "Tetens", 6.0, 14.0, leave_out_stuck=True)
    said = " ".join(texts(opened(record)[METHOD]))
    for part in ("ISO 9223", "Tetens", "6 hours wet with dew", "14 with rain", "was left out", "Europe/Berlin"):
        assert part in said


@pytest.mark.parametrize("name", HOSTILE)
def test_what_a_user_wrote_stays_text(name: str) -> None:
    record = BoardBuilder().record
    record.weather_files[1] = logger_file(name=name, logger=name, told=(name,), left_out=1, added=name)
    record.day_notes[1] = DayNote(date(2026, 3, 9), note=name, key=1)
    workbook = opened(record)
    for sheet, column in (("Weather files", 1), ("Weather files", 2), ("Weather files", 10), ("Day log", 9)):
        cell = workbook[sheet].cell(2, column)
        assert cell.data_type == "s"
        assert cell.value == cell_text(name)
