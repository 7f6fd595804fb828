"""Whatever is planned before the exposure, undone and done again: every step leads exactly there and back."""

from __future__ import annotations

import tempfile
from dataclasses import replace
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from session_boards import opened, prepared

from rustboard.board.drain import drain_breaks, hung_coupons
from rustboard.board.layout import DRAIN_CARES, METHODS, Layout
from rustboard.board.position import Position
from rustboard.operations.boards import add_line, edit_board, remove_line
from rustboard.operations.coupons import move_coupon, remove_coupon, take_off
from rustboard.operations.layouts import (
    draw_board_lots,
    place_markers,
    remove_markers,
    set_grid,
    set_layout,
    set_out_coupons,
    set_replicates,
)
from rustboard.store.check import check_board
from rustboard.support.problems import InputError

keys = st.integers(1, 9)
axes = st.sampled_from(["row", "column"])
layouts = st.builds(
    Layout, st.sampled_from(METHODS), st.sampled_from(DRAIN_CARES), st.integers(1, 2), st.booleans(),
    coupon_width_mm=st.sampled_from([0.0, 40.0, 60.0]), coupon_height_mm=st.just(50.0),
)  # fmt: skip
steps = st.one_of(
    st.tuples(st.just(draw_board_lots), st.integers(0, 99)),
    st.tuples(st.just(draw_board_lots), st.integers(0, 99)),
    st.tuples(st.just(set_layout), layouts),
    st.tuples(st.just(set_replicates), st.sampled_from([None, 1]), st.integers(0, 9)),
    st.tuples(st.just(set_grid), st.integers(2, 4), st.integers(3, 8)),
    st.tuples(st.just(place_markers), st.sampled_from([10.0, 30.0, 500.0])),
    st.tuples(st.sampled_from([set_out_coupons, remove_markers])),
    st.tuples(st.just(move_coupon), keys, st.builds(Position, st.integers(0, 3), st.integers(0, 7))),
    st.tuples(st.sampled_from([take_off, remove_coupon]), keys),
    st.tuples(st.sampled_from([add_line, remove_line]), axes, st.integers(0, 4)),
)


def history(session, done):
    """Do all steps; return the record after each that changed something."""
    records = [session.record.snapshot()]
    for operation, *arguments in done:
        try:
            changes = session.do(operation, *arguments)
        except InputError:
            assert session.record == records[-1]
            continue
        if not changes.tables:
            assert session.record == records[-1]
            continue
        if operation is draw_board_lots:
            all_hang_as_drawn(session.record, changes.summary)
        records.append(session.record.snapshot())
    return records


def all_hang_as_drawn(record, summary):
    positions = {key: each.position for key, each in record.coupons.items()}
    assert positions == {each.coupon: each.position for each in record.lots.values()}
    assert len(set(positions.values())) == len(positions)
    assert all(record.board.has(each) for each in positions.values())
    broken = drain_breaks(hung_coupons(record), record.layout, record.board.incline_deg)
    assert ("drip rule is broken" in summary.text()) == bool(broken)


# Each example is a board on a disk, so few of them with many steps.
@settings(max_examples=25)
@given(st.lists(steps, min_size=5, max_size=25))
def test_every_step_of_a_plan_leads_there_and_back(done):
    with tempfile.TemporaryDirectory(prefix="rustboard-plans-") as folder:
        session = prepared(Path(folder) / "b", coupons=4, inspections=0)
        session.do(edit_board, replace(session.record.board, width_mm=700.0, height_mm=400.0))
        records = history(session, done)
        for before in reversed(records[:-1]):
            session.undo()
            assert session.record == before
        for after in records[1:]:
            session.redo()
            assert session.record == after
        session.close()
        assert check_board(Path(folder) / "b").problems == []
        again = opened(Path(folder) / "b")
        assert again.record == records[-1]
        again.close()
