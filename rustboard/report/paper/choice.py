"""What the user wants on paper."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from rustboard.report.paper.paper_sizes import PAPERS, Paper
from rustboard.support.problems import InputError

Kind = Literal["map", "labels", "markers", "grading"]
KINDS: Final[tuple[Kind, ...]] = ("map", "labels", "markers", "grading")

MOST_VISITS: Final = 4
_MARK_AND_WORDS_MM: Final = 11.0

LIMITS: Final[dict[str, tuple[float, float, str]]] = {
    "overlap_mm": (15, 50, "The sheets of the map overlap by 15 to 50 mm."),
    "hole_mm": (0.5, 12, "A hole is 0.5 to 12 mm wide."),
    "label_width_mm": (30, 200, "A label is 30 to 200 mm wide."),
    "label_height_mm": (15, 200, "A label is 15 to 200 mm high."),
    "marker_mm": (15, 200, "A marker is 15 to 200 mm wide."),
    "visits": (1, MOST_VISITS, f"A grading sheet has room for 1 to {MOST_VISITS} inspections."),
}
"""Lowest and highest value and the sentence for any other, by the name of the value."""


@dataclass(frozen=True, slots=True)
class PaperChoice:
    """What to print, on which paper.

    Attributes:
        made_on: today's date as the user writes it; at the foot of every page.
        decimal_mark: point or comma, as the user writes it.
        map_treatments, label_treatments: whether treatments are named there; they are not where grading is to be
            blind.
        overlap_mm: by how much the map's sheets overlap at least.
        hole_mm: width of the holes to drill.
        marker_mm: side of a marker's black square where the board has none.
        visits: inspections on one grading sheet.
    """

    kinds: frozenset[Kind] = frozenset(KINDS)
    paper: Paper = PAPERS[0]
    made_on: str = ""
    decimal_mark: str = "."
    map_treatments: bool = False
    overlap_mm: float = 15.0
    hole_mm: float = 4.0
    label_width_mm: float = 50.0
    label_height_mm: float = 25.0
    label_treatments: bool = False
    marker_mm: float = 30.0
    visits: int = 1

    @property
    def sheet_overlap_mm(self) -> float:
        """By how much the map's sheets overlap, so that each hole is whole on a sheet that says which it is."""
        return max(self.overlap_mm, self.hole_mm + _MARK_AND_WORDS_MM)

    def check(self) -> None:
        """Refuse what cannot be printed.

        Raises:
            InputError: a number is out of its range.
        """
        for name in LIMITS:
            check_paper_number(name, getattr(self, name))


def check_paper_number(name: str, value: float) -> None:
    """Refuse a number of `PaperChoice` (by its name there) that cannot be.

    Raises:
        InputError: out of its range.
    """
    low, high, sentence = LIMITS[name]
    if not low <= value <= high:  # not in range either: NaN
        raise InputError(sentence)
