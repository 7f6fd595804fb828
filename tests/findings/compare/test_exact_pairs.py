"""The exact test of one comparison on a board: missing values, rows, fair edges, drawing in place of counting."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from enumeration import enumerated, labellings
from hypothesis import given, settings
from hypothesis import strategies as st
from judged_boards import judged_board, subject_for

from rustboard.findings.compare import exact_pairs
from rustboard.findings.compare.exact_pairs import DRAWS, exact_result, levels_with_values


def exact_of(record, number=0):
    subject = subject_for(record)
    return exact_result(subject, subject.comparisons[number], subject.values)


def test_two_groups_over_the_whole_board():
    found = exact_of(judged_board({"wax": [9, 8, 7, 9], "oil": [3, 2, 4, 1]}))
    assert (found.p, found.smallest, found.arrangements, found.sampled) == (2 / 70, 2 / 70, 70, 0)
    assert found.p_family is None


def test_coupons_that_were_not_graded_are_in_no_arrangement():
    found = exact_of(judged_board({"wax": [9, 8, 7, None], "oil": [3, 2, 4, None]}))
    assert (found.p, found.smallest, found.arrangements) == (2 / 20, 2 / 20, 20)


def test_coupons_that_were_left_out_are_in_no_arrangement():
    from rustboard.board.left_out import LeftOut

    record = judged_board({"wax": [9, 8, 7, 0], "oil": [3, 2, 4, 1]})
    record.left_out[103] = LeftOut(1, 103, "fell down", "Ada", "2026-03-02T09:00:00")
    assert exact_of(record).arrangements == 35


def test_rows_are_strata_where_lots_were_drawn_within_them():
    grades = {"wax": [9, 5, 3], "oil": [8, 4, 2]}
    within = exact_of(judged_board(grades, method="rows"))
    assert (within.p, within.arrangements) == (2 / 8, 8)
    over_all = exact_of(judged_board(grades))
    assert over_all.arrangements == 20
    assert over_all.p > within.p  # rows that differ hide the difference within them


def test_rows_with_one_side_alone_change_nothing():
    found = exact_of(judged_board({"wax": [9, 5, 3, 10], "oil": [8, 4, 2, None]}, method="rows"))
    assert (found.p, found.arrangements) == (2 / 8, 8)


@settings(max_examples=15)
@given(st.lists(st.integers(0, 10), min_size=12, max_size=12))
def test_lots_that_keep_the_edges_fair_count_only_what_they_could_have_drawn(grades):
    record = judged_board({"a": grades[:4], "b": grades[4:8], "c": grades[8:]})
    record.layouts[1] = replace(record.layouts[1], fair_edges=True)
    subject = subject_for(record)
    for comparison in subject.comparisons:
        levels = levels_with_values(subject, comparison, subject.values)
        found = exact_result(subject, comparison, subject.values)
        p, _, _, ways = enumerated(levels, {key: int(each) for key, each in subject.values.items()})
        assert found.arrangements == ways
        assert Fraction(found.p).limit_denominator(10_000) == p
        assert found.smallest <= found.p


# ---- drawn in place of counted


def drawn_of(record, monkeypatch, number=0):
    monkeypatch.setattr(exact_pairs, "MOST_STATES", 0)
    return exact_of(record, number)


@pytest.mark.parametrize("method", ["complete", "rows"])
def test_drawing_comes_close_to_counting(method, monkeypatch):
    record = judged_board({"wax": [9, 8, 7, 4, 6], "oil": [6, 7, 4, 3, 5]}, method=method)
    counted, drawn = exact_of(record), drawn_of(record, monkeypatch)
    assert (counted.sampled, drawn.sampled) == (0, DRAWS)
    assert drawn.p == pytest.approx(counted.p, abs=4 * (counted.p * (1 - counted.p) / DRAWS) ** 0.5)
    assert (drawn.smallest, drawn.arrangements) == (counted.smallest, counted.arrangements)


def test_drawing_with_fair_edges_comes_close_to_counting(monkeypatch):
    record = judged_board({"a": [9, 8, 5, 7], "b": [4, 6, 8, 2], "c": [5, 5, 5, 5]})
    record.layouts[1] = replace(record.layouts[1], fair_edges=True)
    counted, drawn = exact_of(record), drawn_of(record, monkeypatch)
    assert drawn.p == pytest.approx(counted.p, abs=4 * (counted.p * (1 - counted.p) / DRAWS) ** 0.5)


def test_a_drawn_p_counts_the_arrangement_seen_as_one_of_them(monkeypatch):
    apart = {"wax": [10] * 14 + [9], "oil": [0] * 14 + [1]}
    found = drawn_of(judged_board(apart), monkeypatch)
    assert found.p == 1 / (DRAWS + 1)  # none of those drawn is as far out as one in 78 million: (0 + 1) / (m + 1)
    alike = drawn_of(judged_board({"wax": [8, 8], "oil": [8, 8]}), monkeypatch)
    assert alike.p == 1.0


def test_drawn_labels_are_only_those_that_the_lots_could_have_dealt():
    record = judged_board({"a": [9, 8, 5, 7], "b": [4, 6, 8, 2], "c": [5, 5, 5, 5]})
    record.layouts[1] = replace(record.layouts[1], fair_edges=True)
    subject = subject_for(record)
    (level,) = levels_with_values(subject, subject.comparisons[0], subject.values)
    labels, shares = exact_pairs._labels(level.units, level.limits, 0)
    assert labels.shape == (DRAWS, 8)
    keys = [next(iter(each.coupons)) for each in level.units]
    allowed = set(labellings(level))
    seen = {frozenset(np.array(keys)[row.astype(bool)].tolist()) for row in labels}
    assert seen == allowed
    assert shares == pytest.approx([np.mean([key in each for each in allowed]) for key in keys])


def test_where_fair_lots_are_too_rare_labels_keep_to_equal_shares_of_the_edge():
    from rustboard.findings.exchange import EdgeLimits, Unit

    units = [Unit(frozenset({n}), n < 10, (0,), int(n < 10)) for n in range(20)]  # all of a at the edge
    labels, shares = exact_pairs._labels(units, EdgeLimits(10, 10, 0, 0), 0)
    assert (labels.sum(axis=1) == 10).all()
    assert (labels[:, :10] == 1).all()  # 1 arrangement of 184756 is as fair
    assert shares.tolist() == [1.0] * 10 + [0.0] * 10
