"""What is kept of measuring rust in photos: measurements, strokes, areas that do not count, cards, disturbances."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final, Literal, NamedTuple

from rustboard.board.model import Outline

PlacedBy = Literal["", "given", "markers", "view", "corners"]
PLACED_BY: Final[tuple[PlacedBy, ...]] = ("", "given", "markers", "view", "corners")
"""How a photo's place was found: not at all, told when it was added, by the printed markers, by the view of another
photo, by four corners that a person tapped."""

Present = Literal["there", "missing", "other", "unsure"]
PRESENT: Final[tuple[Present, ...]] = ("there", "missing", "other", "unsure")

ExcludedKind = Literal["hole", "label", "other"]
EXCLUDED_KINDS: Final[tuple[ExcludedKind, ...]] = ("hole", "label", "other")

CardKind = Literal["grey card", "white card"]
CARD_KINDS: Final[tuple[CardKind, ...]] = ("grey card", "white card")

DisturbanceKind = Literal[
    "debris cleared", "touched", "cleaned", "replaced", "lost", "rotated", "board moved", "other"
]
DISTURBANCE_KINDS: Final[tuple[DisturbanceKind, ...]] = (
    "debris cleared",
    "touched",
    "cleaned",
    "replaced",
    "lost",
    "rotated",
    "board moved",
    "other",
)
STARTS_ANEW: Final[frozenset[DisturbanceKind]] = frozenset({"cleaned", "replaced"})
"""After these the rust measured before says nothing about the coupon any more."""

JUDGED_BY: Final[frozenset[DisturbanceKind]] = frozenset({"cleaned", "replaced", "touched", "rotated", "board moved"})
"""What of the day log has a say in how rust is judged; the rest is for people."""

SettingsPart = Literal["shape", "log", "order", "strokes"]
SETTINGS_PARTS: Final[tuple[SettingsPart, ...]] = ("shape", "log", "order", "strokes")
"""What says how a coupon is measured in a photo: what of it counts, on which grid, by which method; the day log; the
photo's place and the photo before it; the strokes of the brush."""
PART_DIGITS: Final = 6
SETTINGS_DIGITS: Final = PART_DIGITS * len(SETTINGS_PARTS)
"""How many of the digits of `Measurement.inputs` tell how it was measured."""

FIRST_IS_AWAY: Final = "its first photo"
"""How the warning begins of a figure that was not measured against the coupon's first photo."""

MOST_STROKES: Final = 20_000
MOST_STROKE_POINTS: Final = 2_000
MOST_AREAS: Final = 5_000
MOST_DISTURBANCES: Final = 20_000
MOST_MEASUREMENTS: Final = 1_000_000


@dataclass(frozen=True, slots=True)
class PhotoPlacing:
    """Where the board was found in a photo, or why it was not.

    Attributes:
        photo: key.
        mm_to_px: nine numbers, or None when the board was not found.
        lens, placed_by, error_px, because, warnings: as `Photo` has them.
    """

    photo: int
    mm_to_px: tuple[float, ...] | None
    lens: float = 0.0
    placed_by: PlacedBy = ""
    error_px: float | None = None
    because: str = ""
    warnings: tuple[str, ...] = ()


class Measurement(NamedTuple):
    """The rust on one coupon in one photo, as the program measured it. A tuple, because boards hold many thousands.

    Attributes:
        photo, coupon: keys.
        algorithm: version of the method.
        inputs: 40 hexadecimal digits: a hash of each of `SETTINGS_PARTS` (6 each), then one of the masks (16); under
            the whole the masks are found in the cache.
        percent: of the significant surface rusted; None when it could not be measured. low, high: its 90 % range.
        spots: number of separate spots. largest_mm2: area of the largest one.
        distribution: S, G, P, H or empty.
        debris_percent, unseen_percent, resolvable_percent: of the significant surface.
        confident: whether it may be taken over without a closer look.
        newest: judged without any later photo.
        motion: how the coupon hung: dx mm, dy mm, turn in degrees, scale.
        present: whether the coupon was there, and whether it was the same one.
        warnings: plain words.
        measured: when, ISO date and time.
        state: ``current`` or ``superseded``. replaces: key of the measurement that this one revises, or None.
        reason: why it was revised, empty for a first one.
    """

    key: int
    photo: int
    coupon: int
    algorithm: int
    inputs: str
    percent: float | None
    low: float | None
    high: float | None
    spots: int
    largest_mm2: float
    distribution: str
    debris_percent: float
    unseen_percent: float
    resolvable_percent: float
    confident: bool
    newest: bool
    motion: tuple[float, float, float, float]
    present: Present
    warnings: tuple[str, ...]
    measured: str
    state: str = "current"
    replaces: int | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Stroke:
    """One stroke of the brush over a coupon in one photo: it adds rust to the mask, or takes it away.

    Attributes:
        photo, coupon: keys.
        adds: True adds rust, False takes it away.
        radius_mm: of the brush.
        points_mm: the path, in millimetres from the top left corner of the box around the coupon's outline, as the
            record has it (before the photo's own motion).
    """

    photo: int
    coupon: int
    adds: bool
    radius_mm: float
    points_mm: Outline
    key: int = 0


@dataclass(frozen=True, slots=True)
class ExcludedArea:
    """A part of a coupon that does not count: a hole, a label.

    Attributes:
        coupon: key.
        outline_mm: in millimetres from the top left corner of the box around the coupon's outline, so that it goes
            along when the coupon changes places.
    """

    coupon: int
    kind: ExcludedKind
    outline_mm: Outline
    key: int = 0


@dataclass(frozen=True, slots=True)
class Card:
    """A card of known colour fixed to the board, by which the light of photos is evened."""

    kind: CardKind
    outline_mm: Outline
    key: int = 0


@dataclass(frozen=True, slots=True)
class Disturbance:
    """Something that happened to the board or to one coupon between the inspections.

    Attributes:
        coupon: key, or None for the whole board.
    """

    at: datetime
    kind: DisturbanceKind
    coupon: int | None = None
    note: str = ""
    key: int = 0


def changed_parts(was: str, now: str) -> frozenset[SettingsPart]:
    """Return what says otherwise how to measure, from `Measurement.inputs` or the settings at its beginning."""
    return frozenset(
        part
        for at, part in enumerate(SETTINGS_PARTS)
        if was[at * PART_DIGITS : (at + 1) * PART_DIGITS] != now[at * PART_DIGITS : (at + 1) * PART_DIGITS]
    )
