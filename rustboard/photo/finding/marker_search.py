"""Looking for printed markers in a grey picture: coarse corners and numbers, nothing decided yet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

import cv2
import numpy as np

from rustboard.board.model import Marker
from rustboard.photo.finding.found import Grey
from rustboard.photo.finding.grey_levels import GreyLevels
from rustboard.photo.homography import Points

_LEAST_SIDE_PX: Final = 20.0
"""Side of a marker, in the picture that is searched, below which its cells melt together."""
_USUAL_SHARE: Final = 0.5
"""A photo taken for measuring shows the board at least this long against its own longer side."""
_MOST_SEARCHED_PX: Final = 4_200
_WINDOWS: Final = (13, 23, 7)
"""Sides of the neighbourhood whose mean parts black from white, in pixels; the first finds nearly every marker."""
_ENOUGH: Final = 3
_FEWEST: Final = 2
_PATIENT: Final = 3
_SAME_PLACE: Final = 0.5


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """A marker somewhere in the photo.

    Attributes:
        corners_px: 4 x 2, in pixels of the upright photo, clockwise from the pattern's own top left.
    """

    id: int
    corners_px: Points

    @property
    def centre_px(self) -> Points:
        """Where its corners are on average."""
        centre: Points = self.corners_px.mean(axis=0)
        return centre

    @property
    def side_px(self) -> float:
        """Mean length of its sides."""
        sides = self.corners_px - np.roll(self.corners_px, -1, axis=0)
        return float(np.hypot(*sides.T).mean())

    def turned(self, quarters: int) -> Seen:
        """Return the same square with its pattern turned clockwise by so many quarter turns."""
        return Seen(self.id, np.roll(self.corners_px, -quarters, axis=0))


class _Attempt(NamedTuple):
    halvings: int
    window: int


def search(levels: GreyLevels, markers: Sequence[Marker], span_mm: float) -> list[Seen]:
    """Return what looks like a marker, of this board or of another, finer pictures searched only when too few show.

    Args:
        levels: the photo.
        markers: of this board.
        span_mm: the board's longer side.
    """
    wanted = {each.id for each in markers}
    seen: list[Seen] = []
    for number, attempt in enumerate(_attempts(levels, markers, span_mm)):
        for found in detected(levels[attempt.halvings], attempt.window, 2.0**attempt.halvings):
            _add(seen, found)
        # Two say where the others must be, so that these are not worth the dearest searches.
        enough = _ENOUGH if number < _PATIENT else _FEWEST
        if len(wanted & {each.id for each in seen}) >= min(enough, len(wanted)):
            break
    return seen


def mirrored(levels: GreyLevels, markers: Sequence[Marker], span_mm: float) -> bool:
    """Return whether two or more of the markers show in the mirror image of the photo."""
    wanted = {each.id for each in markers}
    for attempt in list(_attempts(levels, markers, span_mm))[:2]:
        mirror = np.ascontiguousarray(levels[attempt.halvings][:, ::-1])
        if len(wanted & {each.id for each in detected(mirror, attempt.window, 1.0)}) > 1:
            return True
    return False


def detected(grey: Grey, window: int, scale: float) -> list[Seen]:
    """Return the markers that one search finds, corners times ``scale``.

    Garrido-Jurado et al., "Automatic generation and detection of highly reliable fiducial markers under occlusion"
    (2014), as OpenCV has it.
    """
    settings = cv2.aruco.DetectorParameters()
    settings.adaptiveThreshWinSizeMin = settings.adaptiveThreshWinSizeMax = window
    settings.minDistanceToBorder = 1
    settings.cornerRefinementMethod = int(cv2.aruco.CORNER_REFINE_NONE)
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    corners, ids, _ = cv2.aruco.ArucoDetector(dictionary, settings).detectMarkers(grey)
    numbers = [] if ids is None else np.asarray(ids).ravel().tolist()
    return [
        # OpenCV counts from the centre of the first pixel.
        Seen(int(number), (np.asarray(quad, np.float64).reshape(4, 2) + 0.5) * scale)
        for number, quad in zip(numbers, corners, strict=True)
    ]


def _attempts(levels: GreyLevels, markers: Sequence[Marker], span_mm: float) -> Iterator[_Attempt]:
    longest = max(levels.size_px)
    smallest = min(each.size_mm for each in markers) / span_mm * _USUAL_SHARE * longest
    coarsest = max(0, int(np.floor(np.log2(max(smallest / _LEAST_SIDE_PX, 1.0)))))
    finest = min(coarsest, levels.halvings_to(_MOST_SEARCHED_PX))
    for halvings in range(coarsest, finest - 1, -1):
        for window in _WINDOWS if coarsest - halvings < 2 else _WINDOWS[:1]:
            yield _Attempt(halvings, window)


def _add(seen: list[Seen], found: Seen) -> None:
    """Add a marker unless it was seen at this place before; a finer search then only repeats it."""
    for each in seen:
        apart = float(np.hypot(*(each.centre_px - found.centre_px)))
        if each.id == found.id and apart < _SAME_PLACE * each.side_px:
            return
    seen.append(found)
