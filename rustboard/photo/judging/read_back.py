"""A stretch read back: for every look what is rust, debris and unknown in the light of all looks."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np

from rustboard.photo.judging.lone_patches import suspect_patch
from rustboard.photo.judging.masks import Masks, pack
from rustboard.photo.judging.series import NEVER, Plane, Stretch, full
from rustboard.photo.judging.spots import Spots, spots_of
from rustboard.photo.judging.strokes import Painted, corrected
from rustboard.photo.looks import Mask

_WEAK: Final = 30
"""Rust with less evidence than this (tenths of a natural logarithm) may be none."""
_MANY_LOOKS: Final = 3
_SQUARE: Final = np.ones((2, 2), np.uint8)


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """One look in the light of all, within the box of the surface; all areas in pixels of the grid.

    Attributes: as in `ranges.Areas` and `CouponFinding`; ``packed`` holds the masks on the whole grid.
    """

    packed: bytes
    spots: Spots
    rust_px: float
    weak_px: float
    fresh_px: float
    suspect_px: float
    loose_px: float
    unknown_px: float
    never_px: float
    grown: float
    missed: float
    unseen_px: float
    debris_px: float
    contradicts: bool


class _Reader:
    """Goes through a stretch with what all looks together say."""

    def __init__(
        self, stretch: Stretch, days: Sequence[float], pixels_per_mm: float, place: Callable[[Mask], Mask]
    ) -> None:
        self.stretch = stretch
        self._place = place
        self.scale = pixels_per_mm
        settled = stretch.settled()
        self.suspect, self.suspect_since = suspect_patch(settled, self._last_seen(), days, pixels_per_mm)
        self.start, self.strength = settled.start, settled.strength
        self.start[self.suspect] = NEVER
        self.weak = full((self.strength < _WEAK) & (self.start != NEVER))
        self.cover: Plane = np.zeros(stretch.shape, np.uint8)
        self.looks = np.zeros(stretch.shape, np.uint8)
        self.core = np.zeros(stretch.shape, np.bool_)
        self.seen_before = np.zeros(stretch.shape, np.bool_)
        self.unknown = self._unknown()

    def _last_seen(self) -> int:
        """Return the last look that shows more than half of the surface."""
        half = np.count_nonzero(self.stretch.surface) / 2
        for number in range(len(self.stretch.kept) - 1, 0, -1):
            _, foreign, unseen = self._bits(number)
            if np.count_nonzero(foreign | unseen) < half:
                return number
        return 0

    def _unknown(self) -> list[bytes]:
        """Return for each look which pixels are hidden without a later look that shows them unrusted (packed)."""
        known = np.zeros(self.stretch.shape, np.bool_)
        found = []
        for number in range(len(self.stretch.kept) - 1, -1, -1):
            rusty, foreign, unseen = self._bits(number)
            rust = self.start <= number
            hidden = foreign | unseen | (rusty & ~rust)
            known |= ~hidden
            found.append(np.packbits(self.stretch.surface & ~rust & ~known).tobytes())
        return found[::-1]

    def _bits(self, number: int) -> tuple[Mask, Mask, Mask]:
        kept = self.stretch.kept[number]
        return self._plane(kept.rusty), self._plane(kept.foreign), self._plane(kept.unseen)

    def _plane(self, bits: bytes) -> Mask:
        plane = np.unpackbits(np.frombuffer(bits, np.uint8), count=self.stretch.surface.size)
        return plane.view(np.bool_).reshape(self.stretch.shape)

    def _with_core(self, number: int, rusty: Mask) -> Mask:
        """Return the rust there is by a look, without what later turned out to have been noise before rust came.

        As for all looks together, a spot needs strong evidence or many looks somewhere.
        """
        began = self.start <= number
        self.looks[rusty & began] += 1
        core = self._plane(self.stretch.kept[number].strong) | (self.looks >= _MANY_LOOKS)
        core |= (self.start == number) & ~rusty  # began below something
        self.core |= core & began
        if number == len(self.stretch.kept) - 1:
            return began
        count, labels = cv2.connectedComponents(began.view(np.uint8), connectivity=8)
        keep = np.zeros(count, np.bool_)
        keep[labels[self.core]] = True
        keep[0] = False
        return began if keep[1:].all() else np.asarray(keep[labels], np.bool_)

    def _cover_more(self, number: int, rusty: Mask, cover: Plane) -> None:
        """Take over how much a look's rusty pixels are covered; rust that was there before does not shrink."""
        places = np.flatnonzero(rusty)
        flat = self.cover.reshape(-1)
        before = np.where(self.start.reshape(-1)[places] < number, flat[places], 0)
        half = cover // 2 + before // 2
        flat[places] = np.where(before > 0, np.maximum(cover, half), cover)
        flat[np.flatnonzero((self.start == number) & ~rusty)] = 255  # began below something; nothing better is known

    def read(self, number: int, drawn: Painted | None, *, newest: bool) -> Seen:
        """Return the next look; looks are read in their order, because hidden rust keeps the cover it last had."""
        kept, surface = self.stretch.kept[number], self.stretch.surface
        rusty, foreign, unseen = self._bits(number)
        self._cover_more(number, rusty, kept.cover)
        rust = self._with_core(number, rusty)
        unbelieved = rusty & ~rust
        dirt = unbelieved
        if np.count_nonzero(unbelieved):
            dirt = cv2.morphologyEx(unbelieved.view(np.uint8), cv2.MORPH_OPEN, _SQUARE).view(np.bool_)
        masks = Masks(rust, (foreign | dirt) & ~rust, unseen & ~(rust | foreign | dirt))
        cover = self.cover
        if drawn is not None:
            masks = corrected(masks, drawn)
            cover = cover | full(drawn.added)
        covered = cover & full(masks.rust)
        hidden = self._plane(self.unknown[number])
        never = hidden & ~self.seen_before
        came = self.start == number
        grown = float(np.count_nonzero(came)) / max(1.0, float(np.count_nonzero(~hidden & (self.start >= number))))
        self.seen_before |= ~(foreign | unseen)
        suspect = int(np.count_nonzero(self.suspect)) if number >= self.suspect_since else 0
        loose = int(np.count_nonzero(unbelieved)) - int(np.count_nonzero(dirt)) if newest else 0
        return Seen(
            packed=pack(Masks(*map(self._place, (masks.rust, masks.debris, masks.unseen)))),
            spots=spots_of(masks.rust, cover, surface, self.scale),
            rust_px=_pixels(covered),
            weak_px=_pixels(covered & self.weak),
            fresh_px=_pixels(covered & full(came)) if newest and number else 0.0,
            suspect_px=suspect,
            loose_px=loose,
            unknown_px=max(0, int(np.count_nonzero(hidden)) - suspect - loose),
            never_px=int(np.count_nonzero(never)),
            grown=grown,
            missed=kept.missed,
            unseen_px=int(np.count_nonzero(masks.unseen)),
            debris_px=int(np.count_nonzero(masks.debris)),
            contradicts=kept.contradicts,
        )


def _pixels(covered: Plane) -> float:
    """Return an area in pixels from how much of each is covered."""
    return float(cv2.sumElems(covered)[0]) / 255


def read_back(
    stretch: Stretch,
    days: Sequence[float],
    drawn: Sequence[Painted | None],
    pixels_per_mm: float,
    place: Callable[[Mask], Mask],
) -> list[Seen]:
    """Return every look of a stretch in the light of all of them.

    Args:
        stretch: with all looks read.
        days: when each was taken.
        drawn: what a person drew on each.
        pixels_per_mm: of the grid.
        place: puts a mask of the surface's box where it belongs on the whole grid.
    """
    reader = _Reader(stretch, days, pixels_per_mm, place)
    last = len(days) - 1
    return [reader.read(number, drawn[number], newest=number == last) for number in range(len(days))]
