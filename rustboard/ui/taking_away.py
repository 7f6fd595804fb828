"""Operations after which the window offers to take them back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from rustboard.operations.boards import remove_line
from rustboard.operations.coupons import remove_coupon, take_off
from rustboard.operations.damage import withdraw_damage
from rustboard.operations.grading import withdraw_grade
from rustboard.operations.inspections import remove_inspection
from rustboard.operations.leaving_out import leave_out
from rustboard.operations.treatments import remove_treatment

TAKING_AWAY: Final[frozenset[Callable[..., Any]]] = frozenset({
    withdraw_grade, withdraw_damage, leave_out, take_off, remove_coupon, remove_inspection, remove_line,
    remove_treatment,
})  # fmt: skip
