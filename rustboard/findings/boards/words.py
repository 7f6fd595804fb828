"""What several boards say together, in sentences."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rustboard.board.exposure_clock import ClockKind
from rustboard.board.question import Compared
from rustboard.findings.boards.matching import Matching
from rustboard.findings.boards.results import PooledComparison
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.proof_words import rounded_p
from rustboard.findings.sentence import Part, Sentence
from rustboard.findings.smallest_p import LEVEL

MOST_OPEN: Final = 6
"""So many open comparisons are written out; more are only counted."""

_TIMES: Final[dict[ClockKind, tuple[str, str]]] = {
    "days": ("day above the failing grade", "days above the failing grade"),
    "wet hours": ("wet hour above the failing grade", "wet hours above the failing grade"),
    "rain": ("mm of rain above the failing grade", "mm of rain above the failing grade"),
    "controls": (
        "grade lost by the controls before it failed", "grades lost by the controls before it failed",
    ),
}  # fmt: skip

_SETTLED = "Over {0} boards {1} did better than {2} by {3} {4} ({5} to {6}); "
_SIZE_OPEN = (
    "Over {0} boards {1} did better than {2}, by {3} {4} on average, but how large the difference would be on "
    "another board is open ({5} to {6}); "
)
_UNCONFIRMED = (
    "Over {0} boards {1} looks better than {2} by {3} {4} ({5} to {6}), but the exact test does not confirm it "
    "(p = {8} with all comparisons counted); "
)
_UNCONFIRMABLE = (
    "Over {0} boards {1} looks better than {2} by {3} {4} ({5} to {6}), but so few coupons can never confirm it by "
    "the exact test; "
)
_UNTESTED = (
    "Over {0} boards {1} looks better than {2} by {3} {4} ({5} to {6}), but there is no exact test to confirm it; "
)
_OPEN = "Over {0} boards {1} and {2} cannot be told apart: {1} came out {3} {4} better ({5} to {6}); "
_EVERYWHERE = "on every board it was ahead."
_SOMEWHERE = "it was ahead on {7} of them."

_SETTLED_ALONE = (
    "Over {0} boards {1} did better than {2} (exact test, p = {3}), but by how much is not known: too few of the "
    "boards have replicates; it was ahead on {4} of them."
)
_ORDER_ALONE = (
    "Over {0} boards {1} and {2} cannot be told apart: {1} was ahead on {4} of them, which may be luck (exact test, "
    "p = {3})."
)
_ORDER_UNTESTED = "Over {0} boards {1} was ahead of {2} on {4}; that alone shows nothing."
_LEVEL_TEXT = "Over {0} boards {1} and {2} came out level."


def verdict_of(
    pooled: Sequence[PooledComparison], subjects: Sequence[Subject], matching: Matching, compared: Compared
) -> tuple[Sentence, ...]:
    """Return the verdict: what is settled first, then what looks so, then what is open."""
    if not pooled:
        return (_nothing(subjects, matching, compared),)
    settled = [each for each in pooled if is_settled(each)]
    leaning = [each for each in pooled if not is_settled(each) and excludes_nothing(each)]
    open_ones = [each for each in pooled if not is_settled(each) and not excludes_nothing(each)]
    words = [comparison_sentence(each, subjects) for each in (*settled, *leaning, *open_ones[:MOST_OPEN])]
    more = len(open_ones) - MOST_OPEN
    if more == 1:
        words.append(Sentence("One more comparison is open in the same way; it is in the table."))
    elif more > 1:
        words.append(Sentence("{0} more comparisons are open in the same way; they are in the table.", (more,)))
    return tuple(words)


def is_settled(pooled: PooledComparison) -> bool:
    """Return whether the exact test shows a difference with all comparisons counted, and one direction is seen."""
    return (
        pooled.p_exact_family is not None
        and pooled.p_exact_family <= LEVEL
        and direction(pooled) != 0
        and (pooled.difference is None or pooled.difference * direction(pooled) > 0)
    )


def excludes_nothing(pooled: PooledComparison) -> bool:
    """Return whether the pooled interval lies on one side of no difference."""
    return pooled.low is not None and pooled.high is not None and (pooled.low > 0 or pooled.high < 0)


def direction(pooled: PooledComparison) -> int:
    """Return 1 where the first side came out better, as the exact test weighs the boards; -1 where worse; 0."""
    total = sum(
        each.units_a * each.units_b / (each.units_a + each.units_b) * each.difference for each in pooled.effects
    )
    return (total > 1e-9) - (total < -1e-9)


def unit_of(subject: Subject, amount: float) -> str:
    """Return what an amount of the measure counts, for people: ``grades`` or what the clock shows."""
    one, several = ("grade", "grades") if subject.in_grades else _TIMES[subject.request.clock.kind]
    return one if amount == 1 else several


def comparison_sentence(pooled: PooledComparison, subjects: Sequence[Subject]) -> Sentence:
    """Return what several boards say of one comparison, in a sentence."""
    if pooled.difference is None or pooled.low is None or pooled.high is None:
        return _without_interval(pooled)
    sign = 1 if pooled.difference >= 0 else -1
    low, high = sorted((sign * pooled.low, sign * pooled.high))
    amounts = [rounded(each) for each in (abs(pooled.difference), low, high)]
    a, b = (pooled.name_a, pooled.name_b)[::sign]
    ahead = sum(sign * each.difference > 0 for each in pooled.effects)
    count = len(pooled.effects)
    if amounts[0] == 0:
        return Sentence(
            "Over {0} boards {1} and {2} came out level ({3} to {4} {5}).",
            (count, a, b, amounts[1], amounts[2], unit_of(subjects[0], 2)),
        )
    tail = _EVERYWHERE if ahead == count else _SOMEWHERE
    parts: tuple[Part, ...] = (count, a, b, amounts[0], unit_of(subjects[0], amounts[0]), *amounts[1:], ahead)
    head = _head(pooled)
    if "{8}" in head and pooled.p_exact_family is not None:
        parts = (*parts, rounded_p(pooled.p_exact_family))
    return Sentence(head + tail, parts)


def _head(pooled: PooledComparison) -> str:
    if is_settled(pooled):
        return _SETTLED if excludes_nothing(pooled) else _SIZE_OPEN
    if not excludes_nothing(pooled):
        return _OPEN
    if pooled.p_exact_family is None:
        return _UNTESTED
    if pooled.p_exact_smallest is not None and pooled.p_exact_smallest > LEVEL:
        return _UNCONFIRMABLE
    return _UNCONFIRMED


def _without_interval(pooled: PooledComparison) -> Sentence:
    sign, count = direction(pooled), len(pooled.effects)
    if sign == 0:
        return Sentence(_LEVEL_TEXT, (count, pooled.name_a, pooled.name_b))
    a, b = (pooled.name_a, pooled.name_b)[::sign]
    ahead = sum(sign * each.difference > 0 for each in pooled.effects)
    if pooled.p_exact is None:
        return Sentence(_ORDER_UNTESTED, (count, a, b, "", ahead))
    if is_settled(pooled) and pooled.p_exact_family is not None:
        return Sentence(_SETTLED_ALONE, (count, a, b, rounded_p(pooled.p_exact_family), ahead))
    return Sentence(_ORDER_ALONE, (count, a, b, rounded_p(pooled.p_exact), ahead))


def rounded(value: float) -> float:
    """Return an amount as a sentence has it: one decimal, whole numbers from 100 on."""
    found = round(value, 1) if abs(value) < 100 else float(round(value))
    return found + 0.0  # never -0.0


def _nothing(subjects: Sequence[Subject], matching: Matching, compared: Compared) -> Sentence:
    if len(subjects) < 2:
        return Sentence("One board alone cannot be pooled; choose at least two.")
    shared = matching.shared()
    if compared == "control" and not any(each.controls for each in shared):
        return Sentence("No two of these boards have controls, so nothing can be compared with them over boards.")
    if not any(not each.controls for each in shared):
        return Sentence("No treatment is on two of these boards, so nothing can be put together.")
    return Sentence(
        "No two of these boards have graded coupons of the same two treatments, so nothing can be pooled."
    )
