"""The four squares by which photos of the board are straightened, at their true size, to be cut out."""

from __future__ import annotations

from typing import Final, NamedTuple

from rustboard.board.record import BoardRecord
from rustboard.board.setting_out import CELLS_ACROSS_MARKER, rim_mm
from rustboard.report.paper import sentences
from rustboard.report.paper.choice import PaperChoice
from rustboard.report.paper.paper_sizes import Paper
from rustboard.report.paper.shapes import PALE, Area, Box, Cells, Line, Polygon, Shape, Words
from rustboard.report.paper.sheet import Sheet, dealt, room, scale_bar, upright_scale_bar
from rustboard.scales.marker_patterns import MARKER_PATTERNS
from rustboard.support.problems import InputError

_CAPTION_MM: Final = 3.0
"""Height of what is printed in the outermost strip of the white, so that one square of it stays free all around."""

_ORDER: Final = (0, 1, 3, 2)
"""As the corners lie on the board, in two rows of two."""

BAR_MM: Final = 100.0
_APART_MM: Final = 4.0
_BAR_STRIP_MM: Final = 30.0
_UPRIGHT_BAR_MM: Final = 12.0


class _Plate(NamedTuple):
    """A marker with all that is cut out with it."""

    id: int
    size_mm: float

    @property
    def rim(self) -> float:
        """White on every side, as much as `corner_markers` leaves to the board's edge, so that the piece fits."""
        return rim_mm(self.size_mm)

    @property
    def width(self) -> float:
        """Marker and white."""
        return self.size_mm + 2 * self.rim


def marker_sheets(record: BoardRecord, choice: PaperChoice) -> list[Sheet]:
    """Return pages with the markers 0 to 3: as large as the board's own, or as chosen where it has none.

    Raises:
        InputError: a marker does not fit on the paper.
    """
    sizes = {each.id: each.size_mm for each in record.markers}
    plates = [_Plate(number, sizes.get(number, choice.marker_mm)) for number in _ORDER]
    wide = high = max(each.width for each in plates)
    paper, columns, rows = _arrangement(wide, high, choice)
    if columns * rows == 0:
        largest = max(each.size_mm for each in plates)
        raise InputError(sentences.marker_does_not_fit(largest, choice.paper.name))
    area = _plates_room(paper)
    sheets = []
    for page in dealt(plates, columns * rows):
        shapes = _bars(paper)
        for number, plate in enumerate(page):
            row, column = divmod(number, columns)
            shapes += _plate(plate, area.left + column * (wide + _APART_MM), area.top + row * (high + _APART_MM))
        sheets.append(Sheet(paper, sentences.MARKERS, tuple(shapes), true_scale=True))
    return sheets


def _plates_room(paper: Paper) -> Area:
    inside = room(paper, true_scale=True)
    left = inside.left + _UPRIGHT_BAR_MM
    return Area(left, inside.top + _BAR_STRIP_MM, inside.right - left, inside.height - _BAR_STRIP_MM)


def _arrangement(wide: float, high: float, choice: PaperChoice) -> tuple[Paper, int, int]:
    """Return the turn of the paper that takes more, upright when both do, with columns (at most 2) and rows."""
    best = (choice.paper, 0, 0)
    for paper in (choice.paper, choice.paper.turned()):
        area = _plates_room(paper)
        columns = min(2, int((area.width + _APART_MM) // (wide + _APART_MM)))
        rows = min(2, int((area.height + _APART_MM) // (high + _APART_MM)))
        if columns * rows > best[1] * best[2]:
            best = (paper, columns, rows)
    return best


def _bars(paper: Paper) -> list[Shape]:
    inside = room(paper, true_scale=True)
    left = inside.left + 0.2
    words = Area(left, inside.top + 8, inside.width - 1, 8)
    upright = Area(inside.left + 4, inside.top + _BAR_STRIP_MM, 5.0, BAR_MM)
    return [
        *scale_bar(left, inside.top + 4, BAR_MM),
        Words(sentences.must_measure(BAR_MM), words._replace(height=5.0), 3.4, bold=True),
        Words(sentences.MARKER_ADVICE, words._replace(top=words.top + 6, height=11.0), 3.2, wrapped=True),
        *upright_scale_bar(inside.left + 3, inside.top + _BAR_STRIP_MM, BAR_MM),
        Words(sentences.BAR_HERE_TOO, upright._replace(left=upright.left + 2), 3.0, side="middle", turned=270),
    ]


def _plate(plate: _Plate, left: float, top: float) -> list[Shape]:
    """Return a marker, its white, what stands in the lowest strip of that, and the line to cut along."""
    cut = Area(left, top, plate.width, plate.width)
    line = Area(left + 1, cut.bottom - _CAPTION_MM, plate.width - 2, _CAPTION_MM - 0.5)
    return [
        Box(cut, 0.1, PALE, dashed=True),
        Cells(left + plate.rim, top + plate.rim, plate.size_mm / CELLS_ACROSS_MARKER, framed(plate.id)),
        *_arrow(line.left + 1.2, line),
        Words(sentences.marker_name(plate.id), line._replace(left=line.left + 3, width=line.width - 3), 2.3),
    ]


def _arrow(x: float, line: Area) -> list[Shape]:
    top, bottom = line.top + 0.2, line.bottom - 0.2
    return [
        Line(x, top + 1.0, x, bottom, 0.4),
        Polygon(((x, top), (x - 0.9, top + 1.3), (x + 0.9, top + 1.3)), 0.1, fill="#000000"),
    ]


def framed(number: int) -> tuple[str, ...]:
    """Return a marker's squares with its black frame, ``1`` black."""
    inside = [row.translate(str.maketrans("01", "10")) for row in MARKER_PATTERNS[number]]
    return ("1" * CELLS_ACROSS_MARKER, *(f"1{row}1" for row in inside), "1" * CELLS_ACROSS_MARKER)
