"""How what was learnt is written on the screen."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from rustboard.board.comparisons import CONTROL
from rustboard.findings.boards.sought import Part
from rustboard.findings.compare.results import Standing
from rustboard.session.learning import Answer
from rustboard.support.text import printable
from rustboard.ui.wording import number

DASH: Final = "–"
NUMBERS: Final = (2, 3, 6, 7, 8, 9, 10)
"""Columns that hold numbers."""

PARTS: Final[dict[Part, str]] = {
    "name": str(QT_TRANSLATE_NOOP("learnt", "a treatment called")),
    "protectant": str(QT_TRANSLATE_NOOP("learnt", "the protectant")),
    "finish": str(QT_TRANSLATE_NOOP("learnt", "the finish")),
    "preparation": str(QT_TRANSLATE_NOOP("learnt", "the preparation")),
    "family": str(QT_TRANSLATE_NOOP("learnt", "the family")),
    "step": str(QT_TRANSLATE_NOOP("learnt", "a step with")),
}
_STANDINGS: Final[dict[Standing, str]] = {
    "better": str(QT_TRANSLATE_NOOP("learnt", "did better")),
    "worse": str(QT_TRANSLATE_NOOP("learnt", "did worse")),
    "leans better": str(QT_TRANSLATE_NOOP("learnt", "looks better, not confirmed")),
    "leans worse": str(QT_TRANSLATE_NOOP("learnt", "looks worse, not confirmed")),
    "open": str(QT_TRANSLATE_NOOP("learnt", "not told apart")),
}
_TITLES: Final = (
    str(QT_TRANSLATE_NOOP("learnt", "Board")),
    str(QT_TRANSLATE_NOOP("learnt", "Treatment there")),
    str(QT_TRANSLATE_NOOP("learnt", "Coupons")),
    str(QT_TRANSLATE_NOOP("learnt", "Mean last grade")),
    str(QT_TRANSLATE_NOOP("learnt", "Letters")),
    str(QT_TRANSLATE_NOOP("learnt", "Against the controls")),
    str(QT_TRANSLATE_NOOP("learnt", "Failed")),
    str(QT_TRANSLATE_NOOP("learnt", "Days to failing")),
    str(QT_TRANSLATE_NOOP("learnt", "Days watched")),
    str(QT_TRANSLATE_NOOP("learnt", "Wet hours")),
    str(QT_TRANSLATE_NOOP("learnt", "Rain, mm")),
    str(QT_TRANSLATE_NOOP("learnt", "Site")),
)


def say(text: str) -> str:
    """Return a text of this screen in the user's language."""
    return QCoreApplication.translate("learnt", text)


def titles(answer: Answer) -> list[str]:
    """Return the titles of the table: with a column for each rival."""
    others = [say("Against {0}").format(printable(each)) for each in answer.learnt.rivals]
    return [*map(say, _TITLES), *others]


def rows(answer: Answer) -> list[list[str]]:
    """Return the table, a row for each treatment on each board."""
    found = []
    for each in answer.learnt.rows:
        facts = answer.facts[each.board]
        weather = facts.weather
        found.append(
            [
                printable(answer.learnt.boards[each.board]),
                printable(each.treatment),
                str(each.coupons),
                _number(each.mean),
                each.letters or DASH,
                _standing(each.against.get(CONTROL)),
                say("{0} of {1}").format(each.failed, each.coupons),
                _days(each.days_to_failure, each.failed),
                number(facts.days, 0),
                _number(None if weather is None else weather.wet_hours, 0),
                _number(None if weather is None else weather.rain_mm, 0),
                printable(facts.site) or DASH,
                *(_standing(each.against.get(name)) for name in answer.learnt.rivals),
            ]
        )
    return found


def _standing(standing: Standing | None) -> str:
    return DASH if standing is None else say(_STANDINGS[standing])


def _number(value: float | None, decimals: int = 1) -> str:
    return DASH if value is None else number(value, decimals)


def _days(value: float | None, failed: int) -> str:
    if value is not None:
        return number(value, 0)
    return say("half have not failed") if failed else say("none failed")
