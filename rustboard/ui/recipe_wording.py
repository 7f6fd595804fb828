"""Steps, amounts and costs as the screens write them, in the user's language and format."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from rustboard.board.recipe import RecipeStep
from rustboard.board.recipe_cost import RecipeCost
from rustboard.board.recipe_words import KIND_WORDS, UNIT_WORDS
from rustboard.support.text import printable
from rustboard.ui.wording import number


def say(text: str) -> str:
    """Return a text of this module's kind in the user's language."""
    return QCoreApplication.translate("recipe", text)


def money(value: float) -> str:
    """Return an amount of the user's own currency: two decimals, more for what is worth less than one."""
    return number(value, 2) if value >= 1 or value == 0 else number(value, 4)


def step_title(step: RecipeStep) -> str:
    """Return what a step is in a few words: ``coat · beeswax``."""
    words = say(KIND_WORDS[step.kind])
    return f"{words} · {printable(step.product)}" if step.product else words


def step_amounts(step: RecipeStep) -> str:
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
    """Return cost in one line, with a dash for what is not known."""
    return say("Cost: {0} a coupon, {1} a m²").format(_or_dash(cost.per_coupon), _or_dash(cost.per_m2))


def minutes_line(cost: RecipeCost) -> str:
    """Return minutes in one line, with a dash for what is not known."""
    hands_on, per_m2, waiting = cost.minutes_per_coupon_hands_on, cost.minutes_per_m2, cost.waiting_minutes
    line = say("Work: {0} min a coupon, {1} min a m²").format(_minutes(hands_on), _minutes(per_m2))
    return line if waiting is None else f"{line}; {say('waiting: {0} min').format(number(waiting))}"


def not_counted(cost: RecipeCost) -> list[str]:
    """Return the sentences about what is not in the figures."""
    return [printable(each) for each in (*cost.unknown, *cost.untimed)]


def _or_dash(value: float | None) -> str:
    return "–" if value is None else money(value)


def _minutes(value: float | None) -> str:
    return "–" if value is None else number(value)
