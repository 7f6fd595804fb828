"""A program that is not openpyxl opens the workbook: same values, same charts, nothing runs."""

from __future__ import annotations

import csv
import os
import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree
from zipfile import ZipFile

import pytest
from openpyxl import Workbook, load_workbook
from pictured_boards import pictured
from report_boards import MADE, door_board, hostile_board, planned_board, small_board
from workbook_reading import XDR, chart_parts, histories

from rustboard.report.content import ReportContent
from rustboard.report.workbook import write_workbook
from rustboard.session.findings import FindingsAsked, first_findings, view_of
from rustboard.session.findings_report import findings_content
from rustboard.session.jobs import Progress

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
    write_workbook(whole_content(), folder / "whole.xlsx")
    for kind, more in (("xlsx:Calc MS Excel 2007 XML", ["whole"]), (EVERY_SHEET, [])):
        files = [str(folder / f"{name}.xlsx") for name in (*BOARDS, *more)]
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


def whole_content() -> ReportContent:
    """A report with everything that a workbook draws: findings, costs, pictures, several families."""
    record = door_board()
    findings = findings_content(first_findings(FindingsAsked(record, view_of(record)), Progress()))
    return replace(pictured(record), findings=findings)


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


@pytest.fixture(scope="module")
def whole(office: Path) -> tuple[Path, Path]:
    """The workbook with everything, and what LibreOffice made of it."""
    return office / "whole.xlsx", office / "converted" / "whole.xlsx"


@pytest.fixture(scope="module")
def books(whole: tuple[Path, Path]) -> tuple[Workbook, Workbook]:
    ours, theirs = map(load_workbook, whole)
    return ours, theirs


def charts_by_sheet(book: Workbook) -> dict[str, int]:
    return {sheet.title: len(sheet._charts) for sheet in book if sheet._charts}


def test_the_charts_of_every_sheet_come_back_with_titles_series_and_axes(
    whole: tuple[Path, Path], books: tuple[Workbook, Workbook]
) -> None:
    ours, theirs = books
    assert charts_by_sheet(ours) == {"Summary": 1, "History": 9, "Time to failing": 1, "Value": 2}
    assert charts_by_sheet(theirs) == charts_by_sheet(ours)
    first, second = ({each.title: each for each in chart_parts(path.read_bytes())} for path in whole)
    assert len(first) == 13
    assert "Mean of the last grades of the coupons that count" in first
    assert any(title.startswith("Family ") for title in first)
    assert set(second) == set(first)
    for title, chart in first.items():
        assert len(second[title].series) == len(chart.series)
        assert [(each.title, each.least, each.most, each.hidden) for each in second[title].axes] == [
            (each.title, each.least, each.most, False) for each in chart.axes
        ]


def told(path: Path, kind: str) -> list[str]:
    """What every picture, or every chart, of a workbook shows, in words."""
    with ZipFile(path) as package:
        names = [each for each in package.namelist() if re.fullmatch(r"xl/drawings/drawing\d+\.xml", each)]
        roots = [ElementTree.fromstring(package.read(each)) for each in names]
    return sorted(
        each.get("descr", "")
        for root in roots
        for frame in root.iter(f"{XDR}{kind}")
        for each in frame.iter(f"{XDR}cNvPr")
    )


def test_the_pictures_come_back_with_what_they_show_in_words(whole: tuple[Path, Path]) -> None:
    # Of charts that program reads the words and does not write them again: they are tested in our own file.
    ours, theirs = (told(path, "pic") for path in whole)
    assert len(ours) >= 21
    assert all(ours)
    assert theirs == ours


def test_every_chart_says_in_words_what_it_shows(whole: tuple[Path, Path]) -> None:
    words = told(whole[0], "graphicFrame")
    assert len(words) == 13
    assert all(words)


def links(book: Workbook) -> dict[tuple[str, str], tuple[object, str]]:
    """What is written in each cell that is a link, and where it leads."""
    return {
        (sheet.title, cell.coordinate): (cell.value, (cell.hyperlink.location or "").replace("'", "").lstrip("#"))
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.hyperlink
    }


def test_the_links_to_every_sheet_and_back_come_back(books: tuple[Workbook, Workbook]) -> None:
    ours, theirs = map(links, books)
    assert len(ours) == 2 * (len(books[0].sheetnames) - 1)
    assert theirs == ours


def test_every_table_and_print_area_comes_back(books: tuple[Workbook, Workbook]) -> None:
    ours, theirs = ({sheet.title: (sheet.print_area, dict(sheet.tables.items())) for sheet in book} for book in books)
    assert sum(len(tables) for _, tables in ours.values()) >= 8
    assert theirs == ours
