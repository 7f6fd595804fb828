"""The board as one sees it facing it: every coupon where it hangs, with its grade at one inspection."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Final, NamedTuple

from rustboard.board.grade import GRADES
from rustboard.board.model import Coupon, Grading, Inspection
from rustboard.board.position import Position, row_letters
from rustboard.board.record import BoardRecord
from rustboard.board.zones import zones
from rustboard.report.choice import ReportPicture, Writing
from rustboard.report.content import ReportContent
from rustboard.report.drawings.svg import Drawing, Paper
from rustboard.report.drawings.text_width import fitted
from rustboard.report.last_grades import last_graded
from rustboard.scales import inks
from rustboard.scales.grade_colours import GRADE_COLOURS, ink_on
from rustboard.support.text import counted

NOT_GRADED: Final = "not graded"
EARLIER: Final = "A grade with * is of an earlier inspection."

_HEAD: Final = 16.0
_ZONE: Final = 12.0
_MOST_GAP: Final = 2.5
_LEGEND: Final = 26.0
_WIDEST: Final = 96.0
_OF_TILE: Final = 0.62
_OF_SMALL: Final = 1.5
_OF_PICTURED: Final = 1.25
_LEAST_PICTURED: Final = 40.0
_LEAST_NAMED: Final = 38.0
_PICTURE_TILE: Final = 72.0
_MOST_TOLD: Final = 60


class _Tile(NamedTuple):
    """What a tile shows, and where."""

    x: float
    y: float
    width: float
    height: float
    coupon: Coupon
    treatment: str
    grading: Grading | None
    earlier: bool
    picture: ReportPicture | None


def board_drawing(
    record: BoardRecord,
    writing: Writing,
    *,
    inspection: Inspection | None = None,
    pictures: Mapping[int, ReportPicture] | None = None,
    width: float = 480.0,
    most_height: float = 620.0,
) -> Drawing:
    """Draw the board.

    Args:
        record: the board.
        writing: how dates are written.
        inspection: at which the grades are shown, each coupon's newest until then; None = the last one.
        pictures: of the coupons, by key.
        width: of the drawing in points.
        most_height: of it.
    """
    until = inspection or last_graded(record)
    pictures = pictures or {}
    board = record.board
    columns, rows = max(1, board.columns), max(1, board.rows)
    labels = [[record.axis_label(axis, each) for each in range(count)] for axis, count in _axes(record)]
    left = _HEAD + (_ZONE if any(labels[1]) else 0)
    top = _HEAD + (_ZONE if any(labels[0]) else 0)
    across = min(_WIDEST, (width - left) / columns)
    share = _OF_PICTURED if pictures else _OF_TILE if across >= _LEAST_NAMED else _OF_SMALL
    down = across * share
    down = max(4.0, min(down, (most_height - top - _LEGEND) / rows))
    paper = Paper(left + columns * across + 1, top + rows * down + _LEGEND, size=min(8.5, max(5.0, across * 0.3)))
    _grid(paper, record, labels, left, top, across, down)
    gap = _gap(across, down)
    said: list[str] = []
    any_earlier = False
    for coupon in record.coupons_in_order():
        if coupon.position is None or not board.has(coupon.position):
            continue
        grading = None if until is None else record.latest(coupon.key, until)
        earlier = grading is not None and until is not None and grading.inspection != until.key
        any_earlier |= earlier
        x, y = left + coupon.position.column * across, top + coupon.position.row * down
        given = pictures.get(coupon.key)
        _draw_tile(
            paper,
            _Tile(
                x + gap / 2, y + gap / 2, across - gap, down - gap, coupon, treatment_words(record, coupon),
                grading, earlier, given,
            ),
        )  # fmt: skip
        said.append(f"{coupon.position.label} {coupon.id}: {NOT_GRADED if grading is None else grading.grade}")
    _legend(paper, top + rows * down + 6, any_earlier)
    title = "Board map" if until is None else f"Board map, {writing.moment(until.at)}"
    return paper.drawing(title, _words(record, said, until, writing))


def board_picture(content: ReportContent) -> Drawing:
    """Draw the board as it was last graded, large enough to read every coupon, with pictures if there are."""
    record, pictures = content.record, content.pictures
    moment = pictures.moments[-1] if pictures.moments else None
    inspection = None if moment is None else record.inspections.get(moment.inspection or 0)
    coupons = pictures.coupons[len(pictures.moments) - 1] if inspection and pictures.coupons else {}
    width = max(480.0, record.board.columns * _PICTURE_TILE)
    return board_drawing(
        record, content.choice.writing, inspection=inspection, pictures=coupons, width=width, most_height=6_000
    )


def treatment_words(record: BoardRecord, coupon: Coupon) -> str:
    """Return what a tile says of the treatment."""
    treatment = record.treatment_of(coupon)
    if treatment is None:
        return "control" if coupon.role == "control" else ""
    return f"{treatment.id} control" if coupon.role == "control" else treatment.id


def _gap(across: float, down: float) -> float:
    """Return the room between tiles; small ones stand closer."""
    return min(_MOST_GAP, across * 0.12, down * 0.12)


def _axes(record: BoardRecord) -> tuple[tuple[str, int], tuple[str, int]]:
    return ("column", max(1, record.board.columns)), ("row", max(1, record.board.rows))


def _grid(
    paper: Paper, record: BoardRecord, labels: list[list[str]], left: float, top: float, across: float, down: float
) -> None:
    columns, rows = len(labels[0]), len(labels[1])
    for number in range(columns):
        x = left + (number + 0.5) * across
        paper.text(x, top - 8, str(number + 1), anchor="middle", ink=inks.MUTED, size=min(paper.size, 8), room=across)
    for number in range(rows):
        y = top + (number + 0.5) * down
        paper.text(left - 8, y, row_letters(number), anchor="middle", ink=inks.MUTED, size=min(8, down))
    gap = _gap(across, down)
    taken = {each.position for each in record.coupons.values()}
    for row in range(rows):
        for column in range(columns):
            if Position(row, column) in taken:
                continue
            paper.rect(
                left + column * across + gap / 2, top + row * down + gap / 2, across - gap, down - gap,
                stroke=inks.LINE, line=0.5, radius=2, dash=(3, 3),
            )  # fmt: skip
    for first, last, label in zones(labels[0]):
        middle, wide = left + (first + last + 1) / 2 * across, (last - first + 1) * across
        paper.text(middle, 6, label, anchor="middle", size=7, ink=inks.TEXT, room=wide - 4)
    for first, last, label in zones(labels[1]):
        _upright(paper, 6, top + first * down, (last - first + 1) * down, label)


def _upright(paper: Paper, x: float, top: float, height: float, label: str) -> None:
    """Write the name of a zone of rows along its side."""
    paper.line([(x + 5, top + 3), (x + 5, top + height - 3)], inks.MUTED)
    paper.turned_text(x, top + height / 2, label, room=height - 4, size=7)


def _draw_tile(paper: Paper, tile: _Tile) -> None:
    if tile.picture is not None and tile.height >= _LEAST_PICTURED and tile.width >= _LEAST_NAMED:
        strip = 20.0
        _frame(paper, tile)
        inner = tile.height - strip - 2
        paper.picture(tile.x + 1, tile.y + 1, tile.width - 2, inner, tile.picture.image)
        _caption(paper, tile, tile.y + tile.height - strip, strip)
    elif tile.width >= _LEAST_NAMED and tile.height >= 15:
        _frame(paper, tile)
        _caption(paper, tile, tile.y, tile.height)
    else:
        _small(paper, tile)


def _frame(paper: Paper, tile: _Tile) -> None:
    control = tile.coupon.role == "control"
    paper.rect(
        tile.x, tile.y, tile.width, tile.height, inks.GROUND, stroke=inks.MUTED, line=1.2 if control else 0.6,
        radius=2, dash=(3, 2) if control else (),
    )  # fmt: skip


def _chip(paper: Paper, tile: _Tile, x: float, y: float, width: float, height: float) -> None:
    """Draw the grade on its colour; where there is none, a dash on white."""
    if tile.grading is None:
        paper.rect(x, y, width, height, inks.GROUND, stroke=inks.LINE, line=0.5, radius=1.5)
        paper.text(x + width / 2, y + height / 2, "–", anchor="middle", ink=inks.MUTED, size=min(height, 9))
        return
    colour = GRADE_COLOURS[tile.grading.grade]
    paper.rect(x, y, width, height, colour, stroke=inks.MUTED, line=0.3, radius=1.5)
    shown = f"{tile.grading.grade}{'*' if tile.earlier else ''}"
    size = min(height * 0.72, width * 0.85 / max(1.0, len(shown) * 0.62), 15)
    paper.text(x + width / 2, y + height / 2, shown, anchor="middle", ink=ink_on(colour), size=size, bold=True)


def _caption(paper: Paper, tile: _Tile, top: float, height: float) -> None:
    chip = min(tile.width * 0.34, max(16.0, height))
    _chip(paper, tile, tile.x + 2, top + 2, chip - 2, height - 4)
    room = tile.width - chip - 5
    x = tile.x + chip + 3
    if height < 20:
        paper.text(x, top + height / 2, tile.coupon.id, bold=True, room=room, size=min(paper.size, 7.5))
        return
    big, small = min(paper.size, height / 2.6), min(paper.size * 0.85, height / 3)
    paper.text(x, top + height * 0.32, tile.coupon.id, bold=True, room=room, size=big)
    paper.text(x, top + height * 0.7, tile.treatment, ink=inks.MUTED, room=room, size=small)


def _small(paper: Paper, tile: _Tile) -> None:
    if tile.height < 14 or not fitted(tile.coupon.id, 5, tile.width - 1):
        _chip(paper, tile, tile.x, tile.y, tile.width, tile.height)
        return
    _chip(paper, tile, tile.x, tile.y, tile.width, tile.height - 7)
    paper.text(
        tile.x + tile.width / 2, tile.y + tile.height - 3, tile.coupon.id, anchor="middle", size=5, room=tile.width
    )


def _legend(paper: Paper, top: float, earlier: bool) -> None:
    """Draw the ramp of the grades with its ends in words, as wide as the drawing lets it be."""
    best, worst = "no rust", "over half rusted"
    each = min(15.0, max(7.0, (paper.width - 110) / len(GRADES)))
    x = 2.0
    paper.text(x, top + 6, best, size=7, ink=inks.MUTED)
    x += 32
    for grade in reversed(GRADES):
        colour = GRADE_COLOURS[grade]
        paper.rect(x, top, each - 1, 12, colour, radius=1)
        paper.text(
            x + (each - 1) / 2, top + 6, str(grade), anchor="middle", ink=ink_on(colour), size=min(7, each * 0.6)
        )
        x += each
    paper.text(x + 4, top + 6, worst, size=7, ink=inks.MUTED, room=paper.width - x - 4)
    if earlier and paper.width - x > 240:
        paper.text(paper.width - 2, top + 6, EARLIER, anchor="end", size=7, ink=inks.MUTED)


def _words(record: BoardRecord, said: list[str], until: Inspection | None, writing: Writing) -> str:
    if not said:
        return "The board has no coupons on it yet."
    when = "No coupon has been graded yet." if until is None else f"Grades at {writing.moment(until.at)}."
    board = record.board
    size = f"{counted(board.rows, 'row')} of {counted(board.columns, 'position')}"
    start = f"Map of the board, {size}, as seen facing it; A1 is top left. {when}"
    if len(said) <= _MOST_TOLD:
        return f"{start} {'; '.join(said)}."
    numbers = Counter(each.rpartition(": ")[2] for each in said)
    order = [str(grade) for grade in reversed(GRADES)] + [NOT_GRADED]
    counts = "; ".join(f"grade {each}: {numbers[each]}" for each in order if numbers[each])
    return f"{start} {counted(len(said), 'coupon')}: {counts.replace(f'grade {NOT_GRADED}', NOT_GRADED)}."
