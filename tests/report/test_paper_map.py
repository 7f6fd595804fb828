"""The board map: sheets that cover the board, drill marks in their places, and honest words where it cannot be."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from paper_boards import all_words, choice, flat, paper_board, texts

from rustboard.report.paper import sentences
from rustboard.report.paper.board_map import MOST_SHEETS
from rustboard.report.paper.document import compose
from rustboard.report.paper.free_place import free_place
from rustboard.report.paper.hung import EDGE_MM
from rustboard.report.paper.overview import nice_denominator
from rustboard.report.paper.paper_sizes import PAPERS, paper_named
from rustboard.report.paper.shapes import Area, Box, Line, Page, Polygon, Ring, Window, Words, extent
from rustboard.report.paper.tiling import tile

lengths = st.floats(1, 1_500)
regions = st.builds(Area, st.floats(-10, 10), st.floats(-10, 10), lengths, lengths)


@given(regions, st.floats(120, 400), st.floats(120, 400), st.floats(10, 50), st.data())
def test_the_sheets_cover_the_board_and_overlap_as_stated(region, width, height, overlap, data):
    tiling = tile(region, width, height, overlap)
    x = data.draw(st.floats(region.left, region.right))
    y = data.draw(st.floats(region.top, region.bottom))
    for point in ((x, y), *region.corners, (region.left, region.bottom), (region.right, region.top)):
        assert any(each.part.shrunk(-1e-9).holds(*point) for each in tiling.tiles)
    for each in tiling.tiles:
        assert region.contains(each.part)
        assert each.part.width <= width + 1e-6
        assert each.part.height <= height + 1e-6
    by_place = {(each.row, each.column): each.part for each in tiling.tiles}
    assert len(by_place) == tiling.rows * tiling.columns
    for (row, column), part in by_place.items():
        if column < tiling.columns:
            assert part.right - by_place[row, column + 1].left == pytest.approx(overlap)
        if row < tiling.rows:
            assert part.bottom - by_place[row + 1, column].top == pytest.approx(overlap)


@given(regions, st.floats(120, 400), st.floats(120, 400), st.floats(10, 50))
def test_every_pair_of_neighbours_shares_two_crosses_in_their_overlap(region, width, height, overlap):
    tiling = tile(region, width, height, overlap)
    shown = {
        (each.row, each.column): {cross.number for cross in tiling.crosses if each.part.holds(cross.x, cross.y)}
        for each in tiling.tiles
    }
    for (row, column), crosses in shown.items():
        for neighbour in ((row, column + 1), (row + 1, column)):
            if neighbour in shown:
                assert len(crosses & shown[neighbour]) >= 2


def holes(pages: tuple[Page, ...]) -> list[Ring]:
    return [each for page in pages[1:] for each in flat(page.shapes) if isinstance(each, Ring)]


@given(
    st.integers(1, 4), st.integers(1, 5), st.floats(30, 250), st.sampled_from(PAPERS), st.floats(2, 20),
    st.floats(15, 50), st.floats(0.5, 12),
)  # fmt: skip
def test_the_drill_mark_of_every_coupon_is_whole_on_some_sheet_with_its_numbers(
    rows, columns, pitch, paper, below_top, overlap, hole
):
    record = paper_board(rows, columns, pitch, (pitch * 0.8, pitch * 0.8), hole_below_top_mm=below_top)
    wanted = choice("map", paper=paper, overlap_mm=overlap, hole_mm=hole)
    pages = compose(record, wanted)
    whole = [holes_on_board(page, pages[1], wanted.sheet_overlap_mm) for page in pages[1:]]
    for coupon in record.coupons.values():
        assert coupon.position is not None
        title = f"{coupon.position.label}  {coupon.id}"
        (left, top), *_ = coupon.outline_mm
        at = pytest.approx((left + pitch * 0.4, top + below_top))
        sheets = [page for page, found in zip(pages[1:], whole, strict=True) if at in found]
        assert sheets, f"{title} has no whole drill mark"
        assert any(title in texts(page) for page in pages[1:]), f"{title} is named nowhere"
        assert any(title in texts(page) for page in sheets), f"{title} is named on no sheet that has its mark"


def holes_on_board(page: Page, first: Page, overlap: float) -> list[tuple[float, float]]:
    """Return where on the board the whole drill marks of a sheet are, from the sheet's own numbering."""
    said = next(each for text in texts(page) if (each := re.fullmatch(r".* of .*, row (.*) column (.*)", text)))
    row, column = int(said[1]), int(said[2])
    (window,) = (each for each in page.shapes if isinstance(each, Window))
    (corner,) = (each.area for each in first.shapes if isinstance(each, Window))
    left = -EDGE_MM + (column - 1) * (corner.width - overlap) - window.area.left
    top = -EDGE_MM + (row - 1) * (corner.height - overlap) - window.area.top
    rings = [each for each in window.shapes if isinstance(each, Ring)]
    return [(each.x + left, each.y + top) for each in rings if window.area.contains(extent(each))]


def test_drill_marks_are_apart_as_on_the_board():
    record = paper_board(1, 2, 90.0, (60.0, 80.0), hole_below_top_mm=7.5)
    pages = compose(record, choice("map", hole_mm=5.0))
    assert len(pages) == 2
    first, second = holes(pages)
    assert (second.x - first.x, second.y - first.y) == pytest.approx((90.0, 0.0))
    assert first.radius == 2.5
    corner = next(each for each in flat(pages[1].shapes) if getattr(each, "line_mm", 0) == 0.5).area
    assert (first.x - corner.left, first.y - corner.top) == pytest.approx((45.0, 5.0 + 7.5))
    assert {"x 45  y 12.5", "x 135  y 12.5"} <= set(texts(pages[1]))


def test_numbers_are_written_with_the_users_decimal_mark():
    pages = compose(paper_board(1, 1, 90.0, hole_below_top_mm=7.5), choice("map", decimal_mark=","))
    assert "x 45  y 12,5" in texts(pages[1])


def test_each_sheet_says_which_part_it_is():
    pages = compose(paper_board(4, 3), choice("map"))
    said = [text for page in pages[1:] for text in texts(page) if " of " in text and "row" in text]
    assert said[0] == f"1 of {len(pages) - 1}, row 1 column 1"
    assert len(set(said)) == len(pages) - 1
    assert any("crosses with the same number" in text for text in texts(pages[0]))


def test_paper_lies_the_way_that_takes_fewer_sheets():
    pages = compose(paper_board(1, 2, 120.0), choice("map"))
    assert len(pages) == 2
    assert pages[1].width_mm > pages[1].height_mm


def test_drip_edges_are_drawn_between_the_rows_when_the_layout_has_them():
    with_edges = compose(paper_board(2, 1, 90.0, (60.0, 80.0), drain="drip edges"), choice("map"))
    without = compose(paper_board(2, 1, 90.0, (60.0, 80.0)), choice("map"))
    assert "drip edge" in texts(with_edges[1])
    assert "drip edge" not in texts(without[1])
    (edge,) = [each for each in flat(with_edges[1].shapes) if isinstance(each, Line) and each.line_mm == 0.4]
    board = next(each for each in flat(with_edges[1].shapes) if getattr(each, "line_mm", 0) == 0.5).area
    assert edge.y - board.top == pytest.approx(90.0)
    assert edge.to_x - edge.x == pytest.approx(90.0)


def test_the_overview_states_a_round_scale_and_keeps_it():
    pages = compose(paper_board(3, 7), choice("map"))
    (scale,) = [text for text in texts(pages[0]) if text.startswith("Scale")]
    denominator = float(scale.removeprefix("Scale 1 : "))
    board = next(each for each in flat(pages[0].shapes) if getattr(each, "line_mm", 0) == 0.4).area
    assert board.width * denominator == pytest.approx(700.0)


@pytest.mark.parametrize("drain", ["none", "drip edges"])
@pytest.mark.parametrize(
    ("rows", "columns", "pitch", "size"), [(3, 7, 100, (60, 80)), (6, 8, 100, (80, 85)), (4, 4, 190, (100, 150))]
)
def test_the_sheets_numbers_are_in_their_frames_beside_all_that_is_drawn(rows, columns, pitch, size, drain):
    pages = compose(paper_board(rows, columns, pitch, size, drain=drain), choice("map"))
    overview = pages[0].shapes
    numbers = [each for each in overview if isinstance(each, Words) and each.bold and each.text.isdigit()]
    frames = [each.area for each in overview if isinstance(each, Box) and each.dashed]
    assert [each.text for each in numbers] == [str(number) for number in range(1, len(pages))]
    assert all(frame.contains(each.area) for frame, each in zip(frames, numbers, strict=True))
    kinds = (Polygon, Ring, Line) if size != (80, 85) else (Ring, Line)  # between those there is no room
    drawn = [extent(each) for each in overview if isinstance(each, kinds)]
    drawn += [each.area for each in overview if isinstance(each, Words) and each not in numbers]
    assert len(drawn) > rows * columns
    assert not any(each.area.overlap(other) for each in numbers for other in drawn)


def test_a_sheet_without_any_room_has_its_number_all_the_same():
    pages = compose(paper_board(4, 5, 100, (100, 100)), choice("map"))
    numbers = [each for each in all_words(pages[0]) if each.bold and each.text.isdigit()]
    assert len(numbers) == len(pages) - 1


def test_the_overview_says_which_lines_are_drip_edges():
    said = sentences.DRIP_EDGES
    assert said in texts(compose(paper_board(2, 3, drain="drip edges"), choice("map"))[0])
    assert said not in texts(compose(paper_board(2, 3), choice("map"))[0])


@st.composite
def rooms_with_things(draw):
    side = st.integers(1, 12)
    things = st.builds(Area, st.integers(-3, 20), st.integers(-3, 20), side, side)
    return Area(0, 0, draw(st.integers(4, 20)), draw(st.integers(4, 20))), draw(st.lists(things, max_size=6))


@given(rooms_with_things(), st.integers(1, 6), st.integers(1, 6))
def test_a_free_place_is_found_when_there_is_one(room_and_things, wide, high):
    room, things = room_and_things
    free = [
        Area(left, top, wide, high)
        for top in range(room.height - high + 1)
        for left in range(room.width - wide + 1)
        if not any(each.overlap(Area(left, top, wide, high)) for each in things)
    ]
    assert free_place(room, wide, high, things) == (free[0] if free else None)


@given(st.floats(0.01, 100_000))
def test_scales_are_round_and_large_enough(least):
    denominator = nice_denominator(least)
    assert denominator >= least
    figures = denominator / 10 ** math.floor(math.log10(denominator))
    assert any(figures == pytest.approx(each) for each in (1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 8))


# ---- what cannot be drawn is said


def without_outlines(*keys: int):
    record = paper_board()
    for key in keys or list(record.coupons):
        record.coupons[key] = replace(record.coupons[key], outline_mm=())
    return record


def test_without_outlines_there_is_a_grid_that_says_it_is_not_to_scale():
    (page,) = compose(without_outlines(), choice("map"))
    assert any(text.startswith("Not to scale.") and "set the coupons out" in text for text in texts(page))
    assert {"A1", "B3", "C01", "C06"} <= set(texts(page))


def test_coupons_without_an_outline_are_named_on_the_overview():
    pages = compose(without_outlines(2, 5), choice("map"))
    assert any("Without an outline, and so not on the drill map: C02, C05." in text for text in texts(pages[0]))


def test_holes_beyond_the_edge_are_named():
    record = paper_board(2, 2, 90.0, (60.0, 80.0), hole_below_top_mm=-20.0)
    pages = compose(record, choice("map"))
    assert any("beyond the board's edge at A1, A2:" in text for text in texts(pages[0]))


def test_a_board_of_unknown_size_says_where_its_map_ends():
    record = paper_board()
    record.board = replace(record.board, width_mm=0.0, height_mm=0.0)
    assert any("width and height are not known" in text for text in texts(compose(record, choice("map"))[0]))


def test_a_board_as_large_as_a_house_is_not_printed_at_true_scale():
    record = paper_board(2, 2, 20_000.0)
    (page,) = compose(record, choice("map"))
    assert any(f"{MOST_SHEETS} are the most" in text for text in texts(page))


def test_words_about_neighbours_do_not_overlap():
    record = paper_board(3, 4, 60.0, (55.0, 55.0))
    for page in compose(record, choice("map", paper=paper_named("A3")))[1:]:
        titles = [each.area for each in all_words(page) if each.bold and each.text[:1] in "ABC"]
        assert not any(one.overlap(other) for n, one in enumerate(titles) for other in titles[n + 1 :])
