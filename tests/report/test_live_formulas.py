"""The formulas of the summary: their values are in the file, and another program works out the same."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pytest
from office import recalculated
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet
from report_boards import MADE, door_board, hostile_board, small_board

from rustboard.board.left_out import LeftOut
from rustboard.board.record import BoardRecord
from rustboard.report.content import ReportContent
from rustboard.report.live_figures import LiveFigures, figures_of, live_board
from rustboard.report.workbook import workbook_bytes
from rustboard.session.findings import FindingsAsked, first_findings, view_of
from rustboard.session.findings_report import findings_content
from rustboard.session.jobs import Progress


def content_of(record: BoardRecord) -> ReportContent:
    findings = findings_content(first_findings(FindingsAsked(record, view_of(record)), Progress()))
    return ReportContent(record, MADE, findings=findings)


def one_left_out() -> BoardRecord:
    record = door_board()
    key = record.coupons_in_order()[4].key
    record.left_out[1] = LeftOut(1, key, "fell off", "Ann", "2026-03-05T10:00:00")
    return record


BOARDS = {"small": small_board, "door": door_board, "hostile": hostile_board, "left_out": one_left_out}


def formulas(data: bytes) -> dict[tuple[str, str], str]:
    workbook = load_workbook(io.BytesIO(data))
    return {
        (sheet.title, cell.coordinate): str(cell.value)
        for sheet in workbook
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    }


def values(data: bytes, cells: list[tuple[str, str]]) -> list[object]:
    workbook = load_workbook(io.BytesIO(data), data_only=True)
    return [workbook[sheet][cell].value for sheet, cell in cells]


def table(sheet: Worksheet, name: str) -> list[tuple[object, ...]]:
    return [tuple(cell.value for cell in row) for row in sheet[sheet.tables[name].ref]][1:]


def as_shown(each: LiveFigures) -> tuple[object, ...]:
    found = (each.coupons, each.mean, each.sd, each.lowest, each.failed, each.rank)
    return tuple("–" if value is None else pytest.approx(value, abs=1e-9) for value in found)


@pytest.mark.parametrize("name", BOARDS)
def test_every_formula_has_its_value_in_the_file_and_none_is_an_error(name: str) -> None:
    data = workbook_bytes(content_of(BOARDS[name]()))
    cells = list(formulas(data))
    assert len(cells) > 10
    assert all(value is not None and not str(value).startswith("#") for value in values(data, cells))


def test_the_values_in_the_file_are_those_of_the_findings() -> None:
    content = content_of(one_left_out())
    assert content.findings is not None
    summary = load_workbook(io.BytesIO(workbook_bytes(content)), data_only=True)["Summary"]
    live = {row[0]: row for row in table(summary, "LiveTreatments")}
    for each in content.findings.ranked:
        assert live[each.treatment][3] == each.coupons
        assert live[each.treatment][7] == each.failed
        if "last grade" in content.findings.measure:
            assert live[each.treatment][4] == pytest.approx(each.mean)
            assert live[each.treatment][5] == ("–" if each.sd is None else pytest.approx(each.sd))


@pytest.mark.parametrize("failing_grade", range(11))
def test_a_coupon_first_fell_where_the_findings_have_it(failing_grade: int) -> None:
    record = door_board()
    view = replace(view_of(record), failing_grade=failing_grade)
    findings = first_findings(FindingsAsked(record, view), Progress())
    board = live_board(ReportContent(record, MADE, findings=findings_content(findings)))
    for each in board.coupons:
        before = findings.subject.all_measures[each.coupon.key].failure.before
        assert each.first_days[failing_grade] == (None if before is None else pytest.approx(before, abs=1e-4))


def test_no_formula_needs_array_entry_nor_changes_by_itself_nor_holds_a_name() -> None:
    for record in (hostile_board(), door_board()):
        names = [each.name for each in record.treatments.values() if len(each.name) > 5]
        for formula in formulas(workbook_bytes(content_of(record))).values():
            assert formula.startswith("=")
            assert "{" not in formula
            assert not any(each in formula for each in ("_xlfn", "NOW(", "TODAY(", "RAND", "OFFSET(", "INDIRECT("))
            assert not any(each in formula for each in names)


def test_the_cells_to_change_take_only_what_the_formulas_understand() -> None:
    sheet = load_workbook(io.BytesIO(workbook_bytes(content_of(door_board()))))["Summary"]
    kinds = {each.type: each for each in sheet.data_validations.dataValidation}
    assert (kinds["whole"].formula1, kinds["whole"].formula2) == ("0", "10")
    assert kinds["list"].formula1 == '"yes,no"'
    first, *_, last = (row for row in sheet[sheet.tables["LiveCoupons"].ref][1:])
    assert str(kinds["list"].sqref) == f"{first[5].coordinate}:{last[5].coordinate}"


@pytest.fixture(scope="module")
def again(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Each board's workbook as it is written, and the door board's changed; what LibreOffice makes of each."""
    folder = tmp_path_factory.mktemp("recalculated")
    for name, board in BOARDS.items():
        (folder / f"{name}.xlsx").write_bytes(workbook_bytes(content_of(board())))
    workbook = load_workbook(folder / "door.xlsx")
    sheet = workbook["Summary"]
    for row in range(1, sheet.max_row + 1):
        if str(sheet.cell(row, 1).value).startswith("Failing grade"):
            sheet.cell(row, 2).value = 5
    counts = [row[5] for row in sheet[sheet.tables["LiveCoupons"].ref][1:]]
    for each in (counts[0], counts[9], counts[20]):
        each.value = "no"
    workbook.save(folder / "changed.xlsx")
    recalculated([*(folder / f"{name}.xlsx" for name in BOARDS), folder / "changed.xlsx"], folder)
    return folder


@pytest.mark.parametrize("name", BOARDS)
def test_another_program_works_out_what_the_file_holds(again: Path, name: str) -> None:
    ours = (again / f"{name}.xlsx").read_bytes()
    theirs = (again / "converted" / f"{name}.xlsx").read_bytes()
    cells = list(formulas(ours))
    assert set(cells) == set(formulas(theirs))
    for cell, mine, other in zip(cells, values(ours, cells), values(theirs, cells), strict=True):
        expected = pytest.approx(mine, abs=1e-9) if isinstance(mine, int | float) else mine
        assert other == expected, cell


def test_with_another_failing_grade_and_without_three_coupons_it_works_out_what_we_do(again: Path) -> None:
    board = live_board(content_of(door_board()))
    keys = [each.coupon.key for each in board.coupons]
    counting = set(keys) - {keys[0], keys[9], keys[20]}
    sheet = load_workbook(again / "converted" / "changed.xlsx", data_only=True)["Summary"]
    expected = figures_of(board, 5, counting)
    assert [row[3:] for row in table(sheet, "LiveTreatments")] == [as_shown(each) for each in expected]
    days = [each.first_days[5] for each in board.coupons]
    assert [row[6] for row in table(sheet, "LiveCoupons")] == [
        "not yet" if day is None else pytest.approx(day) for day in days
    ]
    assert expected != figures_of(board, board.failing_grade, set(keys)), "the change has to change something"
