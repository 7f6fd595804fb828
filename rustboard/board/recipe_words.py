"""The kinds of steps and the units in plain words, for whoever shows them; a window translates them."""

from __future__ import annotations

from typing import Final

from rustboard.board.recipe import StepKind, Unit

KIND_WORDS: Final[dict[StepKind, str]] = {
    "degrease": "degrease",
    "blast": "blast",
    "sand": "sand or grind",
    "brush": "brush",
    "pickle": "pickle in acid",
    "etch": "etch",
    "rinse": "rinse",
    "convert": "conversion coating",
    "dry": "dry",
    "heat": "heat",
    "coat": "coat",
    "soak": "soak",
    "wipe": "wipe",
    "buff": "buff",
    "cure": "cure",
    "other": "something else",
}

UNIT_WORDS: Final[dict[Unit, str]] = {"ml": "ml", "l": "l", "g": "g", "kg": "kg", "piece": "pieces"}
