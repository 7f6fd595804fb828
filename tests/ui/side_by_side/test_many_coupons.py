"""Of many coupons the next pair is found beside the window, and ahead of the answer."""

from __future__ import annotations

from concurrent.futures import Future

import pytest
from comparing import ACTION, choices_on_disk
from later import Later as Waiting
from photographed_boards import photographed
from PySide6.QtCore import Qt
from window_driving import settle

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


def test_the_button_that_has_the_keyboard_has_it_again_with_the_next_pair(tmp_path, desk, monkeypatch):
    monkeypatch.setattr("rustboard.ui.side_by_side.next_pairs.FEW_COUPONS", 0)
    later = Waiting()
    desk._executor = lambda: later
    folder = photographed(tmp_path / "Quay")
    person = desk.sit_down(folder)
    later.run()
    person.do(ACTION)
    later.run()
    person.key(Qt.Key.Key_Space)  # Begin
    compare = person.window.pairs.screen.compare

    def come() -> None:  # and no further: what would follow each answer is not known yet
        while compare.pair is None:
            later.waiting.pop(0)()
            settle()

    come()
    compare.left_button.setFocus()
    for made in (1, 2):
        first = compare.pair
        person.key(Qt.Key.Key_Space)
        assert compare.pair is None, "the next two are being looked for"
        person.key(Qt.Key.Key_Space)
        assert person.window.pairs.is_comparing(), "Interrupt is not pressed instead"
        come()
        assert compare.pair not in (None, first)
        assert person.window.focusWidget() is compare.left_button
        assert [each.rustier for each in choices_on_disk(folder)] == ["left"] * made
