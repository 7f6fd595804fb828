"""What a run of measuring is asked, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from rustboard.board.measured import Measurement, PhotoPlacing
from rustboard.board.record import BoardRecord
from rustboard.support.problems import Problem


@dataclass(frozen=True, slots=True)
class MeasureRequest:
    """What to measure.

    Attributes:
        record: the board, a snapshot.
        folder: of the board. cache: the user's cache folder.
        again: measure everything anew, also what was measured before.
        processes: how many may work at once; 0 = all in this one.
        photos, coupons: keys of those to look at and to judge; None = all.
    """

    record: BoardRecord
    folder: Path
    cache: Path
    again: bool = False
    processes: int = 0
    photos: frozenset[int] | None = None
    coupons: frozenset[int] | None = None


@dataclass(frozen=True, slots=True)
class MeasureResult:
    """What was found.

    Attributes:
        placings: of the photos that were looked for.
        measurements: that are new or may say something else than before.
        problems: photos and coupons that could not be measured, each with a sentence.
    """

    placings: tuple[PhotoPlacing, ...] = ()
    measurements: tuple[Measurement, ...] = ()
    problems: tuple[Problem, ...] = ()
