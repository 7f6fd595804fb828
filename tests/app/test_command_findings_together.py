"""``rustboard findings`` of several boards, for people and for scripts."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

import pytest
from boards_together import ROOF, WALL, later, put_board, three_boards
from command_line import Rustboard

from rustboard.operations.blind import BlindChoice, start_blind
from rustboard.session.board_matchings import BoardMatchings
from rustboard.session.jobs import Progress
from rustboard.session.other_boards import ReadRequest, read_boards
from rustboard.session.session import Session

KEYS = ["boards", "failing_grade", "clock", "measure", "compared", "shared_until", "coupons", "treatments",
        "comparisons", "verdict", "cautions"]  # fmt: skip


@pytest.fixture
def folders(tmp_path: Path) -> tuple[Path, ...]:
    return three_boards(tmp_path / "boards")


def test_people_get_sentences_then_tables(rustboard: Rustboard, folders: tuple[Path, ...]) -> None:
    finished = rustboard("findings", *folders)
    assert (finished.code, finished.err) == (0, "")
    lines = finished.out.splitlines()
    assert lines[0] == "Harbour wall + Back yard + Roof"
    assert lines[2].startswith("Over 3 boards hot wax did better than control by 5.3 grades")
    assert "Only treatments with the very same recipe are matched; nothing was confirmed for these boards." in lines
    assert any(line.startswith("hot wax  control  together") for line in lines)
    assert "Before you trust this:" in lines


def test_scripts_get_the_figures(rustboard: Rustboard, folders: tuple[Path, ...]) -> None:
    data = rustboard("findings", *folders, "--json", "--clock", "controls", "--measure", "mean-grade").data
    assert [key for key in KEYS if key not in data] == []
    assert (data["clock"], data["measure"], data["compared"]) == ("controls", "mean grade", "control")
    assert data["boards"] == ["Harbour wall", "Back yard", "Roof"]
    assert {each["board"] for each in data["coupons"]} == set(data["boards"])
    wax = data["comparisons"][0]
    assert (wax["a"], wax["b"]) == ("hot wax", "control")
    assert [each["board"] for each in wax["boards"]] == data["boards"]
    assert wax["low"] < wax["difference"] < wax["high"]
    assert sum(each["weight"] for each in wax["boards"]) == pytest.approx(1, abs=1e-5)
    assert data["treatments"][0]["boards"][2]["treatment"] == "T1"


def test_what_is_only_likely_the_same_is_left_apart_until_it_was_confirmed(
    rustboard: Rustboard, tmp_path: Path
) -> None:
    plain = {"sealed": ROOF["wax, brushed on"], "bare": ROOF["bare"]}
    folders = [put_board(tmp_path / name, name, plain) for name in ("one", "two")]
    data = rustboard("findings", *folders, "--json").data
    assert data["comparisons"] == []
    assert any(each.startswith("sealed on one, two is likely the same treatment") for each in data["cautions"])
    boards = read_boards(ReadRequest(tuple(folders)), Progress())
    BoardMatchings().confirm(boards.folders, boards.matching)
    data = rustboard("findings", *folders, "--json").data
    assert [each["a"] for each in data["comparisons"]] == ["sealed"]


def test_a_board_being_graded_blind_is_refused(
    rustboard: Rustboard, folders: tuple[Path, ...], tmp_path: Path
) -> None:
    hidden = put_board(folders[0].parent / "blind", "Porch", WALL, days=(7, 21, 42, 60))
    with closing(Session(hidden, clock=later)) as session:
        session.do(start_blind, BlindChoice(max(session.record.inspections), "bench", None, 50.0))
    finished = rustboard("findings", folders[0], hidden)
    assert finished.code == 2
    assert "is being graded blind" in finished.err
