"""One coupon's shape given to others, with what of it does not count."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rustboard.board.measured import ExcludedArea
from rustboard.board.model import Outline
from rustboard.operations.areas import set_excluded_areas, set_outlines
from rustboard.store.transaction import Transaction
from rustboard.support.summary import Summary
from rustboard.support.text import counted


def give_shape(
    tx: Transaction, outlines: Mapping[int, Outline], areas: Mapping[int, Sequence[ExcludedArea]]
) -> Summary:
    """Do `set_outlines`, then `set_excluded_areas` for every coupon that ``areas`` names, in one step.

    Raises:
        InputError: as either; then nothing is changed.
    """
    set_outlines(tx, outlines)
    for coupon, given in areas.items():
        set_excluded_areas(tx, coupon, given)
    return Summary("Give a coupon's shape to {0}", (counted(len(outlines), "other coupon"),))
