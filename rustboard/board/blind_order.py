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
    # The two showings of a repeated coupon take two free places far enough apart, so that neither the end nor the
    # beginning of a round tells which are repeats; the others share what is left.
    drawn = chance.shuffled(coupons)
    wanted = others_between(len(coupons))
    free = list(range(len(coupons) + repeats))
    at: dict[int, int] = {}
    for coupon in drawn[:repeats]:
        for place in _two_places(free, wanted, chance):
            at[place] = coupon
            free.remove(place)
    at.update(zip(free, drawn[repeats:], strict=True))
    return [at[place] for place in sorted(at)]


def _two_places(free: Sequence[int], wanted: int, chance: Chance) -> tuple[int, int]:
    """Return two free places with as many others between as wanted, else the two farthest apart."""
    for _ in range(_TRIES):
        one, other = free[chance.below(len(free))], free[chance.below(len(free))]
        if abs(one - other) > wanted:
            return one, other
    return free[0], free[-1]


def least_between(order: Sequence[int]) -> int:
    """Return how many others lie, at the least, between two showings of a coupon; the length if none does."""
    seen: dict[int, int] = {}
    least = len(order)
    for at, coupon in enumerate(order):
        if coupon in seen:
            least = min(least, at - seen[coupon] - 1)
        seen[coupon] = at
    return least
