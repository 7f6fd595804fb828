"""What is being looked at."""

import pytest

from rustboard.session.selection import Selection


@pytest.fixture
def selection():
    return Selection()


@pytest.fixture
def heard(selection):
    """What the selection was each time it told of a change."""
    states = []
    selection.subscribe(lambda: states.append((selection.inspection, selection.coupons, selection.focus)))
    return states


def test_nothing_is_chosen_at_first(selection):
    assert (selection.inspection, selection.coupons, selection.focus) == (None, frozenset(), None)


def test_a_change_is_told_once_and_the_same_again_is_not(selection, heard):
    for _ in range(2):
        selection.look_at(3)
    for _ in range(2):
        selection.choose([1, 2], focus=2)
    assert heard == [(3, frozenset(), None), (3, {1, 2}, 2)]


def test_the_only_coupon_chosen_has_the_focus(selection):
    selection.choose(iter([7]))
    assert selection.focus == 7
    selection.choose([7, 8])
    assert selection.focus is None


def test_what_is_no_longer_there_is_forgotten(selection, heard):
    selection.look_at(1)
    selection.choose([1, 2], focus=2)
    heard.clear()
    assert not selection.keep_only([1, 2, 3], [1])
    assert selection.keep_only([1], [2])
    assert heard == [], "whoever forgets tells once every screen knows of the change"
    selection.tell()
    assert heard == [(None, {1}, None)]
