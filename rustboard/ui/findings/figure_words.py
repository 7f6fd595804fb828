"""Figures of findings in words: standings, amounts, intervals and p values in the user's format."""

from __future__ import annotations

from math import isfinite
from typing import Final

from PySide6.QtCore import QT_TRANSLATE_NOOP

from rustboard.findings.compare.results import Method, NoModel, Standing
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.doubts.results import Weight
from rustboard.findings.growth.results import Outlook
from rustboard.findings.proof_words import SMALLEST_SHOWN, rounded_p
from rustboard.findings.sentence import with_two_decimals
from rustboard.support.text import one_line, printable
from rustboard.ui.clock_words import axis_title
from rustboard.ui.findings.words import say
from rustboard.ui.wording import number

DASH: Final = "–"

STANDING: Final[dict[Standing, str]] = {
    "better": str(QT_TRANSLATE_NOOP("findings", "first is better")),
    "worse": str(QT_TRANSLATE_NOOP("findings", "second is better")),
    "leans better": str(QT_TRANSLATE_NOOP("findings", "leans to the first, not shown")),
    "leans worse": str(QT_TRANSLATE_NOOP("findings", "leans to the second, not shown")),
    "open": str(QT_TRANSLATE_NOOP("findings", "cannot be told apart")),
}
NO_MODEL: Final[dict[NoModel, str]] = {
    "": "",
    "replicates": str(
        QT_TRANSLATE_NOOP(
            "findings",
            "There is no interval: no treatment has two coupons that count, so nothing says how much luck there is.",
        )
    ),
    "rows": str(
        QT_TRANSLATE_NOOP(
            "findings",
            "There is no interval: the two share no row, so rows and treatments cannot be told apart.",
        )
    ),
}
METHODS: Final[dict[Method, str]] = {
    "one": str(QT_TRANSLATE_NOOP("findings", "it is the only comparison, so nothing was added for others")),
    "studentized range": str(
        QT_TRANSLATE_NOOP("findings", "all pairs together by the studentized range (Tukey and Kramer)")
    ),
    "many to one": str(
        QT_TRANSLATE_NOOP("findings", "all comparisons with the controls together by Dunnett's distribution")
    ),
    "simulated": str(QT_TRANSLATE_NOOP("findings", "all comparisons together by simulating how they hang together")),
    "bonferroni": str(QT_TRANSLATE_NOOP("findings", "all comparisons together by Bonferroni's bound")),
}
WEIGHTS: Final[dict[Weight, str]] = {
    "serious": str(QT_TRANSLATE_NOOP("findings", "serious")),
    "caution": str(QT_TRANSLATE_NOOP("findings", "caution")),
    "note": str(QT_TRANSLATE_NOOP("findings", "note")),
}
OUTLOOKS: Final[dict[Outlook, str]] = {
    "settled": str(QT_TRANSLATE_NOOP("findings", "shown already")),
    "likely": str(QT_TRANSLATE_NOOP("findings", "probably shown then")),
    "open": str(QT_TRANSLATE_NOOP("findings", "may be shown then")),
    "unlikely": str(QT_TRANSLATE_NOOP("findings", "probably still open")),
    "unknown": str(QT_TRANSLATE_NOOP("findings", "cannot be said")),
}


def shown(value: float | None, decimals: int = 1) -> str:
    """Return a number in the user's format, a dash where there is none; never minus nothing, never no number."""
    if value is None or not isfinite(value):
        return DASH
    return number(round(value, decimals) + 0.0, decimals).replace("-", "−")


def signed(value: float | None, decimals: int = 1) -> str:
    """Return a difference with its sign."""
    text = shown(value, decimals)
    return f"+{text}" if value is not None and round(value, decimals) > 0 else text


def interval(low: float | None, high: float | None, decimals: int = 1) -> str:
    """Return an interval in words; a dash where there is none, and one without an upper end as open."""
    if low is None:
        return DASH
    if high is None or not isfinite(high):
        return say("{0} or more").format(shown(low, decimals))
    return say("{0} to {1}").format(shown(low, decimals), shown(high, decimals))


def p_text(p: float | None, *, at_least: bool = False) -> str:
    """Return a p value with two figures; a very small one as being below."""
    if p is None or not isfinite(p):
        return DASH
    text = with_two_decimals(number(rounded_p(p), 6))
    if at_least:
        return say("{0} or more").format(text)
    return say("below {0}").format(text) if p < SMALLEST_SHOWN else text


def unit_text(subject: Subject) -> str:
    """Return what values are counted in: ``grades`` or what the clock counts."""
    return say("grades") if subject.in_grades else axis_title(subject.request.clock)


def group_name(name: str) -> str:
    """Return what people call a group, the controls in the user's language."""
    return say("control") if name == "control" else printable(one_line(name, 80))
