"""``rustboard grades`` and ``rustboard add-grades``."""

from __future__ import annotations

import csv
import io
import json
import math
import os
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from command_line import PLAN, Rustboard, plan_text

from rustboard.app.commands.plain_table import plain_table, terminal_width
from rustboard.app.commands.printing import as_json_text
from rustboard.report.tidy import COLUMNS
from rustboard.session.session import Session

TABLE = """\
coupon  position  treatment  role     inspected         grade  distribution  percent  grader  source  note
C01     A1        T1         test     2026-03-02 09:00     10                         Ada     eye
C02     A2        T2         test     2026-03-02 09:00     10                      0  Ada     eye
C01     A1        T1         test     2026-03-09 09:30      9  S                0.02  Ada     eye     rain, then sun
C02     A2        T2         test     2026-03-09 09:30      7  P                      Ada     eye
C03     B1                   control  2026-03-09 09:30      2  G                21.5  Ada     eye
"""
HOSTILE = [
    '=HYPERLINK("x")',
    "+1",
    "🛠️ 錆びた釘",
    "n" * 400,
    "bell\x07 and \x1b[31mred\x9b31m",
    "right\u202eto left",
    "two\nlines",
]


def everything_in(folder: Path) -> dict[str, bytes]:
    return {str(each.relative_to(folder)): each.read_bytes() for each in folder.rglob("*") if each.is_file()}


def test_the_table_for_people_is_aligned_and_leaves_silent_columns_out(
    rustboard: Rustboard, graded_board: Path
) -> None:
    finished = rustboard("grades", graded_board)
    assert finished.code == 0
    assert finished.out == TABLE


def test_json_has_the_promised_keys_in_their_order(rustboard: Rustboard, graded_board: Path) -> None:
    rows = rustboard("grades", graded_board, "--json").data
    assert len(rows) == 5
    assert {tuple(row) for row in rows} == {COLUMNS}
    assert rows[2] == {
        "coupon": "C01",
        "position": "A1",
        "treatment": "T1",
        "role": "test",
        "inspected": "2026-03-09T09:30:00",
        "grade": 9,
        "distribution": "S",
        "percent": 0.02,
        "grader": "Ada",
        "source": "eye",
        "note": "rain, then sun",
    }


def test_csv_and_json_say_the_same(rustboard: Rustboard, graded_board: Path) -> None:
    from_csv = list(csv.DictReader(io.StringIO(rustboard("grades", graded_board, "--csv").out)))
    from_json = rustboard("grades", graded_board, "--json").data
    assert from_csv == [{key: "" if value is None else str(value) for key, value in row.items()} for row in from_json]


def test_a_board_without_grades_says_so(rustboard: Rustboard, board: Path) -> None:
    assert rustboard("grades", board).out == "The board Yard fence has no grades yet.\n"
    assert rustboard("grades", board, "--json").data == []
    assert rustboard("grades", board, "--csv").out.splitlines() == [",".join(COLUMNS)]


def test_reading_works_while_a_window_has_the_board_and_leaves_no_trace(
    rustboard: Rustboard, graded_board: Path
) -> None:
    with closing(Session(graded_board)):
        before = everything_in(graded_board)
        assert rustboard("grades", graded_board).code == 0
        assert rustboard("check", graded_board).code == 0
        assert everything_in(graded_board) == before


def test_the_board_file_itself_may_be_named(rustboard: Rustboard, graded_board: Path) -> None:
    by_file = rustboard("grades", graded_board / "board.rustboard", "--json")
    assert by_file.data == rustboard("grades", graded_board, "--json").data


def test_hostile_names_are_harmless_in_text_and_csv_and_whole_in_json(rustboard: Rustboard, tmp_path: Path) -> None:
    coupons = [{"id": each, "position": f"A{number}"} for number, each in enumerate(HOSTILE, 1)]
    plan, typed, board = tmp_path / "plan.json", tmp_path / "typed.csv", tmp_path / "hostile"
    plan.write_text(plan_text(board={"name": "=1+1 \x1b[2J"}, coupons=coupons), encoding="utf-8")
    assert rustboard("new", board, "--plan", plan).code == 0
    with closing(Session(board, read_only=True)) as session:
        kept = {each.id for each in session.record.coupons.values()}
    with typed.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows([["date", "coupon", "grade"], *(["2026-03-02", each, 5] for each in kept)])
    assert rustboard("add-grades", board, typed).code == 0

    text = rustboard("grades", board).out
    assert len(text.splitlines()) == 1 + len(HOSTILE)
    assert text.replace("\n", "").isprintable()
    assert max(map(terminal_width, text.splitlines())) < 120

    table = rustboard("grades", board, "--csv").out
    cells = [row["coupon"] for row in csv.DictReader(io.StringIO(table))]
    assert len(cells) == len(HOSTILE)
    assert not [each for each in cells if each.startswith(("=", "+", "-", "@"))]
    assert table.replace("\n", "").isprintable()

    assert {row["coupon"] for row in rustboard("grades", board, "--json").data} == kept
    assert HOSTILE[3] in kept


def test_numbers_that_json_does_not_have_become_null() -> None:
    rows = [{"percent": math.inf, "grade": 9}, {"percent": -0.5, "all": (math.nan, 1)}]
    assert json.loads(as_json_text(rows)) == [{"percent": None, "grade": 9}, {"percent": -0.5, "all": [None, 1]}]
    assert as_json_text([]) == "[]"


def test_a_wide_table_is_cut_by_what_a_terminal_shows() -> None:
    table = plain_table(["name", "n"], [["錆" * 30, "1"], ["é", "2"]], right=frozenset({"n"}))
    assert table.splitlines()[1] == "錆" * 19 + "…" + "  1"
    assert {terminal_width(line) for line in table.splitlines()} == {42}


def test_added_grades_are_counted_by_what_became_of_them(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path
) -> None:
    typed = tmp_path / "more.csv"
    typed.write_text(
        "date,coupon,grade,distribution,percent,grader\n"
        '2026-03-09T09:30,c01,9,S,"0,02",Ada\n'  # a decimal comma; the note is not repeated, so this is a change
        "2026-03-09T09:30,C02,7,P,,Ada\n"
        "2026-03-16,C03,1,,,Ada\n"
        "2026-03-16,C01,9,,,Ada\n",
        encoding="utf-8",
    )
    finished = rustboard("add-grades", graded_board, typed, "--json")
    assert (finished.code, finished.err) == (0, "")
    assert finished.data == {
        "board": "Yard fence",
        "file": "more.csv",
        "added": 2,
        "corrected": 1,
        "already_there": 1,
        "inspections_added": 1,
        "problems": [],
    }
    again = rustboard("add-grades", graded_board, typed)
    assert again.out == "Yard fence: 0 grades added, 0 corrected, 4 already there, 0 new inspections.\n"
    newest = rustboard("grades", graded_board, "--json").data[-1]
    assert (newest["coupon"], newest["inspected"], newest["grade"]) == ("C03", "2026-03-16T12:00:00", 1)


def test_a_table_that_grades_wrote_is_read_back_without_a_change(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path
) -> None:
    table = tmp_path / "table.csv"
    table.write_text(rustboard("grades", graded_board, "--csv").out, encoding="utf-8")
    finished = rustboard("add-grades", graded_board, table, "--json")
    assert finished.code == 0
    assert (finished.data["already_there"], finished.data["added"], finished.data["corrected"]) == (5, 0, 0)


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ("2026-03-23,C01,11", "grade"),
        ("2026-03-23,C01,9/8", "grade"),
        ("2026-03-23,C01,n/a", "grade"),
        ("2026-03-23,C01,", "grade"),
        ('2026-03-23,C01,"7,5"', "grade"),
        ("2026-02-30,C01,9", "date"),
        (",C01,9", "date"),
        ("2026-03-23,C99,9", "coupon"),
        ("2026-03-23,,9", "coupon"),
    ],
)
def test_a_bad_row_is_named_and_the_good_one_is_kept(
    rustboard: Rustboard, board: Path, tmp_path: Path, row: str, column: str
) -> None:
    typed = tmp_path / "typed.csv"
    typed.write_text(f"date,coupon,grade\n{row}\n2026-03-23,C02,8\n", encoding="utf-8")
    finished = rustboard("add-grades", board, typed, "--json")
    assert finished.code == 1
    assert len(finished.sentences) == 1
    assert finished.err.startswith(f"typed.csv, row 2, column {column}: ")
    (problem,) = finished.data["problems"]
    assert (problem["file"], problem["row"], problem["column"]) == ("typed.csv", 2, column)
    assert problem["sentence"] == finished.sentences[0]
    assert [(each["coupon"], each["grade"]) for each in rustboard("grades", board, "--json").data] == [("C02", 8)]


def test_a_file_without_one_good_row_is_no_success(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    typed = tmp_path / "typed.csv"
    typed.write_text("date,coupon,grade\n2026-03-23,C01,11\n2026-03-23,C99,9\n", encoding="utf-8")
    finished = rustboard("add-grades", board, typed)
    assert finished.code == 2
    assert [each.split(":")[0] for each in finished.sentences] == [
        "typed.csv, row 2, column grade",
        "typed.csv, row 3, column coupon",
    ]
    assert finished.out == "No row of typed.csv could be used; the board Yard fence is as it was.\n"


def test_grades_cannot_be_added_while_a_window_has_the_board(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path
) -> None:
    typed = tmp_path / "typed.csv"
    with closing(Session(graded_board)):
        finished = rustboard("add-grades", graded_board, typed)
    assert finished.code == 2
    assert len(finished.sentences) == 1
    assert "open in another window" in finished.err
    assert finished.err.endswith("no grade was added.\n")
    assert len(rustboard("grades", graded_board, "--json").data) == 5


@contextmanager
def without_privileges() -> Iterator[None]:
    """Be nobody in particular: the superuser may write everywhere."""
    if os.name == "nt" or os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.mark.skipif(os.name == "nt", reason="folders have no such permission there")
def test_grades_cannot_be_added_in_a_folder_that_may_not_be_written(
    rustboard: Rustboard, monkeypatch: pytest.MonkeyPatch
) -> None:
    with tempfile.TemporaryDirectory() as name:  # everybody may look into this one
        home = Path(name)
        home.chmod(0o755)
        monkeypatch.setenv("RUSTBOARD_HOME", str(home / "rustboard"))
        plan, typed, board = home / "plan.json", home / "typed.csv", home / "board"
        plan.write_text(plan_text(), encoding="utf-8")
        typed.write_text("date,coupon,grade\n2026-03-23,C02,8\n", encoding="utf-8")
        assert rustboard("new", board, "--plan", plan).code == 0
        board.chmod(0o555)
        before = everything_in(board)
        with without_privileges():
            finished = rustboard("add-grades", board, typed)
            read = rustboard("grades", board, "--json")
        board.chmod(0o755)
        assert everything_in(board) == before
    assert finished.code == 2
    assert finished.err == (
        "The folder cannot be written, so the board is open for reading only; no grade was added.\n"
    )
    assert (read.code, read.data) == (0, [])


def test_a_grade_given_by_two_graders_counts_the_second_as_a_correction(rustboard: Rustboard, tmp_path: Path) -> None:
    board, typed = tmp_path / "board", tmp_path / "typed.csv"
    plan = tmp_path / "plan.json"
    plan.write_text(plan_text(coupons=PLAN["coupons"][:1]), encoding="utf-8")
    assert rustboard("new", board, "--plan", plan).code == 0
    typed.write_text("date,coupon,grade,grader\n2026-03-23,C01,8,Ada\n2026-03-23,C01,7,Bo\n", encoding="utf-8")
    data = rustboard("add-grades", board, typed, "--json").data
    assert (data["added"], data["corrected"]) == (1, 1)
