"""Amounts and names as sentences write them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from typing import Final

from rustboard.board.exposure_clock import ClockKind
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.proof_words import SMALLEST_SHOWN
from rustboard.findings.sentence import Part, PValue, Sentence

_UNITS: Final[dict[ClockKind, tuple[str, str]]] = {
    "days": ("day", "days"),
    "wet hours": ("wet hour", "wet hours"),
    "rain": ("mm of rain", "mm of rain"),
    "controls": ("grade lost by the controls", "grades lost by the controls"),
}
MOST_NAMED: Final = 12


def unit_words(subject: Subject) -> tuple[str, str]:
    """Return what values are counted in, for one and for several."""
    return ("grade", "grades") if subject.in_grades else clock_words(subject)


def clock_words(subject: Subject) -> tuple[str, str]:
    """Return what the clock counts, for one and for several."""
    return _UNITS[subject.request.clock.kind]


def amount_unit(subject: Subject, value: float) -> str:
    """Return the word after an amount as it is shown."""
    one, several = unit_words(subject)
    return one if abs(shown(value)) == 1 else several


def shown(value: float) -> float:
    """Return a value as sentences show it: to a tenth, and never as minus nothing."""
    return round(value, 1) + 0.0


def shown_end(value: float) -> float:
    """Return an end of an interval as sentences show it: one near nothing with as many decimals as tell its sign."""
    if value and abs(value) < 0.1:
        return float(f"{value:.1g}")
    return shown(value)


def shown_p(p: float) -> Part:
    """Return a p value as sentences show it: two digits that count."""
    return PValue(float(f"{max(p, SMALLEST_SHOWN):.2g}"))


def listed(names: Iterable[str]) -> str:
    """Return names as a list in plain words, the rest counted where they are many."""
    there = list(names)
    if len(there) > MOST_NAMED:
        there = [*there[: MOST_NAMED - 1], f"{len(there) - MOST_NAMED + 1} more"]
    if len(there) < 2:
        return "".join(there)
    return f"{', '.join(there[:-1])} and {there[-1]}"


class Listing(str):
    """A list in plain words, and what it is made of, for a report that writes numbers and days its own way."""

    entries: tuple[tuple[str | float | date, ...], ...] = ()

    def said(self, written: Callable[[str | float | date], str]) -> str:
        """Return the list with each piece written another way."""
        return listed(" ".join(map(written, each)) for each in self.entries)


def listing(entries: Iterable[tuple[str | float | date, ...]]) -> Listing:
    """Return entries of names, numbers and days as a list."""
    there = tuple(entries)
    made = Listing(listed(" ".join(map(_plain, each)) for each in there))
    made.entries = there
    return made


def _plain(piece: str | float | date) -> str:
    if isinstance(piece, date):
        return piece.isoformat()
    return piece if isinstance(piece, str) else f"{piece:g}"


def p_is(p: float) -> str:
    """Return what stands before `shown_p`: a very small p is only said to be below what is shown."""
    return "p =" if p >= SMALLEST_SHOWN else "p below"


def begun(sentence: Sentence) -> Sentence:
    """Return a sentence that begins with a capital letter where it begins with a name."""
    if not sentence.pattern.startswith("{0}") or not sentence.parts or not isinstance(sentence.parts[0], str):
        return sentence
    name = sentence.parts[0]
    pattern = f"{{{len(sentence.parts)}}}{sentence.pattern.removeprefix('{0}')}"
    return Sentence(pattern, (*sentence.parts, f"{name[:1].upper()}{name[1:]}"))
