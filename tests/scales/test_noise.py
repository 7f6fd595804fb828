"""Random numbers and noise that every machine draws alike."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.scales.noise import smooth_noise, uniform


@given(st.integers(-(2**40), 2**40), st.integers(0, 10**6), st.integers(0, 9), st.integers(1, 9))
def test_uniform_numbers_have_the_shape_and_lie_from_0_to_below_1(
    seed: int, salt: int, rows: int, columns: int
) -> None:
    numbers = uniform(seed, salt, rows, columns)
    assert numbers.shape == (rows, columns)
    assert numbers.dtype == np.float32
    assert ((numbers >= 0) & (numbers < 1)).all()


def test_the_numbers_of_a_seed_never_change() -> None:
    # Regression values: drawn pictures on users' boards must stay what they were.
    assert (uniform(4, 11, 3) * 2**24).astype(int).tolist() == [13871816, 3354963, 7439401]


def test_seed_salt_and_sign_each_make_another_stream() -> None:
    streams = [uniform(seed, salt, 8).tolist() for seed, salt in ((1, 1), (1, 2), (2, 1), (-1, 1))]
    assert len({tuple(stream) for stream in streams}) == 4


def test_uniform_numbers_are_spread_evenly() -> None:
    counts = np.histogram(uniform(1, 2, 100_000), bins=10, range=(0, 1))[0]
    # Standard deviation of a bin is 95; five of them.
    assert np.abs(counts - 10_000).max() < 475


@given(st.integers(1, 40), st.integers(1, 40), st.floats(0.1, 500), st.integers(0, 99))
def test_noise_of_any_size_fills_its_picture(height: int, width: int, coarsest: float, seed: int) -> None:
    noise = smooth_noise((height, width), coarsest, seed, 5)
    assert noise.shape == (height, width)
    assert np.isfinite(noise).all()


def test_noise_has_about_unit_spread_around_nothing_and_neighbours_are_alike() -> None:
    noise = smooth_noise((400, 300), 32, 3, 5)
    assert abs(float(noise.mean())) < 0.3
    assert 0.6 < float(noise.std()) < 1.6
    steps = np.diff(noise, axis=0)
    assert float(steps.std()) < 0.5 * float(noise.std())


def test_a_rougher_gain_makes_rougher_noise() -> None:
    smooth, rough = (smooth_noise((200, 200), 32, 3, 5, gain) for gain in (0.3, 0.9))
    assert np.diff(rough, axis=0).std() > 3 * np.diff(smooth, axis=0).std()


@pytest.mark.parametrize("coarsest", [1, 8, 64])
def test_noise_repeats_for_the_same_seed_only(coarsest: float) -> None:
    first, again, other = (smooth_noise((30, 50), coarsest, seed, 5) for seed in (1, 1, 2))
    assert np.array_equal(first, again)
    assert not np.array_equal(first, other)
