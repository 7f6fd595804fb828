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
from rustboard.operations.boards import edit_board
from rustboard.operations.coupons import edit_coupon, move_coupon, take_off
from rustboard.operations.layouts import draw_board_lots, place_markers, set_layout, set_out_coupons
from rustboard.operations.plans import whole_plan_of
from rustboard.session.looking import look_at_board
from rustboard.session.new_board import create_from_plan, like, read_plan
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
    assert saved.coupons[0].position == Position(1, 1)
    assert saved.coupons[0].drawn == Position(0, 0)
    assert read_plan(tmp_path / "saved.json") == (saved, [])
    assert run(["new", str(tmp_path / "again"), "--plan", str(tmp_path / "saved.json")]) == 0
    assert whole_plan_of(look_at_board(tmp_path / "again")) == saved


@pytest.fixture
def shrunk(board: Path) -> Path:
    """The board with its coupons set out and markers, and then said to be far narrower."""
    with closing(Session(board, clock=clock)) as session:
        session.do(edit_board, replace(session.record.board, width_mm=400, height_mm=500))
        session.do(set_layout, replace(session.record.layout, coupon_width_mm=60, coupon_height_mm=100))
        session.do(set_out_coupons)
        session.do(place_markers, 20.0)
        session.do(edit_board, replace(session.record.board, width_mm=150))
    return board


def test_a_plan_that_would_not_come_back_whole_is_not_saved(shrunk: Path, tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        save_plan(look_at_board(shrunk), tmp_path / "saved.json")
    told = caught.value.problem.what
    assert told.startswith("Something of this plan would be lost when it is read again, so it was not saved. ")
    assert "“C02”" in told
    assert told.endswith(" Put the board's size, the outlines or the markers right first.")
    assert len(told) < 800
    assert not (tmp_path / "saved.json").exists()


def test_a_board_like_one_leaves_out_what_cannot_be_on_it(shrunk: Path, tmp_path: Path) -> None:
    like(shrunk, tmp_path / "like", "Another", clock=clock)
    before, after = look_at_board(shrunk), look_at_board(tmp_path / "like")
    kept = {each.id: each.outline_mm for each in after.coupons.values()}
    assert kept == {
        each.id: each.outline_mm if max(x for x, _ in each.outline_mm) <= 150 else ()
        for each in before.coupons.values()
    }
    assert 0 < sum(map(bool, kept.values())) < len(kept)
    assert {each.id for each in after.markers} == {0, 3}
    assert len(before.markers) == 4
    save_plan(after, tmp_path / "saved.json")
    assert read_plan(tmp_path / "saved.json") == (whole_plan_of(after), [])


def test_the_same_number_draws_the_same_lots_on_a_plan_read_again(board: Path, tmp_path: Path) -> None:
    with closing(Session(board, clock=clock)) as session:
        session.do(edit_board, replace(session.record.board, started=None))
        session.do(draw_board_lots, 5)
        session.do(move_coupon, 1, Position(1, 1))
        session.do(draw_board_lots, 11)
        save_plan(session.record, tmp_path / "saved.json")
        first = {each.id: each.position for each in session.record.coupons.values()}
    create_from_plan(tmp_path / "again", read_plan(tmp_path / "saved.json")[0], clock=clock)
    with closing(Session(tmp_path / "again", clock=clock)) as session:
        assert {each.id: each.position for each in session.record.coupons.values()} == first
        session.do(draw_board_lots, 11)
        assert {each.id: each.position for each in session.record.coupons.values()} == first


def test_nothing_is_saved_of_a_board_without_coupons(tmp_path: Path) -> None:
    create_from_plan(tmp_path / "empty", Plan(Board("Shed")), clock=clock)
    with pytest.raises(InputError, match="No coupon hangs on this board"):
        save_plan(look_at_board(tmp_path / "empty"), tmp_path / "saved.json")
    assert not (tmp_path / "saved.json").exists()


def test_a_plan_too_large_to_be_read_again_is_not_saved(board: Path, tmp_path: Path) -> None:
    record = look_at_board(board)
    record.board = replace(record.board, rows=10, columns=40)
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
