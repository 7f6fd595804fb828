"""Safety reminders that a recipe calls for: by the words of a treatment, by the kind and words of a step.

Words are plain English key words, so a recipe without them gets no line; that proves nothing about its safety, and
`NOT_COMPLETE` says so beside the lines. Facts as published by fire, labour and health authorities, in our own words.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from rustboard.board.model import Treatment
from rustboard.board.recipe import Recipe, RecipeStep, StepKind

FOLLOW: Final = "follow the product data sheet and local rules"

HOT_C: Final = 60.0
"""From here on a bath or an oven is warm enough to drive off vapour (own judgement; white spirit flashes at about
40 degrees Celsius, from memory)."""

_AFTER: Final = re.compile(r"[,;(/]|\b(?:then|and|rins\w*|wash(?:ed)?)\b(?!-)", re.IGNORECASE)
"""What stands behind the product itself: a second one, a rinse, a remark."""

_ACIDS: Final = (
    r"\bacid|phosph|\betch|pickl|vinegar|acetic|ferric chloride|rust remover|descal|muriatic|hydrochlor|\bHCl\b|"
    r"hydrofluor|sul(ph|f)(uric|amic)|\bnitric|citric|oxalic|tannic"
)

_NEVER: Final = re.compile(r"(?!)")


@dataclass(frozen=True, slots=True)
class _Rule:
    """What calls for a line.

    Attributes:
        words: in any text of a treatment or a step.
        kinds: of steps that call for it whatever their words, unless ``without`` is in what the product is: neither a
            note nor what follows it, a rinse for one, silences a line.
        with_words: in a step of one of these ``kinds_with``.
        hot: whether a step at `HOT_C` or above calls for it.
        treatments: whether the words of a treatment call for it too.
    """

    line: str
    words: re.Pattern[str]
    kinds: frozenset[StepKind] = frozenset()
    without: re.Pattern[str] = _NEVER
    kinds_with: frozenset[StepKind] = frozenset()
    with_words: re.Pattern[str] = _NEVER
    hot: bool = False
    treatments: bool = True

    def called_by_words(self, text: str) -> bool:
        """Return whether the words of a treatment call for the line."""
        return self.treatments and self.words.search(text) is not None

    def called_by_step(self, step: RecipeStep) -> bool:
        """Return whether a step calls for the line."""
        text = f"{step.product}\n{step.note}"
        if self.words.search(text):
            return True
        if step.kind in self.kinds and not self.without.search(_AFTER.split(step.product, maxsplit=1)[0]):
            return True
        if step.kind in self.kinds_with and self.with_words.search(text):
            return True
        return self.hot and step.temperature_c is not None and step.temperature_c >= HOT_C


def _words(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern, re.IGNORECASE)


CUT_EDGES: Final = (
    f"Sheared and sawn coupons have edges that cut: deburr them and wear cut-resistant gloves; {FOLLOW}."
)

_RULES: Final = (
    _Rule(
        "Rags wet with linseed, tung or another drying oil heat up by themselves and can catch fire. Never leave "
        "them in a heap; spread them flat outdoors to dry, then keep them in a tight metal can with water and "
        "detergent",
        _words(
            r"linseed|\bBLO\b|\bflax|\btung\b|safflower|\bsoy|\bhemp|\bpoppy|perilla|walnut oil|danish oil|teak oil|"
            r"boiled oil|drying oil|hardening oil|varnish|urethane|alkyd|oil paint"
        ),
    ),
    _Rule(
        "Vapour of solvents and spray cans creeps along the floor to a spark metres away. Air the room, keep flames "
        "out, use small amounts and close the lids",
        _words(
            r"solvent|spirits?\b|\bturps\b|turpentine|thinner|acetone|ketone|\bMEK\b|butanone|naphtha|xylene|toluene|"
            r"benz[ei]ne|hexane|heptane|acetate|alcohol|propanol|isopropyl|\bIPA\b|methanol|ethanol|\bmeths\b|methylated|"
            r"denatured|petrol|gasoline|kerosene|paraffin(?! wax)|diesel|aerosol|\bspray|lacquer|"
            r"cellulose primer|nitrocellulose|\bpaint|"
            r"penetrating oil|microcrystalline|paste wax|wax polish|lanolin"
        ),
        kinds=frozenset({"degrease"}),
        without=_words(
            r"(?<!\bno )(?<!without )(?:"
            r"soap|detergent|\bwater\b|\balkali|washing soda|washing-up|\blye\b|caustic)(?!.?free)"
        ),
    ),
    _Rule(
        "A heat gun or torch lights vapour as an open flame does and passes 500 °C. Keep it away from wet finish, "
        "solvent and oily rags, and never leave melting wax or oil alone",
        _words(r"\bhot\b|\bheat|\bbak(e|ed|ing)\b|torch|flame|\boven\b|hot air|melt"),
        kinds=frozenset({"heat"}),
        hot=True,
    ),
    _Rule(
        "Acids and ferric chloride burn skin and eyes and their mist irritates the lungs. Wear gloves and goggles, "
        "have water at hand, and always pour acid into water",
        _words(_ACIDS),
        kinds=frozenset({"etch", "pickle", "convert"}),
    ),
    _Rule(
        "Acid on steel gives off hydrogen, which burns: air the place, keep sparks away, and never let acid meet "
        "bleach",
        _words(r"pickl|muriatic|hydrochlor|\bHCl\b|sul(ph|f)uric|battery acid|acid bath"),
        kinds=frozenset({"pickle", "etch"}),
        kinds_with=frozenset({"soak", "other"}),
        with_words=_words(_ACIDS),
    ),
    _Rule(
        "Bleach and any acid, vinegar too, give off chlorine, which chokes. Never let them meet, not in a bath, a "
        "rinse or a drain; wear gloves and goggles with either",
        _words(r"bleach|hypochlorite"),
    ),
    _Rule(
        "Cold blueing mostly holds selenious acid: a mouthful has killed, and it passes through skin. Lock it away, "
        "wear gloves, keep food out of the room",
        _words(r"cold blu|gun blu|selen|\bblue?ing\b"),
    ),
    _Rule(
        "Dust of silica sand scars the lungs for life. Never blast with it; choose another medium, contain the dust "
        "and wear supplied air",
        _words(r"blast"),
        kinds=frozenset({"blast"}),
    ),
    _Rule(
        "Chlorinated cleaner makes phosgene in a flame, a welding arc or strong ultraviolet light. Never heat a part "
        "cleaned with it. Some of these solvents are banned in places; ask before buying",
        _words(
            r"brake clean|chlorinated|trichlor|perchlor|tetrachlor|dichlorometh|methylene chloride|\bTCE\b|\bPCE\b|"
            r"\btrike\b|\bperc\b"
        ),
    ),
    _Rule(
        # US EPA, final rules of 9 December 2024, as state authorities summarise them.
        "The United States banned trichloroethylene (TCE), and perchloroethylene (PCE) for consumers, in December "
        "2024, and other places have bans of their own. Dates may have changed since: check before you buy or use it",
        _words(r"brake clean|chlorinated|trichlor|perchlor|tetrachloroeth|\bTCE\b|\bPCE\b|\btrike\b|\bperc\b"),
    ),
    _Rule(
        "Old paint may hold lead: neither heat it nor sand it dry",
        _words(r"old paint|lead paint|red lead|\blead\b|paint (removed|stripped)|strip(ped|ping)?\b"),
        kinds_with=frozenset({"sand", "brush", "blast", "heat", "other"}),
        with_words=_words(r"paint|primer|coating"),
    ),
    _Rule(
        "Wire wheels, grinders and drills throw wires and chips: wear eye protection",
        _words(r"wire.?(brush|wheel|cup)|\bgrind|\bground\b|\bdrill|\bsanded\b"),
        kinds=frozenset({"brush", "sand"}),
    ),
    _Rule(
        CUT_EDGES.removesuffix(f"; {FOLLOW}."),
        _words(r"\bshear|\bsaw|\bcut(s|ting)?\b|deburr|\bdrill|\bfil(e|ed|ing)\b|\bedges?\b"),
        kinds=frozenset({"sand", "brush"}),
        treatments=False,  # every coupon was cut: the report has the line in any case
    ),
)

NOT_COMPLETE: Final = (
    "These lines were chosen by words found in the recipes. A treatment without a line here is not thereby safe."
)


def safety_lines(
    treatments: Iterable[Treatment], recipes: Mapping[int, Recipe] | None = None
) -> list[tuple[str, list[Treatment]]]:
    """Return each reminder that some recipe calls for, with the treatments that call for it.

    Args:
        treatments: what was done, in words.
        recipes: their steps, by the key of the treatment, where steps were written down.
    """
    steps = {key: recipe.steps for key, recipe in (recipes or {}).items()}
    worded = [(each, _text(each), steps.get(each.key, ())) for each in treatments]
    lines = []
    for rule in _RULES:
        called_by = [
            treatment
            for treatment, text, its_steps in worded
            if rule.called_by_words(text) or any(map(rule.called_by_step, its_steps))
        ]
        if called_by:
            lines.append((_sentence(rule), called_by))
    return lines


def recipe_cautions(steps: Iterable[RecipeStep]) -> list[tuple[str, list[int]]]:
    """Return each reminder that some step calls for, with the numbers of these steps, from 1."""
    numbered = list(enumerate(steps, start=1))
    called = [(rule, [number for number, step in numbered if rule.called_by_step(step)]) for rule in _RULES]
    return [(_sentence(rule), numbers) for rule, numbers in called if numbers]


def _sentence(rule: _Rule) -> str:
    return f"{rule.line}; {FOLLOW}."


def _text(treatment: Treatment) -> str:
    each = treatment
    return "\n".join((each.name, each.family, each.preparation, each.finish, each.protectant, each.note))
