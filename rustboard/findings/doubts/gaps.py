"""What was not looked at: coupons not graded lately or ever, long gaps in which coupons failed, coupons left out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rustboard.findings.amounts import clock_words, shown
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.doubts.results import Doubt
from rustboard.findings.doubts.wording import counted, coupon_names, of_coupons
from rustboard.findings.sentence import Sentence
from rustboard.support.text import one_line

LONG_GAP: Final = 0.25
"""Share of the exposure so far from which a gap between two looks counts as long (a choice of our own)."""
WELL_KNOWN: Final = 0.9
"""Share of the exposure for which a clock should know what it counts (a choice of our own)."""


def gap_doubts(subject: Subject) -> list[Doubt]:
    """Return what nobody looked at."""
    return [
        *_never_graded(subject),
        *_not_lately(subject),
        *_began_late(subject),
        *_long_gaps(subject),
        *_clock(subject),
    ]


def left_out_doubts(subject: Subject) -> list[Doubt]:
    """Return every coupon that the user left out, with the reason."""
    found = sorted(subject.record.left_out.values(), key=lambda each: subject.record.coupons[each.coupon].id)
    return [
        Doubt(
            "left out",
            "caution",
            Sentence(
                "{0} is left out of all comparisons: “{1}”.",
                (coupon_names(subject.record, [each.coupon]), one_line(each.reason, 500)),
            ),
            Sentence("Whoever reads this should know what was left out, and judge the reason."),
            frozenset({each.coupon}),
        )
        for each in found
    ]


def _never_graded(subject: Subject) -> Iterator[Doubt]:
    record = subject.record
    if not record.current:
        return
    never = frozenset(
        key for key, each in record.coupons.items() if each.position is not None and not record.current.get(key)
    )
    never -= subject.left_out.keys()
    if never:
        yield Doubt(
            "gaps",
            "note",
            of_coupons(record, never, "{0} hangs but was never graded.", "{0} hang but were never graded."),
            None,
            never,
        )


def _not_lately(subject: Subject) -> Iterator[Doubt]:
    graded = {inspection for each in subject.record.current.values() for inspection in each}
    last = next((each for each in reversed(subject.record.inspections_in_order()) if each.key in graded), None)
    if last is None:
        return
    late = frozenset(key for key, each in subject.measures.items() if each.last_inspection != last.key)
    if not late:
        return
    earliest = min(subject.measures[key].last_place for key in late)
    newest = max(each.last_place for each in subject.measures.values())
    yield Doubt(
        "gaps",
        "caution",
        of_coupons(
            subject.record,
            late,
            "{0} was not graded at the last inspection: its grades end at {1} {3}, those of others at {2}.",
            "{0} were not graded at the last inspection: their grades end at {1} {3} or later, those of others at "
            "{2}.",
            shown(earliest),
            shown(newest),
            clock_words(subject)[1],
        ),
        Sentence("What was exposed for a shorter time looks better than it is."),
        late,
    )


def _began_late(subject: Subject) -> Iterator[Doubt]:
    if not subject.measures:
        return
    first = min(each.first_place for each in subject.measures.values())
    later = frozenset(key for key, each in subject.measures.items() if each.first_place > first)
    if later:
        yield Doubt(
            "gaps",
            "note",
            of_coupons(
                subject.record,
                later,
                "{0} was first graded later than others.",
                "{0} were first graded later than others.",
            ),
            Sentence("When it began to rust is less well known, and taken to be even from the start."),
            later,
        )


def _long_gaps(subject: Subject) -> Iterator[Doubt]:
    """Yield a doubt where coupons failed somewhere within a gap that is long beside the whole exposure."""
    longest = max((each.last_place for each in subject.measures.values()), default=0.0)
    widths = {
        key: each.failure.before - each.failure.after
        for key, each in subject.measures.items()
        if each.failure.before is not None and each.failure.before - each.failure.after > LONG_GAP * longest
    }
    if not widths:
        return
    yield Doubt(
        "gaps",
        "caution" if subject.question.measure == "days to failing grade" else "note",
        counted(
            len(widths),
            "1 coupon fell to the failing grade in a gap of {1} {2} in which nobody looked.",
            "{0} coupons fell to the failing grade in gaps of up to {1} {2} in which nobody looked.",
            shown(max(widths.values())),
            clock_words(subject)[1],
        ),
        Sentence("When they did is known no better than that; inspections closer together would tell."),
        frozenset(widths),
    )


def _clock(subject: Subject) -> Iterator[Doubt]:
    known = subject.request.clock.known
    if known < WELL_KNOWN and subject.measures:
        yield Doubt(
            "weather",
            "caution",
            Sentence(
                "What the clock counts is known for {0} % of the exposure only; the rest counts as nothing.",
                (round(100 * known),),
            ),
            Sentence("Times on this clock are too short, by as much as nobody measured."),
        )
