"""Masks packed and unpacked, and a person's brush."""

import numpy as np
import pytest
from drawn_looks import disc, frame_of, surface_of
from hypothesis import given
from hypothesis import strategies as st

from rustboard.photo.judging.masks import Masks, pack, unpack
from rustboard.photo.judging.strokes import Stroke, painted_on, with_strokes
from rustboard.support.problems import InputError

FRAME = frame_of(30, 40)
SURFACE = surface_of(FRAME)
NONE = np.zeros(FRAME.shape, np.bool_)


@given(st.integers(1, 40), st.integers(1, 40), st.integers(0, 2**32 - 1))
def test_masks_come_back_as_they_were(height, width, seed):
    planes = np.random.default_rng(seed).random((3, height, width)) < 0.3
    back = unpack(pack(Masks(*planes)))
    np.testing.assert_array_equal([back.rust, back.debris, back.unseen], planes)


def test_large_quiet_masks_pack_small():
    quiet = np.zeros((600, 300), np.bool_)
    quiet[100:200, 50:80] = True
    assert len(pack(Masks(quiet, ~quiet, quiet & False))) < 2000


@given(st.binary(max_size=60))
def test_strange_bytes_are_refused_in_words(junk):
    with pytest.raises(InputError, match="damaged"):
        unpack(junk)


def test_damaged_masks_are_refused_in_words():
    packed = pack(Masks(SURFACE, NONE, NONE))
    claims_more = packed[:4] + (2**31).to_bytes(4, "little") * 2 + packed[12:]
    for damaged in (packed[:-20], packed[:20] + b"\x07" + packed[21:], b"RBM9" + packed[4:], claims_more):
        with pytest.raises(InputError, match="damaged"):
            unpack(damaged)


def test_a_stroke_covers_the_pixels_within_its_radius_of_its_path():
    under = painted_on((40, 60), [(10.0, 20.0), (50.0, 20.0)], 6.0)
    assert np.count_nonzero(under) == pytest.approx(40 * 12 + np.pi * 36, rel=0.03)
    assert under[20, 5]
    assert not under[20, 2]
    assert not painted_on((40, 60), [(500.0, 20.0)], 6.0).any()


def test_later_strokes_override_earlier_ones_and_masks_stay_apart():
    place = ((35.0, 40.0),)
    adds, removes = Stroke(True, 2.0, place), Stroke(False, 1.0, place)
    dirt = disc(FRAME, 15, 20, 3.0)
    both = with_strokes(Masks(NONE, dirt, ~dirt), [adds, removes], FRAME)
    np.testing.assert_array_equal(both.rust, disc(FRAME, 15, 20, 2.0) & ~disc(FRAME, 15, 20, 1.0))
    assert not (both.rust & both.debris).any()
    assert not (both.rust & both.unseen).any()
    again = with_strokes(Masks(NONE, dirt, ~dirt), [removes, adds], FRAME)
    np.testing.assert_array_equal(again.rust, disc(FRAME, 15, 20, 2.0))


@pytest.mark.parametrize(
    ("radius", "path"),
    [(0.0, ((1.0, 1.0),)), (1.0, ()), (1.0, ((float("nan"), 0.0),)), (float("inf"), ((1.0, 1.0),))],
)
def test_an_impossible_stroke_is_refused(radius, path):
    with pytest.raises(InputError, match="draw it again"):
        Stroke(True, radius, path)
