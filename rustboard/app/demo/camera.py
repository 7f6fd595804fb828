"""The demo's camera: where it stands, what light it finds, and the file it writes."""

from __future__ import annotations

import io
from datetime import datetime
from math import cos, radians, sin
from typing import Final, NamedTuple, cast

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from rustboard.app.demo.texture import Colour
from rustboard.photo.homography import Homography, Matrix, as_matrix
from rustboard.scales.noise import uniform
from rustboard.scales.resizing import Rgb

PHOTO_WIDTH_PX: Final = 2100
PIXELS_PER_MM: Final = 2.86
_ROOM_PX: Final = 58  # above and below the board

_MOST_TURN_DEG: Final = 0.8
_MOST_SLANT: Final = 1.1e-5  # change of scale for each pixel from the middle of the board
_MOST_SHIFT_PX: Final = 9.0

_VIGNETTE: Final = 0.11
_GRAIN: Final = 2.0
_QUALITY: Final = 87

_ORIENTATION, _DATE_TIME, _EXIF_PART, _DATE_TIME_ORIGINAL = 0x0112, 0x0132, 0x8769, 0x9003  # EXIF 2.3 tag numbers


class _Light(NamedTuple):
    gain: float
    tint: Colour
    gamma: float


_LIGHTS: Final = {
    "overcast": _Light(1.0, (0.99, 1.0, 1.015), 1.0),
    "bright": _Light(1.09, (1.012, 1.0, 0.985), 1.06),
    "low sun": _Light(0.98, (1.05, 1.0, 0.925), 1.04),
}


def photo_height_px(height_mm: float) -> int:
    """Return how high the photo of a board is, so that nearly all of it is board."""
    return 2 * round((height_mm * PIXELS_PER_MM) / 2 + _ROOM_PX)


def viewpoint(width_mm: float, height_mm: float, seed: int, number: int) -> Homography:
    """Return where photo ``number`` shows the board: held by hand, so a little turned, slanted and shifted."""
    turn, slant_x, slant_y, shift_x, shift_y, nearer = (2 * uniform(seed, 900 + number, 6) - 1).tolist()
    angle = radians(_MOST_TURN_DEG * turn)
    scale = PIXELS_PER_MM * (1 + 0.004 * nearer)
    from_middle = np.array([[1, 0, -width_mm / 2], [0, 1, -height_mm / 2], [0, 0, 1]])
    turned = np.array([[cos(angle), -sin(angle), 0], [sin(angle), cos(angle), 0], [0, 0, 1]])
    slanted = np.array([[1, 0, 0], [0, 1, 0], [_MOST_SLANT * slant_x, _MOST_SLANT * slant_y, 1]])
    middle = (
        PHOTO_WIDTH_PX / 2 + _MOST_SHIFT_PX * shift_x,
        photo_height_px(height_mm) / 2 + _MOST_SHIFT_PX * shift_y,
    )
    placed = np.array([[1, 0, middle[0]], [0, 1, middle[1]], [0, 0, 1]])
    matrix = placed @ slanted @ turned @ np.diag([scale, scale, 1]) @ from_middle
    return tuple(float(each) for each in (matrix / matrix[2, 2]).ravel())


def seen(plane: Rgb, plane_to_mm: Matrix, mm_to_px: Homography, size: tuple[int, int]) -> Rgb:
    """Return what the camera sees of a flat drawing.

    Args:
        plane: the drawing, H x W x 3.
        plane_to_mm: from its pixels to millimetres on the board.
        mm_to_px: where the photo shows the board.
        size: width and height of the photo.
    """
    photo_to_plane = np.linalg.inv(as_matrix(mm_to_px) @ plane_to_mm)
    photo_to_plane /= photo_to_plane[2, 2]
    coefficients = cast("list[float]", photo_to_plane.ravel()[:8].tolist())
    image = Image.fromarray(plane)
    return np.asarray(image.transform(size, Image.Transform.PERSPECTIVE, coefficients, Image.Resampling.BICUBIC))


def exposed(scene: Rgb, light: str, seed: int, number: int) -> Rgb:
    """Return a picture as exposed: the day's light and white balance, a darker rim, grain."""
    found = _LIGHTS.get(light, _LIGHTS["overcast"])
    jitter = (2 * uniform(seed, 930 + number, 3) - 1).tolist()
    tint = np.array([found.tint[0] + 0.012 * jitter[1], found.tint[1], found.tint[2] - 0.012 * jitter[1]], np.float32)
    gain = np.float32(found.gain * (1 + 0.03 * jitter[0]))
    tones = np.float32(255) * (np.arange(256, dtype=np.float32) / 255) ** np.float32(found.gamma)
    level = gain * _vignette(scene.shape[0], scene.shape[1])
    grain = uniform(seed, 960 + number, *scene.shape[:2]) + uniform(seed, 990 + number, *scene.shape[:2])
    grain = (grain - np.float32(1)) * np.float32(_GRAIN) + np.float32(0.5)
    photo = np.empty_like(scene)
    for band in range(3):
        photo[:, :, band] = np.clip(tones[scene[:, :, band]] * (level * tint[band]) + grain, 0, 255)
    return photo


def _vignette(height: int, width: int) -> NDArray[np.float32]:
    y = np.linspace(-0.5, 0.5, height, dtype=np.float32)[:, None] * np.float32(height / width)
    x = np.linspace(-0.5, 0.5, width, dtype=np.float32)[None, :]
    return 1 - np.float32(_VIGNETTE * 4) * (x * x + y * y) * np.float32(0.8)


def jpeg_file(photo: Rgb, taken: datetime) -> bytes:
    """Return a photo as the bytes of a JPEG that says when it was taken."""
    notes = Image.Exif()
    stamp = taken.strftime("%Y:%m:%d %H:%M:%S")
    notes[_ORIENTATION] = 1
    notes[_DATE_TIME] = stamp
    notes.get_ifd(_EXIF_PART)[_DATE_TIME_ORIGINAL] = stamp
    stream = io.BytesIO()
    Image.fromarray(photo).save(stream, "JPEG", quality=_QUALITY, subsampling="4:4:4", exif=notes)
    return stream.getvalue()
