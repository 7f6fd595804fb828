"""Drawings are well-formed whatever people wrote, say what they show, and stay within their frame."""

from __future__ import annotations

import io
import re
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from page_content import content_of, large_board
from report_boards import HOSTILE, BoardBuilder, door_board, hostile_board, small_board

from rustboard.board.model import Board
from rustboard.board.record import BoardRecord
from rustboard.report.choice import WRITINGS
from rustboard.report.drawings.board_drawing import board_drawing, board_picture
from rustboard.report.drawings.failing_drawing import failing_drawings
from rustboard.report.drawings.histories import panels, runs
from rustboard.report.drawings.ranking_drawing import ranking_drawing
from rustboard.report.drawings.svg import Drawing, Paper, number
from rustboard.report.drawings.text_width import fitted, spread_apart, text_width
from rustboard.report.drawings.timeline_drawing import timeline_drawing
from rustboard.report.drawings.value_drawing import value_drawing
from rustboard.report.pages.setting import picture_of
from rustboard.scales.grade_colours import GRADE_COLOURS

SVG = "{http://www.w3.org/2000/svg}"
ISO = WRITINGS[0]


def parsed(drawing: Drawing) -> ElementTree.Element:
    return ElementTree.fromstring(drawing.svg)


def texts(drawing: Drawing) -> list[str]:
    return [each.text or "" for each in parsed(drawing).iter(f"{SVG}text")]


@given(st.text(max_size=60), st.text(max_size=60))
def test_any_text_makes_well_formed_xml(title: str, text: str) -> None:
    paper = Paper(100, 50)
    paper.text(1, 10, text)
    paper.turned_text(1, 10, text, room=40)
    drawing = paper.drawing(title, text)
    root = parsed(drawing)
    assert root.find(f"{SVG}title") is not None
    assert {each.tag for each in root.iter()} <= {f"{SVG}{tag}" for tag in ("svg", "title", "desc", "rect", "text")}


@given(st.floats(allow_nan=True, allow_infinity=True))
def test_every_number_is_one_that_svg_knows(value: float) -> None:
    assert re.fullmatch(r"-?\d+(\.\d{1,2})?", number(value))


@given(st.text(max_size=80), st.floats(min_value=5, max_value=300))
def test_a_fitted_text_is_no_wider_than_its_room(text: str, room: float) -> None:
    assert text_width(fitted(text, 8, room), 8) <= room + 1e-6


@given(st.lists(st.floats(min_value=0, max_value=200), min_size=1, max_size=20))
def test_labels_never_lie_on_one_another_where_there_is_room(wanted: list[float]) -> None:
    places = sorted(spread_apart(wanted, 9.0, 0.0, 200.0))
    assert all(after - before >= 9.0 - 1e-6 for before, after in pairwise(places))
    assert places[0] >= -1e-6
    assert places[-1] <= 200.0 + 1e-6


def test_the_map_has_every_coupon_with_its_grade_as_a_digit_on_its_colour() -> None:
    record = door_board()
    drawing = board_drawing(record, ISO)
    said = texts(drawing)
    for coupon in record.coupons.values():
        assert coupon.id in said
        grading = record.latest(coupon.key)
        assert grading is not None
        assert f"{coupon.position.label} {coupon.id}: {grading.grade}" in drawing.words  # type: ignore[union-attr]
        assert GRADE_COLOURS[grading.grade].encode() in drawing.svg


def test_a_grade_from_before_is_marked() -> None:
    made = BoardBuilder()
    first = made.coupon("C01", "A1")
    second = made.coupon("C02", "A2")
    made.histories([0, 7], {first: [10, 8], second: [9, None]})
    assert "9*" in texts(board_drawing(made.record, ISO))


@pytest.mark.parametrize("record", [large_board(1000, 10), BoardRecord(Board("", 60, 60)), hostile_board()])
def test_a_map_keeps_to_its_height_and_to_its_frame(record: BoardRecord) -> None:
    drawing = board_drawing(record, ISO, width=470, most_height=560)
    assert drawing.height <= 561
    assert drawing.width <= 471
    for each in parsed(drawing).iter(f"{SVG}rect"):
        if each.get("width") != "100%":
            assert float(each.get("x", "0")) + float(each.get("width", "0")) <= drawing.width + 0.1
            assert float(each.get("y", "0")) + float(each.get("height", "0")) <= drawing.height + 0.1


def test_histories_are_steps_and_break_where_a_coupon_was_not_graded() -> None:
    assert runs(((0, 10), (2, 8), None, (5, 7))) == [[(0, 10), (2, 10), (2, 8)], [(5, 7)]]


def test_each_family_is_a_panel_with_the_controls_behind() -> None:
    found = panels(content_of(door_board()))
    assert [each.title for each in found] == ["wax", "oil", "film", "conversion"]
    assert all(each.reference is not None for each in found)


def test_the_timeline_names_every_treatment_at_its_line() -> None:
    drawing = timeline_drawing(content_of(door_board()))
    said = texts(drawing)
    for treatment in door_board().treatments.values():
        assert f"{treatment.id} {treatment.name}" in said
        assert treatment.name in drawing.words


def test_drawings_of_the_findings_say_all_names() -> None:
    content = content_of(door_board())
    findings = content.findings
    assert findings is not None
    value = value_drawing(findings, ISO)
    assert value is not None
    drawings = [ranking_drawing(findings, ISO), *failing_drawings(findings, ISO)]
    for line in findings.ranked:
        for drawing in drawings:
            assert line.treatment in texts(drawing)
            assert line.treatment in drawing.words
    for priced in findings.value:
        assert priced.treatment in texts(value)


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_names_stay_text(text: str) -> None:
    made = BoardBuilder(Board(text, rows=1, columns=2))
    coupon = made.coupon(text, "A1", made.treatment("T1", name=text, family=text, cost_per_m2=2.0))
    made.histories([0, 7], {coupon: [10, 8]})
    content = content_of(made.record)
    drawings = [board_picture(content), timeline_drawing(content)]
    if content.findings is not None:
        drawings.append(ranking_drawing(content.findings, ISO))
    for drawing in drawings:
        assert not list(parsed(drawing).iter("tags"))


def test_a_picture_has_the_width_asked_for_and_its_words() -> None:
    from PIL import Image

    content = content_of(small_board())
    drawing = board_picture(content)
    with Image.open(io.BytesIO(picture_of(drawing, 900, content.generated))) as image:
        image.load()
        assert image.width == pytest.approx(900, abs=1)
        assert "C01" in image.info["Description"]
    root = ElementTree.fromstring(drawing.at_width(900))
    assert root.get("width") == "900"
