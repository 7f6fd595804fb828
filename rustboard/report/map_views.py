"""Which maps of a board a workbook has: at the start, in the middle, and with the newest grades."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from rustboard.board.model import Coupon, Grading, Inspection
from rustboard.board.record import BoardRecord
from rustboard.report.choice import WRITINGS, PictureMoment, ReportPicture, ReportPictures, Writing
from rustboard.report.content import ReportContent
from rustboard.report.last_grades import last_graded

NEWEST_MAP: Final = "Board map"
START_MAP: Final = "Board map start"
MIDDLE_MAP: Final = "Board map middle"

FACING: Final = "As seen facing the board; A1 is top left."
NO_GRADES: Final = "No coupon has been graded yet."


@dataclass(frozen=True, slots=True)
class MapView:
    """One map: grades until a moment, and the coupons as they looked then.

    Attributes:
        record: the board. sheet: title of its sheet. title: on the sheet.
        last: the inspection up to which grades count; None = there is no grade to show.
        pictures: by key of the coupon; empty = the map has none.
        moment: when the pictures were taken. writing: of dates.
    """

    record: BoardRecord
    sheet: str
    title: str
    last: Inspection | None
    pictures: Mapping[int, ReportPicture] = field(default_factory=dict)
    moment: PictureMoment | None = None
    writing: Writing = WRITINGS[0]

    def grading(self, coupon: Coupon) -> Grading | None:
        """Return the newest grade of a coupon at that moment."""
        return None if self.last is None else self.record.latest(coupon.key, self.last)

    @property
    def subtitle(self) -> str:
        """What is shown, in a sentence or three."""
        said = [FACING]
        if self.last is None:
            said.append(NO_GRADES if self.sheet == NEWEST_MAP else "No coupon had been graded by then.")
        else:
            until = self.writing.moment(self.last.at)
            said.append(f"Newest grade of each coupon until {until}; a grade from before carries its date.")
        if self.moment is not None:
            day = self.writing.number(self.moment.day, 0)
            said.append(f"Pictures of {self.writing.moment(self.moment.at)}, day {day}.")
        return " ".join(said)


def map_views(content: ReportContent) -> tuple[MapView, ...]:
    """Return the maps of a report, earliest first; the one with the newest grades is always there."""
    record, pictures, writing = content.record, content.pictures, content.choice.writing
    found = []
    for name, sheet, title in (
        ("start", START_MAP, "Board map at the start"),
        ("middle", MIDDLE_MAP, "Board map in the middle"),
    ):
        number = _number(pictures, name)
        if number is not None:
            moment = pictures.moments[number]
            last = record.inspections.get(moment.inspection or 0)
            found.append(MapView(record, sheet, title, last, pictures.coupons[number], moment, writing))
    number = _number(pictures, "end")
    newest = MapView(record, NEWEST_MAP, "Board map", last_graded(record), writing=writing)
    if number is not None:
        newest = MapView(
            record,
            NEWEST_MAP,
            "Board map at the end",
            newest.last,
            pictures.coupons[number],
            pictures.moments[number],
            writing,
        )
    return (*found, newest)


def _number(pictures: ReportPictures, name: str) -> int | None:
    """Return which of the moments has this name and any coupon's picture, or None."""
    for number, moment in enumerate(pictures.moments):
        if moment.name == name and number < len(pictures.coupons) and pictures.coupons[number]:
            return number
    return None
