"""A short sentence about what was done, kept as a pattern and its parts so that a screen can translate it."""

from __future__ import annotations

import re
from dataclasses import dataclass

_PLACE = re.compile(r"\{([0-9]{1,2})\}")


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

        def part(place: re.Match[str]) -> str:
            number = int(place[1])
            return self.parts[number] if number < len(self.parts) else place[0]

        # In one go: a coupon may well be called "{1}".
        return _PLACE.sub(part, self.pattern if pattern is None else pattern)
