"""Growth orders: which pixel rusts when."""

from typing import get_args

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from rustboard.scales.rust_fields import Distribution, growth_order, rusted, rusted_count

LETTERS = get_args(Distribution)

FIRST = {"S": [1469, 1098, 1623, 1327], "G": [629, 174, 458, 851], "P": [1694, 88, 91, 570]}

letters = st.sampled_from(LETTERS)
seeds = st.integers(-(2**31), 2**31)
percents = st.floats(0, 100)


@st.composite
def surfaces(draw: st.DrawFn) -> NDArray[np.bool_]:
    shape = draw(st.tuples(st.integers(1, 24), st.integers(1, 24)))
    share = draw(st.sampled_from([0.0, 0.05, 0.6, 1.0]))
    return np.random.default_rng(draw(st.integers(0, 999))).random(shape) < share


def whole(height: int, width: int) -> NDArray[np.bool_]:
    return np.ones((height, width), np.bool_)


def spots(mask: NDArray[np.bool_]) -> list[int]:
    """Sizes in pixels of the connected spots (eight neighbours), largest first."""
    left = set(zip(*(axis.tolist() for axis in np.nonzero(mask)), strict=True))
    sizes = []
    while left:
        edge = [left.pop()]
        size = 0
        while edge:
            y, x = edge.pop()
            size += 1
            near = {(y + dy, x + dx) for dy in (-1, 0, 1) for dx in (-1, 0, 1)} & left
            left -= near
            edge.extend(near)
        sizes.append(size)
    return sorted(sizes, reverse=True)


@given(surfaces(), letters, seeds, st.sampled_from([0.0, 1.0]))
def test_every_counted_pixel_has_its_own_rank_and_no_other_has_one(
    counted: NDArray[np.bool_], letter: Distribution, seed: int, edge_weight: float
) -> None:
    order = growth_order(counted.shape, counted, letter, seed, edge_weight=edge_weight)
    assert order.dtype == np.int32
    assert sorted(order[counted].tolist()) == list(range(int(counted.sum())))
    assert (order[~counted] == -1).all()


@given(surfaces(), letters, seeds, percents, percents)
def test_more_percent_only_ever_adds_pixels(
    counted: NDArray[np.bool_], letter: Distribution, seed: int, one: float, other: float
) -> None:
    order = growth_order(counted.shape, counted, letter, seed)
    less, more = (rusted(order, percent) for percent in sorted((one, other)))
    assert not (less & ~more).any()


@given(surfaces(), letters, percents)
def test_exactly_the_stated_percent_rusts_to_the_nearest_pixel(
    counted: NDArray[np.bool_], letter: Distribution, percent: float
) -> None:
    order = growth_order(counted.shape, counted, letter, 1)
    marked = rusted(order, percent)
    assert marked.sum() == rusted_count(order, percent) == round(percent / 100 * counted.sum())
    assert not (marked & ~counted).any()


@given(surfaces(), letters, seeds)
def test_the_same_question_gets_the_same_order(counted: NDArray[np.bool_], letter: Distribution, seed: int) -> None:
    first, again = (growth_order(counted.shape, counted, letter, seed) for _ in range(2))
    assert np.array_equal(first, again)


@pytest.mark.parametrize("letter", LETTERS)
def test_orders_never_change_between_versions(letter: Distribution) -> None:
    # Regression values: a board's drawn pictures must stay what they were.
    first = np.argsort(growth_order((60, 30), whole(60, 30), letter, 5), axis=None)[:4]
    assert first.tolist() == FIRST[letter]


@pytest.mark.parametrize("letter", LETTERS)
def test_another_seed_draws_another_order(letter: Distribution) -> None:
    one, other = (growth_order((60, 30), whole(60, 30), letter, seed) for seed in (1, 2))
    assert not np.array_equal(one, other)


@pytest.mark.parametrize("percent", [0.5, 3, 15])
def test_pinpoint_is_many_specks_spot_few_patches_and_general_between(percent: float) -> None:
    sizes = {
        letter: spots(rusted(growth_order((480, 240), whole(480, 240), letter, 4), percent)) for letter in LETTERS
    }
    assert len(sizes["P"]) > 4 * len(sizes["S"])
    assert len(sizes["G"]) > len(sizes["S"])
    # Most rust in a few places is what the letter S means; G has its largest spots among many, P none that stand out.
    few = {letter: sum(sizes[letter][:7]) / sum(sizes[letter]) for letter in LETTERS}
    assert few["S"] > 0.85
    assert few["S"] > few["G"] > few["P"]
    assert few["P"] < 0.4


def test_general_spots_vary_more_in_size_than_pinpoint_specks() -> None:
    general, pinpoint = (
        np.array(spots(rusted(growth_order((480, 240), whole(480, 240), letter, 4), 3))) for letter in ("G", "P")
    )
    assert general.std() / general.mean() > 2 * pinpoint.std() / pinpoint.mean()


@pytest.mark.parametrize("letter", ["S", "G"])  # specks of P are about a pixel at this size
def test_the_same_surface_drawn_larger_has_about_as_many_large_spots(letter: Distribution) -> None:
    # Nuclei are strewn by cells of whole pixels and dust below a pixel is lost, so the numbers agree only roughly.
    small, large = (
        sum(size > 30 * scale**2 for size in spots(rusted(growth_order(shape, whole(*shape), letter, 4), 10)))
        for scale, shape in ((1, (480, 240)), (2, (960, 480)))
    )
    assert 0.7 < large / small < 1.4


def test_patches_stay_at_their_places_when_the_surface_is_drawn_larger() -> None:
    small, large = (rusted(growth_order(shape, whole(*shape), "S", 4), 20) for shape in ((240, 120), (480, 240)))
    same = large[::2, ::2] == small
    assert same.mean() > 0.95  # two unrelated drawings would agree on 0.68


@pytest.mark.parametrize("letter", LETTERS)
def test_a_weight_on_edges_moves_rust_to_the_edges(letter: Distribution) -> None:
    counted = whole(200, 100)
    rim = counted.copy()
    rim[8:-8, 8:-8] = False

    def share_at_rim(edge_weight: float) -> float:
        shares = []
        for seed in range(6):
            marked = rusted(growth_order((200, 100), counted, letter, seed, edge_weight=edge_weight), 5)
            shares.append(float((marked & rim).sum() / marked.sum()))
        return sum(shares) / len(shares)

    assert share_at_rim(1.0) > 1.3 * share_at_rim(0.0)


def test_coarser_rust_has_fewer_spots() -> None:
    usual, coarse = (
        spots(rusted(growth_order((300, 150), whole(300, 150), "P", 4, coarseness=size), 5)) for size in (1.0, 3.0)
    )
    assert len(coarse) < len(usual) / 2


def test_spots_are_ragged_and_not_discs() -> None:
    marked = rusted(growth_order((480, 240), whole(480, 240), "S", 4), 15)
    rim = marked[1:-1, 1:-1] & ~(marked[:-2, 1:-1] & marked[2:, 1:-1] & marked[1:-1, :-2] & marked[1:-1, 2:])
    # Seven discs of the same whole area would have a rim of about 2 pi r pixels each.
    discs = 7 * 2 * np.pi * (marked.sum() / 7 / np.pi) ** 0.5
    assert rim.sum() > 1.4 * discs


def test_a_surface_of_another_shape_is_our_own_mistake() -> None:
    with pytest.raises(ValueError, match="has shape"):
        growth_order((3, 4), whole(4, 3), "S", 1)
