"""How the workbook is put together: what every sheet is written from, what it hands back, and where it stands."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.record import BoardRecord
from rustboard.report.chart_data import ChartData, gather
from rustboard.report.choice import Part
from rustboard.report.content import ReportContent
from rustboard.report.groups import Group, groups
from rustboard.report.long_rows import LongRows
from rustboard.report.means import mean_grades
from rustboard.report.package import ChartText
from rustboard.report.page_setup import PageStyle

if TYPE_CHECKING:
    import pandas as pd


@dataclass(frozen=True)
class Making:
    """What the sheets of one workbook are written from.

    Attributes:
        content: of the report. page: what its pages share.
        titles: of all its sheets, in order.
    """

    content: ReportContent
    page: PageStyle
    titles: tuple[str, ...]

    @property
    def record(self) -> BoardRecord:
        """The board."""
        return self.content.record

    @cached_property
    def groups(self) -> list[Group]:
        """Its coupons, sorted by treatment."""
        return groups(self.record)

    @cached_property
    def means(self) -> pd.DataFrame:
        """Mean grades of the groups at each inspection."""
        return mean_grades(self.record, self.groups)

    @cached_property
    def history(self) -> ChartData:
        """What the charts of histories draw."""
        return gather(self.record, self.groups, self.means)


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


def always(_: ReportContent) -> bool:
    """Return true: a sheet of every workbook that has its part."""
    return True


@dataclass(frozen=True, slots=True)
class SheetEntry:
    r"""One sheet of the workbook.

    Attributes:
        title: at most 31 letters, none of ``[ ] : * ? / \``.
        part: of the report that it belongs to; None = in every workbook.
        has_any: whether the board has something for it.
        write: writes it.
    """

    title: str
    part: Part | None
    has_any: Callable[[ReportContent], bool]
    write: Callable[[Worksheet, Making], Written]

    def is_wanted(self, content: ReportContent) -> bool:
        """Return whether the sheet is in the workbook of this content."""
        return (self.part is None or self.part in content.choice.parts) and self.has_any(content)
