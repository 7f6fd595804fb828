"""``rustboard import-grades``."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from command_line import Rustboard

from rustboard.session.looking import look_at_board

WIDE = "Coupon;Coating;02.03.2019;16.03.2019\nP1;wax;10;9\nP2;none;8;2-G\n"
TALL = "date,coupon,grade\n03/04/2019,P1,8\n05/04/2019,P1,7\n"


def table(folder: Path, text: str) -> Path:
    file = folder / "old fence.csv"
    file.write_text(text, encoding="utf-8")
    return file


def grades_of(rustboard: Rustboard, folder: Path) -> list[tuple[str, int]]:
    return [(each["inspected"][:10], each["grade"]) for each in rustboard("grades", folder, "--json").data]


def test_a_plain_table_becomes_a_board(rustboard: Rustboard, tmp_path: Path) -> None:
    made = rustboard("import-grades", table(tmp_path, WIDE), "--into", tmp_path / "boards")
    folder = tmp_path / "boards" / "old fence"
    assert (made.code, made.err) == (0, "")
    assert made.out.startswith(f"The board old fence with 2 coupons, 2 treatments and 4 grades is in {folder}\n")
    assert grades_of(rustboard, folder) == [
        ("2019-03-02", 10),
        ("2019-03-02", 8),
        ("2019-03-16", 9),
        ("2019-03-16", 2),
    ]
    assert rustboard("check", folder).code == 0


def test_json_says_it_with_stable_keys(rustboard: Rustboard, tmp_path: Path) -> None:
    made = rustboard("import-grades", table(tmp_path, WIDE), "--into", tmp_path, "--name", "Fence 2019", "--json")
    assert made.data == {
        "board": "Fence 2019",
        "folder": str(tmp_path / "Fence 2019"),
        "sheet": "",
        "coupons": 2,
        "treatments": 2,
        "grades": 4,
        "refused": 0,
        "skipped": [],
        "problems": [],
    }


@pytest.mark.parametrize(
    ("option", "days"),
    [("--day-first", ["2019-04-03", "2019-04-05"]), ("--month-first", ["2019-03-04", "2019-05-04"])],
)
def test_an_open_order_of_dates_is_asked_and_answered_with_an_option(
    rustboard: Rustboard, tmp_path: Path, option: str, days: list[str]
) -> None:
    file = table(tmp_path, TALL)
    asked = rustboard("import-grades", file, "--into", tmp_path / "boards")
    assert asked.code == 2
    assert "is the day or the month first? Answer with --day-first or --month-first." in asked.err
    assert not (tmp_path / "boards").exists()
    assert rustboard("import-grades", file, "--into", tmp_path / "boards", option).code == 0
    assert grades_of(rustboard, tmp_path / "boards" / "old fence") == [(days[0], 8), (days[1], 7)]


def test_what_no_option_answers_is_asked_with_a_way_on(rustboard: Rustboard, tmp_path: Path) -> None:
    asked = rustboard("import-grades", table(tmp_path, "date,grade\n2019-03-02,8\n"), "--into", tmp_path)
    assert asked.code == 2
    assert "“Import old grades…”" in asked.err
    assert [each.name for each in tmp_path.iterdir()] == ["old fence.csv"]


def test_refused_cells_are_listed_and_the_rest_is_kept(rustboard: Rustboard, tmp_path: Path) -> None:
    file = table(tmp_path, "date,coupon,grade\n2019-03-02,P1,8.5\n2019-03-02,P2,7\n")
    made = rustboard("import-grades", file, "--into", tmp_path)
    assert made.code == 1
    assert len(made.sentences) == 1
    assert "row 2" in made.err
    assert "8.5" in made.err
    assert grades_of(rustboard, tmp_path / "old fence") == [("2019-03-02", 7)]


def test_halves_are_rounded_down_where_that_is_asked(rustboard: Rustboard, tmp_path: Path) -> None:
    file = table(tmp_path, "date,coupon,grade\n2019-03-02,P1,8.5\n")
    assert rustboard("import-grades", file, "--into", tmp_path, "--round-halves-down").code == 0
    assert grades_of(rustboard, tmp_path / "old fence") == [("2019-03-02", 8)]


def test_the_tidy_table_comes_back(rustboard: Rustboard, graded_board: Path, tmp_path: Path) -> None:
    file = tmp_path / "tidy.csv"
    file.write_text(rustboard("grades", graded_board, "--csv").out, encoding="utf-8")
    made = rustboard("import-grades", file, "--into", tmp_path)
    assert (made.code, made.err) == (0, "")
    assert grades_of(rustboard, tmp_path / "tidy") == grades_of(rustboard, graded_board)
    assert look_at_board(tmp_path / "tidy").board.name == "tidy"


def test_a_second_board_of_the_same_file_gets_a_number(rustboard: Rustboard, tmp_path: Path) -> None:
    file = table(tmp_path, WIDE)
    for _ in range(2):
        assert rustboard("import-grades", file, "--into", tmp_path).code == 0
    assert (tmp_path / "old fence 2").is_dir()


def test_a_sheet_is_asked_of_a_workbook_alone(rustboard: Rustboard, tmp_path: Path) -> None:
    refused = rustboard("import-grades", table(tmp_path, WIDE), "--sheet", "2019")
    assert refused.code == 2
    assert "no sheets" in refused.err


def test_a_missing_file_is_told_in_one_sentence(rustboard: Rustboard, tmp_path: Path) -> None:
    refused = rustboard("import-grades", tmp_path / "none.csv", "--into", tmp_path)
    assert refused.code == 2
    assert len(refused.sentences) == 1


def test_it_needs_no_window(rustboard: Rustboard, tmp_path: Path) -> None:
    import subprocess

    file = table(tmp_path, WIDE)
    script = (
        "import sys; from rustboard.app.main import run; code = run(sys.argv[1:]); "
        "sys.exit(code or any(each.startswith('PySide6') for each in sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", script, "import-grades", file, "--into", tmp_path], check=False)
    assert done.returncode == 0
