"""A sentence of a finding: a pattern and its parts; a screen translates the one and writes the others its own way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from rustboard.support.summary import Summary

Part = str | int | float


def plain_part(part: Part) -> str:
    """Return a part as plain text has it: decimals with a point, without needless zeros."""
    return f"{part:.10g}" if isinstance(part, float) else str(part)


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sentence.

    Attributes:
        pattern: text with ``{0}``, ``{1}``... for the parts.
        parts: names as texts; numbers as numbers, which a screen writes in the user's format.
    """

    pattern: str
    parts: tuple[Part, ...] = ()

    def text(self, pattern: str | None = None, written: Callable[[Part], str] = plain_part) -> str:
        """Return the sentence; ``pattern`` is a translated one when a screen has it, ``written`` writes a part."""
        return Summary(self.pattern, tuple(map(written, self.parts))).text(pattern)


def of_grades(value: float, one: str, several: str, *parts: Part) -> Sentence:
    """Return a sentence about an amount of grades: ``one`` for exactly 1, else ``several``; ``{0}`` is the amount."""
    return Sentence(one if value == 1 else several, (round(value, 2), *parts))
