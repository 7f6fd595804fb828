"""How sure a percent is, and the closest series that never falls."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.photo.judging.ranges import Areas, is_confident, never_falling, range_of

SURFACE = 100_000.0


def wide(areas):
    return range_of(areas, areas.percent)


def test_without_rust_the_range_reaches_to_what_could_not_have_been_seen():
    low, high = wide(Areas(SURFACE, 0.0, resolvable=20.0))
    assert low == 0
    assert high == pytest.approx(0.02)


@pytest.mark.parametrize("doubt", ["weak", "fresh"])
def test_doubtful_rust_widens_downward(doubt):
    sure, doubtful = wide(Areas(SURFACE, 2000.0)), wide(Areas(SURFACE, 2000.0, **{doubt: 1500.0}))
    assert doubtful[0] < sure[0]
    assert doubtful[1] == sure[1]


@pytest.mark.parametrize("doubt", ["suspect", "loose"])
def test_what_was_not_counted_widens_upward(doubt):
    sure, doubtful = wide(Areas(SURFACE, 2000.0)), wide(Areas(SURFACE, 2000.0, **{doubt: 1500.0}))
    assert doubtful[0] == sure[0]
    assert doubtful[1] > sure[1] + 0.1


def test_what_could_not_be_seen_is_expected_to_have_rusted_as_the_rest_has_since():
    never = Areas(SURFACE, 5000.0, unknown=50_000.0, never=50_000.0)
    assert never.percent == pytest.approx(10)
    steel_before = Areas(SURFACE, 5000.0, unknown=50_000.0, grown=0.02)
    assert steel_before.percent == pytest.approx(6)
    hardly_anything_seen = Areas(SURFACE, 5000.0, unknown=90_000.0, never=90_000.0)
    assert hardly_anything_seen.percent == pytest.approx(5)
    low, high = wide(never)
    assert low <= 5
    assert high > 20


def test_confident_means_one_grade_little_hidden_and_nothing_suspect():
    assert is_confident(Areas(SURFACE, 2000.0), 1.5, 2.5)
    assert not is_confident(Areas(SURFACE, 2000.0), 0.05, 2.5)
    assert not is_confident(Areas(SURFACE, 2000.0, unknown=30_000.0), 1.5, 2.5)
    assert not is_confident(Areas(SURFACE, 2000.0, suspect=3000.0), 1.5, 2.5)


def test_what_only_the_newest_photo_shows_is_not_confident_unless_it_is_little():
    assert not is_confident(Areas(SURFACE, 2000.0, fresh=300.0), 1.5, 2.5)
    assert is_confident(Areas(SURFACE, 2000.0, fresh=100.0), 1.5, 2.5)
    assert is_confident(Areas(SURFACE, 20.0, fresh=20.0, resolvable=30.0), 0.01, 0.03)


def test_without_a_surface_nothing_is_known():
    assert wide(Areas(0.0, 0.0)) == (0, 100)


areas = st.floats(0, SURFACE)


@given(st.builds(Areas, st.just(SURFACE), *[areas] * 7, st.floats(0, 1), areas, st.floats(0.3, 3), areas))
def test_ranges_hold_their_percent_and_stay_within_nought_and_a_hundred(found):
    low, high = wide(found)
    assert 0 <= low <= found.percent <= high <= 100


def test_a_fall_is_shared_by_its_neighbours():
    # By hand: 3 and 1 pool to their mean 2; with three times the weight on the 1 to 1.5.
    assert never_falling([0, 3, 1, 4], [1, 1, 1, 1]) == [0, 2, 2, 4]
    assert never_falling([0, 3, 1, 4], [1, 1, 3, 1]) == [0, 1.5, 1.5, 4]


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(0.1, 10)), max_size=20))
def test_the_series_never_falls_and_keeps_its_weighted_sum(given_series):
    values, weights = [each for each, _ in given_series], [each for _, each in given_series]
    found = never_falling(values, weights)
    assert all(later >= earlier for earlier, later in pairwise(found))
    expected = sum(value * weight for value, weight in given_series)
    assert sum(map(float.__mul__, found, weights)) == pytest.approx(expected, rel=1e-9, abs=1e-9)
