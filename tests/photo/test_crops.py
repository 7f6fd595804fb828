"""Photos opened with care, coupons and boards cut from them."""

import io
import struct
import zlib

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from rustboard.photo import crops
from rustboard.photo.crops import (
    MOST_PHOTO_PIXELS,
    cut_board,
    cut_coupon,
    encode_png,
    open_upright,
)
from rustboard.photo.homography import as_matrix, mapped
from rustboard.support.problems import InputError

BOX = ((10.0, 20.0), (70.0, 20.0), (70.0, 140.0), (10.0, 140.0))
TWICE = (2.0, 0, 0, 0, 2.0, 0, 0, 0, 1.0)
SLANTED = (2.86, 0.04, 51.0, -0.03, 2.84, 63.0, 1.1e-5, -0.9e-5, 1.0)


def file_of(image: Image.Image, kind: str = "PNG", **how: object) -> bytes:
    stream = io.BytesIO()
    image.save(stream, kind, **how)
    return stream.getvalue()


def noise_image(width: int, height: int, seed: int = 1) -> Image.Image:
    generator = np.random.default_rng(seed)
    return Image.fromarray(generator.integers(0, 256, (height, width, 3), dtype=np.uint8))


# Where the first row and the first column of the file lie in the upright picture, by orientation value: EXIF 2.3,
# tag Orientation, from memory.
@pytest.mark.parametrize(
    ("orientation", "first_corner", "sideways"),
    [
        (1, ("top", "left"), False),
        (2, ("top", "right"), False),
        (3, ("bottom", "right"), False),
        (4, ("bottom", "left"), False),
        (5, ("top", "left"), True),
        (6, ("top", "right"), True),
        (7, ("bottom", "right"), True),
        (8, ("bottom", "left"), True),
    ],
)
def test_a_photo_is_turned_upright_as_the_camera_held_it(orientation, first_corner, sideways):
    stored = np.zeros((40, 60, 3), np.uint8)
    stored[:10, :10] = 255
    notes = Image.Exif()
    notes[0x0112] = orientation
    upright = np.asarray(open_upright(file_of(Image.fromarray(stored), "JPEG", exif=notes, quality=95)))
    assert upright.shape == ((60, 40, 3) if sideways else (40, 60, 3))
    rows = slice(0, 8) if first_corner[0] == "top" else slice(-8, None)
    columns = slice(0, 8) if first_corner[1] == "left" else slice(-8, None)
    assert upright[rows, columns].min() > 200


@pytest.mark.parametrize("mode", ["L", "LA", "RGBA", "P", "1", "CMYK", "I;16"])
def test_every_kind_of_picture_becomes_red_green_blue(mode):
    if mode == "I;16":
        image = Image.fromarray(np.full((8, 8), 0x8080, np.uint16))
    else:
        image = Image.new("RGB", (8, 8), (128, 128, 128)).convert(
            mode, dither=Image.Dither.NONE, palette=Image.Palette.ADAPTIVE
        )
    opened = open_upright(file_of(image, "TIFF" if mode == "CMYK" else "PNG"))
    expected = 255 if mode == "1" else 128
    assert opened.mode == "RGB"
    assert np.abs(np.asarray(opened).astype(int) - expected).max() <= 2


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF"])
def test_a_file_cut_short_anywhere_is_refused_with_a_sentence(kind):
    whole = file_of(noise_image(64, 48), kind)
    for length in range(0, len(whole) - len(whole) // 20, max(1, len(whole) // 40)):
        with pytest.raises(InputError, match=r"^IMG_1\.jpg: (This is not a picture|The picture is damaged)"):
            open_upright(whole[:length], "IMG_1.jpg")


@pytest.mark.parametrize("data", [b"", b"hello", b"GIF89a" + bytes(40), b"%PDF-1.7", b"%!PS-Adobe-3.0 EPSF-3.0\n"])
def test_what_is_no_photo_is_refused_with_a_sentence(data):
    with pytest.raises(InputError, match="not a picture the program reads"):
        open_upright(data)


hostile = st.lists(st.tuples(st.integers(0, 100_000), st.integers(0, 255)), max_size=12)


@pytest.mark.filterwarnings(
    "ignore:Corrupt EXIF:UserWarning", "ignore:Tag data:UserWarning"
)  # as in the program; the test run sets its own filters
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF"])
@given(changes=hostile)
def test_spoilt_bytes_give_a_picture_or_a_sentence_and_nothing_else(kind, changes):
    notes = Image.Exif()
    notes[0x0112] = 6
    notes[0x010E] = "a made-up board"
    data = bytearray(file_of(noise_image(32, 24), kind, exif=notes))
    for place, value in changes:
        data[place % len(data)] = value
    try:
        mode = open_upright(bytes(data)).mode
    except InputError as error:
        mode = str(error)[-1]
    assert mode in {"RGB", "."}


def png_that_claims(width: int, height: int) -> bytes:
    def chunk(name: bytes, content: bytes) -> bytes:
        return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(bytes(1_000_000))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


@pytest.mark.parametrize("size", [(12_000, 10_001), (20_000, 20_000), (2**31 - 1, 2**31 - 1), (2**31 - 1, 1)])
def test_a_small_file_that_claims_to_be_huge_is_refused_before_it_is_unpacked(size):
    assert size[0] * size[1] > MOST_PHOTO_PIXELS
    with pytest.raises(InputError, match="more than 120 megapixels"):
        open_upright(png_that_claims(*size))


@pytest.mark.filterwarnings("ignore:Corrupt EXIF:UserWarning", "ignore:Tag data:UserWarning")  # as above
def test_a_picture_with_unreadable_notes_about_itself_is_still_a_picture():
    data = file_of(noise_image(16, 16), "JPEG", exif=b"Exif\x00\x00MM\x00*\xff\xff\xff\xff")
    assert open_upright(data).size == (16, 16)


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
