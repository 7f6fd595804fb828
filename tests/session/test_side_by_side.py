"""Comparing two by two: what can be compared, which pair comes next, and what comes out."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace
from datetime import timedelta

import pytest
from compared_boards import by_key, comparable, compare, comparison, graded_as
from session_boards import NOW, opened

from rustboard.board.blind import TURNS
from rustboard.board.model import Inspection
from rustboard.board.pair_choice import RUSTIER
from rustboard.operations.blind import BlindChoice, start_blind
from rustboard.operations.coupons import take_off
from rustboard.operations.inspections import add_inspection
from rustboard.operations.side_by_side import GivenChoice, choose, withdraw_choice
from rustboard.session.nameless_pictures import coupons_shown
from rustboard.session.reporting import write_report
from rustboard.session.side_by_side import (
    graders_at,
    has_enough,
    next_pair,
    own_choices,
    pair_request,
    pair_turns,
    refuse_comparing,
    standing,
)
from rustboard.session.side_by_side_order import (
    alike,
    compared_coupons,
    look_again,
    order_of,
    order_request,
    order_sentences,
    reason,
)
from rustboard.support.problems import InputError


@pytest.fixture
def session(tmp_path):
    with closing(comparable(tmp_path / "board")) as session:
        yield session


def refusal(session, inspection) -> str:
    with pytest.raises(InputError) as refused:
        refuse_comparing(session, inspection)
    return refused.value.problem.what


# ---- what can be compared


def test_the_coupons_on_the_board_that_the_photo_shows_are_compared(session):
    photo = session.record.photos[1]
    assert coupons_shown(session.record, photo) == (1, 2, 3, 4, 5, 6)
    session.do(take_off, 6)
    # Columns are 50 mm wide and 1 px a mm: the middle of the fourth is at 175 px.
    assert coupons_shown(session.record, replace(photo, width_px=170)) == (1, 2, 3)
    assert coupons_shown(session.record, replace(photo, width_px=180)) == (1, 2, 3, 4)
    assert coupons_shown(session.record, photo) == (1, 2, 3, 4, 5)
    behind_the_camera = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, -1.0)
    assert coupons_shown(session.record, replace(photo, mm_to_px=behind_the_camera)) == ()


def test_a_board_with_a_photo_is_not_refused(session):
    refuse_comparing(session, session.record.inspections[1])


def test_without_an_inspection_it_says_to_add_one(session):
    assert "add one" in refusal(session, None)


def test_without_a_photo_it_says_to_add_one(session):
    session.do(add_inspection, Inspection(NOW + timedelta(days=1)))
    assert refusal(session, session.record.inspections[2]).startswith("This inspection has no photo; add one")


def test_with_a_photo_in_which_the_board_was_not_found_it_says_where_to_show_it(tmp_path):
    with closing(comparable(tmp_path / "board", placed=False)) as session:
        assert "four corners" in refusal(session, session.record.inspections[1])


def test_with_a_photo_that_is_away_it_says_to_put_it_back(session):
    (session.folder / "photos" / session.record.photos[1].file).unlink()
    assert "put it back" in refusal(session, session.record.inspections[1])


def test_two_coupons_make_no_order(tmp_path):
    with closing(comparable(tmp_path / "board", coupons=2)) as session:
        assert "at least 3 coupons" in refusal(session, session.record.inspections[1])


def test_a_window_that_only_reads_compares_nothing(session):
    with closing(opened(session.folder)) as second:
        assert "only reads" in refusal(second, second.record.inspections[1])


# ---- what comes next


def test_an_interrupted_comparison_goes_on_as_if_nothing_had_been(tmp_path):
    with closing(comparable(tmp_path / "whole")) as session:
        whole = compare(session, comparison(session), 99)
    with closing(comparable(tmp_path / "torn")) as session:
        torn = compare(session, comparison(session), 4)
    more = torn
    while more:  # closed and opened again after every third choice
        with closing(opened(tmp_path / "torn")) as session:
            more = compare(session, comparison(session), 3)
        torn = torn + more
    assert torn == whole


def test_pictures_of_a_pair_are_turned_alike_whenever_it_is_shown(session):
    of = comparison(session)
    request = pair_request(session.record, of)
    pair = next_pair(request)
    with closing(opened(session.folder)) as again:
        assert pair_turns(pair_request(again.record, of), pair) == pair_turns(request, pair)
    many = {pair_turns(replace(request, seed=seed), pair) for seed in range(200)}
    assert len(many) == len(TURNS) ** 2


def test_every_grader_has_pairs_of_his_own_and_does_not_see_those_of_others(session):
    ann, ben = comparison(session), comparison(session, "Ben")
    assert compare(session, ann, 3) != compare(session, ben, 3)
    assert len(own_choices(session.record, ann)) == 3
    assert graders_at(session.record, 1) == [("Ann", 3), ("Ben", 3)]
    assert own_choices(session.record, comparison(session, "ANN")) == own_choices(session.record, ann)


def test_a_choice_taken_back_is_asked_again(session):
    of = comparison(session)
    (*_, last) = compare(session, of, 5)
    session.undo()
    assert tuple(next_pair(pair_request(session.record, of))) == last
    session.redo()
    session.do(withdraw_choice, max(session.record.pair_choices))
    assert tuple(next_pair(pair_request(session.record, of))) == last


@pytest.mark.parametrize("rustier", RUSTIER)
def test_what_follows_an_answer_is_known_before_it_is_written_down(session, rustier):
    of = comparison(session)
    compare(session, of, 2)
    request = pair_request(session.record, of)
    pair = next_pair(request)
    session.do(choose, GivenChoice(1, "Ann", *pair, rustier))
    assert pair_request(session.record, of) == request.after(pair, rustier)


def test_it_ends_and_goes_on_only_when_asked_to(session):
    of = comparison(session)
    asked = compare(session, of, 99)
    done, wanted = standing(session.record, of)
    # n * log2(n) for 6 coupons is 15.5
    assert wanted == 16
    assert done == len(asked) <= wanted
    assert has_enough(session.record, of)
    assert next_pair(pair_request(session.record, of)) is None
    assert next_pair(pair_request(session.record, of, go_on=True)) is not None


def test_twenty_four_coupons_take_about_a_hundred_choices(tmp_path):
    with closing(comparable(tmp_path / "board", coupons=24)) as session:
        of = comparison(session)
        assert 23 <= len(compare(session, of, 500)) <= 111  # 24 * log2(24) is 110.04


# ---- what comes out


def test_the_order_is_that_of_the_choices(session):
    compare(session, comparison(session), 99)
    order = order_of(order_request(session.record, 1))
    assert [each.item for each in order.strengths.order] == [1, 2, 3, 4, 5, 6]
    assert order.contradictions.circles == 0
    assert order.graded is None
    assert "Fewer than two" in order_sentences(session.record, order)[0].text()


def test_choices_of_all_graders_count(session):
    ann, ben = compare(session, comparison(session), 4), compare(session, comparison(session, "Ben"), 5)
    assert len(order_request(session.record, 1).choices) == len(ann) + len(ben)


def test_nothing_compared_has_no_order(session):
    assert order_request(session.record, 1) is None
    assert compared_coupons(session.record) == ()


def test_grades_in_the_same_order_agree_closely(session):
    compare(session, comparison(session), 99)
    graded_as(session, {1: 9, 2: 8, 3: 6, 4: 5, 5: 3, 6: 1})
    order = order_of(order_request(session.record, 1))
    assert order.graded.tau == pytest.approx(1)
    assert order_sentences(session.record, order)[0].text() == "The order by eye and the grades agree closely."
    assert look_again(order) == {}


def test_grades_the_other_way_round_do_not_agree(session):
    compare(session, comparison(session), 99)
    graded_as(session, {1: 1, 2: 3, 3: 5, 4: 6, 5: 8, 6: 9})
    order = order_of(order_request(session.record, 1))
    assert order.graded.tau == pytest.approx(-1)
    assert order_sentences(session.record, order)[0].text().endswith("do not agree.")


def test_a_coupon_graded_out_of_its_place_is_to_be_looked_at_again(session):
    compare(session, comparison(session), 99)
    graded_as(session, {1: 2, 2: 9, 3: 8, 4: 6, 5: 5, 6: 1})
    order = order_of(order_request(session.record, 1))
    again = look_again(order)
    # By its grade of 2 it would be the fifth of six; it was chosen the best.
    assert reason(again[1]).text() == "chosen as less rusted than its grade says, by 4 places"
    assert reason(again[2]).text() == "chosen as more rusted than its grade says, by 1 place"


def test_coupons_that_cannot_be_told_apart_name_one_another(session):
    compare(session, comparison(session), 99, lambda left, right: "neither")
    order = order_of(order_request(session.record, 1))
    assert order.groups == ((1, 2, 3, 4, 5, 6),)
    assert alike(order)[3] == (1, 2, 4, 5, 6)


def test_rows_for_the_workbook_say_place_strength_and_remark(session):
    compare(session, comparison(session), 99)
    graded_as(session, {1: 2, 2: 9, 3: 8})
    rows = compared_coupons(session.record)
    assert [(each.inspection, each.coupon, each.place) for each in rows] == [(1, key, key) for key in range(1, 7)]
    assert all(each.low < each.strength < each.high and each.comparisons for each in rows)
    assert rows[0].remark == "chosen as less rusted than its grade says, by 2 places"


def test_what_is_hidden_is_not_told_by_the_workbook(session):
    compare(session, comparison(session), 99)
    session.do(start_blind, BlindChoice(1, "photo", 1))
    assert compared_coupons(session.record) == ()


def test_the_order_is_in_the_workbook_that_is_written(session, tmp_path):
    from openpyxl import load_workbook

    from rustboard.session.jobs import Progress

    session.do(choose, GivenChoice(1, "Ann", 1, 2, by_key(1, 2)))
    path = write_report(session.record.snapshot(), tmp_path / "out.xlsx", NOW, "Ann", Progress())
    sheet = load_workbook(path)["Side by side"]
    assert [row[2] for row in sheet.iter_rows(min_row=2, values_only=True)] == ["C1", "C2"]
