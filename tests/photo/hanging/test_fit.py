"""How coupons hang is found again: shifted, turned, standing off the board, in shadow, rusted, dirty."""

import numpy as np
import pytest
from hung_boards import (
    BLACK,
    BLASTED,
    BROWN,
    GREY,
    STEEL,
    WHITE,
    WOOD,
    Hung,
    disc,
    edge_errors_mm,
    grid_of,
    painted,
    rectangle,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.photo.hanging.fit import fit_motions
from rustboard.photo.looks import CouponFrame, Motion
from rustboard.photo.placement import Placement
from rustboard.support.problems import InputError


def panel(x, y):
    return rectangle(x - 28, y - 50, 56, 100)


def strip(x, y):
    return rectangle(x - 7.5, y - 55, 15, 110)


def plate(x, y):
    return ((x - 30, y - 40), (x + 20, y - 50), (x + 32, y + 10), (x + 5, y + 45), (x - 25, y + 38))


def hung_by_chance(shape, seed, colours=(STEEL, BLASTED, BLACK, BROWN), **how):
    random = np.random.default_rng(seed)
    return [
        Hung(
            outline,
            colours[random.integers(len(colours))],
            Motion(*random.uniform(-3, 3, 2), random.uniform(-3, 3)),
            random.uniform(3, 6),
            **how,
        )
        for outline in grid_of(shape)
    ]


def worst_of(scene, found):
    return np.array(
        [np.abs(edge_errors_mm(f, found[f.coupon].motion, scene.motions[f.coupon])).max() for f in scene.frames]
    )


@pytest.mark.parametrize(
    ("shape", "board", "shadow", "dapples"),
    [
        (panel, WOOD, (0.0, 0.0), 0.0),
        (panel, GREY, (3.0, 4.0), 0.4),
        (panel, WHITE, (-2.0, 3.0), 0.0),
        (plate, WOOD, (3.0, 3.0), 0.4),
        (strip, GREY, (0.0, 0.0), 0.0),
        (lambda x, y: disc(x, y, 30), WOOD, (2.0, 3.0), 0.0),
    ],
)
def test_outlines_are_found_within_a_third_of_a_millimetre_where_certain(shape, board, shadow, dapples):
    scene = painted(hung_by_chance(shape, 7), seed=3, board=board, shadow_mm=shadow, dapples=dapples)
    found = fit_motions(scene.rgb, scene.placement, scene.frames)
    certain = np.array([found[f.coupon].certain for f in scene.frames])
    assert certain.mean() >= 0.8
    assert np.quantile(worst_of(scene, found)[certain], 0.95) < 0.3


def test_rust_at_the_edge_and_leaves_across_it_do_not_move_it():
    scene = painted(hung_by_chance(panel, 5, rust=0.15, rusted_edge=True, debris=2), seed=5)
    errors = worst_of(scene, fit_motions(scene.rgb, scene.placement, scene.frames))
    assert np.quantile(errors, 0.9) < 0.4


def test_a_disc_is_never_turned():
    scene = painted(hung_by_chance(lambda x, y: disc(x, y, 30), 2), seed=2)
    assert all(hang.motion.turn_deg == 0 for hang in fit_motions(scene.rgb, scene.placement, scene.frames).values())


@settings(max_examples=4)
@given(dx=st.floats(-4, 4), dy=st.floats(-4, 4), turn=st.floats(-3, 3))
def test_any_small_motion_of_one_coupon_is_found(dx, dy, turn):
    hung = [
        Hung(rectangle(100, 100, 60, 110), STEEL, Motion(dx, dy, turn)),
        Hung(rectangle(300, 100, 60, 110), BROWN),
    ]
    scene = painted(hung, size=(1600, 1200))
    found = fit_motions(scene.rgb, scene.placement, scene.frames)
    assert worst_of(scene, found).max() < 0.35


def test_an_unseen_coupon_stays_where_the_others_let_expect_it():
    hung = hung_by_chance(panel, 4)
    for one in hung:
        one.hang = Motion()
    hung[9].missing = True
    scene = painted(hung, seed=4, board=GREY, grain=0.03, tilt=(12.0, 14.0, 0.0))
    hang = fit_motions(scene.rgb, scene.placement, scene.frames)[9]
    assert not hang.certain
    assert np.abs(edge_errors_mm(scene.frames[9], hang.motion, scene.motions[9])).max() < 1.5


def test_what_hung_askew_before_is_expected_so_again():
    hung = hung_by_chance(panel, 4)
    scene = painted(hung, seed=4, board=GREY, grain=0.03)
    before = {n: hang.motion for n, hang in fit_motions(scene.rgb, scene.placement, scene.frames).items()}
    hung[9].missing = True
    later = painted(hung, seed=4, board=GREY, grain=0.03, tilt=(-5.0, 4.0, 0.0))
    hang = fit_motions(later.rgb, later.placement, later.frames, before)[9]
    assert np.abs(edge_errors_mm(later.frames[9], hang.motion, later.motions[9])).max() < 1.5


def test_a_photo_that_shows_nothing_makes_nothing_certain():
    frames = [CouponFrame(n, "", outline, 5.0) for n, outline in enumerate(grid_of(panel))]
    flat = np.full((600, 800, 3), 128, np.uint8)
    for placement in (
        Placement((1, 0, 10, 0, 1, 10, 0, 0, 1), (800, 600)),
        Placement((1, 0, 5000, 0, 1, 0, 0, 0, 1), (800, 600)),
    ):
        found = fit_motions(flat, placement, frames)
        assert not any(hang.certain for hang in found.values())
        assert all(np.hypot(hang.motion.dx_mm, hang.motion.dy_mm) < 5 for hang in found.values())


def test_no_coupons_need_no_looking():
    assert fit_motions(np.zeros((4, 4, 3), np.uint8), Placement((1, 0, 0, 0, 1, 0, 0, 0, 1), (4, 4)), []) == {}


def test_a_coupon_on_the_horizon_is_refused():
    frames = [CouponFrame(0, "", panel(100, 100), 5.0)]
    with pytest.raises(InputError):
        fit_motions(np.zeros((60, 80, 3), np.uint8), Placement((1, 0, 0, 0, 1, 0, -0.01, 0, 1), (80, 60)), frames)
