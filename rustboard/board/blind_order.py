"""The order in which one grader sees the coupons, drawn from a seed; some come twice, far enough apart."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from rustboard.board.blind import TURNS, Basis, Showing, Turn
from rustboard.board.chance import Chance

_FARTHEST_ASKED: Final = 8
_TRIES: Final = 200


def repeats_of(coupons: int, repeat_percent: float) -> int:
    """Return how many of so many coupons are shown twice: the share, rounded up."""
    return min(coupons, math.ceil(coupons * repeat_percent / 100 - 1e-9))


def others_between(coupons: int) -> int:
    """Return how many showings should lie between the two of one coupon: a third of the coupons, at most 8.

    Common practice, no source: far enough that nobody compares with what he just gave.
    """
    return min(_FARTHEST_ASKED, coupons // 3)


def draw_showings(coupons: Sequence[int], repeat_percent: float, basis: Basis, seed: int) -> tuple[Showing, ...]:
    """Return every coupon once in an order of chance, and some of them, chosen by chance, once more.

    From a photo each showing is turned by chance, the second otherwise than the first. The same seed gives the same
    showings everywhere. `others_between` is kept where so few coupons allow it, else the best that was found.
    """
    chance = Chance(seed)
    order = _order(coupons, repeats_of(len(coupons), repeat_percent), chance)
    turned: dict[int, Turn] = {}
    showings = []
    for coupon in order:
        again = coupon in turned
        allowed = [each for each in TURNS if not again or each != turned[coupon]]
        turn: Turn = allowed[chance.below(len(allowed))] if basis == "photo" else ""
        turned[coupon] = turn
        showings.append(Showing(coupon, turn, again))
    return tuple(showings)


def _order(coupons: Sequence[int], repeats: int, chance: Chance) -> list[int]:
    """Return the coupons in order, the repeated ones twice; of several tries the one with the widest least gap."""
    wanted = others_between(len(coupons))
    best: list[int] = []
    widest = -1
    for _ in range(_TRIES):
        order = _one_try(coupons, repeats, chance)
        gap = least_between(order)
        if gap > widest:
            best, widest = order, gap
        if not repeats or gap >= wanted:
            break
    return best


def _one_try(coupons: Sequence[int], repeats: int, chance: Chance) -> list[int]:
    # Every coupon at a time of chance; those that come again do so about half a round later.
    first = [(chance.share(), coupon) for coupon in coupons]
    early = sorted(first)[: max(repeats, math.ceil(len(first) * 0.6))]
    chosen = chance.shuffled(early)[:repeats]
    again = [(when + 0.35 + 0.4 * chance.share(), coupon) for when, coupon in chosen]
    return [coupon for _, coupon in sorted([*first, *again])]


def least_between(order: Sequence[int]) -> int:
    """Return how many others lie, at the least, between two showings of a coupon; the length if none does."""
    seen: dict[int, int] = {}
    least = len(order)
    for at, coupon in enumerate(order):
        if coupon in seen:
            least = min(least, at - seen[coupon] - 1)
        seen[coupon] = at
    return least
