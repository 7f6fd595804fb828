"""Safety reminders that the words of a recipe call for.

Chosen by plain key words in English, so a recipe without them gets no line; that proves nothing about its safety,
and `NOT_COMPLETE` says so beside the lines. Facts as published by fire, labour and health authorities, in our own
words.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final, NamedTuple

from rustboard.board.model import Treatment

FOLLOW: Final = "follow the product data sheet and local rules"


class _Rule(NamedTuple):
    words: re.Pattern[str]
    line: str


def _rule(words: str, line: str) -> _Rule:
    return _Rule(re.compile(words, re.IGNORECASE), line)


_RULES: Final = (
    _rule(
        r"linseed|\btung\b|walnut oil|danish oil|teak oil|boiled oil|drying oil|hardening oil|varnish|"
        r"alkyd|oil paint",
        "Rags wet with linseed, tung or another drying oil heat up by themselves and can catch fire. Never leave "
        "them in a heap; spread them flat outdoors to dry, then keep them in a tight metal can with water and "
        "detergent",
    ),
    _rule(
        r"solvent|spirits?\b|turpentine|thinner|acetone|naphtha|xylene|toluene|aerosol|\bspray|lacquer|\bpaint|"
        r"microcrystalline|paste wax|wax polish|lanolin",
        "Vapour of solvents and spray cans creeps along the floor to a spark metres away. Air the room, keep flames "
        "out, use small amounts and close the lids",
    ),
    _rule(
        r"\bhot\b|\bheat|\bbak(e|ed|ing)\b|torch|flame|\boven\b|hot air|melt",
        "A heat gun or torch lights vapour as an open flame does and passes 500 °C. Keep it away from wet finish, "
        "solvent and oily rags, and never leave melting wax or oil alone",
    ),
    _rule(
        r"\bacid|phosphat|\betch|pickl|vinegar|ferric chloride|rust remover|muriatic|hydrochlor|sul(ph|f)uric|citric",
        "Acids and ferric chloride burn skin and eyes and their mist irritates the lungs. Wear gloves and goggles, "
        "have water at hand, and always pour acid into water",
    ),
    _rule(
        r"pickl|muriatic|hydrochlor|sul(ph|f)uric",
        "Acid on steel gives off hydrogen, which burns: air the place, keep sparks away, and never let acid meet "
        "bleach",
    ),
    _rule(
        r"cold blu|gun blu|selen|\bblue?ing\b",
        "Cold blueing mostly holds selenious acid: a mouthful has killed, and it passes through skin. Lock it away, "
        "wear gloves, keep food out of the room",
    ),
    _rule(
        r"blast",
        "Dust of silica sand scars the lungs for life. Never blast with it; choose another medium, contain the dust "
        "and wear supplied air",
    ),
    _rule(
        r"brake clean|chlorinated|trichlor|perchlor|tetrachlor|dichlorometh|methylene chloride|\bTCE\b|\bPCE\b",
        "Chlorinated cleaner makes phosgene in a flame, a welding arc or strong ultraviolet light. Never heat a part "
        "cleaned with it. Some of these solvents are banned in places; ask before buying",
    ),
    _rule(
        r"old paint|lead paint|red lead|\blead\b|paint (removed|stripped)|strip(ped|ping)?\b",
        "Old paint may hold lead: neither heat it nor sand it dry",
    ),
    _rule(
        r"wire.?(brush|wheel|cup)|\bgrind|\bground\b|\bdrill|\bsanded\b",
        "Wire wheels, grinders and drills throw wires and chips: wear eye protection",
    ),
)

CUT_EDGES: Final = (
    f"Sheared and sawn coupons have edges that cut: deburr them and wear cut-resistant gloves; {FOLLOW}."
)
NOT_COMPLETE: Final = (
    "These lines were chosen by words found in the recipes. A treatment without a line here is not thereby safe."
)


def safety_lines(treatments: Iterable[Treatment]) -> list[tuple[str, list[Treatment]]]:
    """Return each reminder that some recipe calls for, with the treatments that call for it."""
    recipes = [(each, _recipe(each)) for each in treatments]
    lines = []
    for rule in _RULES:
        called_by = [treatment for treatment, recipe in recipes if rule.words.search(recipe)]
        if called_by:
            lines.append((f"{rule.line}; {FOLLOW}.", called_by))
    return lines


def _recipe(treatment: Treatment) -> str:
    each = treatment
    return "\n".join((each.name, each.family, each.preparation, each.finish, each.protectant, each.note))
