"""New boards: whole or not at all, in folders that every disk allows."""

from __future__ import annotations

import os
import shutil
import sqlite3
import unicodedata
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shelf_boards import add_picture, clock, make_board, plan

from rustboard.board.inspection_days import InspectionDays
from rustboard.board.layout import Layout
from rustboard.board.model import Plan, PlannedCoupon
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.record import BoardRecord, is_archived, tags_of
from rustboard.operations.blind import BlindChoice, start_blind
from rustboard.operations.boards import label_axis
from rustboard.operations.coupons import take_off
from rustboard.operations.shelving import archive, set_tags
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.looking import look_at_board
from rustboard.session.new_board import (
    LONGEST_FOLDER_NAME,
    copy_board,
    create_from_plan,
    folder_name,
    free_folder,
    free_name,
    like,
    read_plan,
)
from rustboard.session.session import Session
from rustboard.support.problems import InputError


def test_the_sample_workbook_reads_the_same_as_the_sample_table(checkout: Path) -> None:
    examples = checkout / "resources" / "examples"
    assert read_plan(examples / "plan.xlsx") == read_plan(examples / "plan.csv")
    assert read_plan(examples / "plan.xlsx")[1] == []


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


def test_a_plan_without_coupons_keeps_its_question_layout_and_calendar(tmp_path: Path) -> None:
    question, layout, calendar = Question(words="Which wax?"), Layout("complete"), InspectionDays((0, 1, 2))
    for name, planned in (
        ("question", Plan(plan("a").board, questions=(question,))),
        ("layout", Plan(plan("a").board, layout=layout)),
        ("calendar", Plan(plan("a").board, calendar=calendar)),
    ):
        create_from_plan(tmp_path / name, planned, clock=clock)
    assert look_at_board(tmp_path / "question").question.words == "Which wax?"
    assert look_at_board(tmp_path / "layout").layout.method == "complete"
    assert look_at_board(tmp_path / "calendar").calendar.days == (0, 1, 2)


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


def test_a_board_like_another_or_copied_keeps_the_tags_and_is_not_in_the_archive(tmp_path: Path) -> None:
    old = make_board(tmp_path / "old", "old", [[10]])
    with closing(Session(old, clock=clock)) as session:
        session.do(set_tags, ["wax", "harbour"])
        session.do(archive)
    like(old, tmp_path / "like", "new", clock=clock)
    copy_board(old, tmp_path / "copy", "copy", clock=clock)
    for name in ("like", "copy"):
        record = look_at_board(tmp_path / name)
        assert (tags_of(record), is_archived(record)) == (["wax", "harbour"], False)
    assert is_archived(look_at_board(old))


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


def without_its_name(folder: Path) -> BoardRecord:
    record = look_at_board(folder)
    return replace(record, board=replace(record.board, name=""))


def test_a_copy_may_have_a_name_of_its_own_which_undo_takes_back(tmp_path: Path) -> None:
    old = make_board(tmp_path / "old", "old", [[10, 9]])
    add_picture(old)
    assert copy_board(old, tmp_path / "copy", "Harbour wall, for Ada", who="Ben", clock=clock) == tmp_path / "copy"
    assert names_in(tmp_path / "copy") == ["board.rustboard", "photos"]
    record = look_at_board(tmp_path / "copy")
    assert record.board.name == "Harbour wall, for Ada"
    assert without_its_name(tmp_path / "copy") == without_its_name(old)
    with closing(Session(tmp_path / "copy", clock=clock)) as session:
        assert session.audit()[0][1:3] == ("Ben", "edit_board")
        session.undo()
        assert session.record == look_at_board(old)


def test_a_copy_without_a_possible_name_leaves_nothing(tmp_path: Path) -> None:
    old = make_board(tmp_path / "old", "old", [[10]])
    with pytest.raises(InputError, match="A board needs a name"):
        copy_board(old, tmp_path / "copy", "\n ", clock=clock)
    assert names_in(tmp_path) == ["old"]


def test_a_copy_of_a_board_whose_last_write_was_cut_off_holds_what_was_there_before(tmp_path: Path) -> None:
    old = make_board(tmp_path / "old", "old", [[10, 9, 8]] * 40)
    before = look_at_board(old)
    with closing(sqlite3.connect(old / "board.rustboard", isolation_level=None)) as connection:
        connection.execute("PRAGMA cache_size = 1")  # so that pages reach the file before the commit
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("UPDATE coupon SET note = hex(randomblob(3000))")
        shutil.copytree(old, tmp_path / "cut off")
        connection.execute("ROLLBACK")
    assert (tmp_path / "cut off" / "board.rustboard-journal").stat().st_size > 0
    copy_board(tmp_path / "cut off", tmp_path / "copy", "copy", clock=clock)
    assert names_in(tmp_path / "copy") == ["board.rustboard"]
    assert replace(look_at_board(tmp_path / "copy"), board=before.board) == before


@pytest.mark.skipif(os.name != "posix", reason="Windows knows no read-only folders")
def test_a_copy_of_what_may_not_be_written_can_be_written(tmp_path: Path) -> None:
    old = make_board(tmp_path / "old", "old", [[10]])
    photo = add_picture(old)
    times = photo.stat().st_mtime_ns
    inside = [old / "board.rustboard", photo, old / "photos", old]
    modes = [each.stat().st_mode for each in inside]
    for each in inside:
        each.chmod(0o555 if each.is_dir() else 0o444)
    try:
        copy_board(old, tmp_path / "copy", "copy", clock=clock)
    finally:
        for each, mode in zip(inside, modes, strict=True):
            each.chmod(mode)
    for each in (tmp_path / "copy", *(tmp_path / "copy").rglob("*")):
        assert each.stat().st_mode & 0o200, each
    assert (tmp_path / "copy" / "photos" / photo.name).stat().st_mtime_ns == times


def test_copying_tells_how_far_it_is_and_leaves_nothing_when_it_is_stopped(tmp_path: Path) -> None:
    old = make_board(tmp_path / "old", "old", [[10]])
    for shade in (10, 20, 30):
        add_picture(old, colour=(shade, 0, 0))
    told: list[tuple[int, int]] = []
    copy_board(old, tmp_path / "copy", "copy", Progress(lambda done, total: told.append((done, total))), clock=clock)
    assert told == [(0, 4), (1, 4), (2, 4), (3, 4)]
    assert len(list((tmp_path / "copy" / "photos").iterdir())) == 3

    def stop_half_way(done: int, total: int) -> None:
        if done == 2:
            stopped.cancel()

    stopped = Progress(stop_half_way)
    with pytest.raises(Cancelled):
        copy_board(old, tmp_path / "stopped", "stopped", stopped, clock=clock)
    assert names_in(tmp_path) == ["copy", "old"]


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


def test_a_name_that_is_taken_gets_the_next_number(tmp_path):
    assert free_name(tmp_path, "Gate") == "Gate"
    (tmp_path / "Gate").mkdir()
    assert free_name(tmp_path, "Gate") == "Gate 2"
    (tmp_path / "gate 2").mkdir()
    assert free_name(tmp_path, "Gate") == "Gate 3"
    assert free_name(tmp_path, "") == ""
    (tmp_path / folder_name("x" * 100)).mkdir()
    assert free_name(tmp_path, "x" * 100) == "x" * 100 + " 2"


def test_no_board_is_made_like_one_of_which_an_inspection_is_graded_blind(tmp_path: Path) -> None:
    old = make_board(tmp_path / "old", "old", [[10, 9, 8, 7, 6, 5]])
    with closing(Session(old, clock=clock)) as session:
        session.do(start_blind, BlindChoice(1, "bench"))
        with pytest.raises(InputError, match="make it after the reveal"):
            like(session, tmp_path / "new", "new", clock=clock)
    with pytest.raises(InputError, match="make it after the reveal"):
        like(old, tmp_path / "new", "new", clock=clock)
    assert not (tmp_path / "new").exists()
