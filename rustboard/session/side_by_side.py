"""Comparing the coupons of an inspection two by two: who compares which, what comes next, how far it is. No Qt.

Everything that is asked next follows from the inspection, the grader and the choices on the disk, so that a
comparison that was interrupted goes on with the pair it stopped at.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING, Final, NamedTuple

from rustboard.board.blind import TURNS, Turn
from rustboard.board.model import Inspection, Photo
from rustboard.board.pair_choice import PairChoice, Rustier
from rustboard.board.record import BoardRecord
from rustboard.session.blind_rounds import photos_to_grade_from
from rustboard.session.jobs import Progress
from rustboard.session.nameless_pictures import coupons_shown
from rustboard.session.session import Session
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    from rustboard.findings.side_by_side.choices import Choice, Pair

LEAST_COUPONS: Final = 3
"""With fewer there is nothing to put in order."""

FEW_COUPONS: Final = 48
"""Up to so many the next pair is found at once, in a few hundredths of a second; of more beside the window."""


@dataclass(frozen=True, slots=True)
class Comparison:
    """Whose comparison it is, and of what.

    Attributes:
        inspection, photo: keys.
        coupons: keys of the coupons on the board that the photo shows, ascending.
        grader: who compares.
    """

    inspection: int
    photo: int
    coupons: tuple[int, ...]
    grader: str

    @property
    def seed(self) -> int:
        """The number the pairs are drawn with: of this inspection and grader, the same whenever he comes back."""
        words = f"{self.inspection}:{self.grader.casefold()}"
        return int.from_bytes(hashlib.sha256(words.encode("utf-8", "replace")).digest()[:6], "big")


class Standing(NamedTuple):
    """How far a comparison is.

    Attributes:
        done: choices made. wanted: about how many it takes.
    """

    done: int
    wanted: int


# ---- what can be compared


def photos_to_compare_in(record: BoardRecord, inspection: Inspection) -> list[Photo]:
    """Return the photos of an inspection in which coupons can be compared, the newest first."""
    return photos_to_grade_from(record, inspection)


def refuse_comparing(session: Session, inspection: Inspection | None, photo: Photo | None = None) -> None:
    """Refuse where coupons cannot be compared; without ``photo`` in the newest one of the inspection.

    Raises:
        InputError: there is nothing to compare, or this window only reads.
    """
    record = session.record
    if inspection is None:
        raise InputError("There is no inspection yet; add one with a photo first, then compare its coupons.")
    if session.read_only_reason:
        raise InputError("This window only reads the board, so nothing can be compared in it.")
    photos = photos_to_compare_in(record, inspection)
    if not photos and any(each.inspection == inspection.key for each in record.photos.values()):
        raise InputError(
            "The board was not found in the photo of this inspection; show its four corners there (Photos, Where the "
            "board is in the photo), then compare."
        )
    if not photos:
        raise InputError("This inspection has no photo; add one in which the whole board is seen, then compare.")
    photo = photo or photos[0]
    if session.photo_file(photo.key) is None:
        raise InputError("The photo of this inspection is not in the board's folder; put it back there.")
    count = len(coupons_shown(record, photo))
    if count < LEAST_COUPONS:
        raise InputError(
            f"An order takes at least {LEAST_COUPONS} coupons, and this photo shows {count} of the board; choose an "
            "inspection whose photo shows more."
        )


# ---- what was chosen, and what comes next


def choices_at(record: BoardRecord, inspection: int) -> list[PairChoice]:
    """Return every choice that counts at an inspection, oldest first."""
    return sorted(
        (each for each in record.pair_choices.values() if each.inspection == inspection), key=lambda each: each.key
    )


def own_choices(record: BoardRecord, of: Comparison) -> list[PairChoice]:
    """Return a grader's own choices between coupons of a comparison, oldest first."""
    coupons, grader = frozenset(of.coupons), of.grader.casefold()
    return [
        each
        for each in choices_at(record, of.inspection)
        if each.grader.casefold() == grader and each.left in coupons and each.right in coupons
    ]


def graders_at(record: BoardRecord, inspection: int) -> list[tuple[str, int]]:
    """Return who compared at an inspection and how many choices each made, by name."""
    choices = choices_at(record, inspection)
    names: dict[str, str] = {}
    for each in choices:
        names.setdefault(each.grader.casefold(), each.grader)
    counts = Counter(each.grader.casefold() for each in choices)
    return [(names[name], counts[name]) for name in sorted(names)]


def as_choices(given: Iterable[PairChoice]) -> tuple[Choice, ...]:
    """Return choices as the order is worked out from them."""
    from rustboard.findings.side_by_side.choices import Choice

    keys = {"left": lambda each: each.left, "right": lambda each: each.right}
    return tuple(
        Choice(each.left, each.right, keys[each.rustier](each) if each.rustier in keys else None) for each in given
    )


@dataclass(frozen=True, slots=True)
class PairRequest:
    """What the next pair follows from.

    Attributes:
        coupons: keys. choices: the grader's own. seed: of the comparison.
        go_on: whether to ask also when it is enough.
    """

    coupons: tuple[int, ...]
    choices: tuple[Choice, ...]
    seed: int
    go_on: bool = False

    def after(self, pair: Pair, rustier: Rustier) -> PairRequest:
        """Return the request when this pair has been answered so."""
        from rustboard.findings.side_by_side.choices import Choice

        key = {"left": pair.left, "right": pair.right, "neither": None}[rustier]
        return PairRequest(self.coupons, (*self.choices, Choice(*pair, key)), self.seed, self.go_on)


def pair_request(record: BoardRecord, of: Comparison, *, go_on: bool = False) -> PairRequest:
    """Return what the next pair of a comparison follows from."""
    return PairRequest(of.coupons, as_choices(own_choices(record, of)), of.seed, go_on)


def next_pair(request: PairRequest, progress: Progress | None = None) -> Pair | None:
    """Return the pair to show next, or None when it is enough; a job where there are many coupons."""
    from rustboard.findings.side_by_side.pairs import choose_pair

    if progress is not None:
        progress.step(0, 1)
    return choose_pair(request.coupons, request.choices, request.seed, go_on=request.go_on)


def pair_turns(request: PairRequest, pair: Pair) -> tuple[Turn, Turn]:
    """Return how the two pictures are turned: by lot, and the same each time this pair is shown for this choice."""
    asked = sum({each.left, each.right} == set(pair) for each in request.choices)
    # Of `random` only this row of numbers is the same under every version of Python.
    lot = Random(f"turns:{request.seed}:{min(pair)}:{max(pair)}:{asked}").random
    return TURNS[int(lot() * len(TURNS))], TURNS[int(lot() * len(TURNS))]


def standing(record: BoardRecord, of: Comparison) -> Standing:
    """Return how far a grader's comparison is."""
    from rustboard.findings.side_by_side.pairs import choices_wanted

    return Standing(len(own_choices(record, of)), choices_wanted(len(of.coupons)))


def has_enough(record: BoardRecord, of: Comparison) -> bool:
    """Return whether more choices of this grader would add little."""
    from rustboard.findings.side_by_side.pairs import is_enough

    own = own_choices(record, of)
    # Fewer cannot link them all; asked first, because it costs nothing.
    return len(own) >= len(of.coupons) - 1 and is_enough(of.coupons, as_choices(own))
