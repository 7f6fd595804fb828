"""Whether it is time to stop, in sentences a maker understands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from rustboard.board.exposure_clock import ClockKind
from rustboard.findings.coupons.groups import Group
from rustboard.findings.growth.expected import named
from rustboard.findings.growth.planned_end import PlannedEnd
from rustboard.findings.growth.results import Expected
from rustboard.findings.sentence import Sentence

MOST_NAMED: Final = 3
"""So many comparisons are named; more of one kind are counted."""

FALSE_AT_LOOKS: Final = ((5, 15), (10, 23))
"""Looks, and in how many of 100 boards one of them shows a difference between two treatments that are the same, where
a single look shows one in 5 (`tests/benchmarks/stopping_early.py`, 20,000 boards, 5 coupons each). Armitage,
McPherson and Rowe 1969, "Repeated significance tests on accumulating data", have 14 and 19 for independent news at
each look (from memory; the benchmark works them out again). Rust is worse: each look has errors of its own."""

_AFTER: Final[dict[ClockKind, str]] = {
    "days": "After {0} more days",
    "wet hours": "After {0} more wet hours",
    "rain": "After {0} more mm of rain",
    "controls": "By the time the controls have lost {0} more grades",
}
_AFTER_ONE: Final[dict[ClockKind, str]] = {
    "days": "After {0} more day",
    "wet hours": "After {0} more wet hour",
    "rain": "After {0} more mm of rain",
    "controls": "By the time the controls have lost {0} more grade",
}

ALL_FAILED: Final = Sentence(
    "Every coupon has fallen to the failing grade or below: stopping now loses little, and more exposure can tell "
    "little about how long they would have lasted."
)
NO_FAVOURITE: Final = Sentence(
    "Do not stop just because a favourite leads: even of treatments that are the same, one leads at any moment."
)
AS_SO_FAR: Final = Sentence(
    "The forecast lets rust go on as it did so far; other weather, or a coating that suddenly gives way, changes it."
)
_MANY_LOOKS: Final = (
    "Whoever asks after every look and stops at the first difference finds one where there is none: about {1} times "
    "in 100 with {0} looks and {3} times in 100 with {2}, not 5 as with one look at a time fixed beforehand."
)


@dataclass(frozen=True, slots=True)
class Situation:
    """What the advice is drawn from.

    Attributes:
        clock: that exposure is told by. more: how far the forecast looks; None where the clock cannot go on.
        expected: by comparison.
        all_failed: whether every coupon that counts has failed.
        in_last_grades: whether the question goes by the last grades.
        worthwhile: the smallest difference in grades that matters to the user.
        end: that was planned, or None.
        straying: groups whose growth the law does not describe.
        forecast: whether anything is forecast at all.
    """

    clock: ClockKind
    more: float | None
    expected: Sequence[Expected]
    all_failed: bool
    in_last_grades: bool
    worthwhile: float
    end: PlannedEnd | None
    straying: Sequence[Group]
    forecast: bool


def advice(about: Situation) -> tuple[Sentence, ...]:
    """Return what more exposure can settle and what not, then what speaks for and against stopping now."""
    found = [ALL_FAILED] if about.all_failed else []
    found += _settled_words(about.expected)
    if about.more is not None:
        found += _outlook_words(about, about.more)
    found += _unknown_words(about.expected)
    if about.forecast and any(each.then is not None for each in about.expected):
        found += _grounds(about)
    return (*found, *_end_words(about), *_warning(about))


def _pair(expected: Expected) -> tuple[str, str]:
    return expected.comparison.a, expected.comparison.b


def all_settled(expected: Sequence[Expected]) -> bool:
    """Return whether there are comparisons and each is settled."""
    return bool(expected) and all(each.outlook == "settled" for each in expected)


def _settled_words(expected: Sequence[Expected]) -> Iterator[Sentence]:
    settled = len(named(expected, "settled"))
    if not settled:
        return
    if len(expected) == 1:
        yield Sentence("{0} against {1} is settled already: stopping now loses little.", _pair(expected[0]))
    elif all_settled(expected):
        yield Sentence("All {0} comparisons are settled already: stopping now loses little.", (settled,))
    else:
        yield Sentence(
            "1 of {1} comparisons is settled already."
            if settled == 1
            else "{0} of {1} comparisons are settled already.",
            (settled, len(expected)),
        )


def _outlook_words(about: Situation, more: float) -> Iterator[Sentence]:
    amount = told_amount(more)
    after = (_AFTER_ONE if amount == 1 else _AFTER)[about.clock]
    likely, unsure = named(about.expected, "likely"), named(about.expected, "open")
    unlikely = named(about.expected, "unlikely")
    if len(likely) > MOST_NAMED:
        yield Sentence(f"{after}, {{1}} further comparisons are likely to be told from luck.", (amount, len(likely)))
    for each in likely if len(likely) <= MOST_NAMED else ():
        yield Sentence(
            f"{after}, {{1}} against {{2}} is likely to be told from luck: {{3}} chances in 100.",
            (amount, *_pair(each), _in_100(each)),
        )
    if len(unsure) > MOST_NAMED:
        yield Sentence(f"{after}, {{1}} comparisons may be told from luck or not.", (amount, len(unsure)))
    for each in unsure if len(unsure) <= MOST_NAMED else ():
        yield Sentence(
            f"{after}, {{1}} against {{2}} may be told from luck or not: {{3}} chances in 100.",
            (amount, *_pair(each), _in_100(each)),
        )
    if len(unlikely) > MOST_NAMED:
        yield Sentence(
            f"{after}, {{1}} comparisons will probably still not be told from luck: more coupons would help rather "
            "than more time.",
            (amount, len(unlikely)),
        )
    for each in unlikely if len(unlikely) <= MOST_NAMED else ():
        yield _unlikely_words(each, after, amount, about.worthwhile)


def _unlikely_words(each: Expected, after: str, amount: float, worthwhile: float) -> Sentence:
    if each.chance == 0.0 and each.then is not None and each.needed is not None and abs(each.then) > each.needed:
        return Sentence(
            "No length of time can settle {0} against {1}: the exact test has the say here, and this board has too "
            "few coupons for it.",
            _pair(each),
        )
    if each.low is not None and each.high is not None and max(-each.low, each.high) < worthwhile:
        smaller = "the 1 grade that matters to you" if worthwhile == 1 else "the {3} grades that matter to you"
        return Sentence(
            f"{after}, {{1}} will probably still not be told from {{2}}, and their difference is expected to stay "
            f"below {smaller}.",
            (amount, *_pair(each), worthwhile),
        )
    return Sentence(
        f"{after}, {{1}} will probably still not be told from {{2}}: more coupons would help rather than more time.",
        (amount, *_pair(each)),
    )


def _unknown_words(expected: Sequence[Expected]) -> Iterator[Sentence]:
    unknown = named(expected, "unknown")
    if len(unknown) > MOST_NAMED:
        yield Sentence("Of {0} comparisons nobody can say yet what more exposure would do.", (len(unknown),))
        return
    for each in unknown:
        yield Sentence("What more exposure would do to {0} against {1}, nobody can say yet.", _pair(each))


def _grounds(about: Situation) -> Iterator[Sentence]:
    """Yield what the forecast rests on."""
    yield AS_SO_FAR
    if not about.in_last_grades:
        yield Sentence(
            "The question goes by another measure; the forecast is of last grades and shows only which way it goes."
        )
    for each in about.straying[:MOST_NAMED]:
        yield Sentence(
            "{0} did not rust as the forecast takes it to; what is said of its future is doubtful.", (each.name,)
        )
    if len(about.straying) > MOST_NAMED:
        rest = len(about.straying) - MOST_NAMED
        yield Sentence(
            "The same holds for 1 more treatment." if rest == 1 else "The same holds for {0} more treatments.",
            (rest,),
        )


def _end_words(about: Situation) -> Iterator[Sentence]:
    end = about.end
    if end is None:
        yield Sentence(
            "No end was planned for this board. The fair moment to judge is one that was fixed beforehand: fix a day "
            "now, before the next look."
        )
        return
    if end.reached:
        yield Sentence("The planned end, day {0}, is reached: this is the fair moment to stop and judge.", (end.day,))
    else:
        yield Sentence(
            "The planned end, day {0}, is not reached yet; it is the fair moment to stop and judge.", (end.day,)
        )
    if end.question_late:
        yield Sentence(
            "The question was written or changed after the exposure began, so the planned end alone does not keep "
            "the judgement fair."
        )


def _warning(about: Situation) -> Iterator[Sentence]:
    """Yield why one does not stop when a favourite leads; not where nothing is left to be decided."""
    if about.all_failed or (about.end is not None and about.end.reached):
        return
    if not all_settled(about.expected):
        yield NO_FAVOURITE
    (few, of_few), (many, of_many) = FALSE_AT_LOOKS
    yield Sentence(_MANY_LOOKS, (few, of_few, many, of_many))


def _in_100(each: Expected) -> int:
    """Return a chance in 100, never as certain: a forecast is none."""
    return min(99, max(1, round(100 * (each.chance or 0.0))))


def told_amount(value: float) -> int | float:
    """Return an amount of exposure as it is told: whole from 10 on, else with two figures."""
    if value >= 10:
        return round(value)
    shown = float(f"{value:.2g}")
    return int(shown) if shown.is_integer() else shown
