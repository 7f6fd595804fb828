"""A program that is not openpyxl opens maps, photos and data: pictures, their words and the tables survive."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree
from zipfile import ZipFile

import pytest
from office import converted
from openpyxl import load_workbook
from pictured_boards import pictured
from PIL import Image
from report_boards import hostile_board
from test_data_tables import DAYS, measured_board

from rustboard.report.data_tables import DATA_TABLES
from rustboard.report.workbook import write_workbook

XDR = "{http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing}"
BOARDS = {"measured": measured_board, "hostile": hostile_board}


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with each board's workbook, and what LibreOffice made of it in ``converted``."""
    folder = tmp_path_factory.mktemp("office")
    for name, board in BOARDS.items():
        write_workbook(replace(pictured(board()), days=DAYS), folder / f"{name}.xlsx")
    converted([folder / f"{name}.xlsx" for name in BOARDS], "xlsx:Calc MS Excel 2007 XML", folder)
    return folder


def told(path: Path) -> list[str]:
    """What every picture of a workbook shows, in words, drawing by drawing."""
    with ZipFile(path) as package:
        drawings = sorted(each for each in package.namelist() if re.fullmatch(r"xl/drawings/drawing\d+\.xml", each))
        roots = [ElementTree.fromstring(package.read(each)) for each in drawings]
    pictures = [each for root in roots for each in root.iter(f"{XDR}pic")]
    return sorted(each.get("descr", "") for picture in pictures for each in picture.iter(f"{XDR}cNvPr"))


def pixels(path: Path) -> list[tuple[tuple[int, int], tuple[int, ...]]]:
    """Size and colour in the middle of every picture."""
    found = []
    with ZipFile(path) as package:
        for name in package.namelist():
            if name.startswith("xl/media/"):
                image = Image.open(io.BytesIO(package.read(name))).convert("RGB")
                found.append((image.size, image.getpixel((image.width // 2, image.height // 2))))
    return sorted(found)


@pytest.mark.parametrize("name", BOARDS)
def test_every_picture_comes_back_with_what_it_shows_in_words(office: Path, name: str) -> None:
    ours, theirs = told(office / f"{name}.xlsx"), told(office / "converted" / f"{name}.xlsx")
    assert len(ours) >= 18
    assert all(ours)
    assert theirs == ours


def test_the_pictures_come_back_with_their_pixels(office: Path) -> None:
    ours, theirs = pixels(office / "measured.xlsx"), pixels(office / "converted" / "measured.xlsx")
    assert len(ours) == 18
    assert set(theirs) == set(ours)  # of pictures that are alike that program keeps one


@pytest.mark.parametrize("name", BOARDS)
def test_the_pictures_stay_in_their_cells(office: Path, name: str) -> None:
    ours, theirs = (load_workbook(office / path) for path in (f"{name}.xlsx", f"converted/{name}.xlsx"))
    for sheet in ours:
        first, second = (
            sorted((each.anchor._from.row, each.anchor._from.col) for each in book[sheet.title]._images)
            for book in (ours, theirs)
        )
        assert first == second


@pytest.mark.parametrize("name", BOARDS)
@pytest.mark.parametrize("table", DATA_TABLES, ids=[each.sheet for each in DATA_TABLES])
def test_the_tables_come_back_with_their_names_ranges_and_values(office: Path, name: str, table) -> None:
    ours, theirs = (load_workbook(office / path) for path in (f"{name}.xlsx", f"converted/{name}.xlsx"))
    assert (table.sheet in ours.sheetnames) == (table.sheet in theirs.sheetnames)
    if table.sheet not in ours.sheetnames:
        assert name == "hostile"  # where nothing was measured
        return
    first, second = (book[table.sheet].tables[table.name] for book in (ours, theirs))
    assert first.ref == second.ref
    assert [each.name for each in first.tableColumns] == [each.name for each in second.tableColumns]
    rows = [
        [
            tuple(map(to_fifteen_digits, row))
            for row in book[table.sheet].iter_rows(max_col=len(table.columns), values_only=True)
        ]
        for book in (ours, theirs)
    ]
    assert [row for row in rows[0] if any(row)] == [row for row in rows[1] if any(row)]


def to_fifteen_digits(value: object) -> object:
    """Return a value as that program writes it: it keeps fifteen digits of a number."""
    return float(f"{value:.15g}") if isinstance(value, float) else value


def test_each_map_is_one_page_and_the_print_areas_stay(office: Path) -> None:
    ours, theirs = (load_workbook(office / path) for path in ("measured.xlsx", "converted/measured.xlsx"))
    for sheet in ours:
        assert theirs[sheet.title].print_area == sheet.print_area
        if sheet.title.startswith("Board map"):
            setup = theirs[sheet.title].page_setup
            assert (setup.fitToWidth, setup.fitToHeight) == (1, 1)
