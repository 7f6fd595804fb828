"""What protection costs, in sentences a maker understands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from rustboard.findings.sentence import Sentence
from rustboard.findings.value.frontier import Offer, beats
from rustboard.findings.value.results import ValueFindings, ValuePoint

MOST_NAMED: Final = 4
"""So many treatments are named in one row."""

AS_SEEN: Final = Sentence(
    "This goes by the means as they were seen; whether a difference is more than luck is said by the comparisons."
)


def value_words(found: ValueFindings) -> tuple[Sentence, ...]:
    """Return what cost against protection says: the frontier, the price of a month, and what is not known."""
    sentences = [*_money_words(found.points), *_time_words(found.points), *_month_words(found.points)]
    if sentences:
        sentences.append(AS_SEEN)
    return (*sentences, *_unknown_words(found.unknown))


def _money_words(points: Sequence[ValuePoint]) -> Iterator[Sentence]:
    best = [each for each in points if each.best_for_money]
    priced = [each for each in points if each.cost_per_m2 is not None]
    if len(priced) < 2:
        return
    if len(best) == 1:
        yield Sentence(
            "{0} came out best, and nothing that came out as well costs less: {1} for a square metre.",
            (best[0].name, _shown(best[0].cost_per_m2)),
        )
    for each in best[:MOST_NAMED] if len(best) > 1 else ():
        yield Sentence(
            "{0} costs {1} for a square metre, and nothing cheaper came out as well.",
            (each.name, _shown(each.cost_per_m2)),
        )
    beaten = [each for each in priced if not each.best_for_money]
    for each in beaten[:MOST_NAMED]:
        for better in [other for other in best if beats(_money(other), _money(each))][:1]:
            yield Sentence(
                "{0} is beaten on price: {1} costs no more and came out as well or better.", (each.name, better.name)
            )


def _money(point: ValuePoint) -> Offer:
    return Offer(point.cost_per_m2, point.protection)


def _time_words(points: Sequence[ValuePoint]) -> Iterator[Sentence]:
    best = [each for each in points if each.best_for_time]
    if sum(each.minutes_per_m2 is not None for each in points) < 2:
        return
    if len(best) > MOST_NAMED:
        yield Sentence("{0} treatments give the most protection for the work they take.", (len(best),))
        return
    for each in best:
        minutes = _shown(each.minutes_per_m2)
        yield Sentence(
            "{0} takes 1 minute of work for a square metre, and nothing quicker came out as well."
            if minutes == 1
            else "{0} takes {1} minutes of work for a square metre, and nothing quicker came out as well.",
            (each.name, minutes),
        )


def _month_words(points: Sequence[ValuePoint]) -> Iterator[Sentence]:
    """Yield what a month costs where it costs least, controls apart; what did not fail yet may come out cheaper."""
    known = [(each.cost_per_month, each) for each in points if each.cost_per_month is not None and not each.control]
    if len(known) < 2:
        return
    cost, cheapest = min(known, key=lambda each: each[0])
    yield Sentence(
        "{0} keeps a square metre above the failing grade for {1} a month or less, the least of all: half of it has "
        "not failed yet."
        if cheapest.at_least
        else "{0} keeps a square metre above the failing grade for {1} a month, the least of all so far.",
        (cheapest.name, _shown(cost)),
    )


def _unknown_words(names: Sequence[str]) -> Iterator[Sentence]:
    if not names:
        return
    if len(names) == 1:
        yield Sentence("Of {0} neither cost nor minutes are known; write them down to see it here.", (names[0],))
        return
    if len(names) > MOST_NAMED:
        yield Sentence(
            "Of {0} treatments neither cost nor minutes are known; write them down to see them here.", (len(names),)
        )
        return
    yield Sentence(
        "Of these neither cost nor minutes are known; write them down to see them here: {0}.", (", ".join(names),)
    )


def _shown(value: float | None) -> float:
    """Return an amount as it is told: with two decimals, small ones with two figures."""
    amount = value or 0.0
    return float(f"{amount:.2g}") if 0 < abs(amount) < 0.1 else round(amount, 2)
