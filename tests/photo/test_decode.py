"""Photos decoded with care: every kind of file, every way to lie, colours and orientation."""

import io
import struct
import tracemalloc
import zlib

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from picture_files import KINDS, file_of, noise_image, png_chunk, png_file, png_that_claims, tiff_file
from PIL import Image, ImageCms

from rustboard.photo import decode
from rustboard.photo.decode import MOST_PHOTO_PIXELS, open_upright, size_of, upright_pixels
from rustboard.photo.srgb import DISPLAY_P3
from rustboard.support.problems import InputError

quiet = pytest.mark.filterwarnings(
    "ignore:Corrupt EXIF:UserWarning",
    "ignore:Tag data:UserWarning",
    "ignore:Image appears to be a malformed MPO:UserWarning",
    "ignore:Truncated File Read:UserWarning",
    "ignore:Metadata Warning:UserWarning",
    "ignore:Possibly corrupt EXIF:UserWarning",
    "ignore:Invalid APNG:UserWarning",
)  # as in the program; the test run sets its own filters


def turned_notes(orientation: int) -> Image.Exif:
    notes = Image.Exif()
    notes[0x0112] = orientation
    return notes


def one_colour(data: bytes) -> tuple[int, ...]:
    pixels = upright_pixels(data)
    assert (pixels == pixels[0, 0]).all()
    return tuple(pixels[0, 0].tolist())


# Where the first row and the first column of the file lie in the upright picture, by orientation value: EXIF 2.3
# (CIPA DC-008-2012), section 4.6.4, tag Orientation: 1 row top, column left; 2 top, right; 3 bottom, right;
# 4 bottom, left; 5 left, top; 6 right, top; 7 right, bottom; 8 left, bottom.
@pytest.mark.parametrize("kind", KINDS)
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
def test_a_photo_is_turned_upright_as_the_camera_held_it(kind, orientation, first_corner, sideways):
    stored = np.zeros((40, 60, 3), np.uint8)
    stored[:8, :24] = 255  # longer along the first row
    how = {} if kind in {"PNG", "TIFF"} else {"quality": 95}
    data = file_of(Image.fromarray(stored), kind, exif=turned_notes(orientation), **how)
    upright = upright_pixels(data)
    assert upright.shape == ((60, 40, 3) if sideways else (40, 60, 3))
    assert size_of(data) == upright.shape[1::-1]
    down, across = (24, 8) if sideways else (8, 24)
    rows = slice(0, down - 2) if first_corner[0] == "top" else slice(2 - down, None)
    columns = slice(0, across - 2) if first_corner[1] == "left" else slice(2 - across, None)
    assert upright[rows, columns].min() > 200
    assert np.mean(upright > 128) == pytest.approx(8 * 24 / (40 * 60), abs=0.02)
    np.testing.assert_array_equal(np.asarray(open_upright(data)), upright)


@quiet
@pytest.mark.parametrize("orientation", [0, 9, 65_535])
def test_an_orientation_that_there_is_not_counts_as_upright(orientation):
    assert size_of(file_of(noise_image(16, 8), "JPEG", exif=turned_notes(orientation))) == (16, 8)


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


@pytest.mark.parametrize(("colour", "channels"), [(0, 1), (2, 3), (4, 2), (6, 4)])
def test_sixteen_bits_in_a_png_are_scaled_and_not_cut_off(colour, channels):
    # Grey, RGB, grey with alpha, RGB with alpha: PNG specification (ISO/IEC 15948), table 11.1.
    alpha = [0xFFFF] if channels in {2, 4} else []
    values = [0x4000] * (channels - len(alpha)) + alpha
    row = b"\0" + np.array(values * 4, ">u2").tobytes()
    assert one_colour(png_file(4, 3, 16, colour, row * 3)) == (64, 64, 64)


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize(
    ("bits", "photometric", "value", "expected"),
    [((16,), 1, 0x4000, 64), ((16,), 0, 0x4000, 191), ((16, 16, 16), 2, 0xC000, 192)],
)
def test_sixteen_bits_in_a_tiff_are_scaled_and_not_cut_off(order, bits, photometric, value, expected):
    # Photometric interpretation 0: white is zero; 1: black is zero; 2: RGB (TIFF 6.0, section 8).
    if order == ">" and photometric == 0:
        with pytest.raises(InputError, match="not a picture the program reads"):  # the library knows no such file
            open_upright(tiff_of(order, bits, photometric, value))
        return
    assert one_colour(tiff_of(order, bits, photometric, value)) == (expected,) * 3


def tiff_of(order: str, bits: tuple[int, ...], photometric: int, value: int) -> bytes:
    pixels = np.full((4, 6, len(bits)), value, f"{order}u2").tobytes()
    return tiff_file(6, 4, {258: bits, 262: (photometric,), 277: (len(bits),)}, pixels, order)


def test_twelve_bits_are_scaled_by_their_own_white():
    packed = bytes([0xFF, 0xFF, 0xFF]) * 8  # two pixels in three bytes
    assert one_colour(tiff_file(4, 4, {258: (12,), 262: (1,), 277: (1,)}, packed)) == (255, 255, 255)


def test_pixels_of_a_kind_no_camera_writes_are_refused_with_a_sentence():
    data = file_of(Image.fromarray(np.ones((4, 4), np.float32)), "TIFF")
    with pytest.raises(InputError, match=r"^a\.tif: The picture's pixels are of a kind that no camera writes; save"):
        open_upright(data, "a.tif")


def test_what_is_transparent_is_white():
    image = Image.new("RGBA", (8, 8), (200, 0, 0, 0))
    assert one_colour(file_of(image)) == (255, 255, 255)
    image = Image.new("P", (8, 8), 3)
    image.putpalette([0] * 768)
    assert one_colour(file_of(image, transparency=3)) == (255, 255, 255)


def test_a_cmyk_jpeg_is_not_turned_into_its_negative():
    # Such files hold inverted values and say so with a marker of the name Adobe (from memory).
    image = Image.new("CMYK", (16, 16), (0, 255, 255, 0))
    data = file_of(image, "JPEG", quality=95)
    assert b"Adobe" in data
    red, green, blue = one_colour(data)
    assert red > 250
    assert max(green, blue) < 5


def p3_to_srgb(colour: tuple[int, int, int]) -> list[float]:
    """Compute a conversion from the definitions: SMPTE EG 432-1 primaries, IEC 61966-2-1 primaries and curve."""

    def to_xyz(primaries: list[tuple[float, float]]) -> np.ndarray:
        columns = np.array([(x / y, 1, (1 - x - y) / y) for x, y in [*primaries, (0.3127, 0.3290)]]).T
        return columns[:, :3] * np.linalg.solve(columns[:, :3], columns[:, 3])

    p3 = to_xyz([(0.680, 0.320), (0.265, 0.690), (0.150, 0.060)])
    srgb = to_xyz([(0.640, 0.330), (0.300, 0.600), (0.150, 0.060)])
    value = np.array(colour) / 255
    linear = np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)
    linear = np.clip(np.linalg.solve(srgb, p3 @ linear), 0, 1)
    encoded = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)
    return (encoded * 255).tolist()


RUSTS = [(178, 98, 52), (121, 70, 44), (90, 60, 50), (200, 150, 110), (255, 255, 255), (0, 0, 0), (128, 128, 128)]


@pytest.mark.parametrize("colour", RUSTS)
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF", "HEIC"])
def test_the_wide_colours_of_a_phone_become_srgb(kind, colour):
    how = {} if kind in {"PNG", "TIFF"} else {"quality": 100}
    data = file_of(Image.new("RGB", (16, 16), colour), kind, icc_profile=DISPLAY_P3, **how)
    np.testing.assert_allclose(upright_pixels(data)[8, 8], p3_to_srgb(colour), atol=2.5)


def test_wide_colours_that_a_heic_names_by_a_number_become_srgb():
    colour = RUSTS[0]
    image = Image.new("RGB", (16, 16), colour)
    # ITU-T H.273: primaries 12 = SMPTE EG 432-1, transfer 13 = IEC 61966-2-1.
    data = file_of(image, "HEIC", quality=100, color_primaries=12, transfer_characteristic=13)
    np.testing.assert_allclose(upright_pixels(data)[8, 8], p3_to_srgb(colour), atol=2.5)


def test_a_picture_that_is_srgb_already_keeps_its_very_pixels():
    image = noise_image(32, 24)
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    np.testing.assert_array_equal(upright_pixels(file_of(image, icc_profile=srgb)), np.asarray(image))


@pytest.mark.parametrize("profile", [b"no profile", DISPLAY_P3[:200], DISPLAY_P3[:128] + bytes(400)])
def test_a_profile_that_cannot_be_read_is_passed_over(profile):
    image = noise_image(32, 24)
    np.testing.assert_array_equal(upright_pixels(file_of(image, icc_profile=profile)), np.asarray(image))


def test_a_profile_for_other_pixels_is_passed_over():
    image = Image.new("CMYK", (8, 8), (0, 0, 0, 0))
    assert one_colour(file_of(image, "TIFF", icc_profile=DISPLAY_P3)) == (255, 255, 255)


def test_a_grey_picture_with_a_colour_profile_is_read():
    assert one_colour(file_of(Image.new("L", (8, 8), 77), icc_profile=DISPLAY_P3)) == (77, 77, 77)


def first_and_second() -> list[Image.Image]:
    return [Image.new("RGB", (16, 16), (10, 20, 30)), Image.new("RGB", (16, 16), (200, 210, 220))]


@pytest.mark.parametrize(("kind", "how"), [("PNG", {}), ("TIFF", {}), ("MPO", {"quality": 100})])
def test_of_several_pictures_in_a_file_the_first_counts(kind, how):
    first, second = first_and_second()
    data = file_of(first, kind, save_all=True, append_images=[second], **how)
    np.testing.assert_allclose(one_colour(data), (10, 20, 30), atol=2)


def test_of_several_pictures_in_a_heic_the_main_one_counts():
    first, second = first_and_second()
    data = file_of(first, "HEIC", save_all=True, append_images=[second], quality=100)
    np.testing.assert_allclose(one_colour(data), (10, 20, 30), atol=2)


@pytest.mark.parametrize("kind", KINDS)
def test_the_name_does_not_matter(kind):
    assert size_of(file_of(noise_image(32, 16), kind), "IMG_1.bmp") == (32, 16)


@quiet
@pytest.mark.parametrize("kind", KINDS)
def test_a_file_cut_short_anywhere_is_refused_with_a_sentence(kind):
    whole = file_of(noise_image(64, 48), kind)
    for length in range(0, len(whole) - len(whole) // 20, max(1, len(whole) // 40)):
        with pytest.raises(InputError, match=r"^IMG_1\.jpg: (This is not a picture|The picture is damaged)"):
            open_upright(whole[:length], "IMG_1.jpg")


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"hello",
        b"GIF89a" + bytes(40),
        b"%PDF-1.7",
        b"%!PS-Adobe-3.0 EPSF-3.0\n",
        b"\0\0\0\x1cftypavif" + bytes(40),
        b"\0\0\0\x1cftypisom" + bytes(40),
    ],
)
def test_what_is_no_photo_is_refused_with_a_sentence(data):
    with pytest.raises(InputError, match="not a picture the program reads"):
        open_upright(data)


def outcome(data: bytes) -> str:
    """Return what became of bytes: ``uint8`` for pixels, the full stop of a sentence for a refusal."""
    try:
        return str(upright_pixels(data).dtype)
    except InputError as error:
        return str(error)[-1]


WHOLE = {kind: file_of(noise_image(32, 24), kind, exif=turned_notes(6), icc_profile=DISPLAY_P3) for kind in KINDS}
changes = st.lists(st.tuples(st.integers(0, 100_000), st.integers(0, 255)), max_size=12)


@quiet
@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=80)
@given(changes=changes, head=changes)
def test_spoilt_bytes_give_a_picture_or_a_sentence_and_nothing_else(kind, changes, head):
    data = bytearray(WHOLE[kind])
    for place, value in changes:
        data[place % len(data)] = value
    for place, value in head:
        data[place % 600] = value
    assert outcome(bytes(data)) in {"uint8", "."}


STARTS = [
    b"",
    b"\xff\xd8\xff\xe0",
    b"\x89PNG\r\n\x1a\n",
    b"II*\0",
    b"MM\0*",
    b"\0\0\0\x18ftypheic",
    b"\xff\xd8\xff\xe1",
]


@quiet
@given(start=st.sampled_from(STARTS), rest=st.binary(max_size=300))
def test_any_bytes_give_a_picture_or_a_sentence_and_nothing_else(start, rest):
    assert outcome(start + rest) in {"uint8", "."}


@pytest.mark.parametrize("size", [(12_000, 10_001), (20_000, 20_000), (2**31 - 1, 2**31 - 1), (2**31 - 1, 1)])
def test_a_small_file_that_claims_to_be_huge_is_refused_before_it_is_unpacked(size):
    assert size[0] * size[1] > MOST_PHOTO_PIXELS
    with pytest.raises(InputError, match="more than 120 megapixels"):
        open_upright(png_that_claims(*size))


@pytest.mark.parametrize("size", [(32_001, 3), (3, 32_001)])
def test_a_picture_longer_than_its_places_can_be_taken_from_is_refused(size):
    with pytest.raises(InputError, match="more than 32,000 pixels along a side"):
        open_upright(png_that_claims(*size))


def heic_that_claims(width: int, height: int) -> bytes:
    """Return a HEIC of 256 x 192 whose box for the size (ISO/IEC 23008-12, section 6.5.3) says something else."""
    whole = file_of(noise_image(256, 192), "HEIC")
    true, told = (b"ispe" + struct.pack(">III", 0, *size) for size in ((256, 192), (width, height)))
    assert true in whole
    return whole.replace(true, told)


@pytest.mark.parametrize("size", [(12_000, 10_001), (32_768, 32_768), (2**32 - 1, 2**32 - 1)])
def test_a_heic_that_claims_to_be_huge_is_refused_before_it_is_unpacked(size):
    with pytest.raises(InputError, match="more than 120 megapixels"):
        open_upright(heic_that_claims(*size))


def test_a_heic_whose_pixels_are_more_than_it_says_is_refused():
    with pytest.raises(InputError, match="damaged or cut short"):
        open_upright(heic_that_claims(64, 48))


@quiet
def test_a_picture_with_unreadable_notes_about_itself_is_still_a_picture():
    data = file_of(noise_image(16, 16), "JPEG", exif=b"Exif\x00\x00MM\x00*\xff\xff\xff\xff")
    assert open_upright(data).size == (16, 16)


def test_texts_in_a_png_that_unpack_to_much_are_refused():
    whole = file_of(noise_image(16, 16))
    bomb = png_chunk(b"zTXt", b"note\0\0" + zlib.compress(bytes(80_000_000)))
    at = whole.index(b"IDAT") - 4
    with pytest.raises(InputError):
        open_upright(whole[:at] + bomb + whole[at:])


def test_an_array_is_made_without_a_second_copy_of_the_picture():
    stream = io.BytesIO()
    Image.new("RGB", (3_000, 2_000), (1, 2, 3)).save(stream, "JPEG", exif=turned_notes(6))
    data = stream.getvalue()
    upright_pixels(data)
    tracemalloc.start()
    try:
        pixels = upright_pixels(data)
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert pixels.shape == (3_000, 2_000, 3)
    assert peak < 2.5 * pixels.nbytes  # the array itself, the one it is turned from, and a band


def test_the_quick_way_for_wide_colours_agrees_with_the_colour_library():
    # Pillow's ImageCms, that is Little CMS, as the reference.
    image = noise_image(400, 300)
    data = file_of(image, icc_profile=DISPLAY_P3)
    reference = ImageCms.profileToProfile(
        image, io.BytesIO(DISPLAY_P3), ImageCms.createProfile("sRGB"), ImageCms.Intent.RELATIVE_COLORIMETRIC
    )
    np.testing.assert_array_equal(np.asarray(open_upright(data)), np.asarray(reference))
    assert np.abs(upright_pixels(data).astype(int) - np.asarray(reference)).max() <= 2


def test_another_wide_profile_is_not_taken_for_that_of_phones():
    curve = DISPLAY_P3.index(b"para") + 12  # where the exponent stands: another curve, another profile
    other = DISPLAY_P3[:curve] + struct.pack(">i", round(1.8 * 65_536)) + DISPLAY_P3[curve + 4 :]
    data = file_of(noise_image(40, 30), icc_profile=other)
    np.testing.assert_array_equal(upright_pixels(data), np.asarray(open_upright(data)))


def test_a_jpeg_made_to_take_for_ever_is_refused():
    whole = file_of(noise_image(64, 48), "JPEG", progressive=True)
    last = whole.rindex(b"\xff\xda")
    assert open_upright(whole[:-2] + whole[last:-2] * 50 + whole[-2:]).size == (64, 48)
    with pytest.raises(InputError, match="damaged"):
        open_upright(whole[:-2] + whole[last:-2] * 200 + whole[-2:])
    assert open_upright(whole + b"\xff\xda" * 1_000).size == (64, 48)  # what follows the picture is not decoded


@pytest.mark.parametrize("turn", [1, 6])
@pytest.mark.parametrize("profile", [None, DISPLAY_P3])
@pytest.mark.parametrize("given", [{}, {"progressive": True}, {"subsampling": 0}])
def test_pixels_are_the_same_where_the_library_keeps_them_in_its_own_memory(monkeypatch, turn, profile, given):
    data = file_of(noise_image(151, 97), "JPEG", exif=turned_notes(turn), icc_profile=profile, **given)
    quick = upright_pixels(data)
    with monkeypatch.context() as changed:
        changed.setattr(decode, "_given_memory", lambda image: None)
        np.testing.assert_array_equal(quick, upright_pixels(data))


def test_a_jpeg_is_decoded_straight_into_an_array():
    picture = decode.opened(file_of(noise_image(151, 97), "JPEG"))
    picture.decode_into_array()
    image = picture.rgb()
    memory = picture.decoded_array(image)
    assert memory is not None  # else a new version of the library keeps its pixels otherwise: slower, not wrong
    np.testing.assert_array_equal(memory[:, :, :3], np.asarray(image))
