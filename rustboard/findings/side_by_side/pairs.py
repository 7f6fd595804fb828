"""Which two coupons to show next, and when it is enough.

First a chain through all coupons in an order drawn by lot, so that everything is connected. Then always the pair
whose answer tells most: close strengths that are little known. No pair comes again before all others were asked. The
same seed and choices give the same pair, so an interrupted session goes on where it stopped.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations, pairwise
from math import ceil, log2
from random import Random

from rustboard.findings.side_by_side.choices import Choice, Pair, among, times_asked, unordered
from rustboard.findings.side_by_side.strengths import Strengths, fit_strengths


def choices_wanted(items: int) -> int:
    """Return how many choices are enough for so many coupons: ``n * log2(n)``, rounded up.

    Sorting by comparisons without a mistake takes about as many; a choice of our own for a session that ends.
    """
    return ceil(items * log2(items)) if items > 1 else 0


def is_enough(items: Sequence[int], choices: Iterable[Choice]) -> bool:
    """Return whether more choices would add little.

    It is, once all coupons are connected and there are `choices_wanted` choices, or every two neighbours in the order
    are decided: told apart by the 95 % interval of their gap, or asked directly with answers that do not contradict
    the order. Fewer than two coupons need no choice.
    """
    items, known = sorted(items), among(items, choices)
    if len(items) < 2:
        return True
    fitted = fit_strengths(items, known)
    return fitted.parts == 1 and (len(known) >= choices_wanted(len(items)) or _neighbours_decided(fitted, known))


def _neighbours_decided(fitted: Strengths, choices: Iterable[Choice]) -> bool:
    balance: dict[tuple[int, int], int] = {}
    for choice in choices:
        pair = unordered(choice.left, choice.right)
        toward = (
            0 if choice.rustier is None else (1 if choice.rustier == pair[1] else -1)
        )  # for the first of the pair
        balance[pair] = balance.get(pair, 0) + toward
    for place, (upper, lower) in enumerate(pairwise(fitted.order)):
        pair = unordered(upper.item, lower.item)
        agrees = pair in balance and balance[pair] * (1 if pair[0] == upper.item else -1) >= 0
        if not agrees and not fitted.gap(place, place + 1).is_sure:
            return False
    return True


def choose_pair(items: Sequence[int], choices: Iterable[Choice], seed: int, *, go_on: bool = False) -> Pair | None:
    """Return the two coupons to show next and on which side each; None when it is enough.

    Args:
        items: keys of the coupons to put in order.
        choices: made so far; those of other coupons do not count.
        seed: of the session.
        go_on: ask also when it `is_enough`; there is then a pair whenever there are two coupons.
    """
    items, known = sorted(items), among(items, choices)
    asked = times_asked(known)
    link = _missing_link(items, asked, seed)
    if link is not None:
        return _sides(link, asked, seed)
    if len(items) < 2 or (not go_on and is_enough(items, known)):
        return None
    return _sides(_most_telling(items, known, asked, seed), asked, seed)


def _drawn(seed: int, *what: int) -> float:
    """Return a number by lot for one thing, the same in every session with this seed."""
    return Random(":".join(map(str, (seed, *what)))).random()


def _missing_link(items: Sequence[int], asked: Mapping[tuple[int, int], int], seed: int) -> tuple[int, int] | None:
    part = {item: item for item in items}

    def head(item: int) -> int:
        while part[item] != item:
            item = part[item]
        return item

    for a, b in asked:
        part[head(a)] = head(b)
    chain = sorted(items, key=lambda item: (_drawn(seed, item), item))
    return next((unordered(a, b) for a, b in pairwise(chain) if head(a) != head(b)), None)


def _most_telling(
    items: Sequence[int], choices: Iterable[Choice], asked: Mapping[tuple[int, int], int], seed: int
) -> tuple[int, int]:
    """Return the least asked pair whose answer would narrow the strengths most.

    That is the one with the largest variance of its gap times the chances of both answers: the determinant of the
    information grows by the factor 1 + that.
    """
    fitted = fit_strengths(items, choices)
    best: tuple[int, float] | None = None
    found: list[tuple[int, int]] = []
    for upper, lower in combinations(range(len(items)), 2):
        pair = unordered(fitted.order[upper].item, fitted.order[lower].item)
        gap = fitted.gap(upper, lower)
        telling = (-asked.get(pair, 0), round(gap.standard_error**2 * gap.doubt, 9))
        if best is None or telling > best:
            best, found = telling, []
        if telling == best:
            found.append(pair)
    return min(found, key=lambda pair: (_drawn(seed, *pair), pair))


def _sides(pair: tuple[int, int], asked: Mapping[tuple[int, int], int], seed: int) -> Pair:
    a, b = pair
    return Pair(a, b) if _drawn(seed, a, b, asked.get(pair, 0)) < 0.5 else Pair(b, a)
