"""What the timeline shows for which choice."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from pytestqt.qtbot import QtBot

from rustboard.board.model import Coupon, Treatment
from rustboard.board.series import BandSeries, StepSeries
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.operations.treatments import edit_treatment
from rustboard.session.session import Session
from rustboard.ui.theme import SCHEMES
from rustboard.ui.timeline.content import Content, ContentReader, Mode
from rustboard.ui.timeline.line_styles import DASHES, INKS, MOST_TOLD_APART, line_style
from rustboard.ui.timeline.values import spoken_value, summary, value_text

pytestmark = pytest.mark.usefixtures("qtbot")


def read(session: Session, chosen: set[int], mode: Mode = "coupons") -> Content:
    session.selection.choose(chosen)
    return ContentReader().read(session.record, session.selection, mode)


def test_each_chosen_coupon_has_its_own_line(graded_board: Session) -> None:
    content = read(graded_board, {3, 1})
    assert content.title == "2 coupons"
    assert [each.label for each in content.tracks] == ["C01", "C03"]
    assert all(isinstance(each.series, StepSeries) for each in content.tracks)


def test_one_coupon_is_named_with_its_place_and_treatment(graded_board: Session) -> None:
    assert read(graded_board, {3}).title == "B1 · C03 · linseed oil"


def test_with_nothing_chosen_every_treatment_is_shown(graded_board: Session) -> None:
    content = read(graded_board, set())
    assert content.title == "All 2 treatments, medians"
    assert [each.label for each in content.tracks] == ["beeswax blend", "linseed oil"]
    assert all(isinstance(each.series, BandSeries) for each in content.tracks)


def test_two_treatments_are_drawn_with_bands_and_three_without(graded_board: Session) -> None:
    assert all(each.with_band for each in read(graded_board, set(), "treatments").tracks)
    graded_board.do(add_coupon, Coupon("C05", role="control"))
    graded_board.do(grade_coupon, GivenGrade(5, 1, 4, "G"))
    content = read(graded_board, set(), "treatments")
    assert [each.label for each in content.tracks] == ["beeswax blend", "linseed oil", "control, no treatment noted"]
    assert not any(each.with_band for each in content.tracks)


def test_the_treatment_of_a_chosen_coupon_is_shown_with_all_its_coupons(graded_board: Session) -> None:
    content = read(graded_board, {4}, "treatments")
    assert content.title == "linseed oil, median"
    assert [each.coupons for each in content.tracks] == [(3, 4)]


def test_a_treatment_keeps_its_look_when_it_is_shown_alone(graded_board: Session) -> None:
    among_all = read(graded_board, set()).tracks[1]
    alone = read(graded_board, {4}, "treatments").tracks[0]
    assert (among_all.label, among_all.style) == (alone.label, alone.style)


def test_all_treatments_are_shown_whatever_is_chosen_when_that_is_asked_for(graded_board: Session) -> None:
    content = read(graded_board, {4}, "all")
    assert (content.title, content.mode, content.chosen) == ("All 2 treatments, medians", "all", 1)
    assert len(content.tracks) == 2


def test_a_content_says_what_it_shows_and_not_what_was_asked_for(graded_board: Session) -> None:
    assert read(graded_board, set(), "coupons").mode == "all"
    assert read(graded_board, {1}, "coupons").mode == "coupons"
    graded_board.selection.coupons = frozenset({99})  # gone, and the selection not told yet
    content = ContentReader().read(graded_board.record, graded_board.selection, "treatments")
    assert (content.mode, content.chosen) == ("all", 0)


def test_values_are_spoken_in_whole_words(graded_board: Session) -> None:
    content = read(graded_board, set())
    assert [spoken_value(graded_board.record, content, content.tracks[0], at) for at in range(4)] == [
        "median 10, coupons graded: 2",
        "median 9.5, lowest 9, highest 10, coupons graded: 2",
        "median 9, coupons graded: 1 of 2",
        "median 8, lowest 7, highest 9, coupons graded: 2",
    ]
    coupons = read(graded_board, {2})
    assert [spoken_value(graded_board.record, coupons, coupons.tracks[0], at) for at in (1, 2)] == [
        "9-S",
        "not graded",
    ]


def test_the_summary_says_where_coupons_of_a_treatment_were_not_graded(graded_board: Session) -> None:
    said = summary(read(graded_board, set()))
    assert "beeswax blend: 10 on day 0, 9.5 on day 7, 9 on day 14 (1 of 2 coupons), 8 on day 28." in said


def test_values_are_written_as_the_trade_writes_them(graded_board: Session) -> None:
    coupons = read(graded_board, {2})
    assert [value_text(graded_board.record, coupons, coupons.tracks[0], at) for at in range(4)] == [
        "10",
        "9-S",
        "–",
        "7-S",
    ]
    treatments = read(graded_board, set())
    assert [value_text(graded_board.record, treatments, treatments.tracks[0], at) for at in range(4)] == [
        "10 (n 2)",
        "9.5 (9–10, n 2)",
        "9 (n 1 of 2)",
        "8 (7–9, n 2)",
    ]


def test_a_history_is_read_again_only_when_its_coupon_changed(graded_board: Session) -> None:
    reader = ContentReader()
    graded_board.selection.choose({1, 3})
    before = reader.read(graded_board.record, graded_board.selection, "coupons").tracks
    reader.forget(graded_board.do(grade_coupon, GivenGrade(3, 4, 1, "G")))
    after = reader.read(graded_board.record, graded_board.selection, "coupons").tracks
    assert after[0].series is before[0].series
    assert [point.grade for point in after[1].series.points][-1] == 1


def test_a_new_grade_changes_its_treatment_and_no_other(graded_board: Session) -> None:
    reader = ContentReader()
    before = reader.read(graded_board.record, graded_board.selection, "treatments").tracks
    reader.forget(graded_board.do(grade_coupon, GivenGrade(3, 4, 1, "G")))
    after = reader.read(graded_board.record, graded_board.selection, "treatments")
    assert after.tracks[0].series is before[0].series
    assert value_text(graded_board.record, after, after.tracks[1], 3) == "3 (1–5, n 2)"


def test_a_withdrawn_grade_opens_a_gap(graded_board: Session) -> None:
    reader = ContentReader()
    graded_board.selection.choose({3})
    reader.read(graded_board.record, graded_board.selection, "coupons")
    reader.forget(graded_board.do(withdraw_grade, 3, 2))
    assert reader.read(graded_board.record, graded_board.selection, "coupons").tracks[0].series.runs == (
        (0, 0),
        (1, 2),
    )


def test_an_empty_board_says_what_to_do(empty_board: Session, add_coupons: Callable[[], None]) -> None:
    assert "no coupons" in read(empty_board, set()).empty
    add_coupons()
    assert "No inspections yet" in read(empty_board, set()).empty


def test_the_summary_says_the_history_in_words(graded_board: Session) -> None:
    said = summary(read(graded_board, {2}))
    assert "C02: 10 on day 0, 9 on day 7, 7 on day 28." in said


def test_the_summary_of_many_coupons_stays_short(graded_board: Session) -> None:
    for number in range(10, 40):
        graded_board.do(add_coupon, Coupon(f"C{number}", note=""))
    chosen = set(graded_board.record.coupons)
    for key in chosen:
        graded_board.do(grade_coupon, GivenGrade(key, 1, 10))
    said = summary(read(graded_board, chosen))
    assert "And 26 more." in said
    assert len(said) < 1_500


def test_a_hostile_treatment_name_is_shown_safely(graded_board: Session) -> None:
    name = "=HYPERLINK(“x”) \U0001f9ea" + "w" * 400
    graded_board.do(edit_treatment, Treatment("T1", name, key=1))
    label = read(graded_board, set()).tracks[0].label
    assert label.isprintable()
    assert len(label) <= 120


def test_no_two_of_the_first_thirty_two_lines_look_the_same(qtbot: QtBot) -> None:
    count = MOST_TOLD_APART
    looks = {
        (style.ink, style.dash) for number in range(count) for style in [line_style(number, count, SCHEMES["light"])]
    }
    assert len(looks) == INKS * len(DASHES)
    shapes = [line_style(number, INKS, SCHEMES["light"]).symbol for number in range(INKS)]
    assert len(set(shapes)) == INKS
