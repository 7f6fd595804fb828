"""New boards: whole or not at all, in folders that every disk allows."""

from __future__ import annotations

import os
import unicodedata
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shelf_boards import add_picture, clock, make_board, plan

from rustboard.board.model import Plan, PlannedCoupon
from rustboard.board.position import Position
from rustboard.operations.boards import label_axis
from rustboard.operations.coupons import take_off
from rustboard.session.looking import look_at_board
from rustboard.session.new_board import (
    LONGEST_FOLDER_NAME,
    copy_board,
    create_from_plan,
    folder_name,
    free_folder,
    like,
    read_plan,
)
from rustboard.session.session import Session
from rustboard.support.problems import InputError


def names_in(folder: Path) -> list[str]:
    return sorted(each.name for each in folder.iterdir())


def test_a_board_from_a_plan_holds_what_the_plan_says(tmp_path: Path) -> None:
    create_from_plan(tmp_path / "boards" / "a", plan("Harbour wall"), who="Ada", clock=clock)
    record = look_at_board(tmp_path / "boards" / "a")
    assert record.board == plan("Harbour wall").board
    assert [each.id for each in record.coupons_in_order()] == ["C01", "C02", "C03", "C04", "C05", "C06"]
    assert names_in(tmp_path / "boards" / "a") == ["board.rustboard"]
    with closing(Session(tmp_path / "boards" / "a", read_only=True)) as session:
        ((_, who, what, _),) = session.audit()
    assert (who, what) == ("Ada", "set_up_board")


def test_an_empty_plan_makes_an_empty_board(tmp_path: Path) -> None:
    create_from_plan(tmp_path / "a", Plan(plan("empty").board), clock=clock)
    assert look_at_board(tmp_path / "a").coupons == {}
    assert names_in(tmp_path / "a") == ["board.rustboard"]


def wrong_coupon(good: Plan) -> Plan:
    return replace(good, coupons=(*good.coupons, PlannedCoupon("C07", Position(40, 40))))


def wrong_treatment(good: Plan) -> Plan:
    return replace(good, treatments=())


def wrong_board(good: Plan) -> Plan:
    return replace(good, board=replace(good.board, name=" ", width_mm=-1.0))


@pytest.mark.parametrize("spoil", [wrong_coupon, wrong_treatment, wrong_board])
def test_a_plan_that_cannot_be_leaves_nothing_behind(tmp_path: Path, spoil: object) -> None:
    with pytest.raises(InputError):
        create_from_plan(tmp_path / "a", spoil(plan("a")), clock=clock)  # type: ignore[operator]
    assert names_in(tmp_path) == []


def test_a_folder_that_holds_something_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "a" / "letter.txt").write_text("x")
    with pytest.raises(InputError, match="a: This folder already holds something"):
        create_from_plan(tmp_path / "a", plan("a"), clock=clock)
    assert names_in(tmp_path / "a") == ["letter.txt"]


def test_a_board_like_another_has_its_layout_but_not_its_history(tmp_path: Path) -> None:
    old = make_board(tmp_path / "old", "old", [[10, 9, 8, 7, 6, 5]])
    with closing(Session(old, clock=clock)) as session:
        session.do(label_axis, "row", 1, "under the eaves")
        session.do(take_off, session.record.coupons_in_order()[0].key)
        like(session, tmp_path / "from open", "new", clock=clock)
    like(old, tmp_path / "from folder", "new", clock=clock)
    for name in ("from open", "from folder"):
        record = look_at_board(tmp_path / name)
        assert (record.board.name, record.board.started, record.board.rows) == ("new", None, 2)
        assert [each.id for each in record.coupons_in_order()] == ["C02", "C03", "C04", "C05", "C06"]
        assert {each.name for each in record.treatments.values()} == {"hot beeswax blend"}
        assert record.axis_label("row", 1) == "under the eaves"
        assert record.inspections == {}
        assert record.current == {}


def test_a_copy_holds_grades_and_photos(tmp_path: Path) -> None:
    old = make_board(tmp_path / "old", "old", [[10, 9]])
    photo = add_picture(old)
    copy_board(old, tmp_path / "copy")
    assert look_at_board(tmp_path / "copy") == look_at_board(old)
    assert (tmp_path / "copy" / "photos" / photo.name).read_bytes() == photo.read_bytes()


def test_a_copy_of_a_board_that_is_open_is_made_all_the_same(tmp_path: Path) -> None:
    old = make_board(tmp_path / "old", "old", [[10]])
    with closing(Session(old, clock=clock)):
        copy_board(old, tmp_path / "copy")
    assert look_at_board(tmp_path / "copy") == look_at_board(old)


def test_plans_are_read_by_their_ending_or_their_beginning(tmp_path: Path) -> None:
    table = "coupon,position\nC01,A1\n"
    written = '{"coupons": [{"id": "C01", "position": "A1"}]}'
    for name, text in (("a.csv", table), ("a.json", written), ("a.txt", table), ("a.plan", written)):
        (tmp_path / name).write_text(text)
        read, problems = read_plan(tmp_path / name)
        assert ([each.id for each in read.coupons], problems) == (["C01"], [])


@pytest.mark.parametrize(
    ("name", "folder"),
    [
        ("Harbour wall spring", "Harbour wall spring"),
        ("../../etc", "-..-etc"),
        ("a/b\\c:d", "a-b-c-d"),
        ("what? <now>", "what- -now-"),
        ("ends in dots. . .", "ends in dots"),
        (".hidden", "hidden"),
        ("  ", "Board"),
        ("..", "Board"),
        ("***", "Board"),
        ("NUL", "Board NUL"),
        ("com1.rustboard", "Board com1.rustboard"),
        ("LPT¹", "Board LPT¹"),
        ("console", "console"),
        ("Tür\u0308 🧲", "Tür\u0308 🧲"),
        ("bell\x07", "bell-"),
    ],
)
def test_a_folder_is_named_like_the_board_as_far_as_disks_allow(name: str, folder: str) -> None:
    assert folder_name(name) == unicodedata.normalize("NFC", folder)


@given(st.text(max_size=500))
def test_every_name_gives_a_folder_that_can_be_made(name: str) -> None:
    plain = folder_name(name)
    assert 0 < len(plain) <= LONGEST_FOLDER_NAME + len("Board ")
    assert len(os.fsencode(plain)) <= 200
    assert not set(plain) & set('<>:"/\\|?*\0')
    assert plain == plain.strip(" .") or plain.rstrip(" .") == plain
    assert Path("boards", plain).parent == Path("boards")


def test_a_name_that_is_taken_gets_a_number(tmp_path: Path) -> None:
    assert free_folder(tmp_path / "not there yet", "Harbour") == tmp_path / "not there yet" / "Harbour"
    (tmp_path / "HARBOUR").mkdir()
    assert free_folder(tmp_path, "Harbour") == tmp_path / "Harbour 2"
    (tmp_path / "Harbour 2").write_text("x")
    assert free_folder(tmp_path, "Harbour") == tmp_path / "Harbour 3"


def test_a_long_name_that_is_taken_gets_a_number_and_stays_short(tmp_path: Path) -> None:
    for _ in range(3):
        folder = free_folder(tmp_path, "🧲" * 400)
        folder.mkdir()
    assert len(names_in(tmp_path)) == 3
    assert all(len(os.fsencode(each)) <= 200 for each in names_in(tmp_path))
