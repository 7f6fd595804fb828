"""Finding boards on the shelf again: by words, treatment, steel, place, year, customer and tags."""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any, Final, Literal

from rustboard.session.shelf import ShelfEntry

Kind = Literal["treatment", "steel", "site", "year", "customer", "tag"]
KINDS: Final[tuple[Kind, ...]] = ("treatment", "steel", "site", "year", "customer", "tag")
Archived = Literal["hidden", "also", "only"]
ARCHIVED: Final[tuple[Archived, ...]] = ("hidden", "also", "only")

MOST_OFFERED: Final = 200
"""Values that are offered of one kind: the most frequent."""

_NOTHING: Final = frozenset({"none", "-", "–"})
"""What people write where a treatment has no finish or protectant."""


@dataclass(frozen=True, slots=True)
class ShelfFilter:
    """What the boards to be shown have in common; an empty value asks for nothing.

    Attributes:
        words: each must stand somewhere in what is known of a board, whatever its capitals and accents.
        treatment: a treatment's name, family, finish or protectant.
        year: as a text; the board was outdoors in it.
        tags: all of them.
        archived: whether boards in the archive are left out, shown among the others, or shown alone.
    """

    words: str = ""
    treatment: str = ""
    steel: str = ""
    site: str = ""
    year: str = ""
    customer: str = ""
    tags: tuple[str, ...] = ()
    archived: Archived = "hidden"

    def wanted(self, kind: Kind) -> tuple[str, ...]:
        """Return what is asked for of one kind, as it is compared."""
        texts = self.tags if kind == "tag" else (getattr(self, kind),)
        return tuple(plain(each) for each in texts if plain(each))

    def without(self, kind: Kind) -> ShelfFilter:
        """Return the same filter that asks for nothing of one kind."""
        return self.asking(kind, "")

    def asking(self, kind: Kind, value: str) -> ShelfFilter:
        """Return the same filter that asks for this value of one kind, and for no other of it; empty = for none."""
        changed: dict[str, Any] = {"tags": (value,) if value else ()} if kind == "tag" else {kind: value}
        return replace(self, **changed)

    def asks(self) -> bool:
        """Return whether it leaves any board out but those in the archive."""
        return bool(self.words.split()) or any(self.wanted(kind) for kind in KINDS) or self.archived == "only"


@dataclass(frozen=True, slots=True)
class Offer:
    """One value that can be asked for.

    Attributes:
        value: as most boards spell it.
        count: how many boards would be left with it, all else that is asked for being so.
    """

    value: str
    count: int


@dataclass(frozen=True, slots=True)
class _Known:
    """One board as it is compared."""

    entry: ShelfEntry
    text: str
    values: Mapping[Kind, Mapping[str, str]]


@dataclass(frozen=True, slots=True)
class ShelfIndex:
    """The boards of a shelf, made ready to be looked through at every key that is pressed."""

    entries: tuple[ShelfEntry, ...]
    _known: tuple[_Known, ...] = field(repr=False, compare=False)

    @classmethod
    def of(cls, entries: Iterable[ShelfEntry]) -> ShelfIndex:
        """Make boards ready."""
        listed = tuple(entries)
        return cls(listed, tuple(map(_known, listed)))

    def matching(self, wanted: ShelfFilter) -> list[ShelfEntry]:
        """Return the boards that have all that is asked for, in their order."""
        return [each.entry for each in self._found(wanted)]

    def offers(self, wanted: ShelfFilter, kind: Kind) -> list[Offer]:
        """Return what can be asked for of one kind, with how many boards that leaves.

        What is asked for of this kind now stays among them, even where it leaves no board. Of tags, of which several
        may be asked for, the counts are those with the tags that are asked for already. Years come newest first, all
        else by name; of very many the most frequent.
        """
        asked = wanted.wanted(kind)
        found = self._found(wanted if kind == "tag" else wanted.without(kind))
        counts: Counter[str] = Counter()
        spellings: dict[str, Counter[str]] = {}
        for each in found:
            for compared, spelled in each.values[kind].items():
                counts[compared] += 1
                spellings.setdefault(compared, Counter())[spelled] += 1
        offers = {compared: Offer(_usual(spellings[compared]), count) for compared, count in counts.items()}
        for compared, text in zip(asked, self._asked_texts(wanted, kind), strict=True):
            offers.setdefault(compared, Offer(text, 0))
        most = sorted(offers, key=lambda each: (each not in asked, -offers[each].count, each))[:MOST_OFFERED]
        return [offers[each] for each in sorted(most, reverse=kind == "year")]

    @staticmethod
    def _asked_texts(wanted: ShelfFilter, kind: Kind) -> list[str]:
        texts = wanted.tags if kind == "tag" else (getattr(wanted, kind),)
        return [each for each in texts if plain(each)]

    def knows(self, kind: Kind) -> bool:
        """Return whether any board says anything of this kind."""
        return any(each.values[kind] for each in self._known)

    def has_archived(self) -> bool:
        """Return whether any board is in the archive."""
        return any(each.facts.archived for each in self.entries)

    def _found(self, wanted: ShelfFilter) -> list[_Known]:
        words = plain(wanted.words).split()
        asked = [(kind, values) for kind in KINDS if (values := wanted.wanted(kind))]
        return [
            each
            for each in self._known
            if _stands(each.entry, wanted.archived)
            and all(word in each.text for word in words)
            and all(value in each.values[kind] for kind, values in asked for value in values)
        ]


def matching(entries: Sequence[ShelfEntry], wanted: ShelfFilter) -> list[ShelfEntry]:
    """Return the boards that have all that is asked for, in their order."""
    return ShelfIndex.of(entries).matching(wanted)


@lru_cache(maxsize=4_096)
def plain(text: str) -> str:
    """Return a text as it is compared: without capitals, accents and doubled blanks."""
    even = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", text).casefold()).casefold()
    return " ".join("".join(each for each in even if not unicodedata.combining(each)).split())


def _stands(entry: ShelfEntry, archived: Archived) -> bool:
    return archived == "also" or entry.facts.archived == (archived == "only")


def _known(entry: ShelfEntry) -> _Known:
    facts = entry.facts
    values: dict[Kind, Mapping[str, str]] = {
        "treatment": _compared(each for each in (*facts.treatments, *facts.kinds) if each.casefold() not in _NOTHING),
        "steel": _compared(facts.steels),
        "site": _compared((entry.site,)),
        "year": _compared(map(str, entry.years)),
        "customer": _compared((entry.customer,)),
        "tag": _compared(facts.tags),
    }
    others = (entry.name, entry.folder.name, facts.forerunner)
    text = "\n".join((*map(plain, others), *(each for held in values.values() for each in held)))
    return _Known(entry, text, values)


def _compared(texts: Iterable[str]) -> dict[str, str]:
    found: dict[str, str] = {}
    for each in texts:
        compared = plain(each)
        if compared:
            found.setdefault(compared, each)
    return found


def _usual(spellings: Counter[str]) -> str:
    return min(spellings, key=lambda each: (-spellings[each], each))
