"""Steps, amounts and costs as the screens write them, in the user's language and format."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import floor, log10
from typing import Final

from PySide6.QtCore import QCoreApplication

from rustboard.board.recipe import RecipeStep
from rustboard.board.recipe_cost import RecipeCost
from rustboard.board.recipe_words import KIND_WORDS, UNIT_WORDS
from rustboard.scales.cautions import NOT_COMPLETE
from rustboard.support.text import printable
from rustboard.ui.wording import number

_WHOLE_MINUTES: Final = 10
_MOST_DECIMALS: Final = 8


def say(text: str) -> str:
    """Return a text of this module's kind in the user's language."""
    return QCoreApplication.translate("recipe", text)


def money(value: float) -> str:
    """Return an amount of the user's own currency: two decimals, three digits for what is worth less than one."""
    if value >= 1 or value <= 0:  # a sign typed by mistake makes it less than nothing
        return number(value, 2)
    return number(value, min(2 - floor(log10(value)), _MOST_DECIMALS))


def minutes(value: float) -> str:
    """Return minutes: whole ones from ten up, which is as well as anybody keeps time."""
    return number(value, 0 if value >= _WHOLE_MINUTES else 1)


def care_summary(count: int) -> str:
    """Return in one line how many safety reminders a treatment calls for, or an empty text for none."""
    if not count:
        return ""
    words = (
        say("Take care: {0} reminder, see Details…") if count == 1 else say("Take care: {0} reminders, see Details…")
    )
    return words.format(count)


def care_lines(reminders: Sequence[str]) -> list[str]:
    """Return safety reminders as lines, the last of them saying that they are not complete; none for none."""
    return [*(f"• {each}" for each in reminders), NOT_COMPLETE] if reminders else []


def step_lines(number: int, step: RecipeStep) -> str:
    """Return a step with its number, and under it, where they are given, its amounts."""
    amounts = _step_amounts(step)
    return f"{number}  {_step_title(step)}" + (f"\n     {amounts}" if amounts else "")


def _step_title(step: RecipeStep) -> str:
    """Return what a step is in a few words: ``coat · beeswax``."""
    words = say(KIND_WORDS[step.kind])
    return f"{words} · {printable(step.product)}" if step.product else words


def _step_amounts(step: RecipeStep) -> str:
    """Return how much and how long in a few words, or an empty text: ``4 g a coupon · 6 min``."""
    parts = []
    if step.quantity is not None:
        per = (
            say("{0}\N{NO-BREAK SPACE}{1} a coupon") if step.per == "coupon" else say("{0}\N{NO-BREAK SPACE}{1} a m²")
        )
        parts.append(per.format(number(step.quantity, 3), say(UNIT_WORDS[step.unit])))
    if step.minutes is not None:
        words = say("{0}\N{NO-BREAK SPACE}min") if step.hands_on else say("{0}\N{NO-BREAK SPACE}min waiting")
        parts.append(words.format(number(step.minutes)))
    if step.temperature_c is not None:
        parts.append(say("{0}\N{NO-BREAK SPACE}°C").format(number(step.temperature_c)))
    return " · ".join(parts)


def cost_line(cost: RecipeCost) -> str:
    """Return cost in one line, as far as it is known."""
    return say("Cost: {0}").format(
        _both(cost.per_coupon, cost.per_m2, say("{0} for a coupon"), say("{0} for a m²"), money)
    )


def minutes_line(cost: RecipeCost) -> str:
    """Return minutes in one line, as far as they are known."""
    patterns = say("{0}\N{NO-BREAK SPACE}min for a coupon"), say("{0}\N{NO-BREAK SPACE}min for a m²")
    work = _both(cost.minutes_per_coupon_hands_on, cost.minutes_per_m2, *patterns, minutes)
    line = say("Work: {0}").format(work)
    if cost.waiting_minutes is None:
        return line
    waiting = say("waiting: {0}\N{NO-BREAK SPACE}min").format(minutes(cost.waiting_minutes))
    return f"{line}; {waiting}"


def not_counted(cost: RecipeCost) -> list[str]:
    """Return the sentences about what is not in the figures."""
    return [printable(each) for each in (*cost.unknown, *cost.untimed)]


def not_given(cost: RecipeCost) -> list[str]:
    """Return what a treatment is not given of a sum that some step is missing from."""
    lines = []
    if cost.per_m2 is not None and cost.whole_per_m2 is None:
        lines.append(say("The treatment is not given this cost: it is not the whole one."))
    if cost.minutes_per_m2 is not None and cost.whole_minutes_per_m2 is None:
        lines.append(say("The treatment is not given these minutes: they are not the whole work."))
    return lines


def _both(
    coupon: float | None, square: float | None, coupon_words: str, square_words: str, shown: Callable[[float], str]
) -> str:
    parts = [(coupon, coupon_words), (square, square_words)]
    return ", ".join(words.format(shown(value)) for value, words in parts if value is not None) or say("not known")
