"""The map of the board: an overview on one page, and sheets at true scale to be joined and drilled by."""

from __future__ import annotations

from typing import Final

from rustboard.board.record import BoardRecord
from rustboard.report.paper import sentences
from rustboard.report.paper.choice import PaperChoice
from rustboard.report.paper.coupon_drawing import (
    View,
    drill_mark,
    map_words,
    outline_shape,
    words_area,
)
from rustboard.report.paper.hung import EDGE_MM, Hung, MapContent, map_content, marker_area
from rustboard.report.paper.overview import grid_overview, overview
from rustboard.report.paper.paper_sizes import Paper
from rustboard.report.paper.shapes import FAINT, PALE, Area, Box, Line, Shape, Window, Words
from rustboard.report.paper.sheet import Sheet, room
from rustboard.report.paper.tiling import Tile, Tiling, count_tiles, tile

MOST_SHEETS: Final = 120
STRIP_MM: Final = 20.0
"""Below each sheet's part of the board: which part it is."""

_CROSS_MM: Final = 4.0
_LEAST_SEEN_MM: Final = (10.0, 6.0)


def map_sheets(record: BoardRecord, choice: PaperChoice) -> list[Sheet]:
    """Return the overview and, when outlines are known, the sheets at true scale."""
    content = map_content(record, treatments=choice.map_treatments)
    if not content.drawn:
        return [grid_overview(content, choice)]
    paper = _turn_with_fewest(content.region, choice)
    rows, columns = _counted(content.region, paper, choice)
    if rows * columns > MOST_SHEETS:
        too_many = sentences.too_many_sheets(rows * columns, paper.name, MOST_SHEETS)
        return [overview(content, None, choice, [too_many])]
    area = _map_room(paper)
    tiling = tile(content.region, area.width, area.height, choice.sheet_overlap_mm)
    return [
        overview(content, tiling, choice, []),
        *(_sheet(content, tiling, number, paper, choice) for number in range(len(tiling.tiles))),
    ]


def _map_room(paper: Paper) -> Area:
    inside = room(paper, true_scale=True)
    return inside._replace(height=inside.height - STRIP_MM)


def _counted(region: Area, paper: Paper, choice: PaperChoice) -> tuple[int, int]:
    area = _map_room(paper)
    return count_tiles(region, area.width, area.height, choice.sheet_overlap_mm)


def _turn_with_fewest(region: Area, choice: PaperChoice) -> Paper:
    upright, sideways = choice.paper, choice.paper.turned()
    (rows, columns), (turned_rows, turned_columns) = (_counted(region, each, choice) for each in (upright, sideways))
    if rows * columns == turned_rows * turned_columns:
        return sideways if region.width > region.height else upright
    return upright if rows * columns < turned_rows * turned_columns else sideways


def _sheet(content: MapContent, tiling: Tiling, number: int, paper: Paper, choice: PaperChoice) -> Sheet:
    this = tiling.tiles[number]
    area = _map_room(paper)
    seen = Area(area.left, area.top, this.part.width, this.part.height)
    view = View(seen.left, seen.top, this.part.left, this.part.top)
    lines = [*_board_lines(content, view), *_crosses(tiling, this, view)]
    words = _edge_words(content, this.part, view)
    for each in content.drawn:
        if each.bounds is not None and _touches(each, this.part, choice):
            lines += _coupon_lines(each, view, choice)
            words += _coupon_words(each, this.part, tiling.region, view, choice)
    frame = Box(seen, 0.15, FAINT, dashed=True)
    strip = Area(area.left, area.bottom + 2, area.width, STRIP_MM - 2)
    shapes = (Window(seen, tuple(lines)), *words, frame, *_which_part(tiling, this, number, strip))
    return Sheet(paper, sentences.BOARD_MAP, shapes, true_scale=True)


def _touches(coupon: Hung, part: Area, choice: PaperChoice) -> bool:
    assert coupon.bounds is not None
    assert coupon.hole is not None
    x, y = coupon.hole
    reach = choice.hole_mm + 30.0
    return (
        part.overlap(coupon.bounds) is not None
        or part.overlap(Area(x - reach, y - reach, 2 * reach, 2 * reach)) is not None
    )


def _coupon_lines(coupon: Hung, view: View, choice: PaperChoice) -> list[Shape]:
    assert coupon.hole is not None
    return [outline_shape(coupon, view), *drill_mark(*view.point(*coupon.hole), choice.hole_mm)]


def _coupon_words(coupon: Hung, part: Area, region: Area, view: View, choice: PaperChoice) -> list[Shape]:
    """Return the words, in what this sheet shows of their room; a sliver of it stays empty, a neighbour has more."""
    wanted = words_area(coupon, choice.hole_mm, region)
    seen = wanted.overlap(part)
    if seen is None or (seen.width < min(_LEAST_SEEN_MM[0], wanted.width)):
        return []
    if seen.height < min(_LEAST_SEEN_MM[1], wanted.height):
        return []
    return map_words(coupon, view.area(seen), choice.decimal_mark)


def _board_lines(content: MapContent, view: View) -> list[Shape]:
    shapes: list[Shape] = [Box(view.area(content.board), 0.5)]
    shapes += [
        Line(*view.point(content.board.left, height), *view.point(content.board.right, height), 0.4, PALE, True)
        for height in content.drip_edges
    ]
    for marker in content.markers:
        square = view.area(marker_area(marker))
        shapes += [
            Box(square, 0.25),
            Line(square.left, square.top, square.right, square.bottom, 0.1, FAINT),
            Line(square.left, square.bottom, square.right, square.top, 0.1, FAINT),
        ]
    return shapes


def _edge_words(content: MapContent, part: Area, view: View) -> list[Shape]:
    """Return what is written at the board's edge, at drip edges and in the markers, where it is wholly on a sheet."""
    board = content.board
    wanted = [(sentences.BOARD_EDGE, Area(board.left, board.top - EDGE_MM + 0.5, 70.0, 4.5))]
    for height in content.drip_edges:
        left = max(board.left, part.left) + 4
        wanted.append((sentences.DRIP_EDGE, Area(left, height + 0.3, 24.0, 3.6)))
    for marker in content.markers:
        x, y = marker.centre_mm
        wide = min(marker.size_mm - 1, 24.0)
        wanted.append((sentences.marker_here(marker.id), Area(x - wide / 2, y - 2, wide, 4.0)))
    return [
        Words(text, view.area(seen), 3.0, side="left" if text == sentences.BOARD_EDGE else "middle", ink=PALE)
        for text, area in wanted
        if (seen := area.overlap(part)) is not None and seen.width >= 8 and seen.height >= area.height - 0.1
    ]


def _crosses(tiling: Tiling, this: Tile, view: View) -> list[Shape]:
    shapes: list[Shape] = []
    for cross in tiling.crosses:
        if this.part.holds(cross.x, cross.y):
            x, y = view.point(cross.x, cross.y)
            shapes.append(Line(x - _CROSS_MM, y - _CROSS_MM, x + _CROSS_MM, y + _CROSS_MM, 0.15, PALE))
            shapes.append(Line(x - _CROSS_MM, y + _CROSS_MM, x + _CROSS_MM, y - _CROSS_MM, 0.15, PALE))
            shapes.append(Words(str(cross.number), Area(x + 1.2, y - 1.6, 7.0, 3.2), 2.8, ink=PALE))
    return shapes


def _which_part(tiling: Tiling, this: Tile, number: int, strip: Area) -> list[Shape]:
    """Return a small picture of all sheets with this one marked, and its number."""
    region = tiling.region
    scale = min(strip.height / region.height, 60.0 / region.width)
    view = View(strip.left, strip.top, region.left, region.top, scale)
    small = view.area(region)
    shapes: list[Shape] = [Box(view.area(this.part), 0.0, fill=FAINT), Box(small, 0.3)]
    shapes += [Box(view.area(each.part), 0.1, PALE) for each in tiling.tiles]
    words = sentences.sheet_of(number + 1, len(tiling.tiles), this.row, this.column)
    beside = Area(small.right + 4, strip.top, strip.right - small.right - 4, 6.0)
    return [*shapes, Words(words, beside, 4.2, bold=True)]
