"""Arrays and small values as bytes for caches, and back. Nothing that could run is ever kept or read."""

from __future__ import annotations

import io
import zlib
from dataclasses import dataclass, fields
from typing import Any, Final, TypeVar

import numpy as np
from numpy.typing import NDArray

from rustboard.photo.looks import Evidence
from rustboard.support.problems import InputError

T = TypeVar("T")

_MOST_BYTES: Final = 1 << 30
_LEVEL_STEP: Final = 5
_ARRAY, _NUMBERS, _NUMBER = "array", "numbers", "number"


def packed(value: Any) -> bytes:
    """Return a frozen dataclass of arrays, numbers and tuples of numbers, deflated."""
    found: dict[str, NDArray[Any]] = {}
    for each in fields(value):
        part = getattr(value, each.name)
        if isinstance(part, np.ndarray):
            found[f"{_ARRAY}:{each.name}"] = part
        elif isinstance(part, tuple):
            found[f"{_NUMBERS}:{each.name}"] = np.asarray(part, np.float64)
        else:
            found[f"{_NUMBER}:{each.name}"] = np.asarray(float(part))
    stream = io.BytesIO()
    np.savez(stream, allow_pickle=False, **found)
    return zlib.compress(stream.getvalue(), 1)


def unpacked(kind: type[T], data: bytes) -> T:
    """Return what `packed` packed.

    Raises:
        InputError: it is damaged, or was packed from something else.
    """
    try:
        with np.load(io.BytesIO(_inflated(data)), allow_pickle=False) as kept:
            found = {name: kept[name] for name in kept.files}
        return _built(kind, found)
    except Exception as error:  # a damaged file may fail anywhere
        raise InputError("What was kept of an earlier measurement is damaged; measure again.") from error


def _inflated(data: bytes) -> bytes:
    inflater = zlib.decompressobj()
    inflated = inflater.decompress(data, _MOST_BYTES)
    if not inflater.eof:
        raise ValueError("too long")
    return inflated


def _built(kind: type[T], found: dict[str, NDArray[Any]]) -> T:
    values: dict[str, Any] = {}
    for each in fields(kind):  # type: ignore[arg-type]
        if f"{_ARRAY}:{each.name}" in found:
            values[each.name] = found[f"{_ARRAY}:{each.name}"]
        elif f"{_NUMBERS}:{each.name}" in found:
            values[each.name] = tuple(found[f"{_NUMBERS}:{each.name}"].tolist())
        else:
            values[each.name] = float(found[f"{_NUMBER}:{each.name}"])
    return kind(**values)


@dataclass(frozen=True, slots=True, eq=False)
class _Small:
    """Evidence as it is kept: the masks a bit a pixel."""

    rust: NDArray[np.int8]
    cover: NDArray[np.uint8]
    foreign: NDArray[np.uint8]
    unseen: NDArray[np.uint8]


def packed_evidence(evidence: Evidence) -> bytes:
    """Return evidence as few bytes: likelihoods in coarse steps that keep their sign, the rest as it is."""
    coarse = -(-np.abs(evidence.rust.astype(np.int16)) // _LEVEL_STEP) * _LEVEL_STEP
    rust = (np.sign(evidence.rust) * np.minimum(coarse, 100)).astype(np.int8)
    return packed(_Small(rust, evidence.cover, np.packbits(evidence.foreign), np.packbits(evidence.unseen)))


def unpacked_evidence(data: bytes) -> Evidence:
    """Return what `packed_evidence` packed.

    Raises:
        InputError: it is damaged.
    """
    kept = unpacked(_Small, data)
    height, width = kept.rust.shape
    try:
        foreign, unseen = (
            np.unpackbits(each, count=height * width).view(np.bool_).reshape(height, width)
            for each in (kept.foreign, kept.unseen)
        )
    except ValueError as error:
        raise InputError("What was kept of an earlier measurement is damaged; measure again.") from error
    return Evidence(kept.rust, kept.cover, foreign, unseen)
