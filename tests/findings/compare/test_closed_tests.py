"""Closed testing over the family: against all hypotheses written out, and under no difference at all."""

from itertools import chain, combinations, permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from judged_boards import judged_board, subject_for
from scipy.stats import binom

from rustboard.findings.compare.closed_tests import with_family
from rustboard.findings.compare.exact_pairs import exact_result

DRAWS = 9_999
FAR = 0.25


def family_of(record, **question):
    subject = subject_for(record, **question)
    results = [(each, exact_result(subject, each, subject.values)) for each in subject.comparisons]
    found = with_family(subject, results, subject.values)
    return {(comparison.a, comparison.b): exact for (comparison, _), exact in zip(results, found, strict=True)}


# ---- written out


def dealings(values, sizes):
    """Every way to deal values to groups of these sizes."""
    if not sizes:
        yield ()
        return
    for chosen in combinations(range(len(values)), sizes[0]):
        rest = [each for place, each in enumerate(values) if place not in chosen]
        for others in dealings(rest, sizes[1:]):
            yield ([values[each] for each in chosen], *others)


def largest(groups, pairs):
    return max(
        abs(np.mean(groups[a]) - np.mean(groups[b])) / (1 / len(groups[a]) + 1 / len(groups[b])) ** 0.5
        for a, b in pairs
    )


def share(groups, pairs):
    """The exact p of groups being all alike, by the largest difference of some pairs."""
    groups = [list(map(float, each)) for each in groups]
    seen = largest(groups, pairs) - 1e-9
    found = [largest(each, pairs) >= seen for each in dealings(list(chain(*groups)), [len(each) for each in groups])]
    return float(np.mean(found))


def partitions(members):
    """Every way to part members into sets."""
    if not members:
        yield []
        return
    first, *rest = members
    for size in range(len(rest) + 1):
        for others in combinations(rest, size):
            for more in partitions([each for each in rest if each not in others]):
                yield [(first, *others), *more]


def all_pairs_written_out(grades):
    """Each pair's p: the largest p of all ways to part the groups into sets of equals that have it in one set."""
    names, count = list(grades), len(grades)

    def local(block):
        p = share([grades[each] for each in block], list(combinations(range(len(block)), 2)))
        return p if len(block) >= count - 1 else 1 - (1 - p) ** (count / len(block))

    found = dict.fromkeys(combinations(names, 2), 0.0)
    sets = {each: local(each) for size in range(2, count + 1) for each in combinations(names, size)}
    for parts in partitions(names):
        blocks = [tuple(sorted(each, key=names.index)) for each in parts if len(each) > 1]
        p = min((sets[each] for each in blocks), default=0.0)
        for block in blocks:
            for pair in combinations(block, 2):
                found[pair] = max(found[pair], p)
    return found


def agrees(exact, expected):
    """Whether p over the family is the one written out, but for drawing; or a lower bound of it far from deciding."""
    error = 5 * max(expected * (1 - expected) / DRAWS, 1e-6) ** 0.5
    if exact.at_least:
        return FAR <= exact.p_family <= expected + error
    return exact.p_family == pytest.approx(expected, abs=error)


ALL_PAIRS = [
    {"a": [9, 8, 9], "b": [5, 4, 6], "c": [1, 2, 1]},
    {"a": [9, 8, 9], "b": [8, 4, 9], "c": [1, 2]},
    {"a": [10, 9], "b": [8, 7], "c": [1, 2], "d": [0, 3]},
    {"a": [10, 9, 10], "b": [9, 10], "c": [1, 2], "d": [2, 0]},
    {"a": [7, 7], "b": [7, 6], "c": [7, 7], "d": [6, 7]},
]


@pytest.mark.parametrize("grades", ALL_PAIRS)
def test_all_pairs_are_judged_as_by_every_way_to_part_the_groups_into_equals(grades):
    expected = all_pairs_written_out(grades)
    for pair, exact in family_of(judged_board(grades)).items():
        # The program looks at single sets, which is never less strict than parting and here the same.
        assert agrees(exact, expected[pair]), (pair, exact, expected[pair])


@pytest.mark.parametrize(
    ("grades", "control"),
    [
        ({"a": [9, 8, 9], "b": [5, 4, 6]}, [1, 2, 1]),
        ({"a": [9, 8], "b": [6, 4], "c": [2, 3]}, [1, 2, 1]),
        ({"a": [9, 9], "b": [9, 8], "c": [8, 9]}, [1, 2]),
    ],
)
def test_against_controls_every_set_of_treatments_equal_to_them_is_rejected(grades, control):
    for (name, _), exact in family_of(judged_board(grades, control=control)).items():
        sets = [each for size in range(1, len(grades) + 1) for each in combinations(grades, size) if name in each]
        expected = max(
            share([control, *(grades[one] for one in each)], [(0, place) for place in range(1, len(each) + 1)])
            for each in sets
        )
        assert agrees(exact, expected), (name, exact, expected)


# ---- whatever the grades


boards = st.lists(st.lists(st.integers(0, 10), min_size=1, max_size=3), min_size=3, max_size=4)


@settings(max_examples=15)
@given(boards, st.booleans())
def test_p_over_the_family_is_never_below_a_comparisons_own_p(groups, against_control):
    grades = {f"t{number}": each for number, each in enumerate(groups[1:])}
    record = (
        judged_board(grades, control=groups[0]) if against_control else judged_board({**grades, "last": groups[0]})
    )
    for exact in family_of(record).values():
        assert exact.p - 1e-12 <= exact.p_family <= 1.0


def test_a_pair_that_no_set_was_looked_into_for_keeps_its_own_p():
    found = family_of(judged_board({"a": [8, 7, 9], "b": [8, 9, 7], "c": [7, 7, 9]}))
    assert found["a", "b"].p == 1.0
    assert found["a", "b"].p_family == 1.0
    assert all(each.at_least or each.p_family == 1.0 for each in found.values())


@pytest.mark.parametrize("order", list(permutations(range(3)))[1:])
def test_the_order_in_which_treatments_are_named_changes_nothing(order):
    named = list({"a": [9, 8, 9], "b": [6, 4, 6], "c": [1, 2, 5]}.items())
    first = family_of(judged_board(dict(named)))
    again = family_of(judged_board(dict(named[each] for each in order)))
    for (a, b), exact in first.items():
        other = again.get((a, b)) or again[b, a]
        # Sets of three are drawn, each order with its own draws: twice the error of one.
        error = 8 * (max(exact.p_family * (1 - exact.p_family), 1e-4) / DRAWS) ** 0.5
        assert other.p == exact.p
        if not exact.at_least and not other.at_least:
            assert other.p_family == pytest.approx(exact.p_family, abs=error)


def test_rows_stay_rows_within_sets_of_groups():
    grades = {"a": [9, 6, 3, 8], "b": [8, 5, 2, 7], "c": [7, 4, 1, 6]}
    found = family_of(judged_board(grades, method="rows"))
    # By hand: of the set of three, 6 of 6 ** 4 arrangements are as far out; of the pair alone 2 of 2 ** 4.
    assert found["a", "c"].p == 2 / 16
    assert found["a", "c"].p_family == pytest.approx(2 / 16)
    assert all(each.p_family >= 2 / 16 for each in found.values())


def test_one_comparison_is_its_own_family_and_chosen_pairs_step_down():
    (alone,) = family_of(judged_board({"a": [9, 8, 9], "b": [5, 4, 6]})).values()
    assert (alone.p_family, alone.at_least) == (alone.p, False)
    chosen = family_of(
        judged_board({"a": [9, 8, 9], "b": [5, 4, 6], "c": [1, 2, 1]}),
        compared="chosen",
        pairs=(("T1", "T2"), ("T2", "T3")),
    )
    # By hand: each is at its smallest, 2 / 20, and both together twice that.
    assert [each.p_family for each in chosen.values()] == [pytest.approx(0.2), pytest.approx(0.2)]


def test_more_groups_than_can_be_closed_step_down_by_holm():
    grades = {f"t{number}": [number % 11, (number + 1) % 11] for number in range(13)}
    found = family_of(judged_board(grades, control=[0, 1]))
    assert len(found) == 13
    assert all(not each.at_least and each.p_family >= each.p for each in found.values())


@pytest.mark.parametrize("against_control", [False, True])
def test_where_nothing_differs_any_difference_is_claimed_on_at_most_five_boards_in_a_hundred(against_control):
    draw, boards_tried, wrong = np.random.default_rng(42), 150, 0
    for _ in range(boards_tried):
        dealt = draw.integers(0, 11, (3, 4)).tolist()
        grades = dict(zip("ab", dealt, strict=False))
        record = (
            judged_board(grades, control=dealt[2]) if against_control else judged_board({**grades, "c": dealt[2]})
        )
        wrong += any(each.p_family <= 0.05 for each in family_of(record).values())
    assert 0 < wrong <= binom.ppf(0.99, boards_tried, 0.05)  # more would be seen once in 100 times at 5 in 100
