"""Pictures made smaller and larger."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.scales.resizing import enlarge, sampled_rows, shrink

sizes = st.integers(1, 30)


@given(sizes, sizes, st.data())
def test_shrinking_keeps_the_mean_colour(height: int, width: int, data: st.DataObject) -> None:
    rgb = np.random.default_rng(1).integers(0, 256, (height, width, 3)).astype(np.uint8)
    small = shrink(rgb, data.draw(st.integers(1, width)), data.draw(st.integers(1, height)))
    # Each pixel is rounded to a whole number, so the mean may be off by half a step at most.
    assert np.abs(small.mean(axis=(0, 1)) - rgb.mean(axis=(0, 1))).max() <= 0.5


def test_each_pixel_is_the_mean_of_its_block_for_a_whole_factor() -> None:
    rgb = np.random.default_rng(2).integers(0, 256, (60, 40, 3)).astype(np.uint8)
    blocks = rgb.reshape(12, 5, 10, 4, 3).mean(axis=(1, 3))
    assert np.array_equal(shrink(rgb, 10, 12), np.rint(blocks).astype(np.uint8))


def test_each_pixel_is_the_mean_of_its_area_for_a_fractional_factor() -> None:
    rgb = np.array([[[0] * 3, [90] * 3, [240] * 3]], np.uint8)
    # Halves of 1.5 pixels: (0 + 90 / 2) / 1.5 and (90 / 2 + 240) / 1.5.
    assert shrink(rgb, 2, 1)[0, :, 0].tolist() == [30, 190]


@pytest.mark.parametrize("place", [(0, 0), (719, 359), (100, 77), (333, 200)])
def test_a_single_dark_pixel_is_never_lost(place: tuple[int, int]) -> None:
    rgb = np.full((720, 360, 3), 200, np.uint8)
    rgb[place] = 0
    # One pixel in 7.2 x 6.9: 200 falls by 200 / 49.7 = 4 in one pixel, or is shared by at most four.
    small = shrink(rgb, 52, 100).astype(int)
    assert 3 <= (200 - small[..., 0]).sum() <= 6


def test_the_same_size_changes_nothing() -> None:
    rgb = np.random.default_rng(3).integers(0, 256, (17, 23, 3)).astype(np.uint8)
    assert np.array_equal(shrink(rgb, 23, 17), rgb)
    assert np.array_equal(enlarge(rgb, 23, 17), rgb)


@pytest.mark.parametrize(("width", "height"), [(0, 5), (5, 0), (11, 5), (5, 9)])
def test_shrinking_to_nothing_or_to_more_is_our_own_mistake(width: int, height: int) -> None:
    with pytest.raises(ValueError, match="cannot shrink 10 x 8"):
        shrink(np.zeros((8, 10, 3), np.uint8), width, height)


def test_enlarging_goes_evenly_from_pixel_to_pixel() -> None:
    rgb = np.array([[[0] * 3, [100] * 3]], np.uint8)
    # Centres of four pixels lie at -0.25, 0.25, 0.75 and 1.25 between the two: the ends stay, the middle is mixed.
    assert enlarge(rgb, 4, 2)[:, :, 1].tolist() == [[0, 25, 75, 100]] * 2


@given(sizes, sizes, st.integers(0, 255))
def test_an_even_picture_stays_even(height: int, width: int, grey: int) -> None:
    rgb = np.full((height, width, 3), grey, np.uint8)
    assert (enlarge(rgb, 2 * width + 1, 3 * height) == grey).all()
    assert (shrink(rgb, max(1, width // 2), 1) == grey).all()


@given(sizes, st.integers(1, 5))
def test_whole_factors_repeat_every_row_alike(size: int, factor: int) -> None:
    assert sampled_rows(size, size * factor).tolist() == np.repeat(np.arange(size), factor).tolist()


@given(sizes, st.integers(1, 200))
def test_sampled_rows_exist_and_never_go_back(size: int, wanted: int) -> None:
    rows = sampled_rows(size, wanted)
    assert len(rows) == wanted
    assert 0 <= rows[0] <= rows[-1] < size
    assert (np.diff(rows) >= 0).all()
