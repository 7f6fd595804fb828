"""Colours brought to sRGB by what a photo's colour profile says; without a profile they are sRGB already."""

from __future__ import annotations

import io
import struct
from functools import lru_cache
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image

if TYPE_CHECKING:
    from PIL import ImageCms

MOST_PROFILE_BYTES: Final = 8 << 20
"""A larger profile is not looked at; those of printing presses have about 2 MB."""

_SPACES: Final = {"L": "GRAY", "RGB": "RGB", "CMYK": "CMYK", "LAB": "LAB"}
_NO_DIFFERENCE: Final = 3
"""Of 255: makers' versions of sRGB differ by as much, which is not worth the time of a conversion."""

_MOST_KEPT: Final = 8


def in_srgb(image: Image.Image, profile: bytes | None) -> Image.Image:
    """Return a picture (mode L, RGB, CMYK or LAB) as sRGB in mode RGB; the one that was given may be changed.

    A profile that cannot be read, or that is for pictures of another kind, is passed over.
    """
    if image.mode == "LAB":
        return _lab_in_srgb(image)
    if profile and len(profile) <= MOST_PROFILE_BYTES:
        if image.mode == "L" and _space(profile) == "RGB":
            image = image.convert("RGB")
        way = _way(profile, image.mode)
        if way is not None:
            return _carried_out(image, way)
    return image if image.mode == "RGB" else image.convert("RGB")


@lru_cache(maxsize=_MOST_KEPT)
def is_display_p3(profile: bytes) -> bool:
    """Return whether a profile is Display P3, that of most phones: whether `p3_in_srgb` does what it asks for."""
    if len(profile) > MOST_PROFILE_BYTES:
        return False
    way = _way(profile, "RGB")
    return way is not None and _difference(way, p3_in_srgb(_probe())) <= _NO_DIFFERENCE


def p3_in_srgb(pixels: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return pixels (H x W x 3, or fewer rows at once) of Display P3 in sRGB, to within 2 of 255.

    Five times quicker than the library for any profile. Both curves are that of sRGB; in between, light is held as
    its square root, of which 256 steps are about as fine as those of sRGB.
    """
    import cv2

    light = cv2.transform(cv2.LUT(pixels, _LIGHT), _P3_TO_SRGB)
    roots = cv2.sqrt(np.maximum(light, 0, out=light))
    return np.asarray(cv2.LUT(cv2.convertScaleAbs(roots, alpha=255.0), _FROM_ROOT), np.uint8)


def _light_of(value: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the light (0-1) that values of sRGB (0-1) stand for (IEC 61966-2-1)."""
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def _value_of(light: NDArray[np.float64]) -> NDArray[np.float64]:
    """Undo `_light_of`."""
    return np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)


_STEPS: Final = np.arange(256) / 255
_LIGHT: Final = _light_of(_STEPS).astype(np.float32)
_FROM_ROOT: Final = np.rint(_value_of(_STEPS**2) * 255).astype(np.uint8)
_P3_TO_SRGB: Final = np.array(
    [[1.2249402, -0.2249402, 0.0], [-0.0420569, 1.0420569, 0.0], [-0.0196376, -0.0786361, 1.0982735]], np.float32
)
"""Light of Display P3 to light of sRGB: from the primaries of both, white D65 (W3C, CSS Color 4, sample code)."""


def _carried_out(image: Image.Image, way: ImageCms.ImageCmsTransform) -> Image.Image:
    from PIL import ImageCms

    if image.mode == "RGB" and not image.readonly:
        ImageCms.applyTransform(image, way, inPlace=True)
        return image
    changed = ImageCms.applyTransform(image, way)
    assert changed is not None  # as it was not asked for in place
    return changed


def _lab_in_srgb(image: Image.Image) -> Image.Image:
    from PIL import ImageCms

    return _carried_out(
        image, ImageCms.buildTransform(ImageCms.createProfile("LAB"), ImageCms.createProfile("sRGB"), "LAB", "RGB")
    )


@lru_cache(maxsize=_MOST_KEPT)
def _space(profile: bytes) -> str:
    from PIL import ImageCms

    try:
        return ImageCms.ImageCmsProfile(io.BytesIO(profile)).profile.xcolor_space.strip()
    except Exception:  # noqa: BLE001 - a profile is a stranger's bytes; without it the picture is still one
        return ""


@lru_cache(maxsize=_MOST_KEPT)
def _way(profile: bytes, mode: str) -> ImageCms.ImageCmsTransform | None:
    """Return the conversion that a profile asks for, or None when it asks for none that can be carried out."""
    from PIL import ImageCms

    if _space(profile) != _SPACES[mode]:
        return None
    try:
        way = ImageCms.buildTransform(
            ImageCms.ImageCmsProfile(io.BytesIO(profile)),
            ImageCms.createProfile("sRGB"),
            mode,
            "RGB",
            ImageCms.Intent.RELATIVE_COLORIMETRIC,
        )
        if mode == "RGB" and _changes_nothing(way):
            return None
    except Exception:  # noqa: BLE001 - as above
        return None
    return way


def _changes_nothing(way: ImageCms.ImageCmsTransform) -> bool:
    return _difference(way, _probe()) <= _NO_DIFFERENCE


def _probe() -> NDArray[np.uint8]:
    """Return a picture with colours from everywhere."""
    steps = np.linspace(0, 255, 18).astype(np.uint8)
    return np.stack(np.meshgrid(steps, steps, steps, indexing="ij"), axis=-1).reshape(18, -1, 3)


def _difference(way: ImageCms.ImageCmsTransform, expected: NDArray[np.uint8]) -> int:
    from PIL import ImageCms

    changed = ImageCms.applyTransform(Image.fromarray(_probe()), way)
    assert changed is not None  # as it was not asked for in place
    return int(np.abs(np.asarray(changed).astype(int) - expected).max())


def _display_p3() -> bytes:
    """Return an ICC profile (version 2) of Display P3, for photos that name it by a number alone.

    Its primaries (SMPTE EG 432-1, white D65) are given as ICC wants them, adapted to D50 by the Bradford matrix; its
    curve is that of sRGB.
    """

    def fixed(*numbers: float) -> bytes:
        return b"".join(struct.pack(">i", round(each * 65_536)) for each in numbers)

    curve = struct.pack(">4sIHH", b"para", 0, 3, 0) + fixed(2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)
    name = b"Display P3\0"
    content = {
        b"desc": struct.pack(">4sII", b"desc", 0, len(name)) + name + bytes(78),
        b"wtpt": b"XYZ \0\0\0\0" + fixed(0.9642, 1.0, 0.8249),
        b"rXYZ": b"XYZ \0\0\0\0" + fixed(0.51512, 0.24120, -0.00105),
        b"gXYZ": b"XYZ \0\0\0\0" + fixed(0.29198, 0.69225, 0.04189),
        b"bXYZ": b"XYZ \0\0\0\0" + fixed(0.15710, 0.06657, 0.78407),
        b"rTRC": curve,
        b"gTRC": curve,
        b"bTRC": curve,
    }
    start = 128 + 4 + 12 * len(content)
    table, body = struct.pack(">I", len(content)), b""
    for tag, data in content.items():
        table += struct.pack(">4sII", tag, start + len(body), len(data))
        body += data + bytes(-len(data) % 4)
    head = struct.pack(">I4sI4s4s4s", start + len(body), b"lcms", 0x0240_0000, b"mntr", b"RGB ", b"XYZ ")
    head = (head + bytes(12) + b"acsp").ljust(68, b"\0") + fixed(0.9642, 1.0, 0.8249)
    return head.ljust(128, b"\0") + table + body


DISPLAY_P3: Final = _display_p3()
