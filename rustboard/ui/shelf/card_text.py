"""What the card of a board says, in the user's language and format, safe to show."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from rustboard.board.grade import GRADES
from rustboard.session.shelf import ShelfEntry
from rustboard.support.text import printable
from rustboard.ui.look_words import look_due, look_due_shortly, looks_missed
from rustboard.ui.wording import date_only


def say(text: str) -> str:
    """Return a text of this module's kind in the user's language."""
    return QCoreApplication.translate("shelf", text)


def title(entry: ShelfEntry) -> str:
    """Return the board's name."""
    return printable(entry.name) or say("A board without a name")


def dates(entry: ShelfEntry) -> str:
    """Return from when to when the board was looked at."""
    if entry.last_inspection is None:
        if entry.started is None:
            return say("Not begun yet")
        return say("From {0}").format(date_only(entry.started))
    last = date_only(entry.last_inspection)
    if entry.started is None or entry.started.date() == entry.last_inspection.date():
        return last
    return say("{0} – {1}").format(date_only(entry.started), last)


def counts(entry: ShelfEntry) -> str:
    """Return how many inspections and coupons there are."""
    parts = [say("1 inspection") if entry.inspections == 1 else say("{0} inspections").format(entry.inspections)]
    parts.append(say("1 coupon") if entry.coupons == 1 else say("{0} coupons").format(entry.coupons))
    return say("{0}, {1}").format(*parts)


def reminder(entry: ShelfEntry) -> str:
    """Return when the next planned look is due; empty where none is, or where the user wants no reminders."""
    return "" if entry.next_look is None else look_due(entry.next_look)


def short_reminder(entry: ShelfEntry) -> str:
    """Return `reminder` for a card that is too narrow for it."""
    return "" if entry.next_look is None else look_due_shortly(entry.next_look)


def is_due(entry: ShelfEntry) -> bool:
    """Return whether a planned look is due today or was due before."""
    return entry.next_look is not None and entry.next_look.overdue_days >= 0


def grades_in_words(entry: ShelfEntry) -> str:
    """Return how many coupons have each grade as their last, best first; nothing of it while they are hidden."""
    if entry.being_graded_blind:
        return say("Being graded blind: grades hidden")
    found = [(grade, entry.last_grades[grade]) for grade in reversed(GRADES) if entry.last_grades[grade]]
    if not found:
        return say("No grades yet")
    return say("Coupons by last grade: {0}").format(
        ", ".join(say("grade {0}: {1}").format(grade, count) for grade, count in found)
    )


def marks(entry: ShelfEntry) -> list[str]:
    """Return what a card bears as small labels: that the board is in the archive, then its tags."""
    archived = [say("archived")] if entry.facts.archived else []
    return [*archived, *(printable(each) for each in entry.facts.tags)]


def _facts_in_words(entry: ShelfEntry) -> list[str]:
    archived = [say("In the archive")] if entry.facts.archived else []
    tags = ", ".join(printable(each) for each in entry.facts.tags)
    follows = [say("Follows {0}").format(printable(entry.facts.forerunner))] if entry.facts.forerunner else []
    return [*archived, *follows, *([say("Tags: {0}").format(tags)] if tags else [])]


def describe(entry: ShelfEntry) -> str:
    """Return the whole card in words, for screen readers."""
    if entry.problem:
        return say("{0}. This board cannot be opened: {1}").format(title(entry), printable(entry.problem))
    missed = "" if entry.next_look is None else looks_missed(entry.next_look)
    looks = [reminder(entry), missed]
    parts = [title(entry), *looks, printable(entry.site), dates(entry), counts(entry)]
    parts += [grades_in_words(entry), *_facts_in_words(entry)]
    return ". ".join(each for each in parts if each)


def hint(entry: ShelfEntry) -> str:
    """Return what a card cannot show whole: the full name, the place, the grades, where the folder is."""
    parts = [describe(entry), printable(str(entry.folder))]
    return "\n".join(parts)
