"""``rustboard report``: the workbook by command."""

from __future__ import annotations

import csv
import io
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pandas as pd
import pytest
from command_line import Rustboard, plan_text

from rustboard.board.model import Inspection
from rustboard.operations.blind import BlindChoice, GivenBlind, begin_round, give_blind, start_blind
from rustboard.operations.inspections import add_inspection
from rustboard.report.choice import ReportChoice, Shop
from rustboard.session.report_choices import USUAL_FORMS, ReportChoices
from rustboard.session.session import Session


def test_the_workbook_is_written_and_said_to_be(rustboard: Rustboard, graded_board: Path, tmp_path: Path) -> None:
    target = tmp_path / "Yard.xlsx"
    finished = rustboard("report", graded_board, "-o", target, "--json")
    assert (finished.code, finished.err) == (0, "")
    assert finished.data == {
        "board": "Yard fence",
        "file": str(target),
        "files": [str(target)],
        "coupons": 3,
        "inspections": 2,
        "grades": 5,
        "hidden": None,
        "problems": [],
    }
    assert target.read_bytes()[:2] == b"PK"


def test_the_grades_sheet_equals_the_csv(rustboard: Rustboard, tmp_path: Path) -> None:
    # Pandas reads both; what a workbook holds as a date or number, the CSV holds as text of the same meaning.
    hostile = ['=HYPERLINK("x")', "+1", "🛠️ 錆", "n" * 400, "00012", "1e5", "TRUE", "plain"]
    coupons = [{"id": each, "position": f"A{number}"} for number, each in enumerate(hostile, 1)]
    plan, typed, board = tmp_path / "plan.json", tmp_path / "typed.csv", tmp_path / "board"
    plan.write_text(plan_text(board={"name": "Hostile"}, coupons=coupons), encoding="utf-8")
    assert rustboard("new", board, "--plan", plan).code == 0
    with typed.open("w", encoding="utf-8", newline="") as stream:
        rows = csv.writer(stream)
        rows.writerow(["date", "coupon", "grade", "distribution", "percent", "note"])
        for day in (2, 9, 16):
            rows.writerows(
                [f"2026-03-{day:02}T09:30", each, 9, "S", 0.02 if day == 9 else "", each] for each in hostile
            )
    assert rustboard("add-grades", board, typed).code == 0
    target = tmp_path / "board.xlsx"
    assert rustboard("report", board, "-o", target).code == 0

    table = rustboard("grades", board, "--csv").out
    kinds = {"grade": "int64", "percent": "float64"}
    texts = [name for name in table.splitlines()[0].split(",") if name not in {*kinds, "inspected"}]
    reading = {"dtype": kinds | dict.fromkeys(texts, "str"), "keep_default_na": False, "na_values": {"percent": [""]}}
    from_csv = pd.read_csv(io.StringIO(table), parse_dates=["inspected"], **reading)
    from_workbook = pd.read_excel(target, sheet_name="Grades", **reading)
    assert len(from_csv) == 3 * len(hostile)
    pd.testing.assert_frame_equal(from_workbook, from_csv, check_dtype=True)


def test_a_hidden_inspection_is_named_and_its_grades_are_neither_printed_nor_written(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path
) -> None:
    before = rustboard("grades", graded_board, "--json").data
    with closing(Session(graded_board)) as session:
        (inspection,) = session.do(add_inspection, Inspection(datetime(2026, 3, 16, 9))).tables["inspection"]
        (blind,) = session.do(start_blind, BlindChoice(inspection, "bench")).tables["blind_inspection"]
        (key,) = session.do(begin_round, blind, "Ada", 7).tables["blind_round"]
        session.do(give_blind, GivenBlind(key, 0, 3, note="seen blind"))
    assert rustboard("grades", graded_board, "--json").data == before
    target = tmp_path / "Yard.xlsx"
    finished = rustboard("report", graded_board, "-o", target)
    assert (finished.code, finished.err) == (0, "")
    assert finished.out.splitlines() == [
        f"The workbook of Yard fence is {target}",
        "The inspection of 2026-03-16 09:00 is being graded blind and still hidden; its blind grades are not in yet.",
    ]
    assert rustboard("report", graded_board, "-o", target, "--json").data["hidden"] == "2026-03-16T09:00:00"
    sheets = pd.read_excel(target, sheet_name=None, header=None)
    assert not any((sheet == "seen blind").any(axis=None) for sheet in sheets.values())
    assert rustboard("check", graded_board).code == 0


@pytest.mark.parametrize("name", ["board.rustboard", "workbook.xls", "workbook", ".xlsx"])
def test_a_name_that_is_no_report_s_is_refused(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path, name: str
) -> None:
    before = (graded_board / "board.rustboard").read_bytes()
    finished = rustboard("report", graded_board, "-o", graded_board / name)
    assert finished.code == 2
    assert finished.sentences == [f"{name}: A report's name ends in .xlsx or .pdf; give it one of these endings."]
    assert (graded_board / "board.rustboard").read_bytes() == before


def test_an_older_workbook_is_replaced_also_while_a_window_has_the_board(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path
) -> None:
    target = tmp_path / "Yard.XLSX"
    target.write_bytes(b"last week's")
    with closing(Session(graded_board)):
        assert rustboard("report", graded_board, "-o", target).code == 0
    assert target.read_bytes()[:2] == b"PK"
    assert sorted(each.name for each in tmp_path.iterdir()) == ["Yard fence", "Yard.XLSX", "plan.json", "typed.csv"]


def test_a_place_that_cannot_be_written_is_named(rustboard: Rustboard, graded_board: Path, tmp_path: Path) -> None:
    (tmp_path / "folder.xlsx").mkdir()
    for target in (tmp_path / "folder.xlsx", tmp_path / "nowhere" / "b.xlsx", tmp_path / f"{'n' * 300}.xlsx"):
        finished = rustboard("report", graded_board, "-o", target)
        assert finished.code == 2
        assert len(finished.sentences) == 1
        assert finished.err.startswith(target.name[:200])


# ---- the other forms, and what is chosen


def test_all_forms_are_written_at_once_and_listed(rustboard: Rustboard, graded_board: Path, tmp_path: Path) -> None:
    wanted = {
        "-o": tmp_path / "Yard.xlsx",
        "--one-page": tmp_path / "page.svg",
        "--board-picture": tmp_path / "board.png",
        "--timeline-picture": tmp_path / "timeline.svg",
        "--csv": tmp_path / "data",
    }
    options = [each for pair in wanted.items() for each in pair]
    finished = rustboard("report", graded_board, *options, "-o", tmp_path / "Yard.pdf", "--json")
    assert (finished.code, finished.err) == (0, "")
    files = [Path(each) for each in finished.data["files"]]
    assert all(each.stat().st_size > 0 for each in files)
    single = {each.name for each in files if each.parent == tmp_path}
    assert single == {"Yard.xlsx", "Yard.pdf", "page.svg", "page.txt", "board.png", "timeline.svg"}
    assert {each.name for each in files if each.parent == tmp_path / "data"} >= {"grades.csv"}
    assert (tmp_path / "Yard.pdf").read_bytes()[:5] == b"%PDF-"
    assert (tmp_path / "board.png").read_bytes()[1:4] == b"PNG"
    assert b"<svg" in (tmp_path / "timeline.svg").read_bytes()
    assert b"<svg" in (tmp_path / "page.svg").read_bytes()


def test_without_the_whole_report_another_form_is_enough(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path
) -> None:
    finished = rustboard("report", graded_board, "--csv", tmp_path / "data")
    assert finished.code == 0
    assert finished.out == f"The data of Yard fence is {tmp_path / 'data'}\n"
    assert (tmp_path / "data" / "grades.csv").exists()


def sheets(path: Path) -> set[str]:
    with pd.ExcelFile(path) as book:
        return set(book.sheet_names)


def test_parts_are_named_or_left_out(rustboard: Rustboard, graded_board: Path, tmp_path: Path) -> None:
    whole, some, less = (tmp_path / f"{name}.xlsx" for name in ("whole", "some", "less"))
    assert rustboard("report", graded_board, "-o", whole).code == 0
    assert rustboard("report", graded_board, "-o", some, "--parts", "Map, method").code == 0
    assert rustboard("report", graded_board, "-o", less, "--without", "map").code == 0
    assert sheets(some) < sheets(whole)
    assert "Grades" in sheets(less)
    assert sheets(less) < sheets(whole)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--parts", "map,magic"], "--parts knows no “magic”"),
        (["--without", ",".join(["summary", "sorcery"])], "--without knows no “sorcery”"),
        (["--parts", "map", "--without", "map"], "No part of the report is left"),
        (["--writing", "runes"], "--writing knows no “runes”; it knows “iso”"),
        (["--paper", "papyrus"], "it knows “A4”, “Letter”"),
        (["--clock", "sand"], "--clock knows no “sand”"),
        (["--clock", "rain"], "This board cannot be told by “rain” yet; it can be by “days”, “controls”."),
        (["--one-page", "page.gif"], "must end in .pdf, .png or .svg"),
        (["--board-picture", "board.pdf"], "must end in .png or .svg"),
        (["--one-page", "Yard.pdf", "-o", "Yard.pdf"], "Two forms cannot go to one file"),
    ],
)
def test_what_cannot_be_chosen_is_refused_and_nothing_is_written(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, options, words: str
) -> None:
    monkeypatch.chdir(tmp_path)
    before = sorted(tmp_path.iterdir())
    finished = rustboard("report", graded_board, "-o", "Yard.xlsx", *options)
    assert finished.code == 2
    assert len(finished.sentences) == 1
    assert words in finished.err
    assert sorted(tmp_path.iterdir()) == before


def test_scripts_write_everything_whatever_was_chosen_in_the_window_unless_they_ask(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path
) -> None:
    chosen = ReportChoice(parts=frozenset({"map"}), clock="rain")
    ReportChoices().remember("ada &  SÖHNE", chosen, USUAL_FORMS)
    plain, asked, both = (tmp_path / f"{name}.xlsx" for name in ("plain", "asked", "both"))
    assert rustboard("report", graded_board, "-o", plain).code == 0
    assert rustboard("report", graded_board, "-o", asked, "--customer-choice").code == 0
    assert rustboard("report", graded_board, "-o", both, "--customer-choice", "--parts", "data").code == 0
    assert sheets(asked) < sheets(plain)
    assert "Grades" in sheets(both) - sheets(asked)


def test_a_workbook_open_elsewhere_is_left_alone_and_a_free_name_is_said(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path
) -> None:
    target = tmp_path / "Yard.xlsx"
    target.write_bytes(b"last week's")
    (tmp_path / ".~lock.Yard.xlsx#").write_text("Mara,mara,desk,;", encoding="utf-8")
    finished = rustboard("report", graded_board, "-o", target, "--csv", tmp_path / "data")
    assert finished.code == 2
    assert ".~lock.Yard.xlsx#" in finished.err
    assert "Yard (2).xlsx is free." in finished.err
    assert target.read_bytes() == b"last week's"
    assert not (tmp_path / "data").exists()


def test_the_shop_s_damaged_logo_is_told_and_the_report_is_written(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path
) -> None:
    choices = ReportChoices()
    choices.keep_shop(Shop("Salt & Sons", "", b"the bytes of a picture"))
    choices._logo_path().write_bytes(b"something else")
    finished = rustboard("report", graded_board, "-o", tmp_path / "Yard.xlsx")
    assert finished.code == 1
    assert "logo" in finished.err
    assert (tmp_path / "Yard.xlsx").exists()


def test_two_forms_that_meet_in_one_file_through_a_link_are_refused(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path
) -> None:
    link = tmp_path / "page.pdf"
    link.symlink_to(tmp_path / "whole.pdf")
    answer = rustboard("report", graded_board, "-o", tmp_path / "whole.pdf", "--one-page", link)
    assert answer.code != 0
    assert "Two forms cannot go to one file" in answer.err
    assert not (tmp_path / "whole.pdf").exists()


@pytest.mark.parametrize("own", ["photos", "backups"])
def test_a_report_never_replaces_a_photo_or_a_backup_of_the_board(
    rustboard: Rustboard, graded_board: Path, own: str
) -> None:
    kept = graded_board / own / "20260302-090000-0011223344556677.png"
    kept.parent.mkdir(exist_ok=True)
    kept.write_bytes(b"the only copy")
    answer = rustboard("report", graded_board, "--board-picture", kept)
    assert answer.code != 0
    assert "This folder is for the board's own files" in answer.err
    assert kept.read_bytes() == b"the only copy"
    assert rustboard("report", graded_board, "--csv", graded_board / own).code != 0
