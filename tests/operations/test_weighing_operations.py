"""Weighed coupons: kept, put right, taken back, refused with a sentence."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from rustboard.board.model import Coupon
from rustboard.board.position import Position
from rustboard.operations.coupons import add_coupon, remove_coupon
from rustboard.operations.weighing import GivenWeighing, note_weighing, withdraw_weighing
from rustboard.support.problems import InputError


@pytest.fixture
def session(session):
    """An open board with one coupon."""
    session.do(add_coupon, Coupon("C1", Position(0, 0)))
    return session


GIVEN = GivenWeighing(1, datetime(2027, 3, 2, 9), 120.5, (119.2, 119.0))


def test_what_a_coupon_weighed_is_kept(session):
    changes = session.do(note_weighing, GIVEN)
    (weighing,) = session.record.weighings.values()
    assert (weighing.coupon, weighing.before_g, weighing.after_g) == (1, 120.5, (119.2, 119.0))
    assert changes.summary.text() == "Weigh C1"


def test_a_corrected_mass_supersedes_the_one_before_and_undo_brings_it_back(session):
    session.do(note_weighing, GIVEN)
    session.do(note_weighing, replace(GIVEN, before_g=121.0))
    (weighing,) = session.record.weighings.values()
    assert (weighing.before_g, weighing.replaces) == (121.0, 1)
    session.undo()
    (weighing,) = session.record.weighings.values()
    assert (weighing.before_g, weighing.key) == (120.5, 1)


def test_the_same_masses_again_change_nothing(session):
    session.do(note_weighing, GIVEN)
    assert session.do(note_weighing, GIVEN).tables == {}


def test_a_weighing_is_taken_back_and_undo_brings_it_back(session):
    session.do(note_weighing, GIVEN)
    session.do(withdraw_weighing, 1)
    assert session.record.weighings == {}
    session.undo()
    assert [each.coupon for each in session.record.weighings.values()] == [1]


def test_nothing_is_taken_back_where_nothing_was_weighed(session):
    with pytest.raises(InputError, match="This coupon was not weighed"):
        session.do(withdraw_weighing, 1)


def test_a_coupon_that_was_weighed_is_not_erased(session):
    session.do(note_weighing, GIVEN)
    with pytest.raises(InputError):
        session.do(remove_coupon, 1)


@pytest.mark.parametrize(("wrong", "sentence"), [
    ({"coupon": 99}, "This coupon is no longer on the board; it may have been taken away by undo."),
    ({"before_g": 0.0}, "A mass is above 0 and at most 100000 g."),
    ({"before_g": float("nan")}, "A mass is above 0 and at most 100000 g."),
    ({"after_g": ()}, "Give at least one mass after cleaning, in grams."),
    ({"after_g": (1.0,) * 51}, "At most 50 cleanings are kept, and of the blank no more than of the coupon itself."),
    ({"blank_after_g": (1.0,)}, "Give the blank's mass before cleaning too, or none of its masses."),
    ({"blank_before_g": 2.0, "blank_after_g": (1.0,) * 3},
     "At most 50 cleanings are kept, and of the blank no more than of the coupon itself."),
    ({"exposed_from": datetime(2028, 1, 1)},
     "The coupon was taken down before its exposure began; check the dates."),
    ({"exposed_to": datetime(1600, 1, 1)}, "The year is between 1900 and 2200; check the dates."),
    ({"thickness_mm": 0.0}, "A thickness is above 0 and at most 1000 mm."),
    ({"area_cm2": -1.0}, "An exposed area is above 0 and at most 100000 cm²."),
    ({"masked_cm2": -1.0}, "A covered area is from 0 to 100000 cm²."),
    ({"density_g_cm3": 0.5}, "A metal's density is from 1 to 25 g/cm³."),
    ({"pits": -1}, "The number of pits is from 0 to 10000000."),
    ({"pits_on_cm2": 0.0}, "The area on which pits were counted is above 0 and at most 100000 cm²."),
    ({"pit_depths_um": (1.0,) * 1001}, "At most 1000 pits are kept one by one; give the deepest."),
    ({"pit_openings_mm2": (-1.0,)}, "The opening of a pit is from 0 to 10000 mm²."),
    ({"pit_depths_um": (float("inf"),)}, "The depth of a pit is from 0 to 50000 µm."),
])  # fmt: skip
def test_what_cannot_be_is_refused_with_a_sentence(session, wrong, sentence):
    with pytest.raises(InputError) as caught:
        session.do(note_weighing, replace(GIVEN, **wrong))
    assert str(caught.value) == sentence
    assert session.record.weighings == {}
