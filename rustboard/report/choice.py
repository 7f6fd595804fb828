"""What the user chose for one report: its parts, how numbers and dates are written, paper and clock; and the shop."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from rustboard.board.exposure_clock import ClockKind

if TYPE_CHECKING:  # its module brings the workbook's library with it
    from rustboard.report.page_setup import Paper

Part = Literal[
    "summary", "map", "histories", "comparisons", "failing", "value", "exposure", "photos", "treatments", "doubts",
    "graders", "plan", "method", "audit", "data",
]  # fmt: skip
PARTS: Final[tuple[Part, ...]] = (
    "summary", "map", "histories", "comparisons", "failing", "value", "exposure", "photos", "treatments", "doubts",
    "graders", "plan", "method", "audit", "data",
)  # fmt: skip
"""In the order of the report. Cover and contents are in every report."""


@dataclass(frozen=True, slots=True)
class Writing:
    """How numbers and dates are written where the report itself writes them (PDF, pictures, sentences of a workbook).

    Attributes:
        name: what is kept in the settings, such as ``iso``.
        shown: an example for a person: ``2026-03-02, 1234.5``.
        date: of `datetime.strftime`. cell_date: the same as a number format of a workbook.
        decimal: the mark before the fraction. thousands: the mark between groups of three digits, or empty.
    """

    name: str
    shown: str
    date: str
    cell_date: str
    decimal: str
    thousands: str = ""

    def day(self, when: datetime.date) -> str:
        """Return a day as text."""
        return when.strftime(self.date)

    def moment(self, when: datetime.datetime) -> str:
        """Return a day and the time of day, 24 hours."""
        return f"{self.day(when)} {when:%H:%M}"

    def number(self, value: float, places: int) -> str:
        """Return a number with so many places after the decimal mark; a minus is a true minus sign."""
        text = f"{abs(value):,.{places}f}"
        whole, _, fraction = text.partition(".")
        whole = whole.replace(",", self.thousands)
        sign = "−" if value < 0 and any(each in "123456789" for each in text) else ""
        return f"{sign}{whole}{self.decimal}{fraction}" if fraction else f"{sign}{whole}"


WRITINGS: Final[tuple[Writing, ...]] = (
    Writing("iso", "2026-03-02, 1234.5", "%Y-%m-%d", "yyyy-mm-dd", "."),
    Writing("iso comma", "2026-03-02, 1234,5", "%Y-%m-%d", "yyyy-mm-dd", ","),
    Writing("day first", "02/03/2026, 1,234.5", "%d/%m/%Y", "dd/mm/yyyy", ".", ","),
    Writing("month first", "03/02/2026, 1,234.5", "%m/%d/%Y", "mm/dd/yyyy", ".", ","),
    Writing("points", "02.03.2026, 1.234,5", "%d.%m.%Y", "dd.mm.yyyy", ",", "."),
    Writing("spaces", "02/03/2026, 1 234,5", "%d/%m/%Y", "dd/mm/yyyy", ",", "\u202f"),
)
"""Language of numbers and dates; a workbook's cells always show the decimal mark of the reader's own program."""


def writing_named(name: str) -> Writing:
    """Return a way of writing by its name; the first one where there is none of that name."""
    return next((each for each in WRITINGS if each.name == name), WRITINGS[0])


@dataclass(frozen=True, slots=True)
class ReportChoice:
    """What the user chose for a report.

    Attributes:
        parts: those wanted; what a board has nothing for is left out all the same.
        writing: how numbers and dates are written.
        paper: for printing.
        clock: along which the histories are drawn.
    """

    parts: frozenset[Part] = frozenset(PARTS)
    writing: Writing = WRITINGS[0]
    paper: Paper = "A4"
    clock: ClockKind = "days"


@dataclass(frozen=True, slots=True)
class Shop:
    """Whoever makes the report, as the cover shows them.

    Attributes:
        name: of the shop. contact: address, telephone, page; lines kept.
        logo: bytes of a PNG that the program itself made from the user's picture, or empty.
    """

    name: str = ""
    contact: str = ""
    logo: bytes = b""


@dataclass(frozen=True, slots=True)
class ReportPicture:
    """A picture in the report, cut and scaled by the program.

    Attributes:
        image: bytes of a JPEG or PNG. width_px, height_px: its size.
        caption: one line below it. description: what it shows, for those who cannot see it.
    """

    image: bytes
    width_px: int
    height_px: int
    caption: str
    description: str


@dataclass(frozen=True, slots=True)
class PictureMoment:
    """When the board was photographed for one of `ReportPictures.boards`.

    Attributes:
        name: ``start``, ``middle`` or ``end``.
        at: when the photo was taken. day: days of exposure then.
        inspection: key of the last inspection until then, whose grades belong to the pictures; None = none yet.
    """

    name: Literal["start", "middle", "end"]
    at: datetime.datetime
    day: float
    inspection: int | None


@dataclass(frozen=True, slots=True)
class ReportPictures:
    """The pictures of one board for its report.

    Attributes:
        boards: the whole board straightened, at the start, in the middle and at the end; fewer where there are
            fewer photos, and the whole photo where the board's size is not known.
        coupons: coupon pictures by when (index into ``boards``), then key of the coupon.
        photos: day zero, the worst change, the last, and those in between; scaled and captioned.
        moments: of each of ``boards``.
        left_out: a sentence for each photo that should be here and could not be read.
    """

    boards: tuple[ReportPicture, ...] = ()
    coupons: tuple[dict[int, ReportPicture], ...] = ()
    photos: tuple[ReportPicture, ...] = ()
    moments: tuple[PictureMoment, ...] = ()
    left_out: tuple[str, ...] = ()
