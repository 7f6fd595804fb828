"""One photo in grey, at full size and at halves of it, made when first asked for."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np

from rustboard.photo.finding.found import Grey, UprightPixels
from rustboard.photo.source import Source, source_of

_GREEN: Final = 1


class GreyLevels:
    """A photo's green plane, which every camera samples most densely, and that plane halved again and again.

    Taking one plane and halving it by exact means of 2 x 2 pixels costs a third of a conversion to luminance with an
    arbitrary reduction, and print in black on white looks the same in both.
    """

    def __init__(self, photo: UprightPixels | Source) -> None:
        self._source = source_of(photo)
        self._levels: dict[int, Grey] = {}
        height, width = self._source.picture.shape[:2]
        self.size_px = (width, height)

    @property
    def unhalved(self) -> Grey:
        """The plane as it lies in the photo, not by itself in memory: for those who need little of it."""
        return self._source.picture[:, :, _GREEN]

    def __getitem__(self, halvings: int) -> Grey:
        """Return the plane halved so many times. Pixel x of it lies at (x + 0.5) * 2 ** halvings of the photo."""
        if halvings not in self._levels:
            self._levels[halvings] = self._made(halvings)
        return self._levels[halvings]

    def _made(self, halvings: int) -> Grey:
        if halvings < 2:
            rgb = self._source.half if halvings else self._source.picture
            return np.asarray(cv2.extractChannel(np.ascontiguousarray(rgb), _GREEN), np.uint8)
        last = self[halvings - 1]
        height, width = last.shape
        # An odd last line is left out, so that every pixel is the mean of exactly four.
        even = last[: height // 2 * 2, : width // 2 * 2]
        return np.asarray(cv2.resize(even, (width // 2, height // 2), interpolation=cv2.INTER_AREA), np.uint8)

    def halvings_to(self, longest_px: float) -> int:
        """Return the least number of halvings after which no side is longer than ``longest_px``."""
        halvings, longest = 0, float(max(self.size_px))
        while longest > longest_px:
            longest, halvings = longest / 2, halvings + 1
        return halvings
