"""The exact permutation test: published examples, and full enumeration."""

import pytest
from enumeration import enumerated, units
from hypothesis import given
from hypothesis import strategies as st

from rustboard.findings.exchange import EdgeLimits, Exchangeable, Unit
from rustboard.findings.permutation import exact_test


def judged(*blocks, **more):
    """Test blocks of (values of a, values of b)."""
    found, values = [], {}
    for stratum, groups in enumerate(blocks):
        for in_a, group in zip((True, False), groups, strict=True):
            for value in group:
                values[len(values)] = value
                found.append(Unit(frozenset({len(found)}), in_a, (stratum,)))
    return exact_test([Exchangeable(found)], values, **more)


def test_a_blocked_example_that_can_be_checked_by_hand():
    # Three blocks of two and two, 216 arrangements, two as far up as the one seen and two as far down (by hand).
    blocks = (((9, 8), (6, 7)), ((8, 7), (5, 7)), ((10, 9), (8, 6)))
    found = judged(*blocks)
    assert found.arrangements == 216
    assert found.greater == pytest.approx(2 / 216)
    assert found.two_sided == pytest.approx(4 / 216)  # 0.018519
    # The same without blocks: 10 of 924.
    flat = judged(((9, 8, 8, 7, 10, 9), (6, 7, 5, 7, 8, 6)))
    assert flat.greater == pytest.approx(10 / 924)
    assert flat.two_sided == pytest.approx(20 / 924)


def test_darwins_maize():
    # Fisher, The Design of Experiments (1935): 863 of the 32768 sign flips have a sum of 314 or more
    # (data: scipy's documentation of wilcoxon; 863 from memory).
    differences = (49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48)
    found = judged(*(((each,), (0,)) for each in differences))
    assert found.arrangements == 32_768
    assert found.greater == 863 / 32_768
    assert found.two_sided == pytest.approx(0.052673, abs=5e-7)


def test_blood_pressure_of_four_against_eleven():
    # Two-sided 0.1040, one-sided 0.0564: regression tests of R's exactRankTests.
    found = judged(((94, 108, 110, 90), (80, 94, 85, 90, 90, 90, 108, 94, 78, 105, 88)))
    assert found.arrangements == 1365
    assert found.two_sided == pytest.approx(0.1040, abs=5e-5)
    assert found.greater == pytest.approx(0.0564, abs=5e-5)


def test_sign_flips_with_zeros():
    # Two-sided 0.0021, one-sided 0.0011: regression tests of R's exactRankTests.
    differences = (
        -149,
        51,
        0,
        126,
        -106,
        -20,
        0,
        -52,
        -292,
        0,
        -103,
        0,
        -84,
        -89,
        -159,
        -404,
        -500,
        -259,
        -14,
        -2600,
    )
    found = judged(*(((each,), (0,)) for each in differences))
    assert found.two_sided == pytest.approx(0.0021, abs=5e-5)
    assert found.less == pytest.approx(0.0011, abs=5e-5)


def test_decimals_that_ought_to_be_equal_are():
    found = judged(((0.1, 0.2), (0.3, 0.0)))  # 0.1 + 0.2 = 0.3 + 0.0
    assert found.greater == pytest.approx(4 / 6)  # and 0.1 + 0.3 and 0.2 + 0.3; not 0.1 + 0.0 and 0.2 + 0.0
    thirds = judged(((1 / 3, 1 / 3, 1 / 3), (0.9999999999999999, 0, 0)))
    assert thirds.greater == 11 / 20  # ten sums with the large value, and the one seen, which equals it
    assert thirds.arrangements == 20


def test_a_unit_of_several_coupons_counts_with_their_mean():
    columns = [Unit(frozenset({1, 2}), True), Unit(frozenset({3, 4}), False), Unit(frozenset({5}), False)]
    found = exact_test([Exchangeable(columns)], {1: 9, 2: 8, 3: 3, 5: 4})
    assert found.arrangements == 3
    assert found.greater == pytest.approx(1 / 3)


def test_units_without_a_value_are_left_out():
    found = exact_test([Exchangeable(units([(2, 2)]))], {0: 9, 2: 3, 3: 4})
    assert found.arrangements == 3


def test_too_much_work_is_not_begun():
    values = tuple(2.0**each for each in range(12)), tuple(3.0**each for each in range(12))
    assert judged(values, most_states=10_000) is None
    assert judged(*((each, (0,)) for each in zip(*values, strict=True)), most_states=1_000) is None


def test_grades_of_a_whole_board_are_counted_exactly():
    found = judged(*(((10, 9, 9, 8), (7, 8, 6, 9)) for _ in range(12)))
    assert found.arrangements == 70**12
    assert 0 < found.two_sided < 1e-6


@given(
    st.lists(
        st.tuples(*[st.lists(st.tuples(st.integers(0, 10), st.booleans()), max_size=3)] * 2), min_size=1, max_size=3
    ),
    st.booleans(),
)
def test_it_equals_full_enumeration(blocks, fair):
    found, values, seen = [], {}, [0, 0]
    for stratum, groups in enumerate(blocks):
        for in_a, group in zip((True, False), groups, strict=True):
            for value, at_edge in group:
                values[len(values)] = value
                seen[not in_a] += at_edge
                found.append(Unit(frozenset({len(found)}), in_a, (stratum,), at_edge))
    limits = EdgeLimits(max(seen[0] - 1, 0), seen[0], seen[1], seen[1] + 1) if fair else None
    levels = [Exchangeable(found, limits)]
    result = exact_test(levels, values)
    two_sided, greater, less, count = enumerated(levels, values)
    assert (result.two_sided, result.greater, result.less) == (float(two_sided), float(greater), float(less))
    assert result.arrangements == count
