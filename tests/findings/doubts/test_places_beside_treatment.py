"""Effects of place beside treatment: exact on small boards, seldom by luck, seen where they are."""

from dataclasses import replace
from itertools import permutations, product

import numpy as np
import pytest
from asked_boards import asked, placed_board, treatment

from rustboard.findings.doubts.places import downstream_coupons, position_doubts, position_effects
from rustboard.findings.doubts.residuals import coupon_model

SQUARE = ["1230", "2301", "3012", "0123"]


def treatments():
    return {key: treatment(key, name) for key, name in ((1, "oil"), (2, "paint"), (3, "lacquer"))}


def effects_of(rows, grades, *, incline=0.0, **rules):
    record = placed_board(rows, [grades], treatments=rules.pop("treatments", treatments()), **rules)
    record = replace(record, board=replace(record.board, incline_deg=incline))
    subject = asked(record)
    return subject, {each.kind: each for each in position_effects(subject, coupon_model(subject))}


def grades_for(rows, base, effect, seed=1, sd=0.6):
    draw = np.random.default_rng(seed)
    found = []
    for row, line in enumerate(rows):
        for column, char in enumerate(line):
            if char != ".":
                found.append(int(np.clip(np.rint(base[char] + effect(row, column) + draw.normal(0, sd)), 0, 10)))
    return found


BASE = {"1": 7, "2": 6, "3": 5, "0": 3}


def test_the_share_of_exchanges_is_that_of_all_of_them_on_a_small_board():
    rows, grades = ["12", "12", "12"], [9, 6, 7, 4, 4, 4]
    _, found = effects_of(rows, grades)
    # Every exchange within both groups, by hand: between rows, sums of squares of the residuals' row means.
    residuals = np.array([[9, 7, 4], [6, 4, 4]], dtype=float)
    residuals -= residuals.mean(axis=1, keepdims=True)
    seen = np.square(residuals.sum(axis=0)).sum()
    all_ways = [
        np.square(residuals[0, list(one)] + residuals[1, list(other)]).sum()
        for one, other in product(permutations(range(3)), repeat=2)
    ]
    exact = np.mean([each >= seen - 1e-9 for each in all_ways])
    alone = found["rows"].p / len(found)  # Holm: the smallest is multiplied by the number of kinds
    assert set(found) == {"rows"}  # all is edge, nothing drips, columns are the groups
    assert alone == pytest.approx(exact, abs=0.03)


def test_a_column_that_is_worse_is_seen():
    grades = grades_for(SQUARE, BASE, lambda row, column: -3.0 * (column == 0), sd=0.3)
    subject, found = effects_of(SQUARE, grades)
    assert found["columns"].p <= 0.05 < found["rows"].p
    assert found["columns"].difference == pytest.approx(3, abs=0.6)
    (doubt,) = position_doubts(subject, tuple(found.values()))
    assert doubt.weight == "caution"
    assert doubt.sentence.text().startswith("Columns of the board came out differently beside the treatments")


def test_the_edge_is_seen_and_by_hand_it_is_serious():
    rows = ["123012", "301230", "230123", "012301"]
    grades = grades_for(rows, BASE, lambda row, column: -2.0 * (row in (0, 3) or column in (0, 5)), sd=0.4)
    subject, found = effects_of(rows, grades, method="hand")
    assert found["edge"].p <= 0.05
    assert found["edge"].difference == pytest.approx(-2, abs=0.7)
    assert len(found["edge"].coupons) == 16
    doubts = [
        each for each in position_doubts(subject, tuple(found.values())) if each.coupons == found["edge"].coupons
    ]
    assert doubts[0].weight == "serious"
    assert "came out worse than others of their groups" in doubts[0].sentence.text()


def test_below_an_oily_neighbour_is_seen_only_where_drips_run():
    rows = ["121212", "203030", "323020", "110232"]
    oily = {key: treatment(key, name, family=family) for key, name, family in
            ((1, "A", "Linseed oil"), (2, "B", "paint"), (3, "C", "lacquer"))}  # fmt: skip
    record = placed_board(rows, [[5] * 24], treatments=oily)
    assert downstream_coupons(asked(record)) == frozenset()  # flat
    tilted = replace(record, board=replace(record.board, incline_deg=30.0))
    below = downstream_coupons(asked(tilted))
    assert below == {7, 9, 11}
    draw = np.random.default_rng(5)
    grades = [round(BASE[char] + 2.5 * (key in below) + draw.normal(0, 0.4))
              for key, char in enumerate("".join(rows), 1)]  # fmt: skip
    _, found = effects_of(rows, grades, incline=30.0, treatments=oily)
    assert found["downstream"].coupons == below
    assert found["downstream"].difference > 1
    edged = replace(tilted, layouts={1: replace(tilted.layout, drain="drip edges")})
    assert downstream_coupons(asked(edged)) == frozenset()


@pytest.mark.parametrize("name", ["beeswax", "Lanolin grease", "gun oil", "WAXED"])
def test_names_that_sound_oily(name):
    record = placed_board(["1", "2"], [[5, 5]], treatments={1: treatment(1, name), 2: treatment(2, "foil and soil")})
    record = replace(record, board=replace(record.board, incline_deg=None))
    assert downstream_coupons(asked(record)) == {2}
    upside_down = replace(record, treatments={1: record.treatments[2], 2: record.treatments[1]})
    turned = {1: treatment(1, "foil and soil"), 2: treatment(2, name)}
    assert downstream_coupons(asked(replace(upside_down, treatments=turned))) == frozenset()


def test_rows_that_are_blocks_are_no_effect_of_place():
    grades = grades_for(SQUARE, BASE, lambda row, column: 2.0 * row / 3)
    _, found = effects_of(SQUARE, grades, method="rows")
    assert "rows" not in found
    assert "columns" in found


def test_whole_columns_by_lot_leave_rows_to_be_tested_within_them():
    rows = ["121212", "121212", "121212"]
    grades = grades_for(rows, {"1": 7, "2": 5}, lambda row, column: 2.0 * (row == 2) + column / 3, sd=0.2)
    subject, found = effects_of(rows, grades, drain="columns", drawn_in_columns=True)
    assert subject.board.columns_are_units
    assert "columns" not in found
    assert found["rows"].p <= 0.05


@pytest.mark.parametrize("grades", [[10] * 16, [0] * 16, [None] * 15 + [4], [None] * 16])
def test_nothing_is_tested_where_nothing_differs(grades):
    _, found = effects_of(SQUARE, grades)
    assert found == {}


def test_by_luck_alone_at_most_one_board_in_twenty_shows_an_effect_of_place():
    draw = np.random.default_rng(77)
    seen, boards = 0, 120
    for number in range(boards):
        base = dict(zip("1230", draw.uniform(2, 9, 4), strict=True))
        grades = grades_for(SQUARE, base, lambda row, column: 0.0, seed=number, sd=1.0)
        _, found = effects_of(SQUARE, grades, method="rows" if number % 2 else "complete")
        seen += any(each.p <= 0.05 for each in found.values())
    assert seen <= 12  # 5 % of 120 are 6; 12 or fewer with probability 0.99 (binomial)


def test_names_of_treatments_change_no_figure():
    grades = grades_for(SQUARE, BASE, lambda row, column: column / 2)
    _, one = effects_of(SQUARE, grades)
    other_names = [line.translate(str.maketrans("123", "312")) for line in SQUARE]
    _, other = effects_of(other_names, grades)
    assert other == one
