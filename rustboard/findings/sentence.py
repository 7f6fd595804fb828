"""A sentence of a finding: a pattern and its parts; a screen translates the one and writes the others its own way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from rustboard.support.summary import Summary

Part = str | int | float


class PValue(float):
    """A p value, which has two decimals at least: 0.10 says better than 0.1 how exact it is."""


def with_two_decimals(shown: str) -> str:
    """Return a p value that is written as ``0.1`` with its second decimal."""
    return f"{shown}0" if len(shown) == len("0.1") else shown


def plain_part(part: Part) -> str:
    """Return a part as plain text has it: decimals with a point, without needless zeros."""
    if isinstance(part, PValue):
        return with_two_decimals(f"{part:.10g}")
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
