"""Whether a straightened board lies on an earlier picture of itself, and not beside it or upside down.

A board is a grid of like coupons. Moved by a column or turned round it still resembles itself, so that likeness
alone proves little. What speaks for one place against another is what differs between them: the grain of the wood,
screws, writing, stains. So each other place that is nearly as like is compared piece by piece, and most pieces must
say: here.
"""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.finding.damped import Floats
from rustboard.photo.finding.found import TAP_INSTEAD, Grey
from rustboard.support.problems import InputError

Spectrum = NDArray[np.complex128]

_LONGEST_PX: Final = 720
_SHADOW_PX: Final = 4.0
_HERE_PX: Final = 16
"""Shifts up to this many pixels are no other place."""
_LEAST_OVERLAP: Final = 0.35
_OTHERS: Final = 3
"""So many other places are tried upright and turned round, each."""
_PIECE_PX: Final = 48
_LEAST: Final = 0.2
_LEAST_VOTES: Final = 0.7
_LEAST_LEAD: Final = 0.08
"""By how much more like, in correlation, the pieces must be here than at the other place, on average."""


def surely_here(now: Grey, earlier: Grey) -> None:
    """Refuse a straightened picture that is not clearly likest to the earlier one where it lies.

    Raises:
        InputError: it is unlike it, or as like it when moved or turned round.
    """
    first, second = _evened(earlier), _evened(now)
    here = _likeness(first, second)
    known = np.isfinite(here)
    if not known.any() or float(here[known].mean()) < _LEAST:
        raise InputError(f"This photo does not show the board as an earlier one does; {TAP_INSTEAD}.")
    for candidate in (first, np.ascontiguousarray(first[::-1, ::-1])):
        for down, right in _other_places(candidate, second):
            there = _likeness(_moved(candidate, down, right), second)
            both = known & np.isfinite(there)
            lead = here[both] - there[both]
            if not both.any() or np.mean(lead > 0) < _LEAST_VOTES or lead.mean() < _LEAST_LEAD:
                raise InputError(
                    f"This board looks alike in several places, where this photo fits too; {TAP_INSTEAD}."
                )


def _evened(grey: Grey) -> Floats:
    share = min(1.0, _LONGEST_PX / max(grey.shape))
    size = (max(2, round(grey.shape[1] * share)), max(2, round(grey.shape[0] * share)))
    small = np.asarray(cv2.resize(grey, size, interpolation=cv2.INTER_AREA), np.uint8)
    return np.asarray(_shadowless(small), np.float64)


def _shadowless(grey: Grey) -> NDArray[np.float32]:
    """Return a picture without its slow changes of brightness and with the same contrast everywhere."""
    sharp = cv2.GaussianBlur(grey, (0, 0), 1.0).astype(np.float32)
    smooth = sharp - cv2.GaussianBlur(sharp, (0, 0), _SHADOW_PX)
    spread = np.sqrt(cv2.GaussianBlur(smooth * smooth, (0, 0), 2 * _SHADOW_PX)) + 1.0
    return np.asarray(smooth / spread, np.float32)


def _likeness(first: Floats, second: Floats) -> Floats:
    """Return the correlation of two pictures in every piece; nan where one of them shows nothing."""
    height, width = (each // _PIECE_PX for each in first.shape)

    def summed(picture: Floats) -> Floats:
        whole = picture[: height * _PIECE_PX, : width * _PIECE_PX]
        return np.asarray(whole.reshape(height, _PIECE_PX, width, _PIECE_PX).sum(axis=(1, 3)), np.float64)

    contrast = np.sqrt(summed(first * first) * summed(second * second))
    return np.where(contrast > 1e-3, summed(first * second) / np.maximum(contrast, 1e-3), np.nan)


def _moved(picture: Floats, down: int, right: int) -> Floats:
    """Return a picture moved by whole pixels; what comes in is nan."""
    height, width = picture.shape
    moved = np.full_like(picture, np.nan)
    rows, columns = np.s_[max(down, 0) : height + min(down, 0)], np.s_[max(right, 0) : width + min(right, 0)]
    moved[rows, columns] = picture[max(-down, 0) : height - max(down, 0), max(-right, 0) : width - max(right, 0)]
    return moved


def _other_places(first: Floats, second: Floats) -> list[tuple[int, int]]:
    """Return by how much (down, right) the first picture must move to be most like the second, but for no shift."""
    size = tuple(each // 2 for each in first.shape)
    small = [
        np.asarray(cv2.resize(each, size[::-1], interpolation=cv2.INTER_AREA), np.float64) for each in (first, second)
    ]
    likeness = _likeness_by_shift(*small)
    middle, reach = (likeness.shape[0] // 2, likeness.shape[1] // 2), _HERE_PX // 2
    places = []
    _without(likeness, middle, reach)
    for _ in range(_OTHERS):
        row, column = (int(each) for each in np.unravel_index(int(np.argmax(likeness)), likeness.shape))
        if likeness[row, column] <= 0:
            break
        places.append((-2 * (row - middle[0]), -2 * (column - middle[1])))
        _without(likeness, (row, column), reach)
    return places


def _without(likeness: Floats, place: tuple[int, int], reach: int) -> None:
    row, column = place
    likeness[max(row - reach, 0) : row + reach + 1, max(column - reach, 0) : column + reach + 1] = -1


def _likeness_by_shift(first: Floats, second: Floats) -> Floats:
    """Return the correlation of two pictures of one size for every shift, no shift in the middle; -1 for too far.

    Only what overlaps counts, each shift with its own contrast.
    """
    height, width = first.shape
    size = (cv2.getOptimalDFTSize(2 * height), cv2.getOptimalDFTSize(2 * width))
    a, b = (np.fft.rfft2(each, size) for each in (first, second))
    energy_a, energy_b = (np.fft.rfft2(each * each, size) for each in (first, second))
    ones = np.fft.rfft2(np.ones((height, width)), size)

    def crossed(one: Spectrum, other: Spectrum) -> Floats:
        return np.asarray(np.fft.fftshift(np.fft.irfft2(one * np.conj(other), size)), np.float64)

    contrast = np.sqrt(np.maximum(crossed(energy_a, ones), 0) * np.maximum(crossed(ones, energy_b), 0))
    enough = crossed(ones, ones) > _LEAST_OVERLAP * height * width
    return np.where(enough, crossed(a, b) / np.maximum(contrast, 1e-6), -1.0)
