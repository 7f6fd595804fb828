"""How rust grew, and what more days could settle."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rustboard.board.comparisons import Comparison
from rustboard.findings.sentence import Sentence


@dataclass(frozen=True, slots=True)
class BandPlace:
    """The grade of a group at one place on the clock: fitted where it was seen, forecast beyond.

    Attributes:
        place: on the clock.
        middle: mean grade. low, high: 90 % band of the mean.
    """

    place: float
    middle: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class GrowthCurve:
    """Growth of one group.

    Attributes:
        group: id.
        seen_until: last place at which it was graded; what lies beyond is forecast.
        band: by place; empty where nothing could be fitted. why_none: then the reason.
    """

    group: str
    seen_until: float
    band: tuple[BandPlace, ...]
    why_none: Sentence | None = None


Outlook = Literal["settled", "likely", "open", "unlikely", "unknown"]
"""Of a comparison: shown already; more exposure probably shows it; may; probably does not; cannot be said."""


@dataclass(frozen=True, slots=True)
class Expected:
    """What more exposure is expected to do to one comparison.

    Attributes:
        comparison: which. id_a, id_b: of its groups.
        now: difference seen. then, low, high: forecast of it, with 90 % band; None where nothing is forecast.
        needed: the difference that would be told from luck.
        chance: that it is then told from luck, 0 to 1; None where nothing is forecast.
        outlook: in a word.
    """

    comparison: Comparison
    id_a: str
    id_b: str
    now: float
    then: float | None
    low: float | None
    high: float | None
    needed: float | None
    chance: float | None
    outlook: Outlook


@dataclass(frozen=True, slots=True)
class GrowthFindings:
    """Is it time to stop?

    Attributes:
        more: how much further on the clock the forecast looks.
        curves: by group. expected: by comparison.
        advice: whether to stop, and what speaks against stopping as soon as a favourite leads.
    """

    more: float
    curves: tuple[GrowthCurve, ...]
    expected: tuple[Expected, ...]
    advice: tuple[Sentence, ...]
