"""Which groups of coupons a question compares."""

import pytest

from rustboard.board.comparisons import comparisons_of
from rustboard.board.model import Board, Coupon, Treatment
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.record import BoardRecord


def board(*treatments, coupons, controls=(), off=()):
    """A board of one row; ``coupons`` are keys of treatments (0 = none), keys of coupons count from 1."""
    return BoardRecord(
        Board("b", 1, 60),
        dict(enumerate(treatments, 1)),
        {
            key: Coupon(f"C{key}", None if key in off else Position(0, key - 1), treatment or None,
                        "control" if key in controls else "test", key=key)
            for key, treatment in enumerate(coupons, 1)
        },
    )  # fmt: skip


def shown(question, record):
    return {(each.a, each.b): (set(each.coupons_a), set(each.coupons_b)) for each in comparisons_of(question, record)}


WAX = Treatment("T1", "hot wax", "wax")
OIL = Treatment("T2", "boiled oil", "oil")
BARE = Treatment("K", "bare")


def test_each_treatment_is_compared_with_all_controls():
    record = board(WAX, OIL, BARE, coupons=[1, 2, 1, 3, 3, 0], controls={4, 5, 6})
    assert shown(Question("control"), record) == {
        ("hot wax", "control"): ({1, 3}, {4, 5, 6}),
        ("boiled oil", "control"): ({2}, {4, 5, 6}),
    }


def test_coupons_off_the_board_and_treatments_without_coupons_do_not_count():
    record = board(WAX, OIL, BARE, coupons=[1, 1, 2, 3], controls={4}, off={2, 3})
    assert shown(Question("control"), record) == {("hot wax", "control"): ({1}, {4})}
    assert shown(Question("pairs"), record) == {("hot wax", "bare"): ({1}, {4})}


def test_without_controls_nothing_is_compared_with_them():
    assert comparisons_of(Question("control"), board(WAX, OIL, coupons=[1, 2])) == []


def test_all_pairs_come_in_the_order_of_the_ids():
    treatments = [Treatment(f"T{number}") for number in (10, 9, 1)]
    record = board(*treatments, coupons=[1, 2, 3])
    assert [(each.a, each.b) for each in comparisons_of(Question("pairs"), record)] == [
        ("T1", "T9"), ("T1", "T10"), ("T9", "T10"),
    ]  # fmt: skip


def test_two_treatments_of_one_name_are_told_apart_by_their_ids():
    record = board(Treatment("T1", "Wax"), Treatment("T2", "wax"), Treatment("T3"), coupons=[1, 2, 3])
    assert set(shown(Question("pairs"), record)) == {
        ("Wax (T1)", "wax (T2)"), ("Wax (T1)", "T3"), ("wax (T2)", "T3"),
    }  # fmt: skip


def test_families_are_compared_with_one_another_and_controls_are_one_of_their_own():
    other_wax = Treatment("T3", "cold wax", " Wax ")
    record = board(WAX, OIL, other_wax, BARE, coupons=[1, 2, 3, 4, 4, 0], controls={5, 6})
    assert shown(Question("families"), record) == {
        ("oil", "wax"): ({2}, {1, 3}),
        ("oil", "control"): ({2}, {5, 6}),  # coupon 4 is a test coupon whose treatment has no family
        ("wax", "control"): ({1, 3}, {5, 6}),
    }


def test_none_is_no_family():
    record = board(WAX, Treatment("K", "bare", "None"), OIL, coupons=[1, 2, 3, 2], controls={2})
    assert set(shown(Question("families"), record)) == {("oil", "wax"), ("oil", "control"), ("wax", "control")}


def test_a_control_with_a_family_belongs_to_that_family():
    record = board(WAX, Treatment("K", "bare", "none at all"), coupons=[1, 2], controls={2})
    assert shown(Question("families"), record) == {("none at all", "wax"): ({2}, {1})}


def grid(*cells):
    return [Treatment(f"T{number}", finish=finish, protectant=wax) for number, (finish, wax) in enumerate(cells, 1)]


def test_in_a_grid_levels_of_each_factor_are_compared_within_the_levels_both_share_of_the_other():
    treatments = grid(("etched", "wax"), ("etched", "oil"), ("", "wax"), ("none", "oil"), ("etched", ""))
    record = board(*treatments, coupons=[1, 2, 3, 4, 5, 1, 5], controls={7})
    found = comparisons_of(Question("grid"), record)
    assert [(each.kind, each.a, each.b) for each in found] == [
        ("finish", "no finish", "etched"),
        ("protectant", "no protectant", "oil"),
        ("protectant", "no protectant", "wax"),
        ("protectant", "oil", "wax"),
    ]
    finish, bare_oil, _, oil_wax = found
    assert [(each.name, set(each.a), set(each.b)) for each in finish.levels] == [
        ("oil", {4}, {2}), ("wax", {3}, {1, 6}),
    ]  # fmt: skip
    assert (finish.coupons_a, finish.coupons_b) == ({3, 4}, {1, 2, 6})
    assert [(each.name, set(each.a), set(each.b)) for each in bare_oil.levels] == [("etched", {5}, {2})]
    assert [each.name for each in oil_wax.levels] == ["no finish", "etched"]


def test_levels_of_a_factor_without_a_shared_level_of_the_other_are_not_compared():
    record = board(*grid(("etched", "wax"), ("", "oil")), coupons=[1, 2])
    assert comparisons_of(Question("grid"), record) == []


def test_chosen_pairs_are_found_by_id_as_people_write_it_once_each():
    record = board(WAX, OIL, BARE, coupons=[1, 2, 3, 3], controls={3})
    pairs = (("t2", "k"), ("T1", "gone"), ("K", "T2"), ("T1", "t1"))
    assert shown(Question("chosen", pairs), record) == {("boiled oil", "bare"): ({2}, {3, 4})}


@pytest.mark.parametrize("compared", ["control", "pairs", "families", "grid", "chosen"])
def test_an_empty_board_compares_nothing(compared):
    assert comparisons_of(Question(compared), BoardRecord(Board("b"))) == []


def test_no_coupon_is_on_both_sides():
    record = board(WAX, OIL, *grid(("etched", "wax")), BARE, coupons=[1, 2, 3, 4, 1, 2, 3, 4], controls={4, 8})
    for compared in ("control", "pairs", "families", "grid"):
        for each in comparisons_of(Question(compared), record):
            assert not each.coupons_a & each.coupons_b
            assert frozenset().union(*(level.a for level in each.levels)) == each.coupons_a
            assert frozenset().union(*(level.b for level in each.levels)) == each.coupons_b
