"""Lots are as likely as they are said to be, and the blocks of exchange say over what.

Counts of layouts over many fixed seeds are held against equal shares by Pearson's chi-square. For k layouts its mean
is k - 1 and its variance 2 (k - 1) when all are as likely (textbook values, from memory); the threshold here is the
mean and five standard deviations, so that lots that are fair pass whatever seeds are taken, but for less than one set
in a thousand. As the seeds are fixed the tests give the same answer always. How much unevenness they notice is tested
as well.
"""

from __future__ import annotations

import math
from collections import Counter
from itertools import combinations, permutations

import pytest

from rustboard.board.chance import Chance
from rustboard.board.drain import Hung
from rustboard.board.edges import edge_excess
from rustboard.board.layout import DRAIN_CARES, Layout
from rustboard.board.lot_exchanges import Exchanges
from rustboard.board.lots import draw_lots, exchange_blocks
from rustboard.board.position import Position

SEEDS = range(3_000)


def chi_square(counts: Counter, layouts: int) -> float:
    expected = counts.total() / layouts
    seen = math.fsum((count - expected) ** 2 for count in counts.values())
    return (seen + (layouts - len(counts)) * expected**2) / expected


def threshold(layouts: int) -> float:
    return (layouts - 1) + 5 * math.sqrt(2 * (layouts - 1))


def coupons_of(*counts):
    treatments = [number for number, count in enumerate(counts, 1) for _ in range(count)]
    return list(enumerate(treatments, 1))


def layouts_drawn(rows, columns, coupons, layout, seeds=SEEDS):
    """How often each layout of treatments came."""
    treatment = dict(coupons)
    found: Counter = Counter()
    for seed in seeds:
        drawn = draw_lots(rows, columns, coupons, layout, seed, None)
        found[tuple(treatment[key] for _, key in sorted((place, key) for key, place in drawn.positions.items()))] += 1
    return found


def test_complete_lots_without_more_rules_give_every_layout_as_often():
    found = layouts_drawn(2, 4, coupons_of(3, 5), Layout("complete", "none", fair_edges=False))
    assert len(found) == math.comb(8, 3)
    assert chi_square(found, 56) < threshold(56)


def test_every_coupon_comes_to_every_position_as_often():
    coupons = coupons_of(2, 3, 1)
    places: Counter = Counter()
    for seed in SEEDS:
        drawn = draw_lots(2, 3, coupons, Layout("complete", "drip edges"), seed, None)
        places.update(drawn.positions.items())
    for key, _ in coupons:
        of_one = Counter({place: count for (coupon, place), count in places.items() if coupon == key})
        assert chi_square(of_one, 6) < threshold(6)


def fair_layouts(rows, columns, count):
    """Every layout of ``count`` coupons of one treatment against another with fair edges, by enumeration."""
    places = [Position(row, column) for row in range(rows) for column in range(columns)]
    fair = set()
    for chosen in combinations(range(len(places)), count):
        letters = tuple(1 if number in chosen else 2 for number in range(len(places)))
        hanging = [Hung(key, letter, place) for key, (letter, place) in enumerate(zip(letters, places, strict=True))]
        if not edge_excess(hanging, rows, columns):
            fair.add(letters)
    return fair


def test_complete_lots_with_fair_edges_give_every_fair_layout_as_often():
    fair = fair_layouts(3, 4, 6)
    assert 0 < len(fair) < math.comb(12, 6)
    found = layouts_drawn(3, 4, coupons_of(6, 6), Layout("complete", "none"), range(12_000))
    assert set(found) <= fair
    assert chi_square(found, len(fair)) < threshold(len(fair))


def test_exchanges_alone_come_to_every_fair_layout_as_often():
    """Boards on which a plain draw finds no fair edges are too large to enumerate, so a small one goes without it."""
    fair = fair_layouts(3, 4, 6)
    places = [Position(row, column) for row in range(3) for column in range(4)]
    found: Counter = Counter()
    for seed in range(1_500):
        board = Exchanges(places, [6, 6], (3, 4), rows=False, edges=True)
        found[tuple(number + 1 for number in board.exchanged([0] * 6 + [1] * 6, Chance(seed)))] += 1
    assert set(found) <= fair
    assert chi_square(found, len(fair)) < threshold(len(fair))


def test_rows_give_every_order_of_a_row_as_often():
    found = layouts_drawn(2, 4, coupons_of(2, 2, 4), Layout("rows", "none", fair_edges=False), range(4_000))
    assert len(found) == 12 * 12  # 4! / 2! orders of a row of 1, 2, 3, 3
    assert chi_square(found, 144) < threshold(144)


def test_whole_columns_come_in_every_order_as_often():
    found = layouts_drawn(3, 4, coupons_of(3, 3, 3, 3), Layout("rows", "columns"))
    assert len(found) == 24
    assert chi_square(found, 24) < threshold(24)


def labelings_by_places(rows, columns, coupons, layout, seeds):
    """For every set of positions in use, how often each labeling of them with treatments came."""
    treatment = dict(coupons)
    found: dict[frozenset, Counter] = {}
    for seed in seeds:
        drawn = draw_lots(rows, columns, coupons, layout, seed, None).positions
        labels = frozenset((place, treatment[key]) for key, place in drawn.items())
        found.setdefault(frozenset(drawn.values()), Counter())[labels] += 1
    return found


def column_labelings(labels):
    """Every way to exchange the treatments of the columns that a labeling has, by enumeration."""
    treatments = sorted({(place.column, treatment) for place, treatment in labels})
    for order in set(permutations(treatment for _, treatment in treatments)):
        by_column = dict(zip((column for column, _ in treatments), order, strict=True))
        yield frozenset((place, by_column[place.column]) for place, _ in labels)


@pytest.mark.parametrize("care", ["columns", "spacing"])
def test_partly_filled_columns_exchange_their_treatments_as_often(care):
    # 3 rows x 4 columns, 2 x 4 coupons: two columns of two coupons each, so 3^4 sets of rows and 6 labelings of each.
    found = labelings_by_places(3, 4, coupons_of(4, 4), Layout("rows", care, 2, fair_edges=False), range(6_000))
    assert len(found) == 81
    statistic = 0.0
    for labelings in found.values():
        assert set(labelings) <= set(column_labelings(next(iter(labelings))))
        statistic += chi_square(labelings, 6)
    degrees = 81 * 5
    assert statistic < degrees + 5 * math.sqrt(2 * degrees)


def test_partly_filled_columns_with_fair_edges_exchange_their_treatments_as_often_as_edges_stay_fair():
    found = labelings_by_places(3, 5, coupons_of(4, 4), Layout("rows", "columns"), range(6_000))
    statistic, degrees = 0.0, 0
    for labelings in found.values():
        fair = {
            each for each in column_labelings(next(iter(labelings)))
            if not edge_excess([Hung(key, label, place) for key, (place, label) in enumerate(each)], 3, 5)
        }  # fmt: skip
        assert set(labelings) <= fair
        statistic += chi_square(labelings, len(fair))
        degrees += len(fair) - 1
    assert degrees > 100
    assert statistic < degrees + 5 * math.sqrt(2 * degrees)


def test_five_rows_of_which_one_is_empty_in_every_column_exchange_all_columns():
    # Every column of eight lacks one row; however these lie, any four columns may be those of either treatment.
    empty = Counter()
    for seed in range(400):
        drawn = draw_lots(5, 8, coupons_of(16, 16), Layout("rows", "columns", fair_edges=False), seed, None)
        lacking = {column: {*range(5)} for column in range(8)}
        for place in drawn.positions.values():
            lacking[place.column].discard(place.row)
        ours = {drawn.positions[key].column for key in range(1, 17)}
        empty[len({row for column in ours for row in lacking[column]})] += 1
    # Of 5^4 = 625 ways for four columns 5, 140, 360 and 120 have so many different empty rows.
    expected = {1: 5 / 625, 2: 140 / 625, 3: 360 / 625, 4: 120 / 625}
    statistic = sum((empty[each] - 400 * share) ** 2 / (400 * share) for each, share in expected.items())
    assert statistic < threshold(4)


def test_the_threshold_notices_one_layout_that_comes_twice_and_a_half_as_often():
    counts = Counter(dict.fromkeys(range(56), 50))
    counts[0] = 125
    assert chi_square(counts, 56) > threshold(56)


def blocks_of(rows, columns, counts, layout, seed=5):
    coupons = coupons_of(*counts)
    drawn = draw_lots(rows, columns, coupons, layout, seed, None)
    hanging = [Hung(key, treatment, drawn.positions[key]) for key, treatment in coupons]
    return exchange_blocks(layout, hanging), drawn.positions


@pytest.mark.parametrize("care", ["none", "drip edges"])
def test_complete_lots_exchange_single_coupons_over_the_whole_board(care):
    (block,), _ = blocks_of(3, 5, [3, 4, 8], Layout("complete", care))
    assert sorted(block) == [(key,) for key in range(1, 16)]


def test_lots_in_rows_exchange_single_coupons_within_each_row():
    blocks, positions = blocks_of(3, 5, [3, 4, 8], Layout("rows", "drip edges"))
    assert [{positions[key].row for (key,) in block} for block in blocks] == [{0}, {1}, {2}]
    assert sorted(key for block in blocks for (key,) in block) == list(range(1, 16))


def test_spaced_lots_exchange_single_coupons_while_there_is_room():
    blocks, _ = blocks_of(5, 4, [4, 4], Layout("rows", "spacing"))
    assert all(len(unit) == 1 for block in blocks for unit in block)
    (block,), _ = blocks_of(5, 4, [4, 4], Layout("complete", "spacing"))
    assert len(block) == 8


@pytest.mark.parametrize("care", ["columns", "spacing"])
@pytest.mark.parametrize("method", ["complete", "rows"])
def test_whole_columns_are_exchanged_whole(method, care):
    (block,), positions = blocks_of(3, 5, [3, 3, 6], Layout(method, care))
    assert [len(unit) for unit in block] == [3, 3, 3, 3]
    assert [{positions[key].column for key in unit} for unit in block] == [{0}, {1}, {2}, {3}]


@pytest.mark.parametrize("care", DRAIN_CARES)
def test_a_layout_by_hand_has_no_lots_to_exchange(care):
    assert exchange_blocks(Layout("hand", care), [Hung(1, 1, Position(0, 0))]) == ()
    assert exchange_blocks(Layout("rows", care), []) == ()
