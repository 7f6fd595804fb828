"""What a person does in the window with coupons that the findings shall do without."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from window_driving import Person, filling, reopened


def leave_out_a_coupon(person: Person, yard: Path) -> None:
    person.answers.dialogs = [filling(reason=" fell off in the storm ")]
    person.do("coupon.leave_out")
    assert person.answers.asked == ["LeavingOutDialog"]
    assert person.tile("A1").left_out == "fell off in the storm"
    assert person.message() == "Leave C01 out of the findings: fell off in the storm"
    person.stand_up()
    with reopened(yard) as session:
        (found,) = session.record.left_out.values()
        assert (found.coupon, found.reason, found.who) == (1, "fell off in the storm", "Ann")


def take_it_back_in(person: Person, yard: Path) -> None:
    person.answers.dialogs = [filling(reason="fell off")]
    person.do("coupon.leave_out")
    person.do("coupon.take_back_in")
    assert person.tile("A1").left_out == ""
    assert "coupon.take_back_in" not in person.enabled()
    person.stand_up()
    with reopened(yard) as session:
        assert session.record.left_out == {}


STORIES: dict[str, Callable[[Person, Path], None]] = {
    "coupon.leave_out": leave_out_a_coupon,
    "coupon.take_back_in": take_it_back_in,
}
