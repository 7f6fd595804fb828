"""What counts of the coupons: their outlines, areas that do not count, and cards of known colour on the board."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rustboard.board.measured import CARD_KINDS, EXCLUDED_KINDS, MOST_AREAS, Card, ExcludedArea
from rustboard.board.model import Board, Outline
from rustboard.board.outline import bounds, outline_fault, without_repeats
from rustboard.operations.coupons import checked_outline
from rustboard.operations.lookup import the_board, the_coupon
from rustboard.store.measuring_tables import CARDS, EXCLUDED_AREAS
from rustboard.store.tables import COUPONS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import counted

_UNBOUNDED = Board("", 1, 1)


def set_outlines(tx: Transaction, outlines: Mapping[int, Outline]) -> Summary:
    """Give coupons outlines on the board, in one step; areas that do not count stay at their place on the steel.

    Raises:
        InputError: an outline is none or lies beyond the board, or a coupon is not there.
    """
    board, names = the_board(tx), []
    for key, outline in outlines.items():
        coupon = the_coupon(tx, key)
        kept = checked_outline(outline, board)
        if coupon.outline_mm and kept:
            _follow(tx, key, coupon.outline_mm, kept)
        tx.put(COUPONS, replace(coupon, outline_mm=kept))
        names.append(coupon.id)
    if len(names) == 1:
        return Summary("Draw the outline of {0}", (names[0],))
    return Summary("Draw the outlines of {0}", (counted(len(names), "coupon"),))


def _follow(tx: Transaction, coupon: int, old: Outline, new: Outline) -> None:
    """Keep areas at their place on the steel when the outline around it is drawn anew without moving as a whole."""
    (left, top, right, bottom), (new_left, new_top, new_right, new_bottom) = bounds(old), bounds(new)
    if abs((right - left) - (new_right - new_left)) < 1e-6 and abs((bottom - top) - (new_bottom - new_top)) < 1e-6:
        return  # moved as a whole: what lies on the coupon goes along
    for each in tx.find(EXCLUDED_AREAS, coupon=coupon):
        moved = tuple((x + left - new_left, y + top - new_top) for x, y in each.outline_mm)
        tx.put(EXCLUDED_AREAS, replace(each, outline_mm=moved))


def set_excluded_areas(tx: Transaction, coupon_key: int, areas: Sequence[ExcludedArea]) -> Summary:
    """Say which areas of a coupon do not count; those it had before are replaced.

    Raises:
        InputError: an area is no outline or of no known kind, or there are too many.
    """
    coupon = the_coupon(tx, coupon_key)
    for old in tx.find(EXCLUDED_AREAS, coupon=coupon_key):
        tx.drop(EXCLUDED_AREAS, old.key)
    if tx.count(EXCLUDED_AREAS) + len(areas) > MOST_AREAS:
        raise InputError(f"A board holds at most {MOST_AREAS} areas that do not count; leave some out.")
    for area in areas:
        if area.kind not in EXCLUDED_KINDS:
            raise InputError(f"An area that does not count is one of: {', '.join(EXCLUDED_KINDS)}.")
        kept = without_repeats(area.outline_mm)
        left, top = bounds(kept)[:2] if kept else (0.0, 0.0)
        fault = (
            outline_fault(tuple((x - left, y - top) for x, y in kept), _UNBOUNDED) if kept else "It has no points."
        )
        if fault:
            raise InputError(f"An area of {coupon.id} that does not count cannot be kept: {fault}")
        tx.put(EXCLUDED_AREAS, ExcludedArea(coupon_key, area.kind, kept))
    if not areas:
        return Summary("Let all of {0} count", (coupon.id,))
    return Summary("Leave {0} of {1} out", (counted(len(areas), "area"), coupon.id))


def set_card(tx: Transaction, card: Card | None) -> Summary:
    """Say where a card of known colour is fixed to the board; None = there is none.

    Raises:
        InputError: it is no outline, or lies beyond the board.
    """
    for old in tx.find(CARDS):
        tx.drop(CARDS, old.key)
    if card is None:
        return Summary("Note that the board has no colour card")
    if card.kind not in CARD_KINDS or not card.outline_mm:
        raise InputError("A card is a grey card or a white card with an outline; draw it on the board.")
    tx.put(CARDS, Card(card.kind, checked_outline(card.outline_mm, the_board(tx))))
    return Summary("Note the board's {0}", (card.kind,))
