"""The calendar of planned inspections."""

from __future__ import annotations

import secrets
from dataclasses import replace
from typing import Final

from rustboard.board.inspection_calendar import checked_days
from rustboard.board.inspection_days import InspectionDays
from rustboard.store.plan_tables import CALENDARS
from rustboard.store.transaction import Transaction
from rustboard.support.summary import Summary

_KEY: Final = 1
_DAYS_NAMED: Final = 12


def set_calendar(tx: Transaction, calendar: InspectionDays) -> Summary:
    """Replace the board's calendar; without days it plans no inspections and keeps its hour.

    What the events of its file are known by stays, whatever is changed.

    Raises:
        InputError: a day that cannot be, days that do not rise, or too many.
    """
    clean = InspectionDays(
        checked_days(calendar.days),
        calendar.hour.replace(second=0, microsecond=0, tzinfo=None),
        calendar.remind,
        _KEY,
    )
    before = tx.get(CALENDARS, _KEY) or InspectionDays(key=_KEY)
    tx.put(CALENDARS, replace(clean, uid=before.uid or new_uid()))
    return _summary(before, clean)


def new_uid() -> str:
    """Return what the events of a new calendar are to be known by, among those of all boards everywhere."""
    return secrets.token_hex(12)


def _summary(before: InspectionDays, after: InspectionDays) -> Summary:
    if before.days != after.days:
        if not after.days:
            return Summary("Plan no inspections")
        return Summary("Plan inspections on days {0}", (_named(after.days),))
    if replace(before, remind=after.remind) == after:
        return Summary("Remind of inspections") if after.remind else Summary("Do not remind of inspections")
    return Summary("Plan inspections at {0}", (after.hour.isoformat("minutes"),))


def _named(days: tuple[int, ...]) -> str:
    named = ", ".join(map(str, days[:_DAYS_NAMED]))
    return named if len(days) <= _DAYS_NAMED else f"{named} … {days[-1]} ({len(days)})"
