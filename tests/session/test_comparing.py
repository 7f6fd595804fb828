"""Boards beside one another: what differs, and each coupon as of a place on a clock."""

from __future__ import annotations

from datetime import datetime

import pytest
from blind_steps import start
from boards_together import ROOF, WALL, put_board, three_boards
from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.board.model import Board
from rustboard.board.record import BoardRecord
from rustboard.session.board_differences import differences
from rustboard.session.comparing import cell_at, offered, on_clock, read_beside, rows_shown
from rustboard.session.guest_board import coupons_of_row
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.other_boards import ReadRequest
from rustboard.session.session import Session
from rustboard.session.shelf import ShelfEntry
from rustboard.support.problems import InputError


@pytest.fixture
def folders(tmp_path):
    return three_boards(tmp_path / "boards")


def read(*folders):
    return read_beside(ReadRequest(folders), Progress())


def clocked(beside, kind="days"):
    return on_clock(beside, kind, Progress())


def cells(beside, on, name, place):
    row = next(each for each in beside.read.matching.common if each.name == name)
    records = beside.read.records
    return [
        cell_at(board, coupons_of_row(record, row, number), place)
        for number, (board, record) in enumerate(zip(on.boards, records, strict=True))
    ]


def grades(cell):
    return [each.grade for each in cell.coupons]


def test_a_grade_holds_until_the_next_look(folders):
    beside = read(*folders)
    on = clocked(beside)
    assert [grades(each) for each in cells(beside, on, "hot wax", 20)] == [[10, 10, 10], [10, 10, 10], [10, 10, 10]]
    assert [grades(each) for each in cells(beside, on, "hot wax", 21)] == [[10, 9, 9], [9, 9, 10], [9, 10, 9]]


def test_beyond_its_last_look_nothing_is_claimed_of_a_board(folders):
    beside = read(*folders)
    on = clocked(beside)
    assert (on.shared, on.furthest, on.stops()) == (42, 60, (7, 21, 42, 60))
    wall, yard, roof = cells(beside, on, "hot wax", 60)
    assert (wall.beyond, yard.beyond, roof.beyond) == (True, False, True)
    assert grades(wall) == [None, None, None]
    assert grades(yard) == [9, 8, 8]
    assert [len(each.history) for each in wall.coupons] == [3, 3, 3]


def test_before_the_first_look_no_coupon_has_a_grade(folders):
    beside = read(*folders)
    first = cells(beside, clocked(beside), "hot wax", 3)
    assert {each for cell in first for each in grades(cell)} == {None}
    assert not any(each.beyond for each in first)


def test_a_board_without_the_treatment_has_an_empty_cell(folders):
    beside = read(*folders)
    assert cells(beside, clocked(beside), "varnish", 21)[0].coupons == ()


def test_a_board_without_the_clock_says_why_and_the_others_are_shown(folders, tmp_path):
    bare = {"hot wax": WALL["hot wax"]}
    beside = read(folders[0], put_board(tmp_path / "none", "No controls", bare))
    on = clocked(beside, "controls")
    assert on.boards[0].clock is not None
    assert on.boards[1].clock is None
    assert on.boards[1].problem.startswith("The board “No controls” has no graded controls")
    assert on.shared == on.boards[0].reached
    assert grades(cells(beside, on, "hot wax", 5)[1]) == [None, None, None]


def test_the_controls_come_last_and_what_most_boards_have_first(folders):
    matching = read(*folders).read.matching
    assert [each.name for each in rows_shown(matching)] == ["hot wax", "oil", "varnish", "control"]


def test_a_board_being_graded_blind_is_not_compared(folders):
    session = Session(folders[0])
    start(session)
    session.close()
    with pytest.raises(InputError, match="is being graded blind"):
        read(*folders)


def test_one_board_or_too_many_are_refused(folders):
    with pytest.raises(InputError, match="at least two"):
        read(folders[0])
    with pytest.raises(InputError, match="At most 12"):
        read(*[folders[0] / str(number) for number in range(13)])


def test_it_can_be_stopped(folders):
    stopped = Progress()
    stopped.cancel()
    with pytest.raises(Cancelled):
        read_beside(ReadRequest(folders), stopped)


def test_what_differs_is_told_and_what_is_alike_too(tmp_path):
    beside = read(
        put_board(tmp_path / "a", "A", WALL, site="harbour"),
        put_board(tmp_path / "b", "B", ROOF, site=" Harbour", first=datetime(2026, 9, 2, 9)),
    )
    found = {each.aspect: each for each in differences(beside.read.records, beside.weather)}
    assert found["site"].alike == "alike"
    assert found["period"].alike == "differs"
    assert found["season"].values == ((3, 4), (9, 10))
    assert found["days"].alike == "alike"
    assert found["coupons"].values == (9.0, 6.0)
    assert not {"rain", "wet hours", "steel", "shelter"} & found.keys()


@settings(max_examples=30, deadline=None)
@given(st.lists(st.sampled_from(["", "wall", "Wall ", "roof"]), min_size=2, max_size=5), st.randoms())
def test_the_order_of_the_boards_changes_no_word(sites, chance):
    records = [BoardRecord(Board(str(number), site=site)) for number, site in enumerate(sites)]
    mixed = records.copy()
    chance.shuffle(mixed)
    one, other = ({each.aspect: each.alike for each in differences(given)} for given in (records, mixed))
    assert one == other


def test_the_board_that_one_follows_is_offered_first(tmp_path):
    from rustboard.board.shelving import Forerunner

    entries = [
        ShelfEntry(tmp_path / name, name, inspections=1, being_graded_blind=blind, problem=problem)
        for name, blind, problem in (("a", False, ""), ("b", False, ""), ("c", True, ""), ("d", False, "broken"))
    ]
    followed = Forerunner("b", None, "", "site", "b")
    names = [(each.name, first) for each, first in offered(entries, tmp_path / "this", followed)]
    assert names == [("b", True), ("a", False)]
    assert [each.name for each, _ in offered(entries, tmp_path / "a", None)] == ["b"]
