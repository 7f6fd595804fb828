"""Of many coupons the next pair is found beside the window, and ahead of the answer."""

from __future__ import annotations

from concurrent.futures import Future

import pytest

from rustboard.board.pair_choice import RUSTIER
from rustboard.session.jobs import InlineExecutor
from rustboard.session.side_by_side import FEW_COUPONS, PairRequest, next_pair
from rustboard.ui.bridge import JobBridge
from rustboard.ui.side_by_side.next_pairs import NextPairs


class Later(InlineExecutor):
    """Keeps jobs until they are let go."""

    def __init__(self) -> None:
        super().__init__()
        self.kept: list[tuple] = []

    def submit(self, function, /, *arguments, **named):
        self.kept.append((function, arguments, named))
        return Future()

    def let_go(self) -> int:
        kept, self.kept = self.kept, []
        for function, arguments, named in kept:
            super().submit(function, *arguments, **named)
        return len(kept)


@pytest.fixture
def later():
    return Later()


@pytest.fixture
def pairs(qapp, later):
    bridge = JobBridge(executor=later)
    found = NextPairs(bridge)
    found.told = []
    found.found.connect(lambda request, pair: found.told.append((request, pair)))
    yield found
    bridge.close()


def many(choices=()) -> PairRequest:
    return PairRequest(tuple(range(1, FEW_COUPONS + 3)), tuple(choices), 7)


def test_few_coupons_are_answered_at_once(pairs, later):
    request = PairRequest((1, 2, 3, 4), (), 7)
    pairs.ask(request)
    assert pairs.told == [(request, next_pair(request))]
    pairs.look_ahead(request, next_pair(request))
    assert later.kept == []


def test_many_are_answered_when_the_job_comes_back(pairs, later):
    pairs.ask(many())
    assert pairs.told == []
    assert later.let_go() == 1
    assert pairs.told == [(many(), next_pair(many()))]


def test_what_follows_each_answer_is_there_before_it_is_given(pairs, later):
    pair = next_pair(many())
    pairs.look_ahead(many(), pair)
    later.let_go()
    for rustier in RUSTIER:
        request = many().after(pair, rustier)
        pairs.ask(request)
        assert later.kept == []
        assert pairs.told[-1] == (request, next_pair(request))


def test_an_answer_given_before_that_is_followed_when_it_comes(pairs, later):
    pair = next_pair(many())
    pairs.look_ahead(many(), pair)
    request = many().after(pair, "left")
    pairs.ask(request)
    later.let_go()
    assert pairs.told == [(request, next_pair(request))]
