"""What the shelf and the plan say of the planned inspection that comes next."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from rustboard.board.inspection_calendar import NextLook
from rustboard.ui.wording import date_only


def say(text: str) -> str:
    """Return a text of this module's kind in the user's language."""
    return QCoreApplication.translate("looks", text)


def look_due(look: NextLook) -> str:
    """Return when the next look is due, or since when: ``Look was due 3 days ago (day 16)``."""
    detail = date_only(look.due) if look.overdue_days < -1 else say("day {0}").format(look.day)
    return say("{0} ({1})").format(look_due_shortly(look), detail)


def look_due_shortly(look: NextLook) -> str:
    """Return the same where there is little room: ``Look was due 3 days ago``."""
    match look.overdue_days:
        case 0:
            return say("Look due today")
        case 1:
            return say("Look was due yesterday")
        case -1:
            return say("Next look tomorrow")
    if look.overdue_days > 0:
        return say("Look was due {0} days ago").format(look.overdue_days)
    return say("Next look in {0} days").format(-look.overdue_days)


def looks_missed(look: NextLook) -> str:
    """Return how many planned looks nobody came for since the last inspection; empty when none."""
    if not look.missed:
        return ""
    if look.missed == 1:
        return say("1 planned look before it was missed")
    return say("{0} planned looks before it were missed").format(look.missed)
