"""The whole board on one page: to scale where outlines are known, else as a grid."""

from __future__ import annotations

from typing import Final

from rustboard.board.position import Position
from rustboard.report.paper import sentences
from rustboard.report.paper.choice import PaperChoice
from rustboard.report.paper.coupon_drawing import View, outline_shape, stacked
from rustboard.report.paper.free_place import free_place
from rustboard.report.paper.hung import Hung, MapContent, marker_area
from rustboard.report.paper.paper_sizes import Paper
from rustboard.report.paper.shapes import FAINT, PALE, Area, Box, Line, Polygon, Ring, Shape, Words, extent
from rustboard.report.paper.sheet import Sheet, room
from rustboard.report.paper.tiling import Tiling

_NOTES_MM: Final = 38.0
_LONGEST_BAR_MM: Final = 60.0
_BARS_MM: Final = tuple(float(figure * 10**power) for power in range(6) for figure in (1, 2, 5))
_NUMBERS_MM: Final = (9.0, 7.0, 5.5, 4.5, 3.5, 2.5)
"""Heights of the sheets' numbers: the first for which there is room."""

_SHEETS: Final = "#8c8c8c"
_LETTER_WIDTH: Final = 0.75
_OFF_LINES_MM: Final = 0.5
_DRIP_EDGES_MM: Final = 5.0
_DRIP_SAMPLE_MM: Final = 12.0
_NICE: Final = (1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10)


def overview(content: MapContent, tiling: Tiling | None, choice: PaperChoice, notes: list[str]) -> Sheet:
    """Return the board scaled to fit the paper, with the sheets' frames where there are any."""
    paper = _turned_like(content.region, choice.paper)
    inside = room(paper, true_scale=False)
    drip_mm = _DRIP_EDGES_MM if content.drip_edges else 0.0
    area = inside._replace(height=inside.height - _NOTES_MM - drip_mm)
    denominator = nice_denominator(max(content.region.width / area.width, content.region.height / area.height))
    region = content.region
    view = View(area.left, area.top, region.left, region.top, 1 / denominator)
    drawn = _to_scale(content, view)
    shapes = [*_frames(tiling, view, drawn), *drawn]
    if tiling is not None:
        notes = [sentences.joining(len(tiling.tiles)), sentences.holes(choice.hole_mm, choice.decimal_mark), *notes]
    shapes += _scale_line(Area(area.left, area.bottom, area.width, 8.0), denominator, choice.decimal_mark)
    if drip_mm:
        shapes += _drip_edges_named(Area(area.left, area.bottom + 8.0, area.width, drip_mm))
    below = Area(area.left, area.bottom + 9.0 + drip_mm, area.width, _NOTES_MM - 9.0)
    shapes += _notes(below, [*notes, *_flaws(content)])
    return Sheet(paper, sentences.BOARD_MAP, tuple(shapes))


def nice_denominator(least: float) -> float:
    """Return a round number for the scale 1 : n, not below ``least``."""
    power = 1.0
    while power * _NICE[-1] < least:
        power *= 10
    return next(power * each for each in _NICE if power * each >= least)


def _turned_like(region: Area, paper: Paper) -> Paper:
    return paper.turned() if region.width > region.height else paper


def _to_scale(content: MapContent, view: View) -> list[Shape]:
    shapes: list[Shape] = [Box(view.area(content.board), 0.4)]
    for height in content.drip_edges:
        ends = (*view.point(content.board.left, height), *view.point(content.board.right, height))
        shapes.append(Line(*ends, 0.25, PALE, dashed=True))
    for marker in content.markers:
        square = view.area(marker_area(marker))
        shapes += [Box(square, 0.2, PALE), Words(str(marker.id), square, 4.0, side="middle", ink=PALE)]
    for each in content.drawn:
        shapes += _small_coupon(each, view, content.region)
    return shapes


def _small_coupon(coupon: Hung, view: View, region: Area) -> list[Shape]:
    assert coupon.bounds is not None
    assert coupon.hole is not None
    area = view.area(coupon.bounds)
    x, y = view.point(*coupon.hole)
    inside = area.shrunk(0.4)
    below = max(inside.top, min(y + 1.2, inside.bottom))
    words = inside._replace(top=below, height=inside.bottom - below)
    if words.height < inside.height / 2:
        words = inside
    hole = [Ring(x, y, 0.6, 0.15)] if region.shrunk(1.0 / view.scale).holds(*coupon.hole) else []
    return [outline_shape(coupon, view, 0.2), *hole, *_small_words(coupon, words)]


def _small_words(coupon: Hung, area: Area) -> list[Shape]:
    lines = [(coupon.position, 1.2, True), (coupon.id, 1.0, False)]
    if coupon.treatment:
        lines.append((coupon.treatment, 0.9, False))
    return stacked(lines, area, 3.6) if area.width > 1 and area.height > 1 else []


def _frames(tiling: Tiling | None, view: View, drawn: list[Shape]) -> list[Shape]:
    """Return the sheets' frames, below everything else, and their numbers, beside everything else."""
    if tiling is None or len(tiling.tiles) == 1:
        return []
    frames: list[Shape] = [Box(view.area(each.part), 0.3, FAINT, dashed=True) for each in tiling.tiles]
    between, off_words = _taken(drawn, (Polygon,)), _taken(drawn, ())
    places = [
        _number_place(view.area(tiling.alone(each)).shrunk(_OFF_LINES_MM), _LETTER_WIDTH * digits, between, off_words)
        for digits, each in ((len(str(number)), each) for number, each in enumerate(tiling.tiles, start=1))
    ]
    numbers = [
        Words(str(number), place, place.height, side="middle", bold=True, ink=_SHEETS)
        for number, place in enumerate(places, start=1)
    ]
    return [*frames, *numbers]


def _number_place(inside: Area, wide: float, between: list[Area], off_words: list[Area]) -> Area:
    """Return where a number goes: between coupons, else off their words; in the corner when there is no room at all.

    Args:
        inside: what only this sheet shows.
        wide: how wide the number is for its height.
        between: what is taken where the number is not to lie on coupons.
        off_words: what is taken where it may.
    """
    for taken in (between, off_words):
        near = [each for each in taken if each.overlap(inside) is not None]
        for high in _NUMBERS_MM:
            place = free_place(inside, high * wide, high, near)
            if place is not None:
                return place
    high = _NUMBERS_MM[-1]
    return Area(inside.left, inside.top, min(high * wide, inside.width), min(high, inside.height))


def _taken(drawn: list[Shape], whole: tuple[type[Shape], ...]) -> list[Area]:
    """Return what numbers must keep off, with a little air: words, lines and rings, and of these kinds the inside."""
    areas: list[Area] = []
    for each in drawn:
        area = extent(each)
        if isinstance(each, (Words, Ring, Line, *whole)):
            areas.append(area)
        else:
            areas += _edges(area)
    return [each.shrunk(-_OFF_LINES_MM) for each in areas]


def _edges(area: Area) -> list[Area]:
    lying, standing = area._replace(height=0.0), area._replace(width=0.0)
    return [lying, lying._replace(top=area.bottom), standing, standing._replace(left=area.right)]


def _drip_edges_named(area: Area) -> list[Shape]:
    left, middle = area.left, area.middle[1]
    words = Area(left + _DRIP_SAMPLE_MM + 2, area.top, area.width - _DRIP_SAMPLE_MM - 2, area.height)
    sample = Line(left, middle, left + _DRIP_SAMPLE_MM, middle, 0.25, PALE, dashed=True)
    return [sample, Words(sentences.DRIP_EDGES, words, 3.2)]


def _scale_line(area: Area, denominator: float, mark: str) -> list[Shape]:
    """Return the scale in words, and a bar of a round length on the board."""
    words = Words(sentences.scale(denominator, mark), area._replace(width=40.0), 4.2, bold=True)
    length = max(each for each in _BARS_MM if each / denominator <= _LONGEST_BAR_MM)
    left, middle = area.left + 44.0, area.middle[1]
    on_paper = length / denominator
    ends = (
        Line(left, middle - 1.5, left, middle + 1.5, 0.3),
        Line(left + on_paper, middle - 1.5, left + on_paper, middle + 1.5, 0.3),
    )
    caption = Area(left + on_paper + 2, area.top, 60.0, area.height)
    bar = Line(left, middle, left + on_paper, middle, 0.3)
    return [words, bar, *ends, Words(sentences.on_board(length), caption, 3.2)]


def _notes(area: Area, notes: list[str]) -> list[Shape]:
    return [Words("\n".join(notes), area, 3.4, wrapped=True)] if notes else []


def _flaws(content: MapContent) -> list[str]:
    """Return what the map cannot show, in sentences."""
    flaws = []
    without = [each.id for each in content.coupons if each.bounds is None]
    if without:
        flaws.append(sentences.without_outline(without))
    beyond = [
        each.position for each in content.drawn if each.hole is not None and not content.board.holds(*each.hole)
    ]
    if beyond:
        flaws.append(sentences.beyond_edge(beyond))
    if not content.size_known:
        flaws.append(sentences.NO_BOARD_SIZE)
    return flaws


def grid_overview(content: MapContent, choice: PaperChoice) -> Sheet:
    """Return the positions as a grid, for a board of which no outline is known."""
    paper = choice.paper.turned() if content.columns > content.rows else choice.paper
    inside = room(paper, true_scale=False)
    sentence = sentences.NO_OUTLINES if content.coupons else sentences.NO_COUPONS
    area = inside._replace(height=inside.height - 20.0)
    wide, high = area.width / content.columns, min(area.height / content.rows, 60.0)
    shapes: list[Shape] = []
    at = {each.position: each for each in content.coupons}
    for row in range(content.rows):
        for column in range(content.columns):
            cell = Area(area.left + column * wide, area.top + row * high, wide, high)
            shapes += _cell(cell, at.get(Position(row, column).label), Position(row, column).label)
    shapes.append(Words(sentence, Area(area.left, area.bottom + 3, area.width, 17.0), 3.8, wrapped=True))
    return Sheet(paper, sentences.BOARD_MAP, tuple(shapes))


def _cell(cell: Area, coupon: Hung | None, label: str) -> list[Shape]:
    frame = Box(cell.shrunk(min(cell.width, cell.height) * 0.04), 0.2, PALE)
    if coupon is None:
        words = Words(label, frame.area.shrunk(0.3), 2.6, side="middle", ink=PALE)
        return [frame, words]
    return [frame, *_small_words(coupon, frame.area.shrunk(0.5))]
