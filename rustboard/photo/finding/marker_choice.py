"""Which of the squares that look like markers are the board's own: those that lie together as the record has them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations, permutations, product
from typing import Final, NamedTuple

import numpy as np

from rustboard.board.model import Marker
from rustboard.photo.finding.found import TAP_INSTEAD
from rustboard.photo.finding.joint_fit import plain_homography, square_mm
from rustboard.photo.finding.marker_search import Seen
from rustboard.support.problems import InputError

_MOST_ALIKE: Final = 3
"""So many squares with one number are looked at, the largest: a printed one is larger than a chance pattern."""
_MOST_AWAY: Final = 0.09
"""How far off its place a coarse corner may lie, in sides of its marker (root mean square)."""
_FEWEST: Final = 2
_MAJORITY: Final = 3
"""When markers contradict each other, two that agree prove nothing: on a board of another size every pair does."""
_OTHER_BOARD: Final = 3
"""Wood and steel now and then show one chance pattern, hardly three."""


class Choice(NamedTuple):
    """The board's own markers in the photo, and what to tell about them."""

    seen: list[Seen]
    warnings: tuple[str, ...] = ()
    left_out: tuple[int, ...] = ()


def chosen(seen: Sequence[Seen], markers: Sequence[Marker]) -> Choice:
    """Return one square for as many markers as lie together as recorded, two at least.

    Raises:
        InputError: too few, or they contradict the record; the sentence says what to do.
    """
    recorded = {each.id: each for each in markers}
    alike: dict[int, list[Seen]] = {}
    for each in sorted(seen, key=_by_size):
        if each.id in recorded and len(alike.setdefault(each.id, [])) < _MOST_ALIKE:
            alike[each.id].append(each)
    if len(alike) < _FEWEST:
        raise InputError(_too_few(sorted(alike), {each.id for each in seen} - set(recorded)))
    best = _best(product(*alike.values()), recorded)
    if best is not None:
        return Choice(best)
    _refuse_exchanged(alike, recorded)
    for count in range(len(alike) - 1, _MAJORITY - 1, -1):
        some = _best(
            (each for ids in combinations(alike, count) for each in product(*(alike[number] for number in ids))),
            recorded,
        )
        if some is not None:
            out = sorted(set(alike) - {each.id for each in some})
            return Choice(some, (f"{listed_markers(out)} not where the record has {_it(out)}.",), tuple(out))
    turned = _best(
        product(*([each.turned(q) for each in group for q in range(4)] for group in alike.values())), recorded
    )
    if turned is not None:
        return Choice(turned, ("A marker is glued on turned by a quarter or a half; it was used all the same.",))
    raise InputError(
        f"Markers {_listed(sorted(alike))} do not lie as the record has them; measure their places and sizes on the "
        f"board again, or {TAP_INSTEAD}."
    )


def _best(candidates: Iterable[Sequence[Seen]], recorded: dict[int, Marker]) -> list[Seen] | None:
    """Return the squares that lie together best, or None when none lie together."""
    judged = [(_disagreement(each, recorded), list(each)) for each in candidates]
    if not judged:
        return None
    away, best = min(judged, key=_by_disagreement)
    return best if away < _MOST_AWAY else None


def _disagreement(seen: Sequence[Seen], recorded: dict[int, Marker]) -> float:
    """Return how far corners lie from one view of the record, in sides of their markers."""
    places = np.concatenate([square_mm(recorded[each.id]) for each in seen])
    corners = np.concatenate([each.corners_px for each in seen])
    view = plain_homography(places, corners)
    ideal = places @ view[:, :2].T + view[:, 2]
    if not (np.all(ideal[:, 2] > 0) or np.all(ideal[:, 2] < 0)) or abs(float(np.linalg.det(view))) < 1e-12:
        return np.inf
    away = np.hypot(*(ideal[:, :2] / ideal[:, 2:] - corners).T).reshape(-1, 4) / [[each.side_px] for each in seen]
    return float(np.sqrt(np.mean(away**2)))


def _refuse_exchanged(alike: dict[int, list[Seen]], recorded: dict[int, Marker]) -> None:
    ids = sorted(alike)
    largest = [alike[number][0] for number in ids]
    for order in permutations(ids):
        if order == tuple(ids):
            continue
        renamed = [Seen(number, each.corners_px) for number, each in zip(order, largest, strict=True)]
        if _best([renamed], recorded) is not None:
            moved = [number for number, place in zip(ids, order, strict=True) if number != place]
            how = "each other's place" if len(moved) == 2 else "one another's places"
            raise InputError(f"Markers {_listed(moved)} hang in {how}; exchange them, or mend the record.")


def _too_few(ours: list[int], others: set[int]) -> str:
    if ours:
        return (
            f"Only marker {ours[0]} was found in this photo, and one is not enough; clean and uncover the others, or "
            f"{TAP_INSTEAD}."
        )
    if len(others) >= _OTHER_BOARD:
        return (
            f"Markers {_listed(sorted(others))} show in this photo, which are not this board's; add it to the board "
            f"that it shows, or {TAP_INSTEAD}."
        )
    return (
        "None of this board's markers was found in this photo; photograph the whole board sharp and from nearer, or "
        f"{TAP_INSTEAD}."
    )


def _listed(numbers: Sequence[int]) -> str:
    words = [str(each) for each in numbers]
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else words[0]


def listed_markers(numbers: Sequence[int]) -> str:
    """Return the beginning of a sentence about markers."""
    return f"Marker {numbers[0]} is" if len(numbers) == 1 else f"Markers {_listed(numbers)} are"


def _it(numbers: Sequence[int]) -> str:
    return "it" if len(numbers) == 1 else "them"


def _by_size(seen: Seen) -> float:
    return -seen.side_px


def _by_disagreement(judged: tuple[float, list[Seen]]) -> float:
    return judged[0]
