"""The numbers behind the charts: step histories of coupons and mean histories of treatments.

A grade holds until the next inspection, so each history is drawn as steps: at every inspection after the first
there are two points, the grade held until then and the grade given then. Where a coupon was not graded at an
inspection both are blank, and the line breaks there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

import pandas as pd
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.exposure_clock import ClockKind
from rustboard.board.model import Coupon, Inspection
from rustboard.board.record import BoardRecord
from rustboard.report.axis_steps import day_axis, round_axis
from rustboard.report.cells import put, set_widths, short, style_number
from rustboard.report.groups import Group
from rustboard.report.long_rows import LongRows
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import COLUMN_HEAD, DAYS, UNWRAPPED, WHEN

SHEET = "Chart data"
HEAD_ROWS = 2
FIRST_TRACK_COLUMN = 4
LABEL_LIMIT = 30
"""Most characters of a name in a legend."""

COLUMNS_ON_A_PAGE = 16

UNITS: Final[dict[ClockKind, tuple[str, str]]] = {
    "days": ("days", "Days of exposure"),
    "wet hours": ("wet hours", "Wet hours"),
    "rain": ("mm of rain", "Rain, mm"),
    "controls": ("grades lost by the controls", "Grades that the untreated controls had lost"),
}

HELD = "held until here"
GRADED = "inspection"


@dataclass(frozen=True, slots=True)
class Track:
    """One line of a chart.

    Attributes:
        label: the name in the legend.
        belongs_to: the title of its group, or what the means are.
        column: column of the chart data sheet, from 1.
        values: the grade or mean at each inspection, None where there is none.
    """

    label: str
    belongs_to: str
    column: int
    values: tuple[float | None, ...]

    @property
    def has_values(self) -> bool:
        """Whether anything can be drawn."""
        return any(each is not None for each in self.values)


@dataclass(frozen=True, slots=True)
class ChartData:
    """Everything the charts draw.

    Attributes:
        days: days of exposure at each inspection.
        replicates: by group, in the order of the groups.
        means: one track a group.
        clock: that the charts go by. places: along it, of each inspection; empty for days.
    """

    inspections: tuple[Inspection, ...]
    days: tuple[float, ...]
    replicates: tuple[tuple[Group, tuple[Track, ...]], ...]
    means: tuple[Track, ...]
    clock: ClockKind = "days"
    places: tuple[float | None, ...] = ()

    @property
    def across(self) -> tuple[float | None, ...]:
        """Where each inspection stands in the charts."""
        return self.days if self.clock == "days" else self.places

    @property
    def unit(self) -> str:
        """What the charts count across, as the head of its column."""
        return UNITS[self.clock][0]

    @property
    def x_title(self) -> str:
        """The same as the title of an axis."""
        return UNITS[self.clock][1]

    @property
    def axis(self) -> tuple[float, float, float]:
        """Least, most and step of the axis."""
        if self.clock == "days":
            return day_axis(self.days)
        return round_axis([each for each in self.places if each is not None])

    @property
    def tracks(self) -> list[Track]:
        """All tracks by column."""
        return [track for _, tracks in self.replicates for track in tracks] + list(self.means)

    @property
    def row_count(self) -> int:
        """Rows of points: one for the first inspection, two for each further one."""
        return max(0, 2 * len(self.inspections) - 1)

    def points(self, column: int) -> str:
        """Return the range of a column's points, as a chart refers to it."""
        letter = get_column_letter(column)
        return f"'{SHEET}'!${letter}${HEAD_ROWS + 1}:${letter}${HEAD_ROWS + self.row_count}"

    def name_cell(self, track: Track) -> str:
        """Return the cell that holds a track's label."""
        return f"'{SHEET}'!${get_column_letter(track.column)}${HEAD_ROWS}"


MEANS = "Means of treatments"


def gather(
    record: BoardRecord,
    groups: Sequence[Group],
    mean_grades: pd.DataFrame,
    clock: ClockKind = "days",
    places: Mapping[int, float | None] | None = None,
) -> ChartData:
    """Return the histories of all coupons, and of the mean of each group over its coupons graded at that time.

    Args:
        record: the board.
        groups: its coupons, sorted.
        mean_grades: those of the same groups (`rustboard.report.means`).
        clock: that the charts go by.
        places: along it, of the inspections by key; those without one are not drawn.
    """
    inspections = record.inspections_in_order()
    column = FIRST_TRACK_COLUMN
    replicates: list[tuple[Group, tuple[Track, ...]]] = []
    for group in groups:
        tracks: list[Track] = []
        for coupon in group.coupons:
            graded = record.current.get(coupon.key, {})
            grades = (graded.get(each.key) for each in inspections)
            values = tuple(None if each is None else each.grade for each in grades)
            tracks.append(Track(coupon_label(coupon), group.title, column, values))
            column += 1
        replicates.append((group, tuple(tracks)))
    keys = [each.key for each in inspections]
    means = tuple(
        Track(
            short(group.title, LABEL_LIMIT), MEANS, column + number, _means(mean_grades["mean", number].reindex(keys))
        )
        for number, group in enumerate(groups)
    )
    days = tuple(round(record.day_of(each.at), 4) for each in inspections)
    if clock == "days" or not places:
        return ChartData(tuple(inspections), days, tuple(replicates), means)
    known = [places.get(each.key) for each in inspections]
    along = tuple(None if each is None else round(each, 4) for each in known)
    return ChartData(tuple(inspections), days, tuple(replicates), means, clock, along)


def coupon_label(coupon: Coupon) -> str:
    """Return id and position of a coupon, short enough for a legend."""
    place = "off the board" if coupon.position is None else coupon.position.label
    return f"{short(coupon.id, LABEL_LIMIT - len(place) - 3)} ({place})"


def _means(values: pd.Series) -> tuple[float | None, ...]:
    return tuple(None if pd.isna(each) else round(float(each), 4) for each in values)


def steps(values: Sequence[float | None]) -> list[float | None]:
    """Return a history with its steps: between two inspections that both have a value, the first one held.

    Point 2k is inspection k; point 2k - 1 is what was held until then, blank beside an inspection without a value.
    """
    points: list[float | None] = []
    for at, value in enumerate(values):
        if at:
            points.append(None if value is None else values[at - 1])
        points.append(value)
    return points


def write_chart_data(sheet: Worksheet, data: ChartData, page: PageStyle) -> LongRows:
    """Write the two header rows and return the points for `package.packed`."""
    tracks = data.tracks
    put(sheet, 1, 1, "Time", COLUMN_HEAD)
    for number, heading in enumerate((data.unit, "inspected", "point"), start=1):
        put(sheet, HEAD_ROWS, number, heading, COLUMN_HEAD)
    for track in tracks:
        put(sheet, 1, track.column, short(track.belongs_to, LABEL_LIMIT), COLUMN_HEAD)
        put(sheet, HEAD_ROWS, track.column, track.label, COLUMN_HEAD)
    sheet.row_dimensions[1].height = sheet.row_dimensions[HEAD_ROWS].height = 44
    set_widths(sheet, {1: 9, 2: 16.5, 3: 15} | {track.column: 13 for track in tracks})
    sheet.freeze_panes = "D3"
    wide = max(1, -(-len(tracks) // COLUMNS_ON_A_PAGE))
    set_page(sheet, page, landscape=True, pages_wide=wide, repeat_rows=f"1:{HEAD_ROWS}", repeat_columns="A:C")
    looks = [DAYS, WHEN, UNWRAPPED] + [UNWRAPPED] * len(tracks)
    styles = [style_number(sheet, look) for look in looks]
    return LongRows(HEAD_ROWS + 1, _rows(data, tracks), styles, data.row_count)


def _rows(data: ChartData, tracks: Sequence[Track]) -> Iterator[tuple[str | float | datetime | None, ...]]:
    across = data.across
    # What has no place is not drawn, and a place of nothing would stand at 0.
    columns = [
        steps([None if place is None else value for place, value in zip(across, each.values, strict=True)])
        for each in tracks
    ]
    for at in range(data.row_count):
        inspection = (at + 1) // 2
        yield (
            across[inspection],
            data.inspections[inspection].at.replace(microsecond=0, tzinfo=None),
            HELD if at % 2 else GRADED,
            *(column[at] for column in columns),
        )
