"""The frame that charts on paper share: a scale from values to points, its ticks, and names at the ends of lines."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from rustboard.report.choice import Writing
from rustboard.report.drawings.svg import Paper
from rustboard.report.drawings.text_width import spread_apart, text_width
from rustboard.scales import inks

SMALL: Final = 7.5
LABEL_HEIGHT: Final = 9.0


@dataclass(frozen=True, slots=True)
class Scale:
    """Values from ``low`` to ``high`` over points from ``start`` to ``end``."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Return where a value lies; beyond the ends it lies at the end."""
        if self.high <= self.low:
            return (self.start + self.end) / 2
        share = (value - self.low) / (self.high - self.low)
        return self.start + min(1.0, max(0.0, share)) * (self.end - self.start)


def tick_step(span: float, most: int) -> float:
    """Return a round step (1, 2 or 5 times a power of ten) that makes at most so many steps."""
    if not math.isfinite(span) or span <= 0:
        return 1.0
    rough = span / max(1, most)
    power = 10.0 ** math.floor(math.log10(rough))
    return next((power * each for each in (1, 2, 5) if power * each >= rough * 0.999), power * 10)


def ticks(low: float, high: float, most: int = 8) -> list[float]:
    """Return round values between two ends."""
    step = tick_step(high - low, most)
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return [each * step for each in range(first, min(last, first + 4 * most) + 1)]


def tick_text(value: float, step: float, writing: Writing) -> str:
    """Return a tick's value with as many decimals as its step needs."""
    return writing.number(value, max(0, -math.floor(math.log10(step) + 1e-9)) if step > 0 else 0)


def draw_across(paper: Paper, scale: Scale, top: float, bottom: float, title: str, writing: Writing) -> None:
    """Draw an axis from left to right at the bottom, with faint lines up to ``top`` and its title below."""
    found = ticks(scale.low, scale.high, max(2, int((scale.end - scale.start) / 46)))
    step = found[1] - found[0] if len(found) > 1 else 1.0
    for value in found:
        x = scale.at(value)
        paper.line([(x, top), (x, bottom)], inks.FAINT, width=0.5)
        paper.text(x, bottom + 8, tick_text(value, step, writing), anchor="middle", ink=inks.MUTED, size=SMALL)
    paper.line([(scale.start, bottom), (scale.end, bottom)], inks.MUTED)
    room = scale.end - scale.start
    paper.text(
        (scale.start + scale.end) / 2, bottom + 19, title, anchor="middle", ink=inks.MUTED, size=SMALL, room=room
    )


def draw_up(paper: Paper, scale: Scale, left: float, right: float, values: Iterable[tuple[float, str]]) -> None:
    """Draw an axis upward at the left, with faint lines to ``right``."""
    for value, shown in values:
        y = scale.at(value)
        paper.line([(left, y), (right, y)], inks.FAINT, width=0.5)
        paper.text(left - 4, y, shown, anchor="end", ink=inks.MUTED, size=SMALL)


def draw_end_names(
    paper: Paper, names: Sequence[tuple[float, float, str, str]], left: float, right: float, low: float, high: float
) -> None:
    """Write names beside the ends of lines: each an end's ``x`` and ``y``, the name and its ink."""
    middles = spread_apart([each[1] for each in names], LABEL_HEIGHT, low, high)
    size = min(SMALL, max(4.0, (high - low) / max(1, len(names)) * 0.95)) if len(names) > 1 else SMALL
    for (x, y, name, ink), middle in zip(names, middles, strict=True):
        paper.line([(x, y), (left - 3, middle)], ink, width=0.5, dash=(1.5, 1.5))
        paper.text(left, middle, name, ink=ink, size=size, room=right - left)


def names_room(names: Iterable[str], most: float, size: float = SMALL) -> float:
    """Return the room that names beside a chart take, at most so much."""
    return min(most, max((text_width(each, size) for each in names), default=0.0) + 4)
