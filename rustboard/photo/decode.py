"""Photos decoded with care: a file's bytes in, an upright picture in sRGB out.

What a file is, its bytes say, not its name. Of a file with several pictures (a phone's JPEG with a second view, an
animation, pages) the first counts.
"""

from __future__ import annotations

import io
import logging
import re
import warnings
from dataclasses import dataclass, field
from math import ceil, prod
from typing import TYPE_CHECKING, Final, Literal

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from rustboard.photo.jpeg_marks import has_too_many_scans
from rustboard.photo.srgb import DISPLAY_P3, in_srgb, is_display_p3, p3_in_srgb
from rustboard.photo.turning import TURNS, turned_pixels
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    from pillow_heif import HeifFile

Rgb = NDArray[np.uint8]
Upright = Image.Image
"""A decoded photo, upright, in sRGB. Whoever only hands it on need not know the library behind it."""

Kind = Literal["JPEG", "PNG", "TIFF", "HEIC"]

NOT_A_PICTURE: Final = "This is not a picture the program reads; use a JPEG, PNG, TIFF or HEIC file."
DAMAGED: Final = "The picture is damaged or cut short; copy it again from the camera or the phone."
"""What is said of bytes that no other try makes better."""
MOST_PHOTO_PIXELS: Final = 120_000_000
MOST_SIDE: Final = 32_000
"""OpenCV takes places from pictures of at most 32,767 pixels along a side (its `remap`)."""

_KINDS: Final[dict[str | None, Kind]] = {"JPEG": "JPEG", "MPO": "JPEG", "PNG": "PNG", "TIFF": "TIFF"}
_HEIC_BRANDS: Final = frozenset(
    {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs", b"mif1", b"msf1"}
)
"""Brands of files with pictures coded as HEVC, and the two that leave the coding open (ISO/IEC 23008-12)."""

_HEIC_SIZES: Final = re.compile(rb"ispe\0\0\0\0(.{4})(.{4})", re.DOTALL)
_P3_PRIMARIES: Final = 12  # ITU-T H.273, table 2: SMPTE EG 432-1
_ORIENTATION: Final = 0x0112
_BITS: Final = 258
_PHOTOMETRIC: Final = 262
_BAND: Final = 64  # rows handled at once, so that no second copy of a large picture is ever needed

Image.MAX_IMAGE_PIXELS = MOST_PHOTO_PIXELS
# What the library thinks of a photo's size or notes would land among the program's own output; the sentences here
# say what matters.
warnings.filterwarnings("ignore", module=r"PIL\.")
logging.getLogger("PIL").setLevel(logging.CRITICAL)


@dataclass(slots=True, eq=False)
class Opened:
    """A picture whose head has been read, its pixels not yet.

    Attributes:
        size_px: width and height as stored; those of a TIFF or HEIC are upright already.
    """

    kind: Kind
    size_px: tuple[int, int]
    _name: str
    _image: Image.Image | None = None
    _heic: HeifFile | None = None
    _notes: Image.Exif | None = field(default=None, init=False)
    _memory: tuple[NDArray[np.uint8], object] | None = field(default=None, init=False)

    @property
    def notes(self) -> Image.Exif:
        """What the camera wrote into the file; empty when that cannot be read."""
        if self._notes is None:
            self._notes = self._read_notes()
        return self._notes

    @property
    def turn(self) -> int:
        """The orientation by EXIF, 1 to 8; what is none of these counts as 1, upright."""
        if self.kind in {"TIFF", "HEIC"}:
            return 1  # the libraries turn these themselves; a HEIC says in its container how it lies, not in its EXIF
        try:
            found = self.notes.get(_ORIENTATION)
        except Exception:  # noqa: BLE001 - a picture with unreadable notes about itself is still a picture
            return 1
        return found if isinstance(found, int) and found in TURNS else 1

    @property
    def upright_size_px(self) -> tuple[int, int]:
        """Width and height of the upright picture."""
        width, height = self.size_px
        return (height, width) if self.turn >= 5 else (width, height)

    def read_through(self) -> None:
        """Read the pixels once, as coarsely as the file's kind allows, to see whether they are all there.

        Raises:
            InputError: damaged or cut short.
        """
        if self.kind == "JPEG" and self._image is not None:
            self._image.draft(None, (1, 1))  # an eighth of the size: all of the file is read, little memory filled
        image = self._decoded()
        if self.kind == "HEIC":
            self.size_px = image.size  # what the head says may differ by the coder's padding

    def coarsen(self, enough_px: int) -> None:
        """Let a JPEG be decoded at a half, a quarter or an eighth of its size where that still has enough pixels.

        Args:
            enough_px: along the longer side.
        """
        if self.kind == "JPEG" and self._image is not None:
            width, height = self._image.size
            share = enough_px / max(width, height)
            self._image.draft(None, (ceil(width * share), ceil(height * share)))

    def rgb(self) -> Image.Image:
        """Return the picture in sRGB, as it is stored, not turned.

        Raises:
            InputError: damaged, cut short, or pixels of a kind no camera writes.
        """
        self._decoded()
        return self._converted(self._profile())

    def wide_rgb(self) -> tuple[Image.Image, bool]:
        """Return the picture as `rgb` does, but one in Display P3 as it is, and whether it is one.

        Raises:
            InputError: as `rgb`.
        """
        image = self._decoded()
        profile = self._profile()
        wide = profile is not None and image.mode == "RGB" and is_display_p3(profile)
        return self._converted(None if wide else profile), wide

    def decode_into_array(self) -> None:
        """Let the pixels of a coloured JPEG be decoded into an array's memory, where `decoded_array` finds them.

        Raises:
            InputError: there is not enough memory.
        """
        if self.kind == "JPEG" and self._image is not None and self._image.mode == "RGB":
            try:
                self._memory = _given_memory(self._image)
            except MemoryError as error:
                raise _too_little_memory(self._name) from error

    def decoded_array(self, image: Image.Image) -> NDArray[np.uint8] | None:
        """Return the pixels of a decoded picture, H x W x 4, the last number without meaning; or None.

        Args:
            image: what `rgb` or `wide_rgb` gave; None is returned when its pixels lie elsewhere.
        """
        if self._memory is None or image is not self._image or image._im is not self._memory[1]:
            return None
        return self._memory[0]

    def _profile(self) -> bytes | None:
        found = None if self._image is None else self._image.info.get("icc_profile")
        if self._heic is not None and not found:
            declared = self._heic.info.get("nclx_profile") or {}
            return DISPLAY_P3 if declared.get("color_primaries") == _P3_PRIMARIES else None
        return found if isinstance(found, bytes) and found else None

    def _converted(self, profile: bytes | None) -> Image.Image:
        try:
            return in_srgb(_in_eight_bits(self._decoded(), self._name), profile)
        except InputError:
            raise
        except Exception as error:
            raise _damaged(self._name) from error

    def _decoded(self) -> Image.Image:
        try:
            if self._image is None:
                assert self._heic is not None
                self._image = self._heic.to_pillow()
                _refuse_too_large(*self._image.size, self._name)
            self._image.load()
        except InputError:
            raise
        except MemoryError as error:
            raise _too_little_memory(self._name) from error
        except Exception as error:  # decoders meet hostile bytes with every kind of exception
            raise _damaged(self._name) from error
        return self._image

    def _read_notes(self) -> Image.Exif:
        try:
            if self._heic is None:
                assert self._image is not None
                return self._image.getexif()
            notes = Image.Exif()
            notes.load(self._heic.info.get("exif") or b"")
            return notes
        except Exception:  # noqa: BLE001 - as above
            return Image.Exif()


def opened(data: bytes, name: str = "") -> Opened:
    """Read the head of a JPEG, PNG, TIFF or HEIC file.

    Args:
        data: the file's bytes.
        name: of the file, for the sentence when it cannot be used.

    Raises:
        InputError: no picture of these kinds, of more than `MOST_PHOTO_PIXELS`, or made to take for ever.
    """
    if data[4:8] == b"ftyp":
        return _opened_heic(data, name)
    try:
        image: Image.Image = Image.open(io.BytesIO(data), formats=("JPEG", "PNG", "TIFF"))
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise _too_large(name) from error
    except Exception as error:  # decoders meet hostile bytes with every kind of exception
        raise _no_picture(name) from error
    _refuse_too_large(*image.size, name)
    if image.format not in _KINDS:
        raise _no_picture(name)
    if _KINDS[image.format] == "JPEG" and has_too_many_scans(data):
        raise _damaged(name)
    return Opened(_KINDS[image.format], image.size, name, image)


def open_upright(data: bytes, name: str = "", enough_px: int | None = None) -> Upright:
    """Return a photo decoded, turned upright as its EXIF says, in sRGB, what is transparent in it white.

    Args:
        data: the file's bytes.
        name: of the file, for the sentence when it cannot be used.
        enough_px: along the longer side; a larger photo may come smaller, which is quicker and takes less memory.

    Raises:
        InputError: no picture of the kinds that `opened` reads, damaged, cut short, or too large.
    """
    picture = opened(data, name)
    if enough_px is not None:
        picture.coarsen(enough_px)
    image = picture.rgb()
    return image if picture.turn == 1 else image.transpose(TURNS[picture.turn])


def upright_pixels(data: bytes, name: str = "") -> Rgb:
    """Return what `open_upright` does as an array, height x width x 3; quicker, and with fewer copies.

    The wide colours of most phones are rounded twice on this way, and differ by up to 2 of 255.

    Raises:
        InputError: as `open_upright`.
    """
    import cv2

    picture = opened(data, name)
    turn = picture.turn
    picture.decode_into_array()
    image, wide = picture.wide_rgb()
    memory = picture.decoded_array(image)
    del picture
    shape = (image.height, image.width, 3)
    # Pixels of three bytes are put where those of four were before them, and so need no memory of their own.
    pixels = np.empty(shape, np.uint8) if memory is None else memory.ravel()[: prod(shape)].reshape(shape)
    for top in range(0, image.height, _BAND):
        below = min(top + _BAND, image.height)
        if memory is None:
            band = np.asarray(image.crop((0, top, image.width, below)))
        else:
            band = np.asarray(cv2.cvtColor(memory[top:below], cv2.COLOR_RGBA2RGB), np.uint8)
        pixels[top:below] = p3_in_srgb(band) if wide else band
    del image, memory
    return pixels if turn == 1 else turned_pixels(pixels, turn)


def size_of(data: bytes, name: str = "") -> tuple[int, int]:
    """Return width and height of the upright picture.

    Raises:
        InputError: as `opened`.
    """
    return opened(data, name).upright_size_px


def _given_memory(image: Image.Image) -> tuple[NDArray[np.uint8], object] | None:
    """Give a picture (mode RGB) that is not decoded yet an array's memory for its pixels, H x W x 4; return both.

    The library decodes into memory of its own, from which it copies slowly. A version of it that keeps its pixels
    otherwise is left to do so.
    """
    memory = np.empty((image.height, image.width, 4), np.uint8)
    try:
        if image._im is None:  # the library's own way of mapping files
            core = vars(Image)["core"]  # not among what the library says that it offers
            image._im = core.map_buffer(memory.data.cast("B"), image.size, "raw", 0, (image.mode, 0, 1))
            return memory, image._im
    except (AttributeError, KeyError, TypeError, ValueError):
        pass
    return None


def _opened_heic(data: bytes, name: str) -> Opened:
    if data[8:12] not in _HEIC_BRANDS:
        raise _no_picture(name)
    # Looked for in the bytes, because the library tells a picture's size only after its crop; it holds the coded
    # pictures to these sizes itself.
    for width, height in _HEIC_SIZES.findall(data):
        _refuse_too_large(int.from_bytes(width, "big"), int.from_bytes(height, "big"), name)
    import pillow_heif  # only when such a photo comes: it loads a codec

    pillow_heif.options.THUMBNAILS = pillow_heif.options.DEPTH_IMAGES = pillow_heif.options.AUX_IMAGES = False
    pillow_heif.options.DECODE_THREADS = 1  # photos are decoded side by side
    try:
        found = pillow_heif.open_heif(data)
        width_px, height_px = found.size
    except Exception as error:
        raise _damaged(name) from error
    _refuse_too_large(width_px, height_px, name)
    return Opened("HEIC", (width_px, height_px), name, _heic=found)


def _in_eight_bits(image: Image.Image, name: str) -> Image.Image:
    """Return the picture in mode L, RGB or CMYK; scaled, not cut off, and over white."""
    if image.mode.startswith("I;16"):
        return _from_sixteen_bits(image)
    if image.mode in {"L", "RGB", "CMYK"} and "transparency" not in image.info:
        return image
    if image.mode == "1":
        return image.convert("L")
    if image.mode in {"P", "PA", "LA", "La", "RGBA", "RGBa"} or "transparency" in image.info:
        return _over_white(image if image.mode == "RGBA" else image.convert("RGBA"))
    if image.mode in {"RGBX", "YCbCr", "HSV", "LAB"}:
        return image if image.mode == "LAB" else image.convert("RGB")
    raise InputError(
        "The picture's pixels are of a kind that no camera writes; save it as JPEG, PNG or TIFF with 8 or 16 bits.",
        file=name,
    )


def _from_sixteen_bits(image: Image.Image) -> Image.Image:
    tags = getattr(image, "tag_v2", {})
    bits = tags.get(_BITS, (16,))
    white = 4_095 if bits == (12,) else 65_535
    grey = np.empty((image.height, image.width), np.uint8)
    for top in range(0, image.height, _BAND):
        below = min(top + _BAND, image.height)
        band = np.asarray(image.crop((0, top, image.width, below))).astype(np.uint32)
        grey[top:below] = np.minimum((band * 255 + white // 2) // white, 255)
    if tags.get(_PHOTOMETRIC) == 0:  # white is zero; the library turns that round for eight bits alone
        np.subtract(255, grey, out=grey)
    result = Image.fromarray(grey)
    result.info["icc_profile"] = image.info.get("icc_profile")
    return result


def _over_white(image: Image.Image) -> Image.Image:
    ground = Image.new("RGB", image.size, (255, 255, 255))
    ground.paste(image, mask=image.getchannel("A"))
    return ground


def _no_picture(name: str) -> InputError:
    return InputError(NOT_A_PICTURE, file=name)


def _refuse_too_large(width_px: int, height_px: int, name: str) -> None:
    if width_px * height_px > MOST_PHOTO_PIXELS:
        raise _too_large(name)
    if max(width_px, height_px) > MOST_SIDE:
        raise InputError(
            f"The picture has more than {MOST_SIDE:,} pixels along a side; save it smaller and try again.", file=name
        )


def _too_large(name: str) -> InputError:
    most = MOST_PHOTO_PIXELS // 1_000_000
    return InputError(f"The picture has more than {most} megapixels; save it smaller and try again.", file=name)


def _too_little_memory(name: str) -> InputError:
    return InputError("There is not enough memory to open this picture; save it smaller.", file=name)


def _damaged(name: str) -> InputError:
    return InputError(DAMAGED, file=name)
