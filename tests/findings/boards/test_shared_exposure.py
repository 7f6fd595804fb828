"""Boards cut to the exposure that all of them went through."""

import pytest
from several_boards import board, request, texts

from rustboard.findings.boards.matching import suggest
from rustboard.findings.boards.pooled import pooled_findings
from rustboard.findings.boards.shared_exposure import cut_to, reached, shared_place
from rustboard.findings.coupons.subject import subject_of


def long_and_short():
    long = board({"wax": [(10, 9, 6), (9, 9, 5)], "bare": [(8, 4, 1), (8, 5, 0)]}, days=(10, 30, 90), name="Long")
    short = board({"wax": [(10, 9), (10, 8)], "bare": [(7, 4), (8, 5)]}, days=(10, 32), name="Short")
    return [request(long), request(short)]


def test_later_inspections_are_dropped_and_nothing_else():
    long, short = long_and_short()
    assert (reached(long), reached(short)) == (90, 32)
    assert shared_place([long, short]) == 32
    cut = cut_to(long, 32)
    assert cut.clock.places == (10, 30)
    assert subject_of(cut).values == {100: 9, 101: 9, 200: 4, 201: 5}
    assert len(long.record.inspections) == 3  # the board itself stays as it is
    assert cut_to(short, 32) is short


def test_boards_of_different_lengths_are_cautioned_and_no_more_once_cut():
    requests = long_and_short()
    matching = suggest([each.record for each in requests])

    def cautions(requests):
        return texts(pooled_findings([subject_of(each) for each in requests], matching, "control").cautions)

    assert "Short was exposed much shorter than Long (by the clock chosen, 32 against 90): a difference has had " in (
        " ".join(cautions(requests))
    )
    assert not any("much shorter" in each for each in cautions([cut_to(each, 32) for each in requests]))


def test_a_board_cut_before_its_first_inspection_has_no_values():
    long, _ = long_and_short()
    cut = cut_to(long, 5)
    assert reached(cut) == 0
    assert subject_of(cut).values == {}
    assert cut.record.day_zero() == long.record.day_zero()


def test_without_boards_nothing_is_shared():
    assert shared_place([]) == 0


def test_the_clock_of_the_controls_makes_one_history_at_two_speeds_the_same_board():
    history = {"wax": [(10, 9, 8), (10, 9, 7)], "bare": [(8, 6, 4), (8, 6, 4)]}
    slow, fast = board(history, days=(20, 40, 80)), board(history, days=(10, 20, 40))
    asked = [request(each, "mean grade", "controls") for each in (slow, fast)]
    (pooled,) = pooled_findings([subject_of(each) for each in asked], suggest([slow, fast]), "control").pooled
    one, other = pooled.effects
    assert one.difference == pytest.approx(other.difference)
    uneven = board(history, days=(10, 40, 80))
    by_days = [request(each, "mean grade") for each in (slow, uneven)]
    (pooled,) = pooled_findings([subject_of(each) for each in by_days], suggest([slow, uneven]), "control").pooled
    assert pooled.effects[0].difference != pytest.approx(pooled.effects[1].difference)
