"""What the titles of columns say, in the words of a few languages."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from rustboard.weather.logger_file.numbers import unit_word
from rustboard.weather.logger_file.options import UNITS_OF, Role, Unit


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a title says.

    Attributes:
        unit: in it, or empty.
        lesser: 0 for what is wanted most of all columns with this role; more for a daily highest, a room and so on.
    """

    role: Role
    unit: Unit = ""
    lesser: int = 0


# Words are compared in small letters and without accents. English, German, French, Spanish.
_NEVER: Final = re.compile(
    r"chill|feels|felt|heat ?ind|gefuhlt|ressenti|apparent|sensaci|wet.?bulb|feuchtkugel|humidex|thsw|\bthw|soil"
    r"|boden|\bsols?\b|suelo|water|wasser|\beau\b|agua|leaf|blatt|feuille|hoja|batter|\bpile\b|absolut|specific|spezif"
    r"|mixing|pressure|cloud|druck|pression|presion|baro|solar|radiat|strahl|\buv|index|deficit|enthalp|evapo|cooling|heating|snow"
    r"|schnee|neige|nieve|wind ?run|windweg|duration|dauer|duree|qualit|status|signal|alarm|probab"
)
_ROLES: Final[tuple[tuple[Role, re.Pattern[str]], ...]] = (
    ("dew point", re.compile(r"\bdew|taupunkt|rosee|rocio|\btd\b|\bdp\b")),
    ("humidity", re.compile(r"humid|feucht|humed|\brh\b|\brf\b|\br\. ?[hf]|\bhr\b|\bhum\b|hygro|\brel\b.*\bh\b")),
    ("rain", re.compile(r"rain|regen|niederschl|precip|pluie|lluvia|\bppt\b|pluvio")),
    ("wind", re.compile(r"wind|\bvent\b|viento|\bws\b|anemo")),
    ("temperature", re.compile(r"temp|thermo|\bt\b|\btair\b|\bta\b|\btl\b")),
)
_NO_SPEED: Final = re.compile(r"dir|richt|gust|\bboen?\b|rafale|racha|angle|winkel|grad|quadrant|sector")
_TIME: Final = re.compile(
    r"time|date|datum|zeit|heure|fecha|\bhora\b|horodat|\btag\b|\bjour\b|\bdia\b|stamp|epoch|unix"
)
_NO_TIME: Final = re.compile(r"uptime|runtime|laufzeit")
_INSIDE: Final = re.compile(
    r"indoor|inside|innen|interi|intern|\bint\b|room|raum|logger|device|gerat|\bbox\b|\binf\b"
    r"|^in (?:temp|hum)|^(?:temp|hum\w*) in$"
)
_EXTREME: Final = re.compile(
    r"max|\bhi\b|min\b|mini|high|low\b|hochst|tiefst|hoch\b|tief\b|haut|\bbas\b|alta\b|baja\b"
)
_RATE: Final = re.compile(r"rate|intens|\brr\b|per hour|/ ?h")
_TOTAL: Final = re.compile(r"total|count|cumul|accum|\bsumm?e?\b|gesamt|zahler|acumul|compteur|contador|yearly|since")
_COUNTERS: Final = (
    re.compile(r"year|jahr|\bans?\b|annee|\bano\b|season"),
    re.compile(r"month|monat|mois|\bmes\b"),
    re.compile(r"dail|today|heute|\bday|\btag|jour|diari|hoy|24 ?h"),
    re.compile(r"week|woche|semaine|semana|event|storm"),
    re.compile(r"hour|stund|heure|\b1 ?h\b"),
)
"""Counters that start anew now and then, the rarest first."""
_MOST_TITLES: Final = 200
_LONGEST_TITLE: Final = 100
_BY_UNIT_ALONE: Final = 3
_IN_BRACKETS: Final = re.compile(r"[(\[{<]([^()\[\]{}<>]*)[)\]}>]")
_MARKS: Final = ("°", "º", "%", "℃", "℉", "\ufffd", "Â°")
_JOINED: Final = (
    re.compile(r"(?P<what>temp|tempin|tempout|dewpt|dewpoint)_?(?P<unit>[fc])"),
    re.compile(r"(?P<what>(?:[a-z]*)rain)_?(?P<unit>in|mm)"),
    re.compile(r"(?P<what>wind(?:speed)?)_?(?P<unit>mph|kmh|kph|kn)"),
)


def plain(text: str) -> str:
    """Return a title in small letters, without accents, marks between words as blanks."""
    spread = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", text)
    letters = unicodedata.normalize("NFKD", spread.casefold())
    letters = "".join(each for each in letters if not unicodedata.combining(each))
    return re.sub(r"[_\s]+", " ", letters).strip()


def is_time_title(title: str) -> bool:
    """Return whether a title speaks of times."""
    words = plain(title)
    return _TIME.search(words) is not None and _NO_TIME.search(words) is None


def names_another(title: str) -> bool:
    """Return whether a title names something that is never read, such as the temperature of the soil."""
    return _NEVER.search(plain(title)) is not None


def meaning(title: str, unit: Unit = "") -> Meaning | None:
    """Return what a title says of its column, or None when it names no quantity that is read.

    Args:
        title: of the column.
        unit: known from elsewhere, such as a line of units.
    """
    unit = unit or unit_in(title)
    words = plain(_IN_BRACKETS.sub(_kept_words, title))
    joined = next((found for each in _JOINED if (found := each.fullmatch(title.strip().casefold()))), None)
    if joined is not None:
        words, unit = joined["what"], unit or unit_word(joined["unit"])
    if _NEVER.search(words):
        return None
    for role, pattern in _ROLES:
        if pattern.search(words):
            return _closer(role, words, unit)
    if unit in ("C", "F", "K"):
        return Meaning("temperature", unit, _BY_UNIT_ALONE)
    return Meaning("humidity", unit, _BY_UNIT_ALONE) if unit == "%" else None


def _kept_words(found: re.Match[str]) -> str:
    return " " if unit_word(found[1]) else f" {found[1]} "


def _closer(role: Role, words: str, unit: Unit) -> Meaning | None:
    if role == "wind" and _NO_SPEED.search(words):
        return None
    if role == "temperature" and not re.search("temp|thermo", words) and unit not in ("C", "F", "K"):
        return None
    lesser = 4 * bool(_INSIDE.search(words) or words in ("tempin", "humidityin")) + 2 * bool(_EXTREME.search(words))
    if role == "rain":
        role, lesser = _kind_of_rain(words, unit, lesser)
    if unit and unit not in _units(role):
        if role == "temperature" and unit == "%":
            return None
        unit = ""
    return Meaning(role, unit, lesser)


def _kind_of_rain(words: str, unit: Unit, lesser: int) -> tuple[Role, int]:
    if unit in ("mm/h", "in/h") or _RATE.search(words):
        return "rain rate", lesser
    for number, each in enumerate(_COUNTERS, 1):
        if each.search(words):
            return "rain total", lesser + number
    return ("rain total" if _TOTAL.search(words) else "rain"), lesser


def _units(role: Role) -> tuple[Unit, ...]:
    return next((units for quantity, units in UNITS_OF.items() if quantity == role), ())


def unit_in(title: str) -> Unit:
    """Return the unit that stands in a title, or empty: in brackets, or as its last word or two."""
    for inside in _IN_BRACKETS.findall(title):
        if unit_word(inside):
            return unit_word(inside)
    words = re.split(r"[\s,;:_]+", _IN_BRACKETS.sub(" ", title).strip())
    for number in (2, 1):
        if len(words) > number and unit_word(" ".join(words[-number:])):
            return unit_word(" ".join(words[-number:]))
    if len(words) == 1 and words[0].startswith(_MARKS):
        return unit_word(words[0])
    for each in words:  # a unit that is no word of a language may stand anywhere
        if each.startswith(_MARKS) and unit_word(each):
            return unit_word(each)
    return ""


def known_titles(cells: Sequence[str]) -> int:
    """Return how many cells read like titles of columns that are read."""
    return sum(
        len(each) < 100 and (meaning(each) is not None or is_time_title(each)) for each in cells[:_MOST_TITLES]
    )


def known_units(cells: Sequence[str]) -> int:
    """Return how many cells hold a unit and nothing else."""
    return sum(bool(unit_word(each.strip("()[]{}"))) for each in cells[:_MOST_TITLES])
