"""Sizes of paper, upright, and the one that is usual in a country."""

from __future__ import annotations

from typing import Final, NamedTuple

from rustboard.report.paper.shapes import Area

MARGIN_MM: Final = 8.0
"""Left white on all sides: many printers cannot reach the last 4 to 6 mm (common practice, no source)."""


class Paper(NamedTuple):
    """A size of paper as it lies in the tray."""

    name: str
    width_mm: float
    height_mm: float

    def turned(self) -> Paper:
        """Return the same paper, sideways."""
        return Paper(self.name, self.height_mm, self.width_mm)

    @property
    def printable(self) -> Area:
        """What may be drawn on."""
        return Area(0, 0, self.width_mm, self.height_mm).shrunk(MARGIN_MM)


PAPERS: Final = (
    Paper("A4", 210.0, 297.0),
    Paper("A3", 297.0, 420.0),
    Paper("Letter", 215.9, 279.4),
    Paper("Legal", 215.9, 355.6),
    Paper("Tabloid", 279.4, 431.8),
)
"""ISO 216 for A4 and A3; 8.5 x 11, 8.5 x 14 and 11 x 17 inches for the others."""

LETTER_TERRITORIES: Final = frozenset(
    ("US", "CA", "MX", "PH", "CL", "CO", "VE", "PR", "GT", "CR", "PA", "SV", "NI", "HN", "DO", "BO")
)
"""Where offices use Letter (from memory)."""


def paper_named(name: str) -> Paper:
    """Return a paper by its name; A4 for a name that is none."""
    return next((each for each in PAPERS if each.name == name), PAPERS[0])


def usual_paper(territory: str) -> str:
    """Return the name of the usual paper of a country by its two-letter code (ISO 3166)."""
    return "Letter" if territory.upper() in LETTER_TERRITORIES else "A4"
