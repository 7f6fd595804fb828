"""``rustboard agreement``: how graders agree, for people and for scripts."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from command_line import Rustboard
from graded_blind import grade_blind

from rustboard.operations.blind import agree_grade
from rustboard.session.session import Session

TWO = {"Ada": {"C01": (9, 9), "C02": (7, 6), "C03": (2, 2)}, "Bo": {"C01": (9, 8), "C02": (3, 3), "C03": (2, 1)}}
KEYS = [
    "board",
    "inspections",
    "graders",
    "pairs",
    "all",
    "photo",
    "photo_not_blind",
    "differing",
    "words",
    "problems",
]


@pytest.fixture
def blind_board(graded_board: Path) -> Path:
    """Three coupons, the second inspection graded blind by two, every coupon twice."""
    with closing(Session(graded_board)) as session:
        grade_blind(session, 2, TWO)
    return graded_board


def test_people_get_sentences_under_headings(rustboard: Rustboard, blind_board: Path) -> None:
    finished = rustboard("agreement", blind_board)
    assert (finished.code, finished.err) == (0, "")
    lines = finished.out.splitlines()
    assert lines[0] == "One grader twice"
    assert any(line.startswith("Ada looked twice at 3 coupons without knowing it") for line in lines)
    assert "Graders with one another" in lines
    assert "Look again at C02: Ada 7, Bo 3." in lines
    assert "Open grades and photo" not in lines  # nothing was measured


def test_scripts_get_the_figures_by_the_promised_keys(rustboard: Rustboard, blind_board: Path) -> None:
    data = rustboard("agreement", blind_board, "--json").data
    assert list(data) == KEYS
    assert data["inspections"] == [{"inspected": "2026-03-09T09:30:00", "graders": ["Ada", "Bo"]}]
    assert [each["grader"] for each in data["graders"]] == ["Ada", "Bo"]
    repeats = data["graders"][0]["repeats"]
    assert (repeats["coupons"], repeats["exact"], repeats["within_one"]) == (3, 2, 3)
    (pair,) = data["pairs"]
    assert (pair["graders"], pair["coupons"], pair["exact"], pair["within_one"]) == (["Ada", "Bo"], 3, 2, 2)
    assert pair["offset"]["value"] == pytest.approx(4 / 3)  # by hand: 0, 4 and 0
    assert set(pair["kappa_quadratic"]) == {"value", "low", "high"}
    assert data["all"]["icc"]["low"] < data["all"]["icc"]["value"] < data["all"]["icc"]["high"]
    assert data["differing"][0] == {
        "coupon": "C02",
        "position": "A2",
        "inspected": "2026-03-09T09:30:00",
        "width": 4,
        "grades": [{"grader": "Ada", "grade": 7, "again": 6}, {"grader": "Bo", "grade": 3, "again": 3}],
        "photo": None,
        "by_rule": 3,
        "board": 3,
        "how": "rule",
    }
    assert (data["photo"], data["photo_not_blind"], data["problems"]) == (None, None, [])
    assert rustboard("agreement", blind_board).out.count("\n") > len(data["words"])


def test_an_agreed_grade_stands_beside_the_one_by_the_rule(rustboard: Rustboard, blind_board: Path) -> None:
    with closing(Session(blind_board)) as session:
        session.do(agree_grade, 2, 2, 5)
        first = rustboard("agreement", blind_board, "--json").data["differing"][0]  # also while it is open
    assert (first["by_rule"], first["board"], first["how"]) == (3, 5, "agreed")


def test_figures_that_cannot_be_had_are_null_and_never_nan(rustboard: Rustboard, graded_board: Path) -> None:
    alike = {name: dict.fromkeys(("C01", "C02", "C03"), 10) for name in ("Ada", "Bo")}
    with closing(Session(graded_board)) as session:
        grade_blind(session, 1, alike)
    finished = rustboard("agreement", graded_board, "--json")
    data = json.loads(finished.out, parse_constant=_refuse)
    assert data["pairs"][0]["kappa_linear"] is None
    assert data["all"]["icc"] is None
    assert data["differing"] == []
    assert data["graders"][0]["repeats"] is None
    assert all(math.isfinite(each) for each in _numbers(data))


def _refuse(text: str) -> float:
    raise AssertionError(f"JSON has no {text}")


def _numbers(data: Any) -> Iterator[float]:
    if isinstance(data, dict | list):
        for each in data.values() if isinstance(data, dict) else data:
            yield from _numbers(each)
    elif isinstance(data, int | float):
        yield float(data)


def test_one_grader_alone_is_said_to_be_so(rustboard: Rustboard, graded_board: Path) -> None:
    with closing(Session(graded_board)) as session:
        grade_blind(session, 1, {"Ada": {"C01": 9, "C02": 8, "C03": 7}})
    finished = rustboard("agreement", graded_board)
    assert finished.code == 0
    assert "No coupon was graded by two graders" in finished.out


@pytest.mark.parametrize("hidden", [False, True])
def test_with_nothing_revealed_one_sentence_says_what_to_do(
    rustboard: Rustboard, graded_board: Path, hidden: bool
) -> None:
    if hidden:
        with closing(Session(graded_board)) as session:
            grade_blind(session, 2, TWO, revealed=False)
    finished = rustboard("agreement", graded_board)
    assert (finished.code, finished.out) == (2, "")
    (sentence,) = finished.sentences
    assert "graded blind and revealed" in sentence
    as_json = rustboard("agreement", graded_board, "--json")
    assert (as_json.code, list(as_json.data)) == (2, ["problems"])


def test_a_hidden_inspection_is_not_among_the_revealed(rustboard: Rustboard, graded_board: Path) -> None:
    with closing(Session(graded_board)) as session:
        grade_blind(session, 1, {"Ada": {"C01": 9, "C02": 8, "C03": 7}, "Bo": {"C01": 9, "C02": 8, "C03": 7}})
        before = rustboard("agreement", graded_board, "--json").out
        grade_blind(session, 2, TWO, revealed=False)
    assert rustboard("agreement", graded_board, "--json").out == before


def test_nothing_in_the_folder_is_touched(rustboard: Rustboard, blind_board: Path) -> None:
    before = {each: each.read_bytes() for each in blind_board.rglob("*") if each.is_file()}
    assert rustboard("agreement", blind_board).code == 0
    assert {each: each.read_bytes() for each in blind_board.rglob("*") if each.is_file()} == before
