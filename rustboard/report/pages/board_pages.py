"""The board and its course, on pages: the map at start, middle and end, the histories, the photos."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Final, NamedTuple

from rustboard.board.model import Inspection
from rustboard.report.choice import ReportPicture, ReportPictures
from rustboard.report.content import ReportContent
from rustboard.report.drawings.board_drawing import board_drawing
from rustboard.report.drawings.histories import clock_title, panels
from rustboard.report.drawings.timeline_drawing import NOTHING, all_ends, panel_drawing
from rustboard.report.pages.blocks import Book
from rustboard.support.text import counted

MAP_HEIGHT: Final = 560.0
PHOTO_HEIGHT: Final = 300.0
MOST_PHOTOS: Final = 60
MOST_PANELS: Final = 40
_NAMES: Final = {"start": "At the start", "middle": "In the middle", "end": "At the end"}


class MapMoment(NamedTuple):
    """When the map is drawn.

    Attributes:
        name: as a heading. inspection: whose grades are shown; None = none yet.
        coupons: their pictures then. board: a picture of the whole board then, or None.
    """

    name: str
    inspection: Inspection | None
    coupons: Mapping[int, ReportPicture]
    board: ReportPicture | None


def map_moments(content: ReportContent) -> list[MapMoment]:
    """Return when to draw the map: when the board was photographed, or else at its first, middle and last grades."""
    record, pictures = content.record, content.pictures
    if pictures.moments:
        return list(_photographed(content, pictures))
    graded = {key for grades in record.current.values() for key in grades}
    inspections = [each for each in record.inspections_in_order() if each.key in graded]
    if not inspections:
        return [MapMoment("Before the first grades", None, {}, None)]
    first, last = inspections[0], inspections[-1]
    middle = min(inspections, key=lambda each: abs((each.at - first.at) - (last.at - first.at) / 2))
    wanted = (("start", first), ("middle", middle), ("end", last))
    found: list[MapMoment] = []
    for name, each in wanted:
        if all(one.inspection is not each for one in found):
            found.append(MapMoment(_NAMES[name], each, {}, None))
    return found


def _photographed(content: ReportContent, pictures: ReportPictures) -> Iterator[MapMoment]:
    for number, moment in enumerate(pictures.moments):
        inspection = None if moment.inspection is None else content.record.inspections.get(moment.inspection)
        coupons = pictures.coupons[number] if number < len(pictures.coupons) else {}
        board = pictures.boards[number] if number < len(pictures.boards) else None
        yield MapMoment(_NAMES[moment.name], inspection, coupons, board)


def write_maps(book: Book, content: ReportContent) -> None:
    """Write the map at the start, in the middle and at the end, each on a page of its own where it is pictured."""
    if not content.record.coupons:
        return
    record, writing = content.record, content.choice.writing
    book.page()
    book.part("Board map")
    book.lead("The board as seen facing it; A1 is top left. A dashed frame is a control, or an empty place.")
    moments = map_moments(content)
    for moment in moments:
        when = "" if moment.inspection is None else _when(content, moment.inspection.at)
        book.heading(f"{moment.name}{when}")
        drawing = board_drawing(
            record, writing, inspection=moment.inspection or _before(record.inspections_in_order()),
            pictures=moment.coupons, width=book.width, most_height=MAP_HEIGHT,
        )  # fmt: skip
        book.drawing(drawing)
        if moment.board is not None:
            book.picture(moment.board, most_height=PHOTO_HEIGHT)
    off = [each for each in record.coupons.values() if each.position is None]
    if off:
        book.quiet(f"Off the board and not on the map: {counted(len(off), 'coupon')}.")


def _before(inspections: list[Inspection]) -> Inspection:
    """Return an inspection before all others, at which nothing was graded."""
    at = inspections[0].at if inspections else datetime(1, 1, 1)
    return Inspection(at, key=0)


def _when(content: ReportContent, at: datetime) -> str:
    day = content.choice.writing.number(content.record.day_of(at), 0)
    return f", {content.choice.writing.moment(at)} (day {day})"


def write_histories(book: Book, content: ReportContent) -> None:
    """Write the histories: one drawing for each family."""
    book.part("Histories")
    found = panels(content)
    if not found:
        book.text(NOTHING)
        return
    book.lead(
        f"Along {clock_title(content)}. Thick: the mean of a treatment over the coupons graded then; thin: single "
        "coupons; grey and dotted: the controls. A grade is held until the next inspection, and a line breaks where "
        "a coupon was not graded."
    )
    ends = all_ends(found)
    for panel in found[:MOST_PANELS]:
        book.drawing(panel_drawing(content, panel, ends, book.width))
    more = sum(len(each.lines) for each in found[MOST_PANELS:])
    if more:
        book.quiet(f"And {counted(more, 'treatment')} more, which the workbook draws.")


def write_photos(book: Book, content: ReportContent) -> None:
    """Write the photos with their captions."""
    photos, left_out = content.pictures.photos, content.pictures.left_out
    if not photos and not left_out:
        return
    book.part("Photos")
    book.gallery(photos[:MOST_PHOTOS])
    book.list(left_out)
