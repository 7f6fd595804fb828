"""Small steps on planes of numbers and masks, by OpenCV, with the types that it gives back."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.evidence.tables import Plane
from rustboard.photo.looks import Mask


def averaged(plane: Plane, size: int) -> Plane:
    """Return the mean over a square of ``size`` pixels around each pixel."""
    return np.asarray(cv2.blur(plane, (size, size)), np.float32)


def share_around(mask: Mask, size: int) -> Plane:
    """Return the share of a mask in a square of ``size`` pixels around each pixel, 0-1."""
    return np.asarray(cv2.boxFilter(mask.view(np.uint8), cv2.CV_32F, (size, size)), np.float32)


def softened(plane: Plane, spread: float, size: int = 0) -> Plane:
    """Return a plane under a Gaussian blur (standard deviation in pixels)."""
    return np.asarray(cv2.GaussianBlur(plane, (size, size), spread), np.float32)


def highest(plane: Plane, size: int) -> Plane:
    """Return the highest value in a square of ``size`` pixels around each pixel."""
    return np.asarray(cv2.dilate(plane, np.ones((size, size), np.uint8)), np.float32)


def lowest(plane: Plane, size: int) -> Plane:
    """Return the lowest value in a square of ``size`` pixels around each pixel."""
    return np.asarray(cv2.erode(plane, np.ones((size, size), np.uint8)), np.float32)


def widened(mask: Mask, size: int) -> Mask:
    """Return a mask grown to all pixels in whose square of ``size`` pixels it lies."""
    return np.asarray(cv2.dilate(mask.astype(np.uint8), np.ones((size, size), np.uint8)), np.bool_)


def narrowed(mask: Mask, size: int) -> Mask:
    """Return the pixels whose whole square of ``size`` pixels lies in a mask."""
    return np.asarray(cv2.erode(mask.astype(np.uint8), np.ones((size, size), np.uint8)), np.bool_)


def combined(planes: Plane, weights: np.ndarray) -> Plane:
    """Return sums of the last axis (H x W x n) by weights (m x n), H x W x m; H x W when m is 1."""
    return np.asarray(cv2.transform(planes, np.atleast_2d(weights).astype(np.float32)), np.float32)


def split(planes: Plane) -> tuple[Plane, Plane, Plane]:
    """Return the three planes of H x W x 3, each by itself in memory."""
    first, second, third = cv2.split(planes)
    return np.asarray(first, np.float32), np.asarray(second, np.float32), np.asarray(third, np.float32)


def shifted(planes: Plane, shift: NDArray[np.float32]) -> Plane:
    """Return three planes (H x W x 3) with a number of its own taken off each."""
    return combined(planes, np.column_stack([np.eye(3), -shift]))


def quantile_of(values: NDArray[np.float32], share: float) -> float:
    """Return the value (of at least one) below which a share of all lies, between two of them by a straight line."""
    place = share * (values.size - 1)
    low = int(place)
    high = min(low + 1, values.size - 1)
    parted = np.partition(values, (low, high))
    return float(parted[low] + (parted[high] - parted[low]) * np.float32(place - low))


def within(planes: Plane, mask: Mask) -> Plane:
    """Return planes with 0 outside a mask."""
    return np.asarray(cv2.copyTo(planes, mask.view(np.uint8)), np.float32)
