"""Rust in time: what does not stay was never rust; rust persists and does not shrink.

Every pixel is taken to go from clean to rusted once, or never. Its photos are read in order with a running sum of the
evidence (Page's cumulative sum test, E. S. Page, "Continuous inspection schemes", Biometrika 1954): rusty looks add,
clean looks take away, and when nothing is left the pixel starts anew. The photo in which the sum that is still above
nothing began to rise is where the rust began, which is the change point of the greatest likelihood. The sum has a
ceiling, so that a leaf that has lain for a month is forgotten as soon as one that has lain for a day.

Nothing but the running planes and a few bits a pixel and photo is kept, so that hundreds of photos fit into memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.judging.strokes import Painted
from rustboard.photo.looks import Evidence, Mask
from rustboard.photo.pieces import pieces_of

Plane = NDArray[np.uint8]

NEVER: Final = 0xFFFF

# Tenths of a natural logarithm, as the evidence has them.
RUSTY_MOST: Final = 25
"""What one rusty look adds at most."""
CLEAN_MOST: Final = 40
"""What one clean look takes away at most: more, because rust does not go away but dirt comes."""
CEILING: Final = 75
"""The most the sum can be: three rusty looks. One clean look does not erase it, two do."""
_CLEAN_SURE: Final = 20
"""A clean look this strong, as the last word on a pixel, makes dirt of what was there."""
_NEAR_RUST: Final = 5
_NEAR_MOST: Final = 10
"""A clean look beside a rusty one takes away no more than this: it may be the next pixel's."""
SEED: Final = 20
"""A spot needs this much somewhere; it then reaches as far as there is anything."""
_CORE_LATER: Final = 12
"""The same for a look to which later ones say that the spot was rust."""
_LASTING: Final = 45
"""More than one look can give: such specks count even if tiny."""
# Pixels of the grid, of which one is two of the photo along a line.
_LEAST_SPOT_PX: Final = 2
_LEAST_LOST_PX: Final = 3
_FEW_LOST: Final = 0.03
_LEAST_JUDGED_PX: Final = 3
_STILL_SHOWS: Final = 0.25
_LEAST_SPOTS: Final = 3
_MISSES_TOO_MUCH: Final = 0.15
"""A photo that misses more than this of the rust is no proof that what it does not show was dirt."""
_MOST_BLOBS: Final = 4
_MOSTLY: Final = 0.6
_ENCLOSED: Final = 0.6
"""Share of its rim that must be rusty for what looks clean within to be rust still."""
_NEAR: Final = np.ones((3, 3), np.uint8)
_CORE: Final = np.ones((2, 2), np.uint8)

_LEAST_ESTABLISHED_PX: Final = 8
_MOST_LOST: Final = 0.6
_MOST_AT_ONCE: Final = 0.6


@dataclass(frozen=True, slots=True, eq=False)
class Kept:
    """What is kept of one look, a bit a pixel.

    Attributes:
        rusty, foreign, unseen: packed bits.
        strong: packed bits, rusty enough to be a spot's core.
        cover: of the rusty pixels, in their order.
        missed: share of the earlier rust that still shows in part which the look showed as clean.
        contradicts: whether the look showed nearly all earlier rust as clean and was not believed.
    """

    rusty: bytes
    foreign: bytes
    unseen: bytes
    strong: bytes
    cover: Plane
    missed: float = 0.0
    contradicts: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Settled:
    """What all looks together say (H x W).

    Attributes:
        start: number of the look in which a pixel began to rust; `NEVER` where it did not.
        strength: the evidence for it in tenths of a natural logarithm, 0 to `CEILING`.
        counted: pixels of the significant surface.
    """

    start: NDArray[np.uint16]
    strength: Plane
    counted: int


class Stretch:
    """The looks between two resets, read one after the other; more can be added at any time."""

    def __init__(self, surface: Mask) -> None:
        shape = (surface.shape[0], surface.shape[1])
        self.shape = shape
        self.surface = surface
        self.kept: list[Kept] = []
        self._sum = np.zeros(shape, np.uint8)
        self._start = np.zeros(shape, np.uint16)
        self._hidden_run = np.zeros(shape, np.uint8)
        # Pixels whose last clear look was clean though the sum is not used up: dirt, unless a later look shows rust.
        self._doubt = np.zeros(shape, np.uint8)
        self._sure: Plane | None = None

    def add(self, evidence: Evidence, *, touched: bool = False, drawn: Painted | None = None) -> None:
        """Read the next look.

        Args:
            evidence: of the photo, at least as large as the surface.
            touched: the coupon was handled since the look before: what is gone may have been rubbed off.
            drawn: what a person drew on this photo, which is certain.
        """
        hidden = full(evidence.unseen | evidence.foreign)
        seen = full(self.surface & (hidden == 0))
        rusty = np.clip(evidence.rust, 0, RUSTY_MOST).view(np.uint8) & seen
        clean = np.negative(np.clip(evidence.rust, -CLEAN_MOST, 0)).view(np.uint8) & seen
        near = _as_array(cv2.dilate(rusty, _NEAR)) >= _NEAR_RUST
        clean = np.minimum(clean, _capped(near, _NEAR_MOST))
        if touched:
            clean >>= np.uint8(1)
        if drawn is not None:
            _draw(drawn, rusty, clean)
        clean[self._within_rust(rusty, clean)] = 0
        contradicts = self._contradicts(clean)
        missed = 1.0 if contradicts else self._missed(rusty, clean)
        if missed > 0:
            # How much less likely a clean look is on rust than on steel: as often as this photo misses rust.
            most = np.uint8(min(CLEAN_MOST, -10 * log(missed)))
            held = self._sum > 0
            clean[held] = np.minimum(clean[held], most)
        doubting = not touched and missed < _MISSES_TOO_MUCH
        self._step(rusty, clean, hidden, evidence.foreign, doubting=doubting)
        if drawn is not None:
            self._obey(drawn)
        showing = rusty > 0
        self.kept.append(
            Kept(
                np.packbits(showing).tobytes(),
                np.packbits(evidence.foreign).tobytes(),
                np.packbits(evidence.unseen).tobytes(),
                np.packbits(rusty >= _CORE_LATER).tobytes(),
                np.take(evidence.cover, np.flatnonzero(showing)),
                missed,
                contradicts,
            )
        )

    def skip(self) -> None:
        """Read a photo that does not show the coupon."""
        none = np.zeros(self.shape, np.bool_)
        self.add(Evidence(np.zeros(self.shape, np.int8), none.view(np.uint8), none, self.surface))

    def _step(self, rusty: Plane, clean: Plane, hidden: Plane, strange: Mask, *, doubting: bool) -> None:
        number = len(self.kept)
        before, once = self._sum > 0, self._sum <= RUSTY_MOST
        raised = np.minimum(self._sum + rusty, np.uint8(CEILING))
        self._sum = raised - np.minimum(raised, clean)
        alive = self._sum > 0
        if self._sure is not None:
            np.maximum(self._sum, self._sure, out=self._sum)
            alive |= self._sure > 0
        began = np.flatnonzero(alive & ~before)
        # Hidden before it showed: it began at some time in between; take the middle.
        self._start.reshape(-1)[began] = number - (self._hidden_run.reshape(-1)[began] // 2).astype(np.uint16)
        self._hidden_run = _as_array(
            cv2.bitwise_and(cv2.add(self._hidden_run, np.ones(self.shape, np.uint8)), hidden)
        )
        silent = rusty == 0
        doubt = self._doubt > 0
        if doubting:
            lost = (clean >= _CLEAN_SURE) & before
            doubt |= lost
            if np.count_nonzero(lost) >= _LEAST_LOST_PX and np.any(cv2.erode(lost.view(np.uint8), _CORE)):
                # Crumbs within and beside what has gone go with it, because dirt comes and goes as a whole.
                gone = cv2.dilate(cv2.morphologyEx(full(lost), cv2.MORPH_CLOSE, _NEAR), _NEAR)
                doubt |= _as_array(gone) > 0
                doubt |= self._gone_together(lost, before, rusty, clean)
        # What looked like rust once and then strange may be one thing that lies there, in two lights.
        doubt |= strange & before & (self._sum <= RUSTY_MOST)
        doubt &= silent & alive
        # What showed once and is gone with its patch does not come back to life where its clean look was a weak one.
        self._sum[doubt & once & (clean > 0)] = 0
        doubt &= self._sum > 0
        if self._sure is not None:
            doubt &= self._sure == 0
        self._doubt = doubt.view(np.uint8)

    def _gone_together(self, lost: Mask, before: Mask, rusty: Plane, clean: Plane) -> Mask:
        """Return the rest of blobs that came in one look and have mostly gone in this one.

        What is still rusty where such a blob was begins anew with this look: it is another thing.
        """
        number = len(self.kept)
        rest = np.zeros(self.shape, np.bool_)
        counts = np.bincount(self._start[lost])
        for start in np.argsort(counts)[::-1][:_MOST_BLOBS]:
            if counts[start] < _LEAST_LOST_PX or start == number:
                break
            came = before & (self._start == start)
            count, labels = cv2.connectedComponents(came.view(np.uint8), connectivity=8)
            of = labels.reshape(-1)
            sizes = np.bincount(of[np.flatnonzero(came)], minlength=count)
            gone = np.bincount(of[np.flatnonzero(came & (clean > 0))], minlength=count)
            mostly = (gone > _MOSTLY * sizes)[labels] & came
            rest |= mostly
            anew = mostly & (rusty > 0)
            self._start[anew] = number
            self._sum[anew] = rusty[anew]
        return rest

    def _within_rust(self, rusty: Plane, clean: Plane) -> Mask:
        """Return the earlier rust that looks clean now while there is rust all around it.

        No spot heals from its middle; old rust turns nearly black, which on a dark finish shows little. What only one
        look has shown may be dirt that has gone, with rust around where it lay.
        """
        lost = (self._sum > RUSTY_MOST) & (clean > 0)
        if np.count_nonzero(lost) < _LEAST_LOST_PX or not rusty.any():
            return np.zeros(self.shape, np.bool_)
        labels, areas, _ = pieces_of(lost)
        around = np.asarray(cv2.dilate(labels.astype(np.float32), _NEAR), np.int32)
        count = areas.size
        rim = np.flatnonzero((around > 0) & ~lost & self.surface)
        of = around.reshape(-1)[rim]
        rims = np.bincount(of, minlength=count)
        rusted = np.bincount(of, rusty.reshape(-1)[rim] > 0, minlength=count)
        enclosed = rusted > _ENCLOSED * np.maximum(rims, 1)
        enclosed[0] = False
        return np.asarray(enclosed[labels], np.bool_)

    def _contradicts(self, clean: Plane) -> bool:
        """Return whether a look shows as clean most of what has grown over several looks.

        That is a bad photo, or a coupon cleaned or replaced without a word in the day log; the second such look
        in a row is believed.
        """
        if self.kept and self.kept[-1].contradicts:
            return False
        established = self._sum >= CEILING
        count = np.count_nonzero(established)
        if count < _LEAST_ESTABLISHED_PX:
            return False
        lost = established & (clean >= _CLEAN_SURE)
        if np.count_nonzero(lost) <= _MOST_LOST * count:
            return False
        starts = np.bincount(self._start[lost])
        # A leaf comes at once; what came little by little was rust.
        return bool(starts.max() < _MOST_AT_ONCE * starts.sum())

    def _missed(self, rusty: Plane, clean: Plane) -> float:
        """Return which share of rust this look misses, 0 to 1, judged by spots that still show in part.

        Wet, dim and blurred photos miss rust that is there. A leaf that has gone leaves nothing of itself.
        """
        held = self._sum >= SEED
        lost = held & (clean >= _CLEAN_SURE)
        if np.count_nonzero(lost) < max(_LEAST_LOST_PX, _FEW_LOST * np.count_nonzero(held)):
            return 0.0
        count, labels = cv2.connectedComponents(held.view(np.uint8), connectivity=8)
        of = labels.reshape(-1)
        showing = np.bincount(of[np.flatnonzero(held & (rusty > 0))], minlength=count)[1:]
        gone = np.bincount(of[np.flatnonzero(lost)], minlength=count)[1:]
        sizes = showing + gone
        partly = (sizes >= _LEAST_JUDGED_PX) & (showing >= _STILL_SHOWS * sizes)
        if np.count_nonzero(partly) < _LEAST_SPOTS:
            return 0.0
        # The middle spot, each counted by the root of its size, lest a leaf that lay on one spot speaks for all.
        shares, weights = gone[partly] / sizes[partly], np.sqrt(sizes[partly])
        order = np.argsort(shares)
        passed = np.cumsum(weights[order])
        return float(shares[order][np.searchsorted(passed, passed[-1] / 2)])

    def _obey(self, drawn: Painted) -> None:
        if self._sure is None:
            self._sure = np.zeros(self.shape, np.uint8)
        self._sure[drawn.added] = CEILING
        self._sure[drawn.removed] = 0
        self._sum[drawn.added] = CEILING
        self._sum[drawn.removed] = 0
        self._doubt[drawn.added | drawn.removed] = 0

    def settled(self) -> Settled:
        """Return what the looks so far say together: spots with a core, without specks that a single look gave."""
        lasting = (self._sum > 0) & (self._doubt == 0)
        start = np.full(self.shape, NEVER, np.uint16)
        if lasting.any():
            lasting = _with_core(lasting, self._sum)
            np.copyto(start, self._start, where=lasting)
        strength = np.where(lasting, self._sum, np.uint8(0))
        return Settled(start, strength, int(np.count_nonzero(self.surface)))


def _with_core(lasting: Mask, strength: Plane) -> Mask:
    """Return the spots that have strong evidence somewhere, and size or lasting evidence."""
    labels, areas, _ = pieces_of(lasting)
    keep = np.zeros(len(areas), np.bool_)
    keep[labels[strength >= SEED]] = True
    keep &= areas >= _LEAST_SPOT_PX
    keep[labels[strength >= _LASTING]] = True
    keep[0] = False
    kept: Mask = keep[labels]
    return kept


def _draw(drawn: Painted, rusty: Plane, clean: Plane) -> None:
    rusty[drawn.added], clean[drawn.added] = RUSTY_MOST, 0
    rusty[drawn.removed], clean[drawn.removed] = 0, CLEAN_MOST


def full(mask: Mask) -> Plane:
    """Return a mask as 0 and 255."""
    return np.negative(mask.view(np.uint8))


def _capped(mask: Mask, most: int) -> Plane:
    """Return ``most`` inside a mask and 255 outside."""
    return np.bitwise_or(np.negative((~mask).view(np.uint8)), np.uint8(most))


def _as_array(plane: object) -> Plane:
    return np.asarray(plane, np.uint8)
