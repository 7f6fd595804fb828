"""Painted rust and steel."""

import numpy as np
import pytest

from rustboard.scales.rust_fields import growth_order, rusted
from rustboard.scales.rust_paint import bare_steel, paint_rust

SHAPE = (160, 80)
ORDER = growth_order(SHAPE, np.ones(SHAPE, np.bool_), "G", 3)


@pytest.mark.parametrize("percent", [0, 0.01, 1, 37.5, 100])
def test_exactly_the_rusted_pixels_change(percent: float) -> None:
    ground = np.full((*SHAPE, 3), (40, 90, 160), np.uint8)  # a blue that rust never has
    painted = paint_rust(ground, ORDER, percent, 3)
    assert np.array_equal((painted != ground).any(axis=2), rusted(ORDER, percent))
    assert (ground == (40, 90, 160)).all()


def test_pixels_that_do_not_count_are_never_painted() -> None:
    counted = np.ones(SHAPE, np.bool_)
    counted[:, :20] = False
    ground = bare_steel(SHAPE, 1)
    painted = paint_rust(ground, growth_order(SHAPE, counted, "P", 3), 100, 3)
    assert np.array_equal(painted[:, :20], ground[:, :20])
    assert (painted[:, 20:] != ground[:, 20:]).any(axis=2).all()


@pytest.mark.parametrize("percent", [1, 20, 100])
def test_rust_is_redder_than_green_and_greener_than_blue(percent: float) -> None:
    painted = paint_rust(bare_steel(SHAPE, 1), ORDER, percent, 3)[rusted(ORDER, percent)].astype(int)
    assert (painted[:, 0] > painted[:, 1]).all()
    assert (painted[:, 1] >= painted[:, 2]).all()


def test_the_oldest_rust_is_darker_than_the_youngest() -> None:
    light = paint_rust(bare_steel(SHAPE, 1), ORDER, 100, 3).mean(axis=2)
    oldest, youngest = rusted(ORDER, 10), ~rusted(ORDER, 90)
    assert light[oldest].mean() < 0.6 * light[youngest].mean()


def test_a_patch_darkens_as_more_rusts() -> None:
    first = rusted(ORDER, 1)
    early, late = (paint_rust(bare_steel(SHAPE, 1), ORDER, percent, 3)[first].mean() for percent in (2, 60))
    assert late < early


def test_painting_repeats_for_the_same_seed_and_differs_for_another() -> None:
    ground = bare_steel(SHAPE, 1)
    one, again, other = (paint_rust(ground, ORDER, 40, seed) for seed in (3, 3, 4))
    assert np.array_equal(one, again)
    assert not np.array_equal(one, other)


@pytest.mark.parametrize("shape", [(1, 1), (2, 3), (7, 1), (300, 150)])
def test_bare_steel_of_any_size_is_grey_and_bright(shape: tuple[int, int]) -> None:
    steel = bare_steel(shape, 1)
    assert steel.shape == (*shape, 3)
    assert steel.min() > 120
    assert steel.max() < 225
    assert np.ptp(steel.astype(int), axis=2).max() < 12


def test_brush_lines_run_along_the_height() -> None:
    grey = bare_steel((300, 150), 1)[..., 1].astype(float)
    assert np.abs(np.diff(grey, axis=0)).mean() < 0.7 * np.abs(np.diff(grey, axis=1)).mean()
