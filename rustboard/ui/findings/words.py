"""Words of the findings screen: choices, sentences of the findings in the user's language, how figures were got."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from rustboard.board.question import Compared, Measure
from rustboard.findings.sentence import Part, PValue, Sentence, with_two_decimals
from rustboard.support.text import printable
from rustboard.ui.wording import number

_MEASURES: Final[dict[Measure, str]] = {
    "last grade": str(QT_TRANSLATE_NOOP("findings", "Last grade")),
    "mean grade": str(QT_TRANSLATE_NOOP("findings", "Mean grade over the exposure")),
    "days to failing grade": str(QT_TRANSLATE_NOOP("findings", "Time above the failing grade")),
}
_COMPARED: Final[dict[Compared, str]] = {
    "control": str(QT_TRANSLATE_NOOP("findings", "Each with the controls")),
    "pairs": str(QT_TRANSLATE_NOOP("findings", "All pairs")),
    "families": str(QT_TRANSLATE_NOOP("findings", "Families")),
    "grid": str(QT_TRANSLATE_NOOP("findings", "Finishes and protectants")),
    "chosen": str(QT_TRANSLATE_NOOP("findings", "Chosen pairs")),
}
_VALUES: Final[dict[Measure, str]] = {
    "last grade": str(QT_TRANSLATE_NOOP("findings", "last grade")),
    "mean grade": str(QT_TRANSLATE_NOOP("findings", "mean grade over the exposure")),
    "days to failing grade": str(QT_TRANSLATE_NOOP("findings", "time above the failing grade")),
}


def say(text: str) -> str:
    """Return a text of this screen in the user's language."""
    return QCoreApplication.translate("findings", text)


def measure_name(measure: Measure) -> str:
    """Return what the choice of a measure is called."""
    return say(_MEASURES[measure])


def compared_name(compared: Compared) -> str:
    """Return what the choice of comparisons is called."""
    return say(_COMPARED[compared])


def value_name(measure: Measure) -> str:
    """Return what the values of a measure are, for an axis."""
    return say(_VALUES[measure])


def sentence_text(sentence: Sentence) -> str:
    """Return a sentence of the findings in the user's language and with the user's numbers, safe to show."""
    return printable(sentence.text(say(sentence.pattern), _written))


def _written(part: Part) -> str:
    if isinstance(part, PValue):
        return with_two_decimals(number(float(part), 10))
    return number(part, 4) if isinstance(part, float) else str(part)


HOW: Final[dict[str, str]] = {
    "ranking": str(
        QT_TRANSLATE_NOOP(
            "findings",
            "Every dot is a coupon, every diamond the mean of its group. The bar is the 95 % interval of that mean "
            "alone, by Student's t with the spread within groups pooled over the board (never less than rounding to "
            "whole grades makes). Groups that share a letter cannot be told apart: all pairs together, by the "
            "studentized range or its simulation, 5 in 100 for any false difference among them. That asks more than "
            "comparisons with the controls alone, so two of one letter may be shown to differ there.",
        )
    ),
    "survival": str(
        QT_TRANSLATE_NOOP(
            "findings",
            "Nobody knows when between two inspections a coupon fell to the failing grade, so each curve falls "
            "within a box and not at a line: the estimate of greatest likelihood for intervals (Turnbull 1976). A "
            "hollow mark ends a curve where coupons had not failed yet. A dashed curve is a Weibull distribution "
            "fitted to the same intervals, drawn only where it stays near the coupons.",
        )
    ),
    "interaction": str(
        QT_TRANSLATE_NOOP(
            "findings",
            "Large marks are means of a protectant on a finish, small ones its coupons. Where lines are not "
            "parallel, what a protectant does depends on the finish; whether that is more than luck is said by the "
            "interval of the difference of differences in the verdict.",
        )
    ),
    "money": str(
        QT_TRANSLATE_NOOP(
            "findings",
            "Cost of one square metre, typed or added up from the recipe, against the mean of the measure; the thin "
            "line reaches from the worst to the best coupon. Filled marks stand on the frontier: nothing as cheap "
            "protects better. Means only: whether a difference is more than luck is said by the comparisons.",
        )
    ),
    "time": str(
        QT_TRANSLATE_NOOP(
            "findings",
            "Minutes of work for one square metre, typed or added up from the recipe, against the mean of the "
            "measure; the thin line reaches from the worst to the best coupon. Filled marks stand on the frontier: "
            "nothing as quick protects better. Means only: whether a difference is more than luck is said by the "
            "comparisons.",
        )
    ),
    "residuals": str(
        QT_TRANSLATE_NOOP(
            "findings",
            "Each coupon's value less what the model expects of it: the mean of its group and, where rows are "
            "blocks, of its row. If place did not matter, signs and sizes lie about without order. A ring marks a "
            "coupon unlike its replicates (externally studentized residual, Bonferroni over all coupons, 5 in 100).",
        )
    ),
    "forecast": str(
        QT_TRANSLATE_NOOP(
            "findings",
            "Rusted area is taken to grow as a power of exposure, after a time of grace where grades ask for one, "
            "each coupon with its own level; a grade without a percent stands for its interval (fit by the "
            "likelihood of intervals). The band holds the mean grade of a group 90 times in 100. Beyond the upright "
            "line nothing was seen: other weather, or a coating that suddenly gives way, changes it.",
        )
    ),
}


def how(name: str) -> str:
    """Return how the figures of a picture were got."""
    return say(HOW[name])
