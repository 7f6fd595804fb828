"""Coupons left out of the findings, on the disk: read as they were put, refused or made safe when altered."""

from __future__ import annotations

import sqlite3

import pytest
from store_boards import NOW, damaged, do, graded_board, opened, plant, raw, refusal_of_reading

from rustboard.board.left_out import MOST_REASON, LeftOut
from rustboard.operations.leaving_out import leave_out
from rustboard.store.check import check_board

NOWHERE = "Some rows point at coupons or inspections that are not there; restore a copy from the backups folder."


@pytest.fixture
def folder(tmp_path):
    """A graded board with one coupon left out."""
    folder = graded_board(tmp_path / "b")
    with opened(folder) as store:
        do(store, leave_out, 2, "scratched on day 3")
    return folder


def left_out_of(folder):
    with opened(folder, read_only=True) as store:
        return store.read().left_out


def test_the_row_is_read_as_it_was_put(folder):
    assert left_out_of(folder) == {1: LeftOut(1, 2, "scratched on day 3", "tester", NOW.isoformat())}
    assert check_board(folder).problems == []


@pytest.mark.parametrize("change", [
    "reason = ''", "reason = '   '", "reason = char(10)", "coupon = 0", "coupon = -7",
])  # fmt: skip
def test_a_value_that_no_version_writes_refuses_the_board(folder, change):
    plant(folder, f"UPDATE left_out SET {change}")
    assert refusal_of_reading(folder) == damaged("left_out")


def test_a_coupon_that_is_not_there_cannot_be_left_out(folder):
    plant(folder, "UPDATE left_out SET coupon = 99")
    assert refusal_of_reading(folder) == NOWHERE


def test_more_rows_than_a_board_has_coupons_are_refused(folder):
    many = "WITH RECURSIVE n(i) AS (VALUES (10) UNION ALL SELECT i + 1 FROM n WHERE i < 20000)"
    plant(folder, f"{many} INSERT INTO left_out (coupon, reason, who, recorded) SELECT i, 'x', '', '' FROM n")
    assert refusal_of_reading(folder).startswith("The table left_out has more rows than any board")


def test_no_coupon_is_left_out_twice(folder):
    with raw(folder) as connection, pytest.raises(sqlite3.IntegrityError, match=r"UNIQUE.*left_out\.coupon"):
        connection.execute("INSERT INTO left_out (coupon, reason, who, recorded) VALUES (2, 'again', '', '')")


def test_texts_are_made_safe_to_show_and_bounded(folder):
    plant(folder, "UPDATE left_out SET reason = 'fell' || char(10) || 'off' || char(8238), who = char(27) || 'Ann'")
    (found,) = left_out_of(folder).values()
    assert (found.reason, found.who) == ("fell off\ufffd", "\ufffdAnn")
    plant(folder, "UPDATE left_out SET reason = printf('%.*c', 900000, 'x')")
    (found,) = left_out_of(folder).values()
    assert found.reason == "x" * MOST_REASON
    with opened(folder) as store:  # and what is too long may be replaced
        do(store, leave_out, 2, "fell off")
    assert left_out_of(folder)[1].reason == "fell off"
