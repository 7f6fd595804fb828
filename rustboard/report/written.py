"""What a sheet hands back beside its cells, for the file to be put together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from rustboard.report.long_rows import LongRows


@dataclass(frozen=True, slots=True)
class ChartText:
    """What a chart is called, and what it shows in words for those who cannot see it."""

    name: str
    description: str


@dataclass(frozen=True, slots=True)
class Written:
    """What a sheet hands back for `package.packed` beside its cells.

    Attributes:
        long_rows: that follow what openpyxl writes, or None.
        charts: what each shows in words, in the order in which they were added to the sheet; pictures carry their
            own words (`placed_pictures.put_picture`).
        cached: the value of each formula, by its cell, such as ``B7``.
    """

    long_rows: LongRows | None = None
    charts: Sequence[ChartText] = ()
    cached: Mapping[str, str | float] = field(default_factory=dict)


NOTHING_MORE = Written()
"""What a sheet of cells alone hands back."""
