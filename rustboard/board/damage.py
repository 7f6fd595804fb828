"""What is wrong with a coupon beside the rust on its surface: recorded apart from the grade, never part of it."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple

DamageKind = Literal["edge rust", "stain", "blisters", "peeling", "creep"]
DAMAGE_KINDS: Final[tuple[DamageKind, ...]] = ("edge rust", "stain", "blisters", "peeling", "creep")

Severity = Literal["", "vs", "s", "m", "x"]
SEVERITIES: Final[tuple[Severity, ...]] = ("", "vs", "s", "m", "x")
"""Not stated, very slight, slight, moderate, severe (letters of ISO 10289)."""

SEVERITY_WORDS: Final = {"": "", "vs": "very slight", "s": "slight", "m": "moderate", "x": "severe"}
"""What the letters say, in plain English."""

MOST_DAMAGES: Final = 500_000
MOST_WIDTHS: Final = 100
LARGEST_WIDTH_MM: Final = 1_000.0


class Damage(NamedTuple):
    """One kind of damage of one coupon at one inspection.

    Attributes:
        coupon, inspection: keys.
        percent: of the surface, for rust on edges of the length of the edges; None where it was not stated.
        severity: see `SEVERITIES`.
        scribe_mm: width of the scribed line, for creep alone.
        widths_mm: full widths of the corroded zone across the scribe, as measured, for creep alone.
        recorded: when it was written down, ISO date and time.
        state: ``current``, ``superseded`` or ``withdrawn``. replaces: key of what this one corrects, or None.
    """

    key: int
    coupon: int
    inspection: int
    kind: str
    percent: float | None
    severity: str
    scribe_mm: float | None
    widths_mm: tuple[float, ...]
    grader: str
    note: str
    recorded: str
    state: str = "current"
    replaces: int | None = None
