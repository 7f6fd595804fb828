"""The verdict: sentences a customer understands, in the order in which they are wanted."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rustboard.board.comparisons import CONTROL
from rustboard.findings.amounts import amount_unit, clock_words, listed, listing, shown, shown_p
from rustboard.findings.compare.results import Compared, Comparing
from rustboard.findings.coupons.groups import GroupResult
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.sentence import Sentence, of_grades
from rustboard.findings.smallest_p import LEVEL
from rustboard.findings.verdict.differences import difference_words

_MEASURES: Final = {
    "last grade": "the last grade",
    "mean grade": "the mean grade over the exposure",
    "days to failing grade": "how long coupons stayed above failing grade {0}",
}
_NOTHING: Final = Sentence("No coupon of this board was graded yet, so there is nothing to conclude.")


def verdict_words(subject: Subject, groups: Sequence[GroupResult], comparing: Comparing) -> tuple[Sentence, ...]:
    """Return the verdict on a board.

    Args:
        subject: the board.
        groups: the best first.
        comparing: all comparisons of the question.
    """
    if not subject.values:
        return (_NOTHING,)
    found = [_judged_by(subject), _order(subject, groups)]
    if not comparing.compared:
        return (*found, *_nothing_compared(subject))
    found += difference_words(subject, comparing.compared)
    found += _not_graded(subject)
    found += _single_coupons(subject, comparing)
    found += _how_sure(subject, comparing)
    return (*found, *_worthwhile(subject, comparing))


def _judged_by(subject: Subject) -> Sentence:
    last = max(each.last_place for each in subject.measures.values())
    one, several = clock_words(subject)
    unit = one if shown(last) == 1 else several
    measure = _MEASURES[subject.question.measure].format(subject.question.failing_grade)
    if subject.request.clock.kind == "controls":
        return Sentence("Judged by {0}, when the controls had lost {1} {2}.", (measure, shown(last), _grades(last)))
    return Sentence("Judged by {0}, after {1} {2} of exposure.", (measure, shown(last), unit))


def _grades(amount: float) -> str:
    return "grade" if shown(amount) == 1 else "grades"


def _order(subject: Subject, groups: Sequence[GroupResult]) -> Sentence:
    known = [each for each in groups if each.mean is not None]
    names = listing((each.group.name, shown(each.mean or 0.0)) for each in known)
    if len(known) == 1:
        return Sentence("Only {0} was graded: mean {1}.", (known[0].group.name, shown(known[0].mean or 0.0)))
    if len({shown(each.mean or 0.0) for each in known}) == 1:
        return Sentence("All groups came out alike, with a mean of {0}.", (shown(known[0].mean or 0.0),))
    several = amount_unit(subject, 2.0)
    return Sentence("From best to worst, mean of each in {1}: {0}.", (names, several))


def _nothing_compared(subject: Subject) -> list[Sentence]:
    if subject.not_compared:
        return _not_graded(subject)
    if subject.question.compared == "control":
        return [Sentence("No coupon is a control, so nothing can be compared with controls; compare all pairs.")]
    if subject.question.compared == "chosen":
        return [Sentence("No pair of treatments was chosen that both have graded coupons; choose pairs in the plan.")]
    return [Sentence("There are no two groups to compare.")]


def _not_graded(subject: Subject) -> list[Sentence]:
    if not subject.not_compared:
        return []
    sides = {name for each in subject.not_compared for name in (each.a, each.b)}
    graded = {name for each in subject.comparisons for name in (each.a, each.b)}
    missing = sorted(sides - graded)
    if not missing:
        return []
    return [Sentence("Nothing can be said of {0}: no coupon that counts was graded.", (listed(missing),))]


def _single_coupons(subject: Subject, comparing: Comparing) -> list[Sentence]:
    spread = comparing.spread
    if spread is None:
        if any(each.no_model == "replicates" for each in comparing.compared):
            return [Sentence("One coupon each can only tell a story: it shows an order, not a difference.")]
        return []
    told = Sentence("One coupon each can only tell a story: it shows an order, not a difference.")
    if spread.degrees_of_freedom:
        return [
            told,
            Sentence(
                "How much luck there is was borrowed from earlier boards ({0}): coupons treated alike differed there "
                "by {1} grades (standard deviation).",
                (listed(spread.boards), round(spread.sd, 2)),
            ),
        ]
    return [
        told,
        of_grades(
            spread.sd,
            "How much luck there is was assumed, not measured: that coupons treated alike differ by 1 grade "
            "(standard deviation); no earlier board of yours shows it.",
            "How much luck there is was assumed, not measured: that coupons treated alike differ by {0} grades "
            "(standard deviation); no earlier board of yours shows it.",
        ),
    ]


def _how_sure(subject: Subject, comparing: Comparing) -> list[Sentence]:
    shown_ones = [each for each in comparing.compared if each.standing in ("better", "worse")]
    found = []
    if shown_ones:
        found.append(_at_most(subject))
    exact = [each.exact for each in comparing.compared if each.exact is not None]
    if not exact:
        return found
    smallest = min(each.smallest for each in exact)
    if smallest >= 1:
        return found
    if smallest > LEVEL:
        found.append(
            Sentence(
                f"{_exact_test(subject)} can never come below p = {{0}} with so few coupons: by itself it can show "
                "nothing here.",
                (shown_p(smallest),),
            )
        )
    elif shown_ones:
        found.append(_agreement(subject, shown_ones))
    return found


def _agreement(subject: Subject, shown_ones: Sequence[Compared]) -> Sentence:
    with_exact = [each for each in shown_ones if each.exact is not None and each.exact.p_family is not None]
    agreeing = sum((each.exact.p_family or 0.0) <= LEVEL for each in with_exact if each.exact is not None)
    if agreeing == len(shown_ones):
        return Sentence(f"{_exact_test(subject)} agrees.")
    if len(shown_ones) == 1:
        return Sentence(f"{_exact_test(subject)} does not show this difference.")
    return Sentence(f"{_exact_test(subject)} shows {{1}} of these {{0}} differences.", (len(shown_ones), agreeing))


def _at_most(subject: Subject) -> Sentence:
    if subject.board.by_lot:
        return Sentence(
            "Where it says “did better”, all such statements together are a mistake of luck on at most {0} boards in "
            "100.",
            (round(100 * LEVEL),),
        )
    return Sentence(
        "Where it says “did better”, all such statements together are a mistake of luck on at most {0} boards in "
        "100, if no place on the board was better than another: nobody drew lots.",
        (round(100 * LEVEL),),
    )


def _exact_test(subject: Subject) -> str:
    """Return the exact test as a sentence begins with it, with what it leans on."""
    if subject.board.by_lot:
        return "The exact test, which leans on nothing but the way coupons were hung,"
    return "The exact test, which counts as if lots had been drawn though coupons were hung by hand,"


def _worthwhile(subject: Subject, comparing: Comparing) -> list[Sentence]:
    """Return which differences surely reach what matters to the user; nothing where the user never said what does."""
    if not subject.in_grades or subject.record.question is None:
        return []
    least = subject.question.worthwhile
    shown_ones = [each for each in comparing.compared if each.standing in ("better", "worse")]
    sure = [each for each in shown_ones if _surely_at_least(each, least)]
    if not shown_ones:
        return []
    if not sure:
        return [
            of_grades(
                least,
                "Whether any of them reaches the 1 grade that matters to you is not sure.",
                "Whether any of them reaches the {0} grades that matter to you is not sure.",
            )
        ]
    if len(sure) == len(shown_ones):
        return [
            of_grades(
                least,
                "Each of them is surely at least the 1 grade that matters to you.",
                "Each of them is surely at least the {0} grades that matter to you.",
            )
        ]
    return [
        of_grades(
            least,
            "Surely at least the 1 grade that matters to you: {1}.",
            "Surely at least the {0} grades that matter to you: {1}.",
            listed(map(_told_shortly, sure)),
        )
    ]


def _surely_at_least(each: Compared, least: float) -> bool:
    """Return whether the end of the interval nearest to no difference reaches an amount."""
    if each.model is None:
        return False
    return (each.model.low if each.standing == "better" else -each.model.high) >= least


def _told_shortly(each: Compared) -> str:
    ahead, behind = each.comparison.a, each.comparison.b
    if each.standing == "worse":
        ahead, behind = behind, ahead
    return ahead if each.comparison.kind == "control" and behind == CONTROL else f"{ahead} against {behind}"
