"""A short sentence about what was done, kept as a pattern and its parts so that a screen can translate it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Summary:
    """What an operation did, for undo, audit and messages.

    Attributes:
        pattern: text with ``{0}``, ``{1}``... for the parts.
        parts: what goes into them.
    """

    pattern: str
    parts: tuple[str, ...] = ()

    def text(self, pattern: str | None = None) -> str:
        """Return the sentence; ``pattern`` is a translated pattern when a screen has one."""
        shown = self.pattern if pattern is None else pattern
        for number, part in enumerate(self.parts):
            shown = shown.replace(f"{{{number}}}", part)
        return shown
