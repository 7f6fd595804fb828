"""What was noted of the coupons beside their grades, and widths as people type them."""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.damage import MOST_WIDTHS, Damage
from rustboard.board.damages_noted import damages_at, damages_in_order, damages_of, read_widths
from rustboard.board.model import Board, Coupon, Inspection
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.support.problems import InputError


def noted(key: int, coupon: int, inspection: int, kind: str) -> Damage:
    return Damage(key, coupon, inspection, kind, 5.0, "", None, (), "Ann", "", "2026-03-02T09:00:00")


@pytest.fixture
def record() -> BoardRecord:
    """Two coupons, the second hanging first; two inspections, the second being the earlier."""
    found = (
        noted(1, 1, 1, "creep"),
        noted(2, 2, 1, "blisters"),
        noted(3, 2, 1, "edge rust"),
        noted(4, 1, 2, "stain"),
    )
    return BoardRecord(
        Board("Yard"),
        coupons={1: Coupon("C01", Position(0, 1), key=1), 2: Coupon("C02", Position(0, 0), key=2)},
        inspections={1: Inspection(datetime(2026, 3, 9), key=1), 2: Inspection(datetime(2026, 3, 2), key=2)},
        damages={each.key: each for each in found},
    )


def test_damage_is_found_by_coupon_and_inspection_edges_first(record):
    assert [each.kind for each in damages_of(record, 2, 1)] == ["edge rust", "blisters"]
    assert damages_of(record, 2, 2) == ()
    at_first = damages_at(record, 1)
    assert {key: [each.kind for each in found] for key, found in at_first.items()} == {
        1: ["creep"],
        2: ["edge rust", "blisters"],
    }
    assert at_first[2] == damages_of(record, 2, 1)


def test_all_of_it_comes_by_time_then_as_one_reads_the_board(record):
    said = [(inspection.key, coupon.id, each.kind) for inspection, coupon, each in damages_in_order(record)]
    assert said == [(2, "C01", "stain"), (1, "C02", "edge rust"), (1, "C02", "blisters"), (1, "C01", "creep")]


@pytest.mark.parametrize(
    ("text", "widths"),
    [
        ("2.1 3.0 2.4", (2.1, 3.0, 2.4)),
        ("2,1 3,0 2,4", (2.1, 3.0, 2.4)),
        ("2,1; 3,0;2,4", (2.1, 3.0, 2.4)),
        ("2.1, 3.0, 2.4", (2.1, 3.0, 2.4)),
        ("2,1, 3,0,", (2.1, 3.0)),
        ("  3 ", (3.0,)),
        ("2.1\n3", (2.1, 3.0)),
        (",5 .5", (0.5, 0.5)),
        ("", ()),
        (" ; , ", ()),
    ],
)
def test_widths_stand_between_spaces_or_semicolons_with_a_point_or_a_comma(text, widths):
    assert read_widths(text) == widths


@pytest.mark.parametrize(
    "text", ["2.1 wide", "2,1,3,0", "1.2.3", "nan", "inf 2", "1e999", "٣", "2.1mm", "\u202e2", "--1"]
)
def test_what_is_no_width_is_refused_with_what_was_written(text):
    with pytest.raises(InputError, match="“"):
        read_widths(text)


def test_more_widths_than_are_kept_are_refused():
    assert len(read_widths("1 " * MOST_WIDTHS)) == MOST_WIDTHS
    with pytest.raises(InputError, match="At most 100"):
        read_widths("1 " * (MOST_WIDTHS + 1))


@given(st.text(alphabet="0123456789,.; e+-x\n", max_size=60))
def test_any_text_is_read_or_refused_in_words(text):
    try:
        widths = read_widths(text)
    except InputError as error:
        widths, said = (), error.problem.what
        assert "“" in said or str(MOST_WIDTHS) in said
    assert all(each >= 0 or "-" in text for each in widths)
