"""What damage beside the grade is called on the screen, and how its rating is said."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from rustboard.board.damage import Damage, DamageKind
from rustboard.ui.wording import number

if TYPE_CHECKING:
    from rustboard.scales.damage_ratings import DamageRating

_TITLES: Final[dict[DamageKind, str]] = {
    "edge rust": str(QT_TRANSLATE_NOOP("damage", "&Edge rust")),
    "stain": str(QT_TRANSLATE_NOOP("damage", "&Stain from a neighbour")),
    "blisters": str(QT_TRANSLATE_NOOP("damage", "&Blisters")),
    "peeling": str(QT_TRANSLATE_NOOP("damage", "&Peeling")),
    "creep": str(QT_TRANSLATE_NOOP("damage", "C&reep from a scribe")),
}
_SHORT: Final[dict[str, str]] = {
    "edge rust": str(QT_TRANSLATE_NOOP("damage", "edges")),
    "stain": str(QT_TRANSLATE_NOOP("damage", "stain")),
    "blisters": str(QT_TRANSLATE_NOOP("damage", "blisters")),
    "peeling": str(QT_TRANSLATE_NOOP("damage", "peeling")),
    "creep": str(QT_TRANSLATE_NOOP("damage", "creep")),
}
_MEANINGS: Final[dict[DamageKind, str]] = {
    "edge rust": str(
        QT_TRANSLATE_NOOP(
            "damage",
            "Rust that starts at the cut edges. Estimate how much of the length of the edges is rusted. Noting it is "
            "common practice; it has no rating.",
        )
    ),
    "stain": str(
        QT_TRANSLATE_NOOP(
            "damage",
            "Rust or dirt that ran down from another coupon, a screw or a frame. Estimate the part of the surface "
            "it covers. Noting it is common practice; it has no rating.",
        )
    ),
    "blisters": str(
        QT_TRANSLATE_NOOP(
            "damage", "Bubbles in a film. Estimate the part of the surface that is blistered, and how severely."
        )
    ),
    "peeling": str(
        QT_TRANSLATE_NOOP(
            "damage",
            "Film that flaked, peeled or broke off. Estimate the part of the surface where it is loose or gone, and "
            "how severely.",
        )
    ),
    "creep": str(
        QT_TRANSLATE_NOOP(
            "damage",
            "Rust or loose film that spreads from a scribed line. Measure the full width across the line, the "
            "scribe included, at several places evenly apart.",
        )
    ),
}
_SEVERITIES: Final[dict[str, str]] = {
    "": str(QT_TRANSLATE_NOOP("damage", "not stated")),
    "vs": str(QT_TRANSLATE_NOOP("damage", "very slight")),
    "s": str(QT_TRANSLATE_NOOP("damage", "slight")),
    "m": str(QT_TRANSLATE_NOOP("damage", "moderate")),
    "x": str(QT_TRANSLATE_NOOP("damage", "severe")),
}


def say(text: str) -> str:
    """Return a text about damage in the user's language."""
    return QCoreApplication.translate("damage", text)


def kind_title(kind: DamageKind) -> str:
    """Return a kind's name for a switch, with the letter that reaches it."""
    return say(_TITLES[kind])


def kind_name(kind: DamageKind) -> str:
    """Return a kind's name."""
    return kind_title(kind).replace("&", "")


def kind_meaning(kind: DamageKind) -> str:
    """Return what a kind is and how it is measured, in a sentence or two."""
    return say(_MEANINGS[kind])


def severity_name(severity: str) -> str:
    """Return a severity in words."""
    return say(_SEVERITIES[severity])


def noted_text(damages: Sequence[Damage]) -> str:
    """Return in a few words what is noted of a coupon: ``edges, blisters``; an empty text for nothing."""
    return ", ".join(say(_SHORT[each.kind]) for each in damages if each.kind in _SHORT)


def with_damage(title: str, damages: Sequence[Damage]) -> str:
    """Return a coupon's title with what is noted of it."""
    noted = noted_text(damages)
    return say("{0} · {1}").format(title, noted) if noted else title


def button_text(damages: Sequence[Damage]) -> str:
    """Return what stands on the button to the damage: how many kinds are noted, if any."""
    return say("Damage ({0})…").format(len(damages)) if damages else say("Damage…")


def rating_text(rating: DamageRating | None, creep_mm: float | None = None) -> str:
    """Return a rating in words, and as its standard writes it; an empty text where there is none."""
    from rustboard.scales.damage_ratings import CREEP_SCALE

    if rating is None:
        return ""
    if rating.scale == CREEP_SCALE and creep_mm is not None:
        said = say("Mean creep {0} mm: rating {1} of 10 ({2})")
        return said.format(number(creep_mm, 3), rating.rating, rating.scale)
    if rating.notation:
        said = say("Appearance rating {0} of 10, written {1} ({2})")
        return said.format(rating.rating, rating.notation, rating.scale)
    said = say("Appearance rating {0} of 10 ({1})").format(rating.rating, rating.scale)
    return said if rating.rating == 10 else say("{0}; choose a severity to have it written out").format(said)
