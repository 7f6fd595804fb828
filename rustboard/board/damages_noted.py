"""Questions about the damage noted on a board, and the widths of a scribe's creep as people type them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from rustboard.board.cells import read_decimal
from rustboard.board.damage import DAMAGE_KINDS, MOST_WIDTHS, Damage
from rustboard.board.model import Coupon, Inspection
from rustboard.board.record import BoardRecord
from rustboard.support.problems import InputError

_BETWEEN: Final = re.compile(r"(?:[\s;]|,(?![0-9]))+")
_ORDER: Final[dict[str, int]] = {kind: number for number, kind in enumerate(DAMAGE_KINDS)}


def damages_of(record: BoardRecord, coupon: int, inspection: int) -> tuple[Damage, ...]:
    """Return the damage noted of a coupon at an inspection, in the order of `DAMAGE_KINDS`."""
    found = [each for each in record.damages.values() if each.coupon == coupon and each.inspection == inspection]
    return tuple(sorted(found, key=_place))


def damages_at(record: BoardRecord, inspection: int) -> dict[int, tuple[Damage, ...]]:
    """Return the damage noted at an inspection by coupon key, each in the order of `DAMAGE_KINDS`."""
    found: dict[int, list[Damage]] = {}
    for each in record.damages.values():
        if each.inspection == inspection:
            found.setdefault(each.coupon, []).append(each)
    return {coupon: tuple(sorted(noted, key=_place)) for coupon, noted in found.items()}


def damages_in_order(record: BoardRecord) -> Iterator[tuple[Inspection, Coupon, Damage]]:
    """Yield all damage that counts: by time, then as one reads the board, then in the order of `DAMAGE_KINDS`."""
    coupons = record.coupons_in_order()
    noted: dict[tuple[int, int], list[Damage]] = {}
    for each in record.damages.values():
        noted.setdefault((each.inspection, each.coupon), []).append(each)
    for inspection in record.inspections_in_order():
        for coupon in coupons:
            for each in sorted(noted.get((inspection.key, coupon.key), ()), key=_place):
                yield inspection, coupon, each


def _place(damage: Damage) -> tuple[int, int]:
    return _ORDER.get(damage.kind, len(_ORDER)), damage.key


def read_widths(text: str) -> tuple[float, ...]:
    """Return the widths in a text such as ``2.1 3.0 2.4``; an empty text has none.

    Spaces or semicolons stand between them. A comma with a digit behind it is a decimal mark; any other ends a
    number.

    Raises:
        InputError: something is not a number, or there are too many.
    """
    parts = [each for each in _BETWEEN.split(text.strip()) if each]
    if len(parts) > MOST_WIDTHS:
        raise InputError(f"At most {MOST_WIDTHS} widths are kept; measure fewer, evenly spaced.")
    return tuple(read_decimal(each) for each in parts)
