"""What a person does in the window with weighed coupons."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QDialog
from window_driving import Person, filling, reopened


def weigh_a_coupon(person: Person, yard: Path) -> None:
    def weigh(dialog: QDialog) -> None:
        filling(mass="120,5", masses="119.2 119.0", area="106")(dialog)

    person.tap("A1")
    person.answers.dialogs = [weigh]
    person.do("weather.weigh")
    person.stand_up()
    with reopened(yard) as session:
        (weighing,) = session.record.weighings.values()
        assert (weighing.coupon, weighing.before_g, weighing.after_g) == (1, 120.5, (119.2, 119.0))


STORIES: dict[str, Callable[[Person, Path], None]] = {"weather.weigh": weigh_a_coupon}
