"""The plan of a board as a file, and the board that is made from it again."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from shelf_boards import clock, plan

from rustboard.app.main import run
from rustboard.board.inspection_days import InspectionDays
from rustboard.board.layout import Layout
from rustboard.board.model import Board, Plan
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.recipe import Recipe, RecipeStep
from rustboard.operations.coupons import edit_coupon, move_coupon, take_off
from rustboard.operations.plans import whole_plan_of
from rustboard.session.looking import look_at_board
from rustboard.session.new_board import create_from_plan, read_plan
from rustboard.session.plan_files import save_plan
from rustboard.session.session import Session
from rustboard.support.problems import InputError


def whole_plan() -> Plan:
    bare = plan("Harbour wall", rows=3, columns=3)
    steps = (RecipeStep("degrease", "alkaline cleaner", quantity=20.0, unit="g"), RecipeStep("coat", "beeswax"))
    return replace(
        bare,
        coupons=tuple(replace(each, drawn=Position(*each.position)) for each in bare.coupons),
        recipes=(("T1", Recipe(steps, "R1", 3)),),
        questions=(Question(words="Is it worth it?\nAnd “how” long?", written=datetime(2026, 3, 1, 18, 30, 5)),),
        layout=Layout("complete", "drip edges", seed=4, drawn_at=datetime(2026, 3, 1, 18, 0, 0, 123)),
        calendar=InspectionDays((0, 1, 2, 4, 8)),
    )


@pytest.fixture
def board(tmp_path: Path) -> Path:
    create_from_plan(tmp_path / "board", whole_plan(), clock=clock)
    return tmp_path / "board"


def test_a_saved_plan_makes_the_same_board_again(board: Path, tmp_path: Path) -> None:
    with closing(Session(board, clock=clock)) as session:
        session.do(move_coupon, 1, Position(1, 1))
        session.do(edit_coupon, replace(session.record.coupons[3], note="bent\nat a corner"))
        session.do(take_off, 9)
        save_plan(session.record, tmp_path / "saved.json")
        saved = whole_plan_of(session.record)
    assert saved.coupons[4].drawn == Position(0, 0)
    assert read_plan(tmp_path / "saved.json") == (saved, [])
    assert run(["new", str(tmp_path / "again"), "--plan", str(tmp_path / "saved.json")]) == 0
    assert whole_plan_of(look_at_board(tmp_path / "again")) == saved


def test_nothing_is_saved_of_a_board_without_coupons(tmp_path: Path) -> None:
    create_from_plan(tmp_path / "empty", Plan(Board("Shed")), clock=clock)
    with pytest.raises(InputError, match="No coupon hangs on this board"):
        save_plan(look_at_board(tmp_path / "empty"), tmp_path / "saved.json")
    assert not (tmp_path / "saved.json").exists()


def test_a_plan_too_large_to_be_read_again_is_not_saved(board: Path, tmp_path: Path) -> None:
    record = look_at_board(board)
    record.coupons = {
        key: replace(record.coupons[1], id=f"C{key}", position=Position(key // 40, key % 40), note="é" * 20_000)
        for key in range(400)
    }
    with pytest.raises(InputError, match=r"saved\.json: The plan would be larger than 8 MB"):
        save_plan(record, tmp_path / "saved.json")
    assert not (tmp_path / "saved.json").exists()


def test_a_place_that_cannot_be_written_is_named(board: Path, tmp_path: Path) -> None:
    (tmp_path / "taken").mkdir()
    with pytest.raises(InputError, match="taken: "):
        save_plan(look_at_board(board), tmp_path / "taken")
