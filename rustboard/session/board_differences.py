"""What differs between boards: where, how and when they hung, of what steel, and what weather they had."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from rustboard.board.cells import identity
from rustboard.board.record import BoardRecord
from rustboard.support.text import one_line

if TYPE_CHECKING:
    from rustboard.weather.exposure import Exposure

Aspect = Literal[
    "site", "steel", "shelter", "incline", "facing", "period", "season", "days", "wet hours", "rain", "temperature",
    "coupons", "inspections",
]  # fmt: skip
Alike = Literal["alike", "differs", "not known"]
"""Whether the boards agree in something; ``not known`` where fewer than two of them say."""

MOST_STEELS: Final = 4
_NEAR: Final = 0.1
"""How far amounts of weather may lie apart, as a share of the largest, and still count as alike (own choice)."""
_LONGEST: Final = 60

Value = str | float | tuple[object, ...] | None


@dataclass(frozen=True, slots=True)
class BoardDifference:
    """One thing in which boards may differ.

    Attributes:
        aspect: what. values: of each board, in their order; None where a board does not say. Texts are the user's
            own; numbers are degrees, days, hours, mm or counts; a period is the first and the last day, a season the
            numbers of the first and the last month.
        alike: whether they agree.
    """

    aspect: Aspect
    values: tuple[Value, ...]
    alike: Alike


def differences(
    records: Sequence[BoardRecord], weather: Sequence[Exposure | None] | None = None
) -> tuple[BoardDifference, ...]:
    """Return in what boards differ and in what they are alike; what no board says is left out.

    Args:
        records: the boards.
        weather: what each went through, in their order; None where that was not worked out.
    """
    rows: list[tuple[Aspect, list[Value]]] = [(aspect, [told(each) for each in records]) for aspect, told in _TOLD]
    exposures = list(weather) if weather is not None else [None] * len(records)
    rows += [
        ("wet hours", [None if each is None else each.wet_hours for each in exposures]),
        ("rain", [None if each is None else each.rain_mm for each in exposures]),
        ("temperature", [None if each is None else each.mean_temperature_c for each in exposures]),
    ]
    return tuple(
        BoardDifference(aspect, tuple(values), _alike(aspect, values))
        for aspect, values in rows
        if any(each is not None for each in values)
    )


def _alike(aspect: Aspect, values: Sequence[Value]) -> Alike:
    known = [each for each in values if each is not None]
    if len(known) < 2:
        return "not known"
    if aspect in ("days", "wet hours", "rain"):
        amounts = [each for each in known if isinstance(each, (int, float))]
        return "alike" if max(amounts) - min(amounts) <= _NEAR * max(map(abs, amounts)) else "differs"
    if aspect == "temperature":
        amounts = [each for each in known if isinstance(each, (int, float))]
        return "alike" if max(amounts) - min(amounts) <= 1.0 else "differs"
    plain = {identity(each) if isinstance(each, str) else each for each in known}
    return "alike" if len(plain) == 1 else "differs"


def _text(text: str) -> str | None:
    return one_line(text, _LONGEST) or None


def steel_of(record: BoardRecord) -> str | None:
    """Return of what steel the coupons are, the commonest first; None where nobody wrote it down."""
    counted = Counter(one_line(each.substrate, _LONGEST) for each in record.coupons.values() if each.substrate)
    named = [name for name, _ in sorted(counted.items(), key=lambda each: (-each[1], each[0])) if name]
    if not named:
        return None
    return ", ".join((*named[:MOST_STEELS], *(["…"] if len(named) > MOST_STEELS else [])))


def _period(record: BoardRecord) -> Value:
    start = record.day_zero()
    last = max((each.at for each in record.inspections.values()), default=None)
    return None if start is None else (start.date(), None if last is None else last.date())


def _season(record: BoardRecord) -> Value:
    start = record.day_zero()
    last = max((each.at for each in record.inspections.values()), default=start)
    return None if start is None or last is None else (start.month, last.month)


def _days(record: BoardRecord) -> Value:
    last = max((each.at for each in record.inspections.values()), default=None)
    return None if last is None else max(record.day_of(last), 0.0)


_TOLD: Final[tuple[tuple[Aspect, Callable[[BoardRecord], Value]], ...]] = (
    ("site", lambda each: _text(each.board.site)),
    ("steel", steel_of),
    ("shelter", lambda each: _text(each.board.shelter)),
    ("incline", lambda each: each.board.incline_deg),
    ("facing", lambda each: each.board.facing_deg),
    ("period", _period),
    ("season", _season),
    ("days", _days),
    ("coupons", lambda each: float(sum(one.position is not None for one in each.coupons.values()))),
    ("inspections", lambda each: float(len(each.inspections))),
)
