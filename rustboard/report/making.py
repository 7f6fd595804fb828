"""How the workbook is put together: what every sheet is written from, what it hands back, and where it stands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.record import BoardRecord
from rustboard.report.chart_data import ChartData, gather
from rustboard.report.choice import Part
from rustboard.report.content import ReportContent
from rustboard.report.groups import Group, groups
from rustboard.report.means import mean_grades
from rustboard.report.page_setup import PageStyle
from rustboard.report.written import Written

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
        content = self.content
        return gather(self.record, self.groups, self.means, content.choice.clock, content.places)


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
        about: what it shows, for the contents.
        back: cell for the link back to the contents; empty = the first cell, a heading.
    """

    title: str
    part: Part | None
    has_any: Callable[[ReportContent], bool]
    write: Callable[[Worksheet, Making], Written]
    about: str = ""
    back: str = ""

    def is_wanted(self, content: ReportContent) -> bool:
        """Return whether the sheet is in the workbook of this content."""
        return (self.part is None or self.part in content.choice.parts) and self.has_any(content)
