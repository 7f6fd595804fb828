"""Practice in words: parts, figures, and what they mean."""

from __future__ import annotations

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QLocale

from rustboard.scales.practice import Part
from rustboard.scales.practice_results import Habit, Results
from rustboard.session.practice import Past, Truth
from rustboard.ui.wording import number

_PART_NAMES: dict[Part, str] = {
    "before": str(QT_TRANSLATE_NOOP("practice", "Before: the truth is not told")),
    "learning": str(QT_TRANSLATE_NOOP("practice", "Learning: the truth follows each grade")),
    "after": str(QT_TRANSLATE_NOOP("practice", "After: the truth is not told")),
}
_LEANING = 0.5  # from half a grade on, the next answers would come out a grade off


def say(text: str) -> str:
    """Return a text of this module in the user's language."""
    return QCoreApplication.translate("practice", text)


def part_name(part: Part) -> str:
    """Return what a part is called, with what is told in it."""
    return say(_PART_NAMES[part])


def signed(value: float) -> str:
    """Return a difference of grades with its sign: ``+0.6``, ``−0.3``, ``0``."""
    shown = round(value, 1)
    if shown == 0:
        return "0"
    return f"{'+' if shown > 0 else '−'}{number(abs(shown))}"


def plain(value: float) -> str:
    """Return a spread with one decimal."""
    return QLocale().toString(float(value), "f", 1)


def lean(offset: float) -> str:
    """Return an offset in words: ``0.6 of a grade too good``."""
    shown = round(abs(offset), 1)
    if shown == 0:
        return say("neither too good nor too bad")
    if shown < 1:
        text = say("{0} of a grade too good") if offset > 0 else say("{0} of a grade too bad")
    elif shown == 1:
        text = say("1 grade too good") if offset > 0 else say("1 grade too bad")
    else:
        text = say("{0} grades too good") if offset > 0 else say("{0} grades too bad")
    return text.format(number(shown))


def verdict_on(truth: Truth) -> str:
    """Return what one answer was, beside the truth."""
    if truth.off == 0:
        return say("Right.")
    off = abs(truth.off)
    if truth.off > 0:
        text = say("One grade too good: there is more rust than you saw.")
        more = say("{0} grades too good: there is more rust than you saw.")
    else:
        text = say("One grade too bad: there is less rust than you saw.")
        more = say("{0} grades too bad: there is less rust than you saw.")
    return text if off == 1 else more.format(off)


def of_all(hits: int, found: Results) -> str:
    """Return how many of a part's coupons: ``9 of 12``."""
    return say("{0} of {1}").format(hits, found.n)


def offset_sentences(past: Past) -> list[str]:
    """Return what became of offset and spread, and whether chance alone could do that."""
    before, after = past.before, past.after
    moved = round(before.offset, 1) != round(after.offset, 1)
    average = (
        say("On average you graded {0} before, and {1} after.")
        if moved
        else say("On average you graded {0}, before and after alike.")
    )
    told = [
        average.format(lean(before.offset), lean(after.offset)),
        say("Your single grades scattered by {0} grades before, and by {1} after.").format(
            plain(before.spread), plain(after.spread)
        ),
    ]
    if moved:
        chance = number(past.chance)
        if abs(after.offset - before.offset) <= past.chance:
            text = say("With {0} coupons in each part, chance alone can move the average by {1}: this is no more.")
        else:
            text = say("With {0} coupons in each part, chance alone would hardly move the average by more than {1}.")
        told.append(text.format(before.n, chance))
    return told


def watch_sentences(past: Past) -> list[str]:
    """Return what to watch for, worst first."""
    told = [_habit_sentence(each) for each in past.habits]
    if not told:
        told.append(say("No single grade stands out."))
    if past.after.offset >= _LEANING:
        told.append(say("You see too little rust: compare with the reference picture of the next worse grade too."))
    elif past.after.offset <= -_LEANING:
        told.append(say("You see too much rust: compare with the reference picture of the next better grade too."))
    return told


def _habit_sentence(habit: Habit) -> str:
    if habit.off > 0:
        text = say("Where it is {0} you give {1} ({2} coupons): there is more rust than you see.")
    else:
        text = say("Where it is {0} you give {1} ({2} coupons): there is less rust than you see.")
    return text.format(habit.true_grade, habit.given, habit.n)
