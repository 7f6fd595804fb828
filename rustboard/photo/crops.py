"""Pieces of the board cut from its photos: a picture in, arrays out.

Every piece is cut straight from the source through the photo's homography, once, so that no detail is lost on the
way. Pixels are counted as in `rustboard.photo.homography`.
"""

from __future__ import annotations

import io
from dataclasses import dataclass
from math import ceil
from typing import Final, cast

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from rustboard.board.model import Outline
from rustboard.photo.decode import Rgb, Upright
from rustboard.photo.homography import Matrix, as_matrix, mapped, pixels_per_mm_at
from rustboard.scales.surface import significant_surface
from rustboard.support.problems import InputError

Mask = NDArray[np.bool_]

MOST_CUT_PIXELS: Final = 8_000_000
"""Size of the largest piece; one asked for at more is cut at a lower resolution."""

_MOST_SAMPLES: Final = 32_000_000  # source pixels read for one piece
_BEYOND: Final = (128, 128, 128)


@dataclass(frozen=True, slots=True, eq=False)
class CouponPicture:
    """One coupon as a photo shows it, straightened.

    Attributes:
        rgb: H x W x 3, 0-255, read-only.
        mask: H x W, the pixels inside the outline that the photo shows.
        pixels_per_mm: resolution of this picture.
        origin_mm: place on the board of the outer corner of the top left pixel.
    """

    rgb: Rgb
    mask: Mask
    pixels_per_mm: float
    origin_mm: tuple[float, float]

    def outline_px(self, outline_mm: Outline) -> list[tuple[float, float]]:
        """Return places on the board as places in this picture."""
        left, top = self.origin_mm
        return [((x - left) * self.pixels_per_mm, (y - top) * self.pixels_per_mm) for x, y in outline_mm]


def cut_coupon(
    image: Upright,
    mm_to_px: tuple[float, ...],
    outline_mm: Outline,
    *,
    pixels_per_mm: float | None = None,
    longest_px: int | None = None,
    margin_mm: float = 2.0,
) -> CouponPicture:
    """Return one coupon cut from a photo, straightened, with a little of the board around it.

    Args:
        image: the upright photo.
        mm_to_px: nine numbers, board millimetres to pixels.
        outline_mm: the coupon's outline on the board, or the four corners of a box where it has none.
        pixels_per_mm: wanted resolution; without it and ``longest_px`` the photo's own.
        longest_px: wanted length of the longer side in pixels, instead of a resolution.
        margin_mm: how much of the board is left around the outline.

    Raises:
        InputError: the outline has no extent, or the photo's place is not possible.
    """
    matrix = as_matrix(mm_to_px)
    corners = np.asarray(outline_mm, np.float64).reshape(-1, 2)
    if len(corners) < 3 or not np.isfinite(corners).all():
        raise InputError("This coupon has no outline to cut it out by; draw one, or give its size.")
    left, top = (float(each) for each in corners.min(axis=0) - margin_mm)
    width_mm, height_mm = (float(each) for each in corners.max(axis=0) + margin_mm - (left, top))
    if min(width_mm, height_mm) <= 0:
        raise InputError("This coupon's outline has no width or no height; draw it again.")
    middle = (left + width_mm / 2, top + height_mm / 2)
    if longest_px is not None:
        pixels_per_mm = max(1, longest_px) / max(width_mm, height_mm)
    scale = pixels_per_mm or pixels_per_mm_at(matrix, middle)
    scale = min(scale, (MOST_CUT_PIXELS / (width_mm * height_mm)) ** 0.5)
    size = (max(1, ceil(width_mm * scale - 1e-6)), max(1, ceil(height_mm * scale - 1e-6)))
    step = np.array([[1 / scale, 0, left], [0, 1 / scale, top], [0, 0, 1]])
    rgb, shown = _cut(image, matrix @ step, size)
    inside = significant_surface([((x - left) * scale, (y - top) * scale) for x, y in corners.tolist()], shown.shape)
    return CouponPicture(rgb, inside & shown, scale, (left, top))


def cut_board(
    image: Upright, mm_to_px: tuple[float, ...], width_mm: float, height_mm: float, target_width_px: int
) -> Rgb:
    """Return the whole board straightened, ``target_width_px`` wide; what the photo does not show is grey.

    Raises:
        InputError: the board has no size, or the photo's place is not possible.
    """
    if not (0 < width_mm < np.inf and 0 < height_mm < np.inf):
        raise InputError("Straightening a board needs its width and height in mm; enter them first.")
    matrix = as_matrix(mm_to_px)
    wanted = max(1, target_width_px)
    scale = min(wanted / width_mm, (MOST_CUT_PIXELS / (width_mm * height_mm)) ** 0.5)
    size = (max(1, round(width_mm * scale)), max(1, round(height_mm * scale)))
    step = np.diag([width_mm / size[0], height_mm / size[1], 1])
    return _cut(image, matrix @ step, size)[0]


def encode_png(rgb: Rgb) -> bytes:
    """Return a picture (H x W x 3 or H x W, 0-255) as the bytes of a PNG file."""
    stream = io.BytesIO()
    Image.fromarray(np.ascontiguousarray(rgb)).save(stream, "PNG")
    return stream.getvalue()


def encode_jpeg(picture: Rgb | Upright, quality: int) -> bytes:
    """Return a picture as the bytes of a JPEG file that holds nothing but its pixels.

    What a camera or a person wrote into the photo (place, time, names) stays behind.
    """
    # From bare pixels: the library would carry along comments of the file that a picture was opened from.
    bare = Image.fromarray(np.ascontiguousarray(np.asarray(picture)))
    stream = io.BytesIO()
    bare.save(stream, "JPEG", quality=quality, optimize=True)
    return stream.getvalue()


def _cut(image: Image.Image, matrix: Matrix, size: tuple[int, int]) -> tuple[Rgb, Mask]:
    """Return ``size`` (width, height) pixels, ``matrix`` taking each to the source, and which of them it shows."""
    width, height = size
    frame = mapped(matrix, [(0, 0), (width, 0), (width, height), (0, height)])
    samples = _samples_a_pixel(matrix, size)
    finer = matrix @ np.diag([1 / samples, 1 / samples, 1])
    cut = image.transform(
        (width * samples, height * samples),
        Image.Transform.PERSPECTIVE,
        cast("list[float]", (finer / finer[2, 2]).ravel()[:8].tolist()),
        Image.Resampling.BICUBIC,
        fillcolor=_BEYOND,
    )
    rgb: Rgb = np.asarray(cut.reduce(samples) if samples > 1 else cut)
    limits = np.array([image.width, image.height])
    if np.all(frame >= 0) and np.all(frame <= limits):
        return rgb, np.ones((height, width), np.bool_)
    x, y = np.meshgrid(np.arange(width) + 0.5, np.arange(height) + 0.5)
    there = mapped(matrix, np.stack([x.ravel(), y.ravel()], axis=1))
    shown: Mask = np.all((there >= 0) & (there <= limits), axis=1).reshape(height, width)
    return rgb, shown


def _samples_a_pixel(matrix: Matrix, size: tuple[int, int]) -> int:
    """Return how many source pixels, along a line, go into one pixel: their mean, so that no speck falls between."""
    width, height = size
    places = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height), (width / 2, height / 2)]
    finest = max(pixels_per_mm_at(matrix, place) for place in places)
    affordable = int((_MOST_SAMPLES / (width * height)) ** 0.5)
    return max(1, min(ceil(finest - 0.1), affordable))
