"""Which ink stands for which treatment: a second cue beside its id, the same on the map and in the list."""

from __future__ import annotations

from rustboard.board.record import BoardRecord
from rustboard.ui.theme import Scheme


def treatment_inks(record: BoardRecord, scheme: Scheme) -> dict[int | None, str]:
    """Return the ink, ``#rrggbb``, of each treatment by its key; under None that of coupons without a treatment.

    Inks go by the order in which treatments were made, and begin anew when all are used up: the id beside them tells
    treatments apart, the ink only helps.
    """
    inks: dict[int | None, str] = {None: scheme.muted}
    for place, key in enumerate(sorted(record.treatments)):
        inks[key] = scheme.series[place % len(scheme.series)]
    return inks
