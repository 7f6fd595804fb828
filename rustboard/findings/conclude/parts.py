"""Progress of one part of a longer work."""

from __future__ import annotations

from dataclasses import dataclass

from rustboard.findings.power import Progress

WHOLE = 1_000


@dataclass(frozen=True, slots=True)
class Part:
    """Tells the progress of a part as that of the whole.

    Attributes:
        whole: who is told, or None. start, end: shares of the whole, 0 to 1.
    """

    whole: Progress | None
    start: float
    end: float

    def step(self, done: int, total: int) -> None:
        """Hear how far the part is."""
        if self.whole is not None:
            share = self.start + (self.end - self.start) * min(1.0, done / max(total, 1))
            self.whole.step(round(WHOLE * share), WHOLE)
