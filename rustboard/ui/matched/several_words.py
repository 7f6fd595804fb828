"""How several boards together are written on the screen: sentences, figures, and what the figures are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QLocale

from rustboard.board.exposure_clock import ClockKind
from rustboard.board.question import Compared, Measure
from rustboard.findings.boards.matching import Common, Sureness
from rustboard.findings.boards.results import BoardEffect, BoardsFindings, PooledComparison
from rustboard.findings.sentence import Part, PValue, Sentence, with_two_decimals
from rustboard.support.text import printable
from rustboard.ui.wording import number

DASH: Final = "–"

_SURE: Final[dict[Sureness, str]] = {
    "certain": str(QT_TRANSLATE_NOOP("several", "certain")),
    "likely": str(QT_TRANSLATE_NOOP("several", "likely")),
    "chosen": str(QT_TRANSLATE_NOOP("several", "your word")),
    "none": str(QT_TRANSLATE_NOOP("several", "one board only")),
}
COMPARED: Final[dict[Compared, str]] = {
    "control": str(QT_TRANSLATE_NOOP("several", "Every treatment with the controls")),
    "pairs": str(QT_TRANSLATE_NOOP("several", "Every treatment with every other")),
}
MEASURES: Final[dict[Measure, str]] = {
    "last grade": str(QT_TRANSLATE_NOOP("several", "Last grade")),
    "mean grade": str(QT_TRANSLATE_NOOP("several", "Mean grade over the exposure")),
    "days to failing grade": str(QT_TRANSLATE_NOOP("several", "Time above the failing grade")),
}
AXES: Final[dict[ClockKind, str]] = {
    "days": str(QT_TRANSLATE_NOOP("several", "days of exposure")),
    "wet hours": str(QT_TRANSLATE_NOOP("several", "wet hours")),
    "rain": str(QT_TRANSLATE_NOOP("several", "mm of rain")),
    "controls": str(QT_TRANSLATE_NOOP("several", "grades lost by the controls")),
}
_GRADE_UNIT: Final = str(QT_TRANSLATE_NOOP("several", "grades"))

DIFFERENCE_TIP: Final = str(
    QT_TRANSLATE_NOOP(
        "several",
        "First less second. On one board: least squares, with rows as blocks where the lots were drawn so. Pooled: "
        "the boards weighted by how surely each shows it and by how much boards differ (random effects, Paule and "
        "Mandel 1982).",
    )
)
INTERVAL_TIP: Final = str(
    QT_TRANSLATE_NOOP(
        "several",
        "95 % interval of this comparison by itself. On one board: Student's t, with the spread pooled over all its "
        "treatments and never below that of rounding to whole grades. Pooled: Hartung and Knapp 2001, never narrower "
        "than that of one common difference.",
    )
)
WEIGHT_TIP: Final = str(
    QT_TRANSLATE_NOOP(
        "several",
        "How much of the pooled difference comes from this board. A board with one coupon on each side has no weight "
        "in the size of the difference; it counts in the exact test.",
    )
)
EXACT_TIP: Final = str(
    QT_TRANSLATE_NOOP(
        "several",
        "Exact test over all boards: every way the lots could have fallen, each board by itself, none exchanged "
        "between boards. Counted after Holm 1979 for all comparisons in this table: at 0.05 or less, the chance of "
        "any false difference among them is no more than 5 in 100.",
    )
)
DISAGREE_TIP: Final = str(
    QT_TRANSLATE_NOOP(
        "several",
        "Cochran's test that all boards have one true difference: a small p says that they disagree by more than "
        "luck. With few coupons on a board it says so a little too readily. Behind it, the share of the scatter that "
        "is more than luck (I squared).",
    )
)


class TableRow(NamedTuple):
    """One line of the table of effects.

    Attributes:
        name: of the comparison, or of the board. pooled: whether it is over all boards.
        cells: what stands in the other columns.
    """

    name: str
    pooled: bool
    cells: tuple[str, str, str, str, str, str]


def say(text: str) -> str:
    """Return a text of this page in the user's language."""
    return QCoreApplication.translate("several", text)


def sentence_text(sentence: Sentence) -> str:
    """Return a sentence in the user's language and number format, safe to show."""
    return printable(sentence.text(say(sentence.pattern), _part))


def _part(part: Part) -> str:
    if isinstance(part, PValue):
        return with_two_decimals(number(part, 6))
    if isinstance(part, float):
        return minus(number(part, 6))
    return part if isinstance(part, str) else str(part)


def minus(text: str) -> str:
    """Return a number with a true minus sign."""
    return text.replace("-", "−")


def sure_text(row: Common) -> str:
    """Return how sure a match is, in a word."""
    return say(_SURE[row.sure])


def unit_text(measure: Measure, clock: ClockKind) -> str:
    """Return what a difference is counted in."""
    return say(AXES[clock]) if measure == "days to failing grade" else say(_GRADE_UNIT)


def table_rows(findings: BoardsFindings) -> Iterator[TableRow]:
    """Yield the lines of the table: each comparison over all boards, then board by board."""
    for each in findings.pooled:
        yield _pooled_row(each)
        for effect in each.effects:
            yield _board_row(effect)


def _pooled_row(each: PooledComparison) -> TableRow:
    of_a, of_b = (sum(getattr(effect, side) for effect in each.effects) for side in ("units_a", "units_b"))
    name = say("{0} less {1}").format(printable(each.name_a), printable(each.name_b))
    cells = (
        say("{0} and {1}").format(of_a, of_b), _signed(each.difference), _interval(each.low, each.high), "",
        _exact(each), _disagree(each),
    )  # fmt: skip
    return TableRow(name, True, cells)


def _board_row(effect: BoardEffect) -> TableRow:
    weight = say("{0} %").format(number(100 * effect.weight, 0)) if effect.weight > 0 else DASH
    cells = (
        say("{0} and {1}").format(effect.units_a, effect.units_b), _signed(effect.difference),
        _interval(effect.low, effect.high), weight, "", "",
    )  # fmt: skip
    return TableRow(printable(effect.board), False, cells)


def _signed(value: float | None) -> str:
    if value is None:
        return DASH
    text = QLocale().toString(abs(value), "f", 1)
    if not round(value, 1):
        return text
    return f"+{text}" if value > 0 else f"−{text}"


def _interval(low: float | None, high: float | None) -> str:
    return DASH if low is None or high is None else say("{0} to {1}").format(_signed(low), _signed(high))


def p_text(value: float | None) -> str:
    """Return a p value with two figures; a dash without one."""
    if value is None:
        return DASH
    if value < 0.0001:
        return say("below {0}").format(number(0.0001, 4))
    return with_two_decimals(number(float(f"{value:.2g}"), 6)) if value < 1 else "1"


def _exact(each: PooledComparison) -> str:
    if each.p_exact_family is None:
        return DASH
    return p_text(each.p_exact_family)


def _disagree(each: PooledComparison) -> str:
    if each.q_p is None or each.i_squared is None:
        return DASH
    return say("{0} ({1} %)").format(p_text(each.q_p), number(100 * each.i_squared, 0))
