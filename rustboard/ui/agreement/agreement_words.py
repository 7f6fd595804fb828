"""How a study of grading is written on the screen: its choice, its sentences, its figures and what they are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from rustboard.board.grade import written
from rustboard.board.model import Grading
from rustboard.board.record import BoardRecord
from rustboard.findings.agreement.intraclass import Intraclass
from rustboard.findings.agreement.kappa import Interval, Kappa
from rustboard.findings.agreement.offsets import Offset
from rustboard.findings.sentence import Part, Sentence
from rustboard.session.agreement import Differing, Scope, StudiedAgreement, graders_at, how_it_counts
from rustboard.session.agreement_figures import Compared, compared
from rustboard.support.text import printable
from rustboard.ui.wording import date_time, number

_LONGEST_NAME: Final = 40

ALIKE_TIP: Final = str(
    QT_TRANSLATE_NOOP(
        "agreement",
        "How many coupons got the very same grade both times: a plain count. Chance alone makes many of them where "
        "most coupons are alike.",
    )
)
NEAR_TIP: Final = str(
    QT_TRANSLATE_NOOP("agreement", "How many coupons got the same grade or the one beside it: a plain count.")
)
LINEAR_TIP: Final = str(
    QT_TRANSLATE_NOOP(
        "agreement",
        "Agreement beyond chance: 1 is full agreement, 0 what chance alone would give. Two grades apart are twice as "
        "bad as one. All eleven grades count, also those nobody gave. Weighted kappa, Cohen 1968; 95 % interval "
        "after Fleiss, Cohen and Everitt 1969.",
    )
)
SQUARED_TIP: Final = str(
    QT_TRANSLATE_NOOP(
        "agreement",
        "Agreement beyond chance, as above, but two grades apart are four times as bad as one: few wide differences "
        "weigh more than many small ones. Weighted kappa, Cohen 1968; 95 % interval after Fleiss, Cohen and Everitt "
        "1969.",
    )
)
ICC_TIP: Final = str(
    QT_TRANSLATE_NOOP(
        "agreement",
        "How much of the differences among the grades comes from the coupons: 1 is all of it, 0 nothing. The rest is "
        "the error of grading; a grader who is milder throughout counts as error. ICC(2,1), Shrout and Fleiss 1979; "
        "95 % interval after McGraw and Wong 1996.",
    )
)
OFFSET_TIP: Final = str(
    QT_TRANSLATE_NOOP(
        "agreement",
        "Mean difference in grades, the first less the second: above 0 the first is milder, below 0 harsher. 95 % "
        "interval after Student's t; where it holds 0, chance can make it.",
    )
)
SHIFT_TIP: Final = str(
    QT_TRANSLATE_NOOP(
        "agreement",
        "Mean difference in grades, the second look less the first: above 0 the second was milder. 95 % interval "
        "after Student's t; where it holds 0, chance can make it.",
    )
)
ERROR_TIP: Final = str(
    QT_TRANSLATE_NOOP(
        "agreement",
        "By how much one look is typically off, in grades: the standard deviation of the differences between first "
        "and second look, divided by the square root of 2, because both looks are off.",
    )
)


class FigureRow(NamedTuple):
    """One line of the table of figures; a heading has no value."""

    name: str
    value: str = ""
    tip: str = ""


def say(text: str) -> str:
    """Return a text of this screen in the user's language."""
    return QCoreApplication.translate("agreement", text)


def sentence_text(sentence: Sentence) -> str:
    """Return a sentence in the user's language and number format, safe to show."""
    return printable(sentence.text(say(sentence.pattern), _part))


def _part(part: Part) -> str:
    return number(part, 12) if isinstance(part, float) else str(part)


def short_name(name: str) -> str:
    """Return a grader's name as one line that is not too long."""
    line = printable(name)
    return line if len(line) <= _LONGEST_NAME else f"{line[:_LONGEST_NAME].rstrip()}…"


# ---- the choice


def scope_text(record: BoardRecord, scope: Scope) -> str:
    """Return a choice in words: the inspection and how many graded it."""
    if scope.kind == "blind":
        return say("All blind inspections")
    if scope.kind == "open":
        return say("Grades by eye given openly, with the photo")
    inspection = record.inspections.get(scope.inspection)
    count = len(graders_at(record, scope.inspection))
    when = "" if inspection is None else date_time(inspection.at)
    return say("{0}, 1 grader").format(when) if count == 1 else say("{0}, {1} graders").format(when, count)


# ---- sentences by heading


def sections(studied: StudiedAgreement) -> Iterator[tuple[str, list[str]]]:
    """Yield headings with their sentences; one without is left out."""
    words = studied.words
    if studied.scope.kind == "open":
        openly = say(
            "These grades were given knowing which coupon it was, and perhaps what the photo said. They agree more "
            "easily than blind ones, so they prove less."
        )
        yield say("Not blind"), [openly]
    elif not studied.study.repeats and not studied.study.pairs:
        yield say("Nothing to compare"), [_nothing(studied)]
    parts = (
        (say("One grader twice"), words.repeats),
        (say("Graders with one another"), words.graders),
        (say("Coupons told apart"), words.coupons),
        (say("Eye and photo"), words.photo),
        (say("Look again"), words.look_again),
        (say("What this leans on"), words.cautions),
    )
    for heading, sentences in parts:
        if sentences:
            yield heading, [sentence_text(each) for each in sentences]


def _nothing(studied: StudiedAgreement) -> str:
    if len(studied.graders) == 1:
        text = say(
            "Only {0} graded, every coupon once. Next time let a second person grade too, or have some coupons shown "
            "twice."
        )
        return text.format(short_name(studied.graders[0]))
    return say("No coupon was graded by two graders, or twice by one.")


# ---- figures


def figure_rows(studied: StudiedAgreement) -> Iterator[FigureRow]:
    """Yield the figures of every comparison under its heading, each with what it is in plain words."""
    for each in compared(studied.study):
        yield FigureRow(_heading(each, studied))
        yield from _figures(each)


def _heading(each: Compared, studied: StudiedAgreement) -> str:
    a, b = short_name(each.a), short_name(each.b)
    if each.kind == "repeat":
        text = say("{0}: first and second look at {2} coupons")
    elif each.kind == "graders":
        text = say("{0} and {1}: {2} coupons")
    elif each.kind == "photo":
        text = say("{0} and the photo: {2} coupons")
    elif each.kind == "others":
        text = say("{0} and the mean of the others: {2} coupons")
    else:
        together = studied.study.together
        graders = 0 if together is None else len(together.graders)
        return say("All {0} graders: {1} coupons").format(graders, each.coupons)
    return text.format(a, b, each.coupons)


def _figures(each: Compared) -> Iterator[FigureRow]:
    if each.agreement is not None:
        found = each.agreement
        yield FigureRow(say("Same grade"), _share(found.exact, found.pairs), say(ALIKE_TIP))
        yield FigureRow(say("At most one apart"), _share(found.within_one, found.pairs), say(NEAR_TIP))
        yield FigureRow(say("Kappa, linear"), kappa_text(found.linear), say(LINEAR_TIP))
        yield FigureRow(say("Kappa, squared"), kappa_text(found.quadratic), say(SQUARED_TIP))
    if each.reliability is not None:
        yield FigureRow(say("ICC(2,1)"), icc_text(each.reliability), say(ICC_TIP))
    if each.kind == "repeat":
        if each.offset is not None:
            yield FigureRow(say("Second less first"), offset_text(each.offset), say(SHIFT_TIP))
        if each.sd is not None:
            yield FigureRow(say("Error of one look"), say("{0} grades").format(number(each.sd, 2)), say(ERROR_TIP))
    elif each.offset is not None:
        yield FigureRow(say("Milder (+) or harsher (−)"), offset_text(each.offset), say(OFFSET_TIP))


def _share(count: int, pairs: int) -> str:
    percent = number(100 * count / pairs, 0) if pairs else "–"
    return say("{0} of {1} ({2} %)").format(count, pairs, percent)


def kappa_text(kappa: Kappa | None) -> str:
    """Return a kappa with its interval."""
    if kappa is None:
        return say("none: all grades are one and the same")
    return _with_interval(number(kappa.value, 2), kappa.interval, 2)


def icc_text(found: Intraclass) -> str:
    """Return ICC(2,1) with its interval."""
    if found.absolute is None:
        return say("none: all grades are one and the same")
    return _with_interval(number(found.absolute, 2), found.interval, 2)


def offset_text(offset: Offset) -> str:
    """Return an offset in grades with its interval."""
    mean = number(offset.mean, 2)
    signed = f"+{mean}" if offset.mean > 0 else mean.replace("-", "−")
    return _with_interval(say("{0} grades").format(signed), offset.interval, 2)


def _with_interval(value: str, interval: Interval | None, decimals: int) -> str:
    if interval is None:
        return value
    low, high = (number(each, decimals).replace("-", "−") for each in interval)
    return say("{0} ({1} to {2})").format(value.replace("-", "−"), low, high)


# ---- one coupon


def counts_text(differing: Differing, counts: Grading | None) -> str:
    """Return which grade counts for a coupon, and by which rule."""
    rule = differing.by_rule
    how = how_it_counts(rule, counts)
    if counts is None or rule is None:
        if counts is not None:
            return say("board {0}").format(written(counts.grade, counts.distribution))
        return say("no grade counts") if rule is None else say("by the rule {0}, withdrawn").format(_rule(differing))
    now = written(counts.grade, counts.distribution)
    if how == "rule":
        return say("board {0}, by the rule").format(now)
    if how == "agreed":
        return say("by the rule {0}, agreed {1}").format(_rule(differing), now)
    return say("by the rule {0}, later graded openly {1}").format(_rule(differing), now)


def _rule(differing: Differing) -> str:
    rule = differing.by_rule
    return "" if rule is None else written(rule.grade, rule.distribution)


def given_text(differing: Differing) -> str:
    """Return who gave what, as a sentence part: ``Ann 6, then 8, Bo 5, the photo 7``."""
    parts = []
    for each in differing.given:
        text = say("{0} {1}") if each.again is None else say("{0} {1}, then {2}")
        parts.append(text.format(short_name(each.grader), each.grade, each.again))
    if differing.photo is not None:
        parts.append(say("the photo {0}").format(differing.photo))
    return ", ".join(parts)
