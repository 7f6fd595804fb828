"""An order from choices, in sentences a maker understands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from rustboard.findings.sentence import Sentence
from rustboard.findings.side_by_side.order import AgainstGrades, Contradictions, inseparable
from rustboard.findings.side_by_side.strengths import Strengths

MOST_NAMED: Final = 8
"""So many coupons are named."""

MOST_GROUPS: Final = 3
"""More groups than these are counted and not listed."""

FEW: Final = 10
"""With fewer coupons a caution is said about their order against the grades (common practice, no source)."""


def order_words(
    strengths: Strengths, found: Contradictions, names: Mapping[int, str], graded: AgainstGrades | None = None
) -> tuple[Sentence, ...]:
    """Return what an order says.

    Args:
        strengths: the order.
        found: what contradicts in its choices.
        names: what the coupons are called, by key; one that is missing is called by its key.
        graded: the order against the grades, or None.
    """
    if len(strengths.order) < 2 or not strengths.choices:
        return ()
    return (
        *_rests_on(strengths),
        *_group_words(strengths, names),
        *_contradiction_words(found, names),
        *(_grade_words(graded, names) if graded is not None else ()),
    )


def _name(item: int, names: Mapping[int, str]) -> str:
    return names.get(item, str(item))


def _rests_on(strengths: Strengths) -> Iterator[Sentence]:
    yield Sentence(
        "The order of {0} coupons rests on 1 choice."
        if strengths.choices == 1
        else "The order of {0} coupons rests on {1} choices.",
        (len(strengths.order), strengths.choices),
    )
    if strengths.parts > 1:
        yield Sentence(
            "Not all coupons are connected by choices yet: they fall into {0} parts, and how these stand to one "
            "another is not known.",
            (strengths.parts,),
        )


def _group_words(strengths: Strengths, names: Mapping[int, str]) -> Iterator[Sentence]:
    groups = inseparable(strengths)
    if not groups:
        yield Sentence("Every two coupons can be told apart.")
        return
    if len(groups) == 1 and len(groups[0]) == len(strengths.order):
        yield Sentence("No two coupons can be told apart for sure by these choices.")
        return
    if len(groups) > MOST_GROUPS:
        yield Sentence(
            "Neighbours in the order often cannot be told apart ({0} groups); more choices would help.",
            (len(groups),),
        )
        return
    for group in groups:
        yield Sentence("Not told apart: {0}.", (", ".join(_name(item, names) for item in group),))


def _contradiction_words(found: Contradictions, names: Mapping[int, str]) -> Iterator[Sentence]:
    if found.decided:
        yield Sentence(
            "Of 1 choice, {1} goes against the order."
            if found.decided == 1
            else "Of {0} choices, {1} go against the order.",
            (found.decided, found.against),
        )
    if found.circles:
        start = "1 time" if found.circles == 1 else "{0} times"
        yield Sentence(
            f"{start} three coupons were chosen in a circle, each called less rusted than the next; most often with "
            "{1}.",
            (found.circles, ", ".join(_name(item, names) for item, _ in found.items[:3])),
        )
    if found.reversed_pairs:
        yield Sentence(
            "1 pair was answered both ways." if found.reversed_pairs == 1 else "{0} pairs were answered both ways.",
            (found.reversed_pairs,),
        )


def _grade_words(graded: AgainstGrades, names: Mapping[int, str]) -> Iterator[Sentence]:
    if graded.tau is None:
        yield Sentence("The order cannot be compared with the grades: in one of the two the coupons do not differ.")
        return
    yield Sentence(
        "Of {0} pairs of coupons with different grades, {1} stand in the same order by choice (of {2} coupons; rank "
        "correlation {3}, where 1 is the same order and 0 no connection).",
        (graded.same + graded.other, graded.same, graded.items, round(graded.tau, 2)),
    )
    if graded.items < FEW:
        yield Sentence("With fewer than {0} coupons a single one can change that much.", (FEW,))
    for each in graded.misplaced[:MOST_NAMED]:
        how = "more rusted" if each.off_by > 0 else "less rusted"
        steps = "1 place" if abs(each.off_by) == 1 else "{2} places"
        yield Sentence(
            f"{{0}} (grade {{1}}) was chosen as {how} than its grade says, by {steps}.",
            (_name(each.item, names), each.grade, abs(each.off_by)),
        )
