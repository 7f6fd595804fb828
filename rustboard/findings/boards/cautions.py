"""What to know before trusting several boards together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta
from typing import Final

from rustboard.board.cells import identity
from rustboard.findings.boards.matching import Matching
from rustboard.findings.boards.results import PooledComparison
from rustboard.findings.boards.shared_exposure import reached
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.proof_words import rounded_p
from rustboard.findings.sentence import Sentence
from rustboard.support.text import one_line

LENGTHS_DIFFER: Final = 1.25
"""How much longer one board must have been watched than another to be told (own choice, no source)."""
LEAST_KNOWN: Final = 0.9
SEASON: Final = timedelta(days=60)
DISAGREE: Final = 0.1
"""The level of Cochran's test for a caution: it misses much with few boards (common practice, no source)."""
_LONGEST: Final = 60


def cautions_of(
    pooled: Sequence[PooledComparison], subjects: Sequence[Subject], matching: Matching
) -> tuple[Sentence, ...]:
    """Return what weakens what several boards say together, the weightiest first."""
    if len(subjects) < 2:
        return ()
    return (
        *_disagreeing(pooled),
        *_matched(pooled, matching),
        *_lengths(subjects, matching),
        *_clocks(subjects, matching),
        *_places(subjects),
        *_replicates(pooled, matching),
        *_lots(subjects, matching),
        *_not_failed(subjects),
        *_few(pooled),
    )


def _disagreeing(pooled: Sequence[PooledComparison]) -> Iterator[Sentence]:
    for each in pooled:
        if each.q_p is not None and each.q_p < DISAGREE:
            yield Sentence(
                "The boards disagree on {0} and {1} by more than luck (p = {2}): what holds on one of them need not "
                "hold on the next.",
                (each.name_a, each.name_b, rounded_p(each.q_p)),
            )


def _matched(pooled: Sequence[PooledComparison], matching: Matching) -> Iterator[Sentence]:
    used = {name for each in pooled for name in (each.name_a, each.name_b)}
    for each in matching.common:
        if each.name not in used or each.sure in ("certain", "none"):
            continue
        if each.controls:
            yield Sentence("The controls of the boards are not written down alike: bare steel can differ as well.")
        elif each.sure == "likely":
            yield Sentence(
                "That {0} is the same on all boards rests on its name, not on its whole recipe.", (each.name,)
            )
        else:
            yield Sentence(
                "That {0} is the same on all boards is your word; the recipes do not say so.", (each.name,)
            )


def _lengths(subjects: Sequence[Subject], matching: Matching) -> Iterator[Sentence]:
    lengths = [reached(each.request) for each in subjects]
    shortest, longest = min(lengths), max(lengths)
    if longest > 0 and longest > LENGTHS_DIFFER * shortest:
        brief, full = (matching.boards[lengths.index(each)] for each in (shortest, longest))
        yield Sentence(
            "{0} was exposed much shorter than {1} (by the clock chosen, {2} against {3}): a difference has had less "
            "time to show there.",
            (brief, full, round(shortest, 1), round(longest, 1)),
        )


def _clocks(subjects: Sequence[Subject], matching: Matching) -> Iterator[Sentence]:
    for board, each in zip(matching.boards, subjects, strict=True):
        known = each.request.clock.known
        if known < LEAST_KNOWN:
            yield Sentence(
                "Of {0} only {1} % of the exposure is known on this clock; what is not known does not count.",
                (board, round(100 * known)),
            )
        if each.request.clock.kind == "controls" and reached(each.request) <= 0:
            yield Sentence("The controls of {0} have lost no grade yet: their clock stands still.", (board,))


def _places(subjects: Sequence[Subject]) -> Iterator[Sentence]:
    if subjects[0].request.clock.kind == "controls":
        return
    boards = [each.record.board for each in subjects]
    hung = [
        "site" if _differ([each.site for each in boards]) else "",
        "shelter" if _differ([each.shelter for each in boards]) else "",
        "slope" if _differ([_text(each.incline_deg) for each in boards]) else "",
        "facing" if _differ([_text(each.facing_deg) for each in boards]) else "",
    ]
    told = ", ".join(each for each in hung if each)
    if told:
        yield Sentence(
            "The boards did not hang alike ({0}). The clock of the controls allows for some of that.", (told,)
        )
    starts = [each.record.day_zero() for each in subjects]
    known = [each for each in starts if each is not None]
    if subjects[0].request.clock.kind == "days" and known and max(known) - min(known) > SEASON:
        yield Sentence(
            "The boards were hung up at different times of the year or in different years, so the same number of "
            "days was not the same weather. The clock of the controls allows for some of that."
        )


def _differ(texts: Sequence[str]) -> bool:
    return len({identity(one_line(each)) for each in texts if each}) > 1


def _text(value: float | None) -> str:
    return "" if value is None else str(value)


def _replicates(pooled: Sequence[PooledComparison], matching: Matching) -> Iterator[Sentence]:
    for board in matching.boards:
        own = [effect for each in pooled for effect in each.effects if effect.board == board]
        if own and all(each.standard_error is None for each in own):
            yield Sentence(
                "{0} does not show how much coupons treated alike differ: it counts for the order and in the exact "
                "test, not for the size of a difference.",
                (board,),
            )


def _lots(subjects: Sequence[Subject], matching: Matching) -> Iterator[Sentence]:
    by_hand = [name for name, each in zip(matching.boards, subjects, strict=True) if not each.board.by_lot]
    if len(by_hand) == 1:
        yield Sentence(
            "{0} was hung without lots: the exact test then takes for granted that places made no difference.",
            (by_hand[0],),
        )
    elif by_hand:
        yield Sentence(
            "{0} were hung without lots: the exact test then takes for granted that places made no difference.",
            (one_line(", ".join(by_hand), _LONGEST * 4),),
        )


def _not_failed(subjects: Sequence[Subject]) -> Iterator[Sentence]:
    if subjects[0].in_grades:
        return
    standing = sum(one.failure.before is None for each in subjects for one in each.measures.values())
    if standing == 1:
        yield Sentence(
            "1 coupon has not failed yet; it counts with the exposure so far, so differences may still grow."
        )
    elif standing:
        text = "{0} coupons have not failed yet; they count with the exposure so far, so differences may still grow."
        yield Sentence(text, (standing,))


def _few(pooled: Sequence[PooledComparison]) -> Iterator[Sentence]:
    if any(each.difference is not None and sum(one.weight > 0 for one in each.effects) == 2 for each in pooled):
        yield Sentence(
            "Two boards say little about how much boards differ: an interval over two of them is very wide, or only "
            "as wide as luck between coupons makes it; a third board would tell far more."
        )
