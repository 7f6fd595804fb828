"""Coupons and boards cut from photos."""

import numpy as np
import pytest
from PIL import Image

from rustboard.photo import crops
from rustboard.photo.crops import cut_board, cut_coupon, encode_png
from rustboard.photo.decode import open_upright
from rustboard.photo.homography import as_matrix, mapped
from rustboard.support.problems import InputError

BOX = ((10.0, 20.0), (70.0, 20.0), (70.0, 140.0), (10.0, 140.0))
TWICE = (2.0, 0, 0, 0, 2.0, 0, 0, 0, 1.0)
SLANTED = (2.86, 0.04, 51.0, -0.03, 2.84, 63.0, 1.1e-5, -0.9e-5, 1.0)


def noise_image(width: int, height: int, seed: int = 1) -> Image.Image:
    generator = np.random.default_rng(seed)
    return Image.fromarray(generator.integers(0, 256, (height, width, 3), dtype=np.uint8))


def test_a_cut_at_the_photos_own_resolution_is_the_photos_own_pixels():
    photo = noise_image(300, 400)
    cut = cut_coupon(photo, TWICE, BOX, pixels_per_mm=2.0, margin_mm=5.0)
    assert cut.origin_mm == (5.0, 15.0)
    np.testing.assert_array_equal(cut.rgb, np.asarray(photo)[30:290, 10:150])
    assert int(cut.mask.sum()) == 120 * 240
    assert cut.mask[10:250, 10:130].all()


def test_without_a_wanted_resolution_the_photos_own_is_taken():
    assert cut_coupon(noise_image(300, 400), TWICE, BOX).pixels_per_mm == pytest.approx(2.0)


def test_a_wanted_length_is_met_by_the_longer_side():
    assert max(cut_coupon(noise_image(300, 400), TWICE, BOX, longest_px=96).rgb.shape) == 96


def test_a_smaller_cut_is_the_mean_of_what_it_stands_for():
    checks = (np.indices((400, 300)).sum(axis=0) % 2 * 255).astype(np.uint8)
    photo = Image.fromarray(checks).convert("RGB")
    cut = cut_coupon(photo, TWICE, BOX, pixels_per_mm=0.5, margin_mm=0)
    assert cut.rgb.shape == (60, 30, 3)
    assert np.abs(cut.rgb.astype(int) - 127.5).max() <= 1


def test_a_slanted_view_is_straightened_to_where_things_are_on_the_board():
    photo = np.zeros((700, 500, 3), np.uint8)
    places = [(20.0, 30.0), (60.0, 35.0), (55.0, 130.0), (15.0, 120.0), (40.0, 80.0)]
    for x, y in mapped(as_matrix(SLANTED), places):
        # A square of light around the place; how far inside its pixel the place is, is kept by its two neighbours.
        photo[round(y) - 4 : round(y) + 4, round(x) - 4 : round(x) + 4] = 255
    cut = cut_coupon(Image.fromarray(photo), SLANTED, BOX, pixels_per_mm=4.0)
    for x, y in cut.outline_px(tuple(places)):
        rows, columns = np.nonzero(cut.rgb[int(y) - 12 : int(y) + 13, int(x) - 12 : int(x) + 13, 0] > 127)
        found = (int(x) - 12 + columns.mean() + 0.5, int(y) - 12 + rows.mean() + 0.5)
        # The square sits up to half a photo pixel off the place: 0.7 pixels of this cut.
        assert np.hypot(found[0] - x, found[1] - y) < 1.2


def test_what_the_photo_does_not_show_is_not_part_of_the_coupon():
    photo = Image.new("RGB", (90, 400), (200, 200, 200))
    cut = cut_coupon(photo, TWICE, BOX, pixels_per_mm=2.0, margin_mm=0)
    assert cut.mask[:, :70].all()
    assert not cut.mask[:, 70:].any()


def test_an_absurd_wish_is_cut_down_to_what_a_computer_can_hold(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(crops, "MOST_CUT_PIXELS", 50_000)
    huge = tuple((x * 1000, y * 1000) for x, y in BOX)
    cut = cut_coupon(noise_image(300, 400), TWICE, huge, pixels_per_mm=500.0)
    assert cut.mask.size <= 50_000 * 1.02
    assert cut.pixels_per_mm < 500.0
    assert cut_board(noise_image(30, 40), TWICE, 15, 20, 10**9).size <= 3 * 50_000 * 1.02


@pytest.mark.parametrize("outline", [(), ((1, 1), (2, 2)), ((1, 1), (float("nan"), 2), (3, 3)), ((1, 1),) * 3])
def test_a_coupon_without_extent_is_refused_with_a_sentence(outline):
    with pytest.raises(InputError, match="outline"):
        cut_coupon(noise_image(30, 40), TWICE, outline, margin_mm=0)


def test_a_board_beyond_the_horizon_is_refused_with_a_sentence():
    with pytest.raises(InputError, match="place the photo again"):
        cut_board(noise_image(30, 40), (1, 0, 0, 0, 1, 0, 0, -0.01, 1), 700, 400, 100)


def test_a_straightened_board_keeps_its_proportions():
    board = cut_board(noise_image(2100, 1260), SLANTED, 700, 400, 350)
    assert board.shape == (200, 350, 3)


def test_an_encoded_picture_comes_back_as_it_was():
    rgb = np.asarray(noise_image(33, 21))
    np.testing.assert_array_equal(np.asarray(open_upright(encode_png(rgb))), rgb)
