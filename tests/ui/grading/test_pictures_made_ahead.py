"""The next coupon's pictures are there when it is shown; what is no longer wanted is not made."""

from __future__ import annotations

from pathlib import Path

import pytest
import shiboken6
from later import Later
from photographed_boards import middle, photographed
from PySide6.QtCore import QObject, Qt
from window_driving import Desk, Person, settle

from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.ahead import Ahead
from rustboard.ui.bridge import JobBridge
from rustboard.ui.grading.compare import CompareDialog, LargePicture

# ---- by itself


@pytest.fixture
def later() -> Later:
    return Later()


@pytest.fixture
def ahead(qapp, later) -> Ahead:
    bridge = JobBridge(None, later)
    found = Ahead(bridge)
    bridge.setParent(found)
    return found


class Ear:
    """Hears what comes.

    Attributes:
        heard: values, in their order. faults: sentences.
    """

    def __init__(self) -> None:
        self.heard: list[object] = []
        self.faults: list[str] = []

    def fail(self, error: InputError) -> None:
        self.faults.append(str(error))

    def ask(self, ahead: Ahead, same: object, make, owner: QObject | None = None) -> None:
        ahead.ask("kind", same, make, done=self.heard.append, failed=self.fail, owner=owner)


class Maker:
    """Makes a value and counts how often."""

    def __init__(self, value: object = "value") -> None:
        self.value, self.made = value, 0

    def __call__(self, progress) -> object:
        self.made += 1
        progress.step(0, 1)
        if isinstance(self.value, InputError):
            raise self.value
        return self.value


def test_what_was_prepared_is_given_at_once_and_made_once(ahead, later):
    ear, make = Ear(), Maker()
    ahead.prepare("kind", 1, make)
    later.run()
    ear.ask(ahead, 1, make)
    assert ear.heard == ["value"]
    ahead.prepare("kind", 1, make)
    assert (make.made, later.waiting) == (1, [])


def test_what_is_still_being_made_is_not_begun_again_when_it_is_asked_for(ahead, later):
    ear, make = Ear(), Maker()
    ahead.prepare("kind", 1, make)
    ear.ask(ahead, 1, make)
    assert ear.heard == []
    later.run()
    assert (ear.heard, make.made) == (["value"], 1)


def test_only_the_last_that_was_asked_for_is_given_and_the_others_are_not_made(ahead, later):
    ear, makers = Ear(), [Maker(number) for number in range(4)]
    for number, make in enumerate(makers):
        ear.ask(ahead, number, make)
    later.run()
    assert ear.heard == [3]
    assert [each.made for each in makers] == [0, 0, 0, 1]


def test_preparing_something_else_lets_go_of_what_was_prepared_before_but_not_of_what_is_asked_for(ahead, later):
    ear, makers = Ear(), [Maker(number) for number in range(3)]
    ear.ask(ahead, 0, makers[0])
    ahead.prepare("kind", 1, makers[1])
    ahead.prepare("kind", 2, makers[2])
    later.run()
    assert ear.heard == [0]
    assert [each.made for each in makers] == [1, 0, 1]


def test_preparing_what_is_there_lets_go_of_what_was_prepared_before(ahead, later):
    ear, other = Ear(), Maker()
    ear.ask(ahead, 1, Maker())
    later.run()
    ahead.prepare("kind", 2, other)
    ahead.prepare("kind", 1, Maker())
    later.run()
    assert other.made == 0


def test_what_was_let_go_can_be_asked_for_again(ahead, later):
    ear, first = Ear(), Maker("first")
    ear.ask(ahead, 1, first)
    ear.ask(ahead, 2, Maker("second"))
    ear.ask(ahead, 1, first)
    later.run()
    assert ear.heard == ["first"]


def test_only_a_few_are_kept_and_the_longest_unused_goes(ahead, later):
    ear, make = Ear(), Maker()
    for number in range(4):
        ear.ask(ahead, number, make)
        later.run()
    assert [ahead.is_ready("kind", number) for number in range(4)] == [False, True, True, True]
    ear.ask(ahead, 1, make)
    ahead.prepare("kind", 9, make)
    later.run()
    assert [ahead.is_ready("kind", number) for number in (1, 2, 3, 9)] == [True, False, True, True]


def test_what_cannot_be_made_is_told_to_who_asked_and_tried_again(ahead, later):
    ear, make = Ear(), Maker(InputError("No such photo."))
    ahead.prepare("kind", 1, make)
    later.run()
    assert ear.faults == [], "nobody asked"
    ear.ask(ahead, 1, make)
    later.run()
    assert ear.faults == ["No such photo."]
    make.value = "mended"
    ear.ask(ahead, 1, make)
    later.run()
    assert ear.heard == ["mended"]


def test_who_is_gone_is_told_nothing(ahead, later):
    ear, owner = Ear(), QObject()
    ear.ask(ahead, 1, Maker(), owner)
    shiboken6.delete(owner)
    later.run()
    assert (ear.heard, ear.faults) == ([], [])


# ---- in a round of grading


@pytest.fixture
def bench(qapp, tmp_path: Path, later: Later):
    """Somebody grading a board with photos, whose jobs run when told to."""
    desk = Desk(
        Settings(scheme="light", boards_folder=str(tmp_path / "boards"), grader="Ann"), executor=lambda: later
    )
    person = desk.sit_down(photographed(tmp_path / "b"))
    later.run()
    person.tap("A1")
    later.run()
    yield person
    desk.close_all()
    settle()


def on_keys(person: Person) -> list[tuple[int, int]]:
    """Return photo and coupon that each key's picture is painted on; rust may lie over the middle of some."""
    return [middle(person.panel.guide.keys[grade]._picture) for grade in (10, 9, 8)]


def large(person: Person) -> CompareDialog:
    return person.panel.findChildren(CompareDialog)[0]


def test_after_a_grade_the_next_coupons_guide_is_painted_already(bench, later):
    bench.key("c")
    later.run()
    assert on_keys(bench) == [(200, 50)] * 3
    for coupon in (2, 3, 4):
        bench.key("7")
        assert on_keys(bench) == [(200, 50 * coupon)] * 3, "nothing ran since the key"
        assert all(each.image is not None for each in bench.panel.views._shots)
        later.run()


def test_after_a_grade_the_next_coupon_can_be_looked_at_large_at_once(bench, later):
    """Once somebody looks at coupons large; a whole photo is read for each."""
    bench.key("c")
    bench.key("l")
    large(bench).reject()
    later.run()
    for coupon in (2, 3, 4):
        bench.key("7")
        bench.key("l")
        coupon_picture, reference = large(bench).findChildren(LargePicture)
        assert middle(coupon_picture._image) == (120, 50 * coupon)
        assert coupon_picture._image.height() > 1000, "cut large, not the tile's picture"
        assert middle(reference._image) == (200, 50 * coupon)
        large(bench).reject()
        later.run()


def test_after_a_percent_the_next_coupons_pictures_are_painted_already(bench, later):
    bench.key("%")
    later.run()
    pair = bench.panel.picker.pair
    for coupon in (2, 3, 4):
        bench.key(Qt.Key.Key_Return)
        assert middle(pair.image()) == (200, 50 * coupon)
        assert middle(pair._own) == (120, 50 * coupon)
        assert pair._own.height() > 1000
        later.run()


def test_a_hasty_grader_leaves_no_work_behind_for_coupons_that_are_past(bench, later, monkeypatch):
    bench.key("c")
    later.run()
    cut = []
    from rustboard.ui.grading import compare

    before = compare.cut_images

    def note(request, progress):
        cut.append(set(request.outlines))
        return before(request, progress)

    monkeypatch.setattr(compare, "cut_images", note)
    for key in ("7", "6", "5"):
        bench.key(key)
    later.run()
    assert {3} not in cut, "the third was passed before its turn came"


def test_coupons_on_plain_steel_need_nothing_made_ahead(person):
    person.tap("A1")
    ahead = person.panel.body.ahead
    assert list(ahead._known("large coupon").ready) == []
    assert list(ahead._known("large guide").ready) == []
