"""How doubts name coupons and count things."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from rustboard.board.record import BoardRecord, reading_order
from rustboard.findings.amounts import listed
from rustboard.findings.sentence import Part, Sentence
from rustboard.support.text import one_line

_LONGEST_ID = 40


def coupon_names(record: BoardRecord, coupons: Iterable[int]) -> str:
    """Return the ids of coupons as a list, as one reads the board."""
    there = sorted((record.coupons[key] for key in set(coupons) if key in record.coupons), key=reading_order)
    return listed(one_line(each.id, _LONGEST_ID) for each in there)


def counted(number: int, one: str, several: str, *parts: Part) -> Sentence:
    """Return a sentence about a number of things: ``one`` for exactly 1; ``{0}`` is the number."""
    return Sentence(one if number == 1 else several, (number, *parts))


def of_coupons(record: BoardRecord, coupons: Collection[int], one: str, several: str, *parts: Part) -> Sentence:
    """Return a sentence about coupons: ``one`` for a single one; ``{0}`` names them."""
    return Sentence(one if len(coupons) == 1 else several, (coupon_names(record, coupons), *parts))
