"""Where the scale ends, where groups scatter unequally, and coupons that got better again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from rustboard.board.grade import GRADES
from rustboard.findings.amounts import listed, p_is, shown, shown_p
from rustboard.findings.compare.assumptions import unequal_spread_p
from rustboard.findings.compare.model import BoardModel
from rustboard.findings.coupons.groups import GroupResult
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.doubts.results import Doubt
from rustboard.findings.doubts.wording import of_coupons
from rustboard.findings.sentence import Sentence
from rustboard.findings.smallest_p import LEVEL

LARGE_RATIO: Final = 3.0
"""Of standard deviations: from there on, groups of four and more are said to scatter unequally even where no test
shows it (common practice: one spread for all groups does well up to about three)."""
SMALLEST_GROUP: Final = 4


def scale_doubts(subject: Subject, results: Sequence[GroupResult]) -> list[Doubt]:
    """Return what the scale hides."""
    return [*_ends(subject, results), *_unequal(subject, results), *_recovered(subject)]


def _ends(subject: Subject, results: Sequence[GroupResult]) -> Iterator[Doubt]:
    graded = [each for each in results if each.values]
    if subject.in_grades:
        best = [each for each in graded if set(each.values) == {float(GRADES[-1])}]
        worst = [each for each in graded if set(each.values) == {float(GRADES[0])}]
        yield from _at_end(best, graded, "All coupons of {0} are at grade 10, where the scale ends.", "no rust yet")
        yield from _at_end(worst, graded, "All coupons of {0} are at grade 0, where the scale ends.", "rust all over")
    else:
        whole = [each for each in graded if each.failed == 0]
        yield from _at_end(whole, graded, "No coupon of {0} has fallen to the failing grade yet.", "not failed yet")


def _at_end(there: Sequence[GroupResult], graded: Sequence[GroupResult], pattern: str, state: str) -> Iterator[Doubt]:
    if len(there) < 2:  # of a single group the comparisons say it themselves
        return
    if len(there) == len(graded):
        why = Sentence(f"All groups look alike ({state}): so far the board cannot tell any of them apart.")
    else:
        why = Sentence(f"They look alike ({state}), but differences among them cannot be seen there.")
    yield Doubt(
        "ceiling",
        "serious" if len(there) == len(graded) else "caution",
        Sentence(pattern, (listed(each.group.name for each in there),)),
        why,
        frozenset(key for each in there for key in each.counted),
    )


def _unequal(subject: Subject, results: Sequence[GroupResult]) -> Iterator[Doubt]:
    """Yield groups that scatter unequally: by Brown and Forsythe's test, or plainly by the ratio of their spreads."""
    model = BoardModel(subject)
    p = unequal_spread_p(model) if len(model.units) > 1 else None
    ended = {float(GRADES[0]), float(GRADES[-1])} if subject.in_grades else set()
    spreads = [
        (max(each.sd, model.least_variance**0.5), each.group.name)
        for each in results
        if each.sd is not None
        and ((p is not None and p <= LEVEL) or len(each.values) >= SMALLEST_GROUP)
        and not (len(set(each.values)) == 1 and set(each.values) <= ended)
    ]
    if len(spreads) < 2:
        return
    (low, steady), (high, wild) = min(spreads), max(spreads)
    clear = p is not None and p <= LEVEL
    if not clear and (low <= 0 or high < LARGE_RATIO * low):
        return
    parts = (wild, steady, shown(high), shown(low))
    if clear and p is not None:
        sentence = Sentence(
            f"Groups scatter unequally (Brown-Forsythe test, {p_is(p)} {{4}}): {{0}} most, by {{2}}, and {{1}} "
            "least, by {3} (standard deviations).",
            (*parts, shown_p(p)),
        )
    else:
        sentence = Sentence(
            "{0} scatters much more than {1}: standard deviations {2} and {3}, though that may be luck.", parts
        )
    yield Doubt(
        "spread",
        "caution" if clear else "note",
        sentence,
        Sentence("One common spread does not describe all groups: lean on the exact test rather than on intervals."),
    )


def _recovered(subject: Subject) -> Iterator[Doubt]:
    found = frozenset(key for key, each in subject.measures.items() if each.failure.recovered)
    if found:
        yield Doubt(
            "recovered",
            "caution",
            of_coupons(
                subject.record,
                found,
                "{0} was graded {1} or below, and better again later.",
                "{0} were graded {1} or below, and better again later.",
                subject.question.failing_grade,
            ),
            Sentence(
                "Rust does not go back, so one of the grades is wrong. They count as failed when first seen so."
            ),
            found,
        )
