"""A board's plan as a file of its own, from which the same board can be made again."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from rustboard.board.json_fields import MOST_JSON_BYTES
from rustboard.board.plan_check import check_plan
from rustboard.board.plan_json import write_plan_json
from rustboard.board.record import BoardRecord
from rustboard.operations.plans import whole_plan_of
from rustboard.support.files import shown_name, write_whole
from rustboard.support.problems import InputError, Problem

_MOST_NAMED: Final = 3


def save_plan(record: BoardRecord, path: Path) -> None:
    """Write the plan of a board as JSON: the whole file, or nothing.

    What a plan does not hold is told at `whole_plan_of`.

    Raises:
        InputError: no coupon hangs on the board, something of the plan could not be read again, the plan is larger
            than a plan may be, or the disk refused.
    """
    plan = whole_plan_of(record)
    if not plan.coupons:
        raise InputError("No coupon hangs on this board, so there is no plan to save; hang at least one first.")
    _, problems = check_plan(plan)
    if problems:
        raise InputError(_lost(problems))
    data = write_plan_json(plan).encode()
    if len(data) > MOST_JSON_BYTES:
        raise InputError(
            f"The plan would be larger than {MOST_JSON_BYTES // 2**20} MB and could not be read again; shorten the "
            "notes of its coupons and recipes.",
            file=shown_name(path),
        )
    write_whole(path, data)


def _lost(problems: Sequence[Problem]) -> str:
    named = " ".join(each.what for each in problems[:_MOST_NAMED])
    more = len(problems) - _MOST_NAMED
    return (
        f"Something of this plan would be lost when it is read again, so it was not saved. {named}"
        f"{f' And {more} more.' if more > 0 else ''} Put the board's size, the outlines or the markers right first."
    )
