"""What is where on a coupon in one photo, and the same packed small for caches."""

from __future__ import annotations

import struct
import zlib
from dataclasses import dataclass
from typing import Final

import numpy as np

from rustboard.photo.looks import Mask
from rustboard.support.problems import InputError

_HEAD: Final = struct.Struct("<4sII")
_MARK: Final = b"RBM1"
_MOST_PIXELS: Final = 64_000_000


@dataclass(frozen=True, slots=True, eq=False)
class Masks:
    """Where rust, debris and what could not be judged are (all H x W on the coupon's grid, disjoint)."""

    rust: Mask
    debris: Mask
    unseen: Mask


def pack(masks: Masks) -> bytes:
    """Return masks as few bytes: a bit a pixel, deflated."""
    height, width = masks.rust.shape
    bits = b"".join(np.packbits(plane).tobytes() for plane in (masks.rust, masks.debris, masks.unseen))
    return _HEAD.pack(_MARK, height, width) + zlib.compress(bits, 1)


def unpack(packed: bytes) -> Masks:
    """Return what `pack` packed.

    Raises:
        InputError: not packed by `pack`, or damaged.
    """
    damaged = InputError("A stored mask is damaged; measure the photo again.")
    if len(packed) < _HEAD.size:
        raise damaged
    mark, height, width = _HEAD.unpack_from(packed)
    count = height * width
    if mark != _MARK or not 0 < count <= _MOST_PIXELS:
        raise damaged
    plane = (count + 7) // 8
    inflater = zlib.decompressobj()
    try:
        bits = inflater.decompress(packed[_HEAD.size :], 3 * plane + 1)
    except zlib.error as error:
        raise damaged from error
    if len(bits) != 3 * plane:
        raise damaged
    planes = np.frombuffer(bits, np.uint8).reshape(3, plane)
    rust, debris, unseen = (np.unpackbits(each, count=count).view(np.bool_).reshape(height, width) for each in planes)
    return Masks(rust, debris, unseen)
