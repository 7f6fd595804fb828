"""``rustboard new``: boards from plans, whole or not at all."""

from __future__ import annotations

import csv
import json
import os
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from command_line import PLAN, Rustboard, plan_text

from rustboard.board.model import Plan
from rustboard.session.session import Session

GOOD_ROWS = "coupon,position,treatment,role\nC01,A1,wax,test\nC02,A2,,control\n"


def written(file: Path, text: str) -> Path:
    file.write_text(text, encoding="utf-8")
    return file


def coupons_of(board: Path) -> dict[str, str]:
    with closing(Session(board, read_only=True)) as session:
        coupons = session.record.coupons.values()
        return {each.id: each.position.label for each in coupons if each.position is not None}


def test_a_board_from_a_json_plan_holds_what_the_plan_names(rustboard: Rustboard, tmp_path: Path) -> None:
    plan, board = written(tmp_path / "plan.json", plan_text()), tmp_path / "boards" / "Yard"
    finished = rustboard("new", board, "--plan", plan, "--json")
    assert (finished.code, finished.err) == (0, "")
    assert finished.data == {
        "board": "Yard fence",
        "folder": str(board),
        "rows": 2,
        "columns": 2,
        "coupons": 3,
        "treatments": 2,
        "problems": [],
    }
    with closing(Session(board, read_only=True)) as session:
        record = session.record
    assert record.board.customer == "Ada & Söhne"
    assert {each.id: each.name for each in record.treatments.values()} == {
        "T1": "hot beeswax blend",
        "T2": "linseed oil, baked",
    }
    assert coupons_of(board) == {"C01": "A1", "C02": "A2", "C03": "B1"}


def test_a_new_folder_holds_the_board_and_nothing_that_making_it_left(rustboard: Rustboard, tmp_path: Path) -> None:
    plan, board = written(tmp_path / "plan.json", plan_text()), tmp_path / "Yard"
    rustboard("new", board, "--plan", plan)
    assert [each.name for each in board.iterdir()] == ["board.rustboard"]
    assert sorted(each.name for each in tmp_path.iterdir()) == ["Yard", "plan.json"]


def test_a_board_from_a_table_is_called_like_its_folder(rustboard: Rustboard, tmp_path: Path) -> None:
    finished = rustboard("new", tmp_path / "Harbour wall", "--plan", written(tmp_path / "p.csv", GOOD_ROWS))
    assert finished.out == (
        f"The board Harbour wall with 2 coupons and 1 treatment is in {tmp_path / 'Harbour wall'}\n"
    )


def test_a_board_from_a_workbook_is_the_one_from_the_same_table(
    rustboard: Rustboard, tmp_path: Path, checkout: Path
) -> None:
    examples = checkout / "resources" / "examples"
    records = {}
    for ending in ("csv", "xlsx"):
        finished = rustboard("new", tmp_path / ending, "--plan", examples / f"plan.{ending}")
        assert (finished.code, finished.err) == (0, "")
        with closing(Session(tmp_path / ending, read_only=True)) as session:
            records[ending] = session.record
    assert records["xlsx"].coupons == records["csv"].coupons
    assert records["xlsx"].treatments == records["csv"].treatments
    assert (records["xlsx"].board.name, records["csv"].board.name) == ("xlsx", "csv")


def test_a_workbook_with_another_ending_is_known_by_how_it_begins(
    rustboard: Rustboard, tmp_path: Path, checkout: Path
) -> None:
    renamed = tmp_path / "plan"
    renamed.write_bytes((checkout / "resources" / "examples" / "plan.xlsx").read_bytes())
    assert rustboard("new", tmp_path / "one", "--plan", renamed).code == 0
    assert len(coupons_of(tmp_path / "one")) == 6


def test_the_help_names_the_kinds_of_plans(rustboard: Rustboard) -> None:
    assert "PLAN.json, PLAN.csv or PLAN.xlsx" in " ".join(rustboard("new", "--help").out.split())


def test_a_plan_with_another_ending_is_known_by_how_it_begins(rustboard: Rustboard, tmp_path: Path) -> None:
    as_json = written(tmp_path / "plan.txt", "\ufeff  \n" + plan_text())
    as_table = written(tmp_path / "plan", GOOD_ROWS)
    assert rustboard("new", tmp_path / "one", "--plan", as_json).code == 0
    assert rustboard("new", tmp_path / "two", "--plan", as_table).code == 0
    assert coupons_of(tmp_path / "two") == {"C01": "A1", "C02": "A2"}


def test_without_a_plan_the_board_is_empty(rustboard: Rustboard, tmp_path: Path) -> None:
    data = rustboard("new", tmp_path / "Shed door", "--json").data
    assert (data["board"], data["rows"], data["columns"], data["coupons"]) == ("Shed door", 3, 7, 0)
    assert coupons_of(tmp_path / "Shed door") == {}


def test_an_empty_folder_may_become_the_board(rustboard: Rustboard, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    assert rustboard("new", tmp_path / "empty").code == 0
    assert rustboard("check", tmp_path / "empty").code == 0


def test_a_folder_that_holds_something_is_left_alone(rustboard: Rustboard, tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    folder.mkdir()
    written(folder / "letter.txt", "Dear Ada")
    finished = rustboard("new", folder, "--plan", written(tmp_path / "p.csv", GOOD_ROWS))
    assert finished.code == 2
    assert finished.sentences == ["mine: This folder already holds something; choose a new name."]
    assert [each.name for each in folder.iterdir()] == ["letter.txt"]


def test_a_file_is_not_taken_for_a_folder(rustboard: Rustboard, tmp_path: Path) -> None:
    finished = rustboard("new", written(tmp_path / "letter.txt", "Dear Ada"))
    assert finished.code == 2
    assert len(finished.sentences) == 1
    assert (tmp_path / "letter.txt").read_text(encoding="utf-8") == "Dear Ada"


def test_the_empty_folder_one_works_in_may_become_the_board(
    rustboard: Rustboard, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    data = rustboard("new", ".", "--json").data
    assert (data["folder"], data["board"]) == (str(tmp_path), tmp_path.name)
    assert Path("board.rustboard").exists()


def test_two_coupons_on_one_position_are_named_and_the_first_is_kept(rustboard: Rustboard, tmp_path: Path) -> None:
    plan = written(tmp_path / "plan.csv", GOOD_ROWS + "C03,A2,wax,test\nC04,A3,wax,test\n")
    finished = rustboard("new", tmp_path / "board", "--plan", plan, "--json")
    assert finished.code == 1
    assert len(finished.sentences) == 1
    assert finished.err.startswith("plan.csv, row 4, column position: ")
    assert "A2" in finished.err
    assert "C02" in finished.err
    assert finished.data["problems"][0]["row"] == 4
    assert coupons_of(tmp_path / "board") == {"C01": "A1", "C02": "A2", "C04": "A3"}


def test_a_fault_in_a_json_plan_is_named_by_its_key(rustboard: Rustboard, tmp_path: Path) -> None:
    coupons = [*PLAN["coupons"], {"id": "C04", "position": "A1"}]
    finished = rustboard("new", tmp_path / "b", "--plan", written(tmp_path / "p.json", plan_text(coupons=coupons)))
    assert finished.code == 1
    assert finished.err.startswith("p.json, column coupons[3].position: ")
    assert set(coupons_of(tmp_path / "b")) == {"C01", "C02", "C03"}


@pytest.mark.parametrize("ending", ["csv", "json"])
def test_five_thousand_coupons_are_too_many_and_nothing_is_made(
    rustboard: Rustboard, tmp_path: Path, ending: str
) -> None:
    plan = tmp_path / f"plan.{ending}"
    names = [(f"C{number}", f"A{number % 60 + 1}") for number in range(5_000)]
    if ending == "csv":
        with plan.open("w", encoding="utf-8", newline="") as stream:
            csv.writer(stream).writerows([("coupon", "position"), *names])
    else:
        coupons = [{"id": coupon, "position": position} for coupon, position in names]
        written(plan, json.dumps({"coupons": coupons}))
    finished = rustboard("new", tmp_path / "board", "--plan", plan)
    assert finished.code == 2
    assert len(finished.sentences) == 1
    assert finished.err.startswith(f"plan.{ending}")
    assert "5000" in finished.err.replace(",", "")
    assert [each.name for each in tmp_path.iterdir()] == [plan.name]


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("plan.json", b"{"),
        ("plan.json", b"[]"),
        ("plan.json", b""),
        ("plan.json", b'{"coupons": []}'),
        ("plan.json", b"\xff\xd8\xff\xe0 a picture"),
        ("plan.json", b"[" * 100_000),
        ("plan.csv", b"coupon,position\n"),
        ("plan.csv", b"name,place\nC01,A1\n"),
        ("plan.csv", b"\x00\x01\x02"),
        ("plan.xlsx", b"coupon,position\nC01,A1\n"),
        # How zip files begin, and the compound files of old and of locked workbooks (from memory).
        ("plan.xlsx", b"PK\x03\x04" + bytes(500)),
        ("plan.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(500)),
    ],
)
def test_a_plan_that_is_none_makes_nothing(rustboard: Rustboard, tmp_path: Path, name: str, content: bytes) -> None:
    (tmp_path / name).write_bytes(content)
    finished = rustboard("new", tmp_path / "board", "--plan", tmp_path / name, "--json")
    assert finished.code == 2
    assert len(finished.sentences) == 1
    assert finished.err.startswith(name)
    assert [each["sentence"] for each in finished.data["problems"]] == finished.sentences
    assert [each.name for each in tmp_path.iterdir()] == [name]


def test_a_plan_that_is_not_there_is_named(rustboard: Rustboard, tmp_path: Path) -> None:
    finished = rustboard("new", tmp_path / "board", "--plan", tmp_path / "plan.json")
    assert (finished.code, finished.err) == (2, "plan.json: There is no such file or folder; check the name.\n")


def test_a_fault_halfway_leaves_no_folder(
    rustboard: Rustboard, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from rustboard.session import new_board

    def half_done(tx: object, plan: Plan) -> None:
        raise RuntimeError(f"after {len(plan.coupons)} coupons")

    monkeypatch.setattr(new_board, "carry_out_plan", half_done)
    plan = written(tmp_path / "plan.csv", GOOD_ROWS)
    assert rustboard("new", tmp_path / "board", "--plan", plan).code == 2
    assert [each.name for each in tmp_path.iterdir()] == ["plan.csv"]


@pytest.mark.skipif(os.name == "nt", reason="needs a limit on the size of files")
def test_a_disk_without_room_leaves_no_folder(tmp_path: Path) -> None:
    # A process that may not write files of more than 40 kB stands in for a full disk.
    limited = (
        "import resource, sys\nfrom rustboard.app.main import run\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (40_000, 40_000))\nsys.exit(run(sys.argv[1:]))"
    )
    plan = written(tmp_path / "plan.csv", GOOD_ROWS)
    command = [sys.executable, "-c", limited, "new", str(tmp_path / "board"), "--plan", str(plan)]
    finished = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert finished.returncode == 2
    assert finished.stderr.startswith("board: The disk ")
    assert finished.stderr.count("\n") == 1
    assert [each.name for each in tmp_path.iterdir()] == ["plan.csv"]
