"""The comparisons a question asks for, as groups of the coupons that hang on the board."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Literal, NamedTuple

from rustboard.board.cells import identity
from rustboard.board.question import Question
from rustboard.board.record import BoardRecord
from rustboard.support.text import one_line

Kind = Literal["control", "pair", "family", "finish", "protectant"]
Factor = Literal["finish", "protectant"]

CONTROL = "control"
_NONE = frozenset({"", "none"})
_OTHER: Mapping[Factor, Factor] = {"finish": "protectant", "protectant": "finish"}


class Level(NamedTuple):
    """What of a comparison lies at one level of the other factor; labels may change places only within it.

    Attributes:
        name: of the level; empty where there is no other factor.
        a, b: keys of coupons.
    """

    name: str
    a: frozenset[int]
    b: frozenset[int]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two groups of coupons to be told apart.

    Attributes:
        kind: what is compared: a treatment with the controls, two treatments, two families, two levels of a factor.
        a, b: what people call the groups.
        coupons_a, coupons_b: keys of the coupons on the board, none in both.
        levels: the groups again, by level of the other factor; one nameless level where there is no other factor.
    """

    kind: Kind
    a: str
    b: str
    coupons_a: frozenset[int]
    coupons_b: frozenset[int]
    levels: tuple[Level, ...]


def comparisons_of(question: Question, record: BoardRecord) -> list[Comparison]:
    """Return what is compared with what, in the order of the ids, controls last; only coupons on the board count.

    A comparison of which one side has no coupon is left out.
    """
    board = _Hanging(record)
    match question.compared:
        case "control":
            return _against_control(board)
        case "pairs":
            return _pairs(board, combinations(board.ordered(board.by_treatment), 2))
        case "families":
            return _families(board)
        case "grid":
            return [*_factor(board, "finish"), *_factor(board, "protectant")]
        case "chosen":
            return _pairs(board, _chosen(board, question.pairs))


class _Hanging:
    """The coupons on a board, by what was done to them."""

    def __init__(self, record: BoardRecord) -> None:
        self.treatments = record.treatments
        self.treatment_of = record.treatment_of
        self.on_board = [each for each in record.coupons_in_order() if each.position is not None]
        self.by_treatment: dict[int, set[int]] = defaultdict(set)
        for each in self.on_board:
            if each.treatment in self.treatments:
                self.by_treatment[each.treatment].add(each.key)
        self.controls = frozenset(each.key for each in self.on_board if each.role == "control")
        self._titles = Counter(identity(each.title) for each in self.treatments.values())

    def tested(self) -> dict[int, set[int]]:
        """Return the test coupons of each treatment that has any."""
        found = ((key, coupons - self.controls) for key, coupons in self.by_treatment.items())
        return {key: coupons for key, coupons in found if coupons}

    def ordered(self, keys: Iterable[int]) -> list[int]:
        """Return treatments by id, those only controls have last: what is tested is read against them."""
        return sorted(
            keys, key=lambda key: (self.by_treatment[key] <= self.controls, _natural(self.treatments[key].id))
        )

    def title(self, key: int) -> str:
        treatment = self.treatments[key]
        title = one_line(treatment.title, 80)
        shared = self._titles[identity(treatment.title)] > 1
        return f"{title} ({one_line(treatment.id, 40)})" if shared and treatment.name else title


def treatment_titles(record: BoardRecord) -> dict[int, str]:
    """Return what people call each treatment, by key: with its id where two have the same name."""
    board = _Hanging(record)
    return {key: board.title(key) for key in record.treatments}


def natural_order(record: BoardRecord, treatment: int) -> tuple[tuple[int, int | str], ...]:
    """Return what sorts treatments by id as people count: T2 before T10."""
    return _natural(record.treatments[treatment].id)


def level_order(level: str) -> tuple[tuple[int, int | str], ...]:
    """Return what sorts levels of a factor, as `factor_level` has them: T2 before T10, none first."""
    return _natural(level)


def factor_level(text: str) -> str:
    """Return the form in which two levels of a factor count as the same; empty for none."""
    return _level(text)


def _natural(text: str) -> tuple[tuple[int, int | str], ...]:
    """Return what sorts T2 before T10."""
    parts: list[tuple[int, int | str]] = []
    number = ""
    for char in f"{identity(text)}\0":
        if char in "0123456789":
            number += char
            continue
        if number:
            parts.append((0, int(number)))
            number = ""
        parts.append((1, char))
    return tuple(parts)


def _simple(kind: Kind, names: tuple[str, str], a: Iterable[int], b: Iterable[int]) -> Comparison:
    level = Level("", frozenset(a), frozenset(b))
    return Comparison(kind, *names, level.a, level.b, (level,))


def _against_control(board: _Hanging) -> list[Comparison]:
    if not board.controls:
        return []
    tested = board.tested()
    return [
        _simple("control", (board.title(key), CONTROL), tested[key], board.controls) for key in board.ordered(tested)
    ]


def _pairs(board: _Hanging, pairs: Iterable[tuple[int, int]]) -> list[Comparison]:
    return [
        _simple("pair", (board.title(one), board.title(other)), board.by_treatment[one], board.by_treatment[other])
        for one, other in pairs
    ]


def _chosen(board: _Hanging, pairs: Iterable[tuple[str, str]]) -> list[tuple[int, int]]:
    keys = {identity(each.id): key for key, each in board.treatments.items()}
    found: dict[frozenset[int], tuple[int, int]] = {}
    for one, other in pairs:
        a, b = keys.get(identity(one)), keys.get(identity(other))
        if a is not None and b is not None and a != b and board.by_treatment.get(a) and board.by_treatment.get(b):
            found.setdefault(frozenset({a, b}), (a, b))
    return list(found.values())


def _families(board: _Hanging) -> list[Comparison]:
    groups: dict[str, set[int]] = defaultdict(set)
    names: dict[str, str] = {}
    for coupon in board.on_board:
        treatment = board.treatment_of(coupon)
        name = one_line(treatment.family, 80) if treatment is not None and _level(treatment.family) else ""
        if not name and coupon.role != "control":
            continue
        shown = name or CONTROL
        names.setdefault(identity(shown), shown)
        groups[identity(shown)].add(coupon.key)
    last_control = sorted(groups, key=lambda each: (each == CONTROL, _natural(each)))
    return [
        _simple("family", (names[one], names[other]), groups[one], groups[other])
        for one, other in combinations(last_control, 2)
    ]


def _factor(board: _Hanging, factor: Factor) -> list[Comparison]:
    """Return each pair of levels of a factor, compared within every level of the other factor that has both."""
    cells: dict[str, dict[str, set[int]]] = defaultdict(lambda: defaultdict(set))
    names: dict[tuple[Factor, str], str] = {}
    for key, coupons in board.tested().items():
        level, other = (one_line(getattr(board.treatments[key], each), 80) for each in (factor, _OTHER[factor]))
        names.setdefault((factor, _level(level)), level)
        names.setdefault((_OTHER[factor], _level(other)), other)
        cells[_level(level)][_level(other)] |= coupons

    def name(which: Factor, level: str) -> str:
        return names[which, level] if level else f"no {which}"

    found = []
    for one, other in combinations(sorted(cells, key=_natural), 2):
        levels = tuple(
            Level(name(_OTHER[factor], each), frozenset(cells[one][each]), frozenset(cells[other][each]))
            for each in sorted(cells[one].keys() & cells[other].keys(), key=_natural)
        )
        if levels:
            coupons_a = frozenset().union(*(each.a for each in levels))
            coupons_b = frozenset().union(*(each.b for each in levels))
            found.append(Comparison(factor, name(factor, one), name(factor, other), coupons_a, coupons_b, levels))
    return found


def _level(text: str) -> str:
    """Return the form in which two levels of a factor, or two families, count as the same; empty for none."""
    plain = identity(text)
    return "" if plain in _NONE else plain
