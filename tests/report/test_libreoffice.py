"""A program that is not openpyxl opens the workbook: same values, same charts, nothing runs."""

from __future__ import annotations

import csv
import os
import shutil
import subprocess
from pathlib import Path

import pytest
from openpyxl import load_workbook
from report_boards import MADE, hostile_board, planned_board, small_board
from workbook_reading import histories

from rustboard.report.content import ReportContent
from rustboard.report.workbook import write_workbook

BOARDS = {"small": small_board, "hostile": hostile_board, "planned": planned_board}
# Every sheet to a file of its own: comma, double quote, UTF-8, cells as text as they are, not as shown.
EVERY_SHEET = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1"


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with each board's workbook, what LibreOffice made of it in ``converted``, and its CSV files."""
    program = shutil.which("soffice")
    if program is None:
        if os.environ.get("CI"):
            pytest.fail("soffice (LibreOffice) is not installed, and CI must have it")
        pytest.skip("soffice (LibreOffice) is not installed")
    folder = tmp_path_factory.mktemp("office")
    for name, board in BOARDS.items():
        write_workbook(ReportContent(board(), MADE), folder / f"{name}.xlsx")
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    files = [str(folder / f"{name}.xlsx") for name in BOARDS]
    for kind in ("xlsx:Calc MS Excel 2007 XML", EVERY_SHEET):
        command = [
            program,
            profile,
            "--headless",
            "--convert-to",
            kind,
            "--outdir",
            str(folder / "converted"),
            *files,
        ]
        ran = subprocess.run(command, capture_output=True, text=True, timeout=240, check=False)
        assert ran.returncode == 0, ran.stderr
    return folder


def table(path: Path) -> list[tuple[object, ...]]:
    """The sheet of grades without the blank cells and rows that programs differ about."""
    rows = load_workbook(path)["Grades"].iter_rows(max_col=11, values_only=True)
    return [tuple(row) for row in rows if any(value is not None for value in row)]


@pytest.mark.parametrize("name", BOARDS)
def test_the_grades_come_back_with_the_same_values(office: Path, name: str) -> None:
    ours = table(office / f"{name}.xlsx")
    assert len(ours) > 10
    assert table(office / "converted" / f"{name}.xlsx") == ours


def test_the_charts_come_back_with_their_series_axes_and_titles(office: Path) -> None:
    ours = histories((office / "small.xlsx").read_bytes())
    theirs = histories((office / "converted" / "small.xlsx").read_bytes())
    assert len(ours) == 4
    by_title = {chart.title: chart for chart in theirs}
    assert set(by_title) == {chart.title for chart in ours}
    for chart in ours:
        other = by_title[chart.title]
        assert len(other.series) == len(chart.series)
        assert other.blanks_as == "gap"
        assert [(axis.title, axis.least, axis.most, axis.hidden) for axis in other.axes] == [
            (axis.title, axis.least, axis.most, False) for axis in chart.axes
        ]


def test_hostile_names_are_read_as_text(office: Path) -> None:
    workbook = load_workbook(office / "converted" / "hostile.xlsx")
    # The program's own formulas on the summary hold no name: see test_live_formulas.
    sheets = [each for each in workbook if each.title != "Summary"]
    kinds = {cell.data_type for sheet in sheets for row in sheet.iter_rows() for cell in row}
    assert "f" not in kinds
    assert "e" not in kinds
    assert workbook["Coupons"]["A2"].value == '=HYPERLINK("x")'


def test_the_grades_exported_as_csv_hold_the_same_text(office: Path) -> None:
    with (office / "converted" / "small-Grades.csv").open(encoding="utf-8", newline="") as lines:
        exported = list(csv.DictReader(lines))
    ours = table(office / "small.xlsx")
    assert [(row["coupon"], int(row["grade"])) for row in exported] == [(row[0], row[5]) for row in ours[1:]]


@pytest.mark.parametrize("name", BOARDS)
def test_the_sheets_are_all_there_in_their_order(office: Path, name: str) -> None:
    ours, theirs = (
        load_workbook(path).sheetnames for path in (office / f"{name}.xlsx", office / f"converted/{name}.xlsx")
    )
    assert theirs == ours
    assert ("Plan" in ours) == (name == "planned")


def test_the_plan_comes_back_with_the_same_values(office: Path) -> None:
    ours, theirs = (
        [[value for value in row if value is not None] for row in load_workbook(path)["Plan"].values]
        for path in (office / "planned.xlsx", office / "converted" / "planned.xlsx")
    )
    assert len(ours) > 40
    assert [row for row in theirs if row] == [row for row in ours if row]
