"""The command objects about what is noted of one coupon, put together for the window."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from rustboard.ui.ask import Asker
from rustboard.ui.damage_commands import DamageCommands
from rustboard.ui.doing import Do
from rustboard.ui.leaving_out_commands import LeavingOutCommands
from rustboard.ui.page_commands import PageCommands


class CouponDesk:
    """What the window notes of a coupon beside its grade.

    Attributes:
        damage: edge rust, stains, blisters and the like. leaving_out: whether it counts in the findings.
    """

    def __init__(self, window: QWidget, asker: Asker, do: Do) -> None:
        """Start without a page."""
        self.damage = DamageCommands(window, asker, do)
        self.leaving_out = LeavingOutCommands(window, asker, do)

    def commands(self) -> tuple[PageCommands, ...]:
        """Return all command objects."""
        return (self.damage, self.leaving_out)

    def handlers(self) -> dict[str, Callable[[], object]]:
        """Return the handlers of the actions about what is noted of a coupon, by id."""
        return {
            "coupon.damage": self.damage.damage,
            "coupon.leave_out": self.leaving_out.leave_this_out,
            "coupon.take_back_in": self.leaving_out.take_this_back_in,
        }
