"""Pages for the workshop: what is on them, where, and what must not be."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from paper_boards import MADE_ON, SECRETS, all_words, choice, flat, paper_board, texts
from report_boards import HOSTILE, hostile_board

from rustboard.board.record import BoardRecord
from rustboard.board.setting_out import corner_markers
from rustboard.report.paper.choice import LIMITS, PaperChoice
from rustboard.report.paper.document import compose
from rustboard.report.paper.label_code import label_text
from rustboard.report.paper.paper_sizes import PAPERS, paper_named, usual_paper
from rustboard.report.paper.shapes import Area, Box, Cells, Code, Line, Page, Ring, Words, extent
from rustboard.scales.marker_patterns import MARKER_PATTERNS
from rustboard.support.problems import InputError

LEAST_MARGIN_MM = 5.0  # many printers cannot reach the last 4 to 6 mm (common practice, no source)

numbers = {name: st.floats(low, high) for name, (low, high, _) in LIMITS.items() if name != "visits"}


@st.composite
def boards(draw: st.DrawFn) -> BoardRecord:
    pitch = draw(st.floats(15, 200))
    share = draw(st.floats(0.1, 1.0))
    record = paper_board(
        draw(st.integers(1, 6)),
        draw(st.integers(1, 8)),
        pitch,
        (pitch * share, pitch * draw(st.floats(0.1, 1.0))),
        draw(st.sampled_from(("Harbour", *HOSTILE))),
        drain=draw(st.sampled_from(("none", "drip edges"))),
        hole_below_top_mm=draw(st.floats(-30, 60)),
    )
    if draw(st.booleans()):
        record.board = replace(record.board, width_mm=draw(st.floats(0, 300)), height_mm=draw(st.floats(0, 300)))
    keep = draw(st.integers(0, len(record.coupons)))
    for key in list(record.coupons)[keep:]:
        record.coupons[key] = replace(record.coupons[key], outline_mm=())
    return record


def composed_or_refused(record: BoardRecord, wanted: PaperChoice) -> tuple[Page, ...]:
    """Return the pages; none when something is honestly too large for the paper."""
    try:
        return compose(record, wanted)
    except InputError as error:
        if "does not fit" in str(error):
            return ()
        raise


@given(boards(), st.sampled_from(PAPERS), st.fixed_dictionaries(numbers), st.integers(1, 4), st.booleans())
def test_nothing_is_drawn_where_printers_cannot_reach(record, paper, values, visits, named):
    for kind in ("map", "labels", "markers", "grading"):
        wanted = choice(kind, paper=paper, visits=visits, map_treatments=named, label_treatments=named, **values)
        for page in composed_or_refused(record, wanted):
            inside = Area(0, 0, page.width_mm, page.height_mm).shrunk(LEAST_MARGIN_MM)
            assert {page.width_mm, page.height_mm} == {paper.width_mm, paper.height_mm}
            for shape in page.shapes:
                assert inside.contains(extent(shape)), shape


def test_every_page_says_whose_it_is_what_it_is_and_which():
    pages = compose(paper_board(), PaperChoice(made_on=MADE_ON))
    assert [page.title for page in pages[:1] + pages[-3:]] == [
        "Board map", "Coupon labels", "Corner markers", "Grading sheet",
    ]  # fmt: skip
    for number, page in enumerate(pages, start=1):
        foot = [each.text for each in all_words(page) if each.area.top > page.height_mm - 14]
        assert foot == ["Harbour wall spring", page.title, f"{MADE_ON} · page {number} of {len(pages)}"]


def test_a_page_at_true_scale_carries_a_bar_to_measure():
    for page in compose(paper_board(), choice("map", "labels", "markers"))[1:]:
        assert any("exactly 50 mm" in text for text in texts(page)), page.title


# ---- blind


def leaks(pages: tuple[Page, ...]) -> list[str]:
    return [text for page in pages for text in texts(page) for secret in SECRETS if secret in text or text == "T1"]


def test_treatments_are_named_only_where_that_was_asked_for():
    record = paper_board()
    everything = PaperChoice(made_on=MADE_ON)
    assert leaks(compose(record, everything)) == []
    assert leaks(compose(record, choice("map", map_treatments=True)))
    assert leaks(compose(record, choice("labels", label_treatments=True)))


def test_neither_does_a_choice_for_one_kind_of_sheet_leak_into_another():
    record = paper_board()
    assert leaks(compose(record, choice("labels", "grading", "markers", map_treatments=True))) == []
    assert leaks(compose(record, choice("map", "grading", "markers", label_treatments=True))) == []


def test_the_code_on_a_label_holds_no_treatment():
    assert label_text("Harbour wall spring", "C01") == "RB1|Harbour wall spring|C01"


@pytest.mark.parametrize("text", HOSTILE)
def test_a_code_has_three_parts_and_an_end_whatever_the_names(text):
    written = label_text(f"{text}|{text}", f"|{text}")
    assert written.count("|") == 2
    assert len(written) <= len("RB1||") + 24 + 40
    assert written.isprintable()


# ---- labels


def test_every_coupon_has_one_label():
    record = paper_board(rows=5, columns=9)
    pages = compose(record, choice("labels"))
    found = [text for page in pages for text in texts(page) if re.fullmatch(r"C[0-9]{2}", text)]
    assert found == [each.id for each in record.coupons_in_order()]
    assert sum(isinstance(shape, Code) for page in pages for shape in page.shapes) == 45


def test_labels_do_not_touch_one_another_and_words_keep_off_the_code():
    (page,) = compose(paper_board(), choice("labels"))
    codes = [each.area for each in page.shapes if isinstance(each, Code)]
    words = [each.area for each in all_words(page)]
    assert not any(code.overlap(area) for code in codes for area in words)
    assert not any(one.overlap(other) for n, one in enumerate(codes) for other in codes[n + 1 :])


def test_a_label_that_does_not_fit_is_refused_in_a_sentence():
    with pytest.raises(InputError, match=r"A label of 200 x 190 mm does not fit on Letter"):
        compose(paper_board(), choice("labels", paper=paper_named("Letter"), label_width_mm=200, label_height_mm=190))


# ---- markers


def test_the_four_markers_are_those_of_the_pattern_list_in_the_boards_own_size():
    (page,) = compose(paper_board(), choice("markers", marker_mm=55))
    found = {tuple(each.rows): each for each in page.shapes if isinstance(each, Cells)}
    assert len(found) == 4
    for pattern in MARKER_PATTERNS:
        inside = [row.replace("1", "w").replace("0", "1").replace("w", "0") for row in pattern]
        cells = found["111111", *(f"1{row}1" for row in inside), "111111"]
        assert cells.cell_mm * 6 == pytest.approx(20.0)


def test_white_stays_round_every_marker():
    (page,) = compose(paper_board(), choice("markers"))
    for cells in (each for each in page.shapes if isinstance(each, Cells)):
        rim = extent(cells).shrunk(-cells.cell_mm)
        others = [each for each in page.shapes if each is not cells and not isinstance(each, Box)]
        assert not any(rim.overlap(extent(each)) for each in others)


@pytest.mark.parametrize("size_mm", [20.0, 30.0, 60.0])
def test_the_piece_cut_out_lies_within_the_board_when_its_marker_was_placed(size_mm):
    record = paper_board()
    record.markers = corner_markers(record.board, size_mm)
    (page,) = compose(record, choice("markers"))
    squares = [each for each in page.shapes if isinstance(each, Cells)]
    pieces = [each for each in page.shapes if isinstance(each, Box) and each.dashed]
    for square in squares:
        (piece,) = [each.area for each in pieces if each.area.contains(extent(square))]
        beyond = extent(square).left - piece.left
        assert piece.bottom - extent(square).bottom == pytest.approx(beyond)
        for marker in record.markers:
            edges = [*marker.centre_mm, record.board.width_mm - marker.centre_mm[0]]
            assert min(*edges, record.board.height_mm - marker.centre_mm[1]) - size_mm / 2 >= beyond - 0.001


def test_markers_too_large_for_one_page_take_more_and_then_are_refused():
    record = replace_markers(paper_board())
    assert len(compose(record, choice("markers", marker_mm=90))) == 2
    assert len(compose(record, choice("markers", marker_mm=120))) == 4
    with pytest.raises(InputError, match=r"A marker of 200 mm does not fit on A4"):
        compose(record, choice("markers", marker_mm=200))


def replace_markers(record: BoardRecord) -> BoardRecord:
    record.markers = ()
    return record


# ---- grading sheets


def test_a_grading_sheet_lists_hanging_coupons_in_reading_order():
    record = paper_board()
    record.coupons[2] = replace(record.coupons[2], position=None)
    (page,) = compose(record, choice("grading"))
    ids = [text for text in texts(page) if text.startswith("C0")]
    assert ids == ["C01", "C03", "C04", "C05", "C06"]


@pytest.mark.parametrize("visits", [1, 2, 3, 4])
@pytest.mark.parametrize("paper", PAPERS, ids=[each.name for each in PAPERS])
def test_there_is_room_to_write_by_hand(paper, visits):
    pages = compose(paper_board(rows=6, columns=8), choice("grading", paper=paper, visits=visits))
    boxes = [each.area for page in pages for each in page.shapes if isinstance(each, Box) and each.area.height > 8]
    assert len(boxes) == 48 * 4 * visits
    # 12 x 8 mm for a hand that writes outdoors (own choice, no source).
    assert min(area.width for area in boxes) >= 12
    assert min(area.height for area in boxes) >= 8


@pytest.mark.parametrize("paper", PAPERS, ids=[each.name for each in PAPERS])
def test_rows_are_a_little_lower_where_that_saves_a_page(paper):
    pages_of, heights_of = {}, {}
    for count in range(1, 70):
        pages = compose(paper_board(rows=1, columns=count), choice("grading", paper=paper))
        boxes = [each.area for page in pages for each in page.shapes if isinstance(each, Box)]
        pages_of[count] = len(pages)
        heights_of[count] = {round(each.height, 6) for each in boxes if each.height > 5}
    assert all(len(each) == 1 and 8 <= min(each) <= 9 for each in heights_of.values())
    most = max(count for count, pages in pages_of.items() if pages == 1)
    assert min(heights_of[most]) < 9  # at the usual height the last row would be alone on a second page
    assert heights_of[1] == heights_of[most + 1] == {9.0}


def test_the_limits_on_the_sheet_are_those_of_the_scale():
    (page,) = compose(paper_board(), choice("grading", decimal_mark=","))
    # The upper limits of ASTM D610, table 1, grade 10 first.
    limits = ["to 0,01", "to 0,03", "to 0,1", "to 0,3", "to 1", "to 3", "to 10", "to 16", "to 33", "to 50", "over 50"]
    assert [text for text in texts(page) if text.startswith(("to ", "over "))] == limits


# ---- sizes of paper, numbers


def test_the_usual_paper_of_a_country():
    # Offices use Letter in the United States, Canada and Mexico, A4 nearly everywhere else (from memory).
    assert [usual_paper(each) for each in ("US", "CA", "MX", "DE", "GB", "")] == ["Letter"] * 3 + ["A4"] * 3


@pytest.mark.parametrize("name", LIMITS)
@pytest.mark.parametrize("value", [-1.0, 0.0, 1e6, float("nan"), float("inf")])
def test_a_number_that_cannot_be_is_refused(name, value):
    with pytest.raises(InputError):
        compose(paper_board(), choice("grading", **{name: value}))


def test_a_hostile_board_makes_pages():
    record = hostile_board()
    pages = compose(record, PaperChoice(made_on=MADE_ON))
    assert {page.title for page in pages} == {"Board map", "Coupon labels", "Corner markers", "Grading sheet"}
    for page in pages:
        assert all(text.replace("\n", "").isprintable() for text in texts(page))


def test_nothing_chosen_is_no_pages():
    assert compose(paper_board(), choice()) == ()


def test_shapes_have_the_extent_they_cover():
    assert extent(Line(0, 0, 10, 0, 2)) == Area(-1, -1, 12, 2)
    assert extent(Ring(5, 5, 2, 1)) == Area(2.5, 2.5, 5, 5)
    assert extent(Words("x", Area(1, 2, 3, 4))) == Area(1, 2, 3, 4)
    assert flat((Ring(5, 5, 2),)) == [Ring(5, 5, 2)]
