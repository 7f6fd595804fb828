"""Which treatment of one board is the same as which of another: suggested by recipe, confirmed by the user."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import astuple, dataclass, replace
from typing import Final, Literal

from rustboard.board.cells import identity, quoted
from rustboard.board.comparisons import CONTROL, natural_order, treatment_titles
from rustboard.board.model import Treatment
from rustboard.board.recipe import RecipeStep
from rustboard.board.record import BoardRecord
from rustboard.findings.sentence import Sentence
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

Sureness = Literal["certain", "likely", "chosen", "none"]
"""How sure it is that treatments are the same: same recipe; same name or label only; the user said so; they are not
matched with anything."""

MOST_BOARDS: Final = 50
LONGEST_NAME: Final = 80
ALONE: Final = "No other board has it."
_UNSAID: Final = Sentence("")
_ORDER: Final[dict[Sureness, int]] = {"none": 0, "likely": 1, "certain": 2, "chosen": 3}


@dataclass(frozen=True, slots=True)
class Match:
    """How two treatments of two boards compare.

    Attributes:
        sure: how sure it is that they are the same.
        why: in a sentence.
    """

    sure: Sureness
    why: Sentence


@dataclass(frozen=True, slots=True)
class Common:
    """One treatment as several boards have it.

    Attributes:
        name: what people call it over all boards.
        treatments: its id on each board, in the order of the boards; empty = not on that board.
        sure: how sure the match is. why: in a sentence.
        controls: whether this is the untreated controls, whose id is ``control`` on each board that has any.
    """

    name: str
    treatments: tuple[str, ...]
    sure: Sureness = "none"
    why: Sentence = _UNSAID
    controls: bool = False

    @property
    def boards(self) -> int:
        """How many boards have it."""
        return sum(map(bool, self.treatments))


@dataclass(frozen=True, slots=True)
class Matching:
    """Which treatments of several boards are the same.

    Attributes:
        boards: names, in the order given.
        common: every treatment of every board, each once; the controls last.
    """

    boards: tuple[str, ...]
    common: tuple[Common, ...]

    def shared(self) -> tuple[Common, ...]:
        """Return what at least two boards have."""
        return tuple(each for each in self.common if each.boards > 1)

    def names_on(self, board: int) -> dict[str, str]:
        """Return the common name of every treatment of a board (its number), by its id there."""
        return {each.treatments[board]: each.name for each in self.common if each.treatments[board]}


def match_of(one: BoardRecord, a: Treatment, other: BoardRecord, b: Treatment) -> Match:
    """Return whether two treatments are the same: by recipe for certain, by name or label likely.

    Recipe: the steps (what is done, with which product, how much, how warm, how long) and preparation, finish,
    protectant and coats. Batches, prices, persons and notes make no difference. Where one board has the steps and
    the other has not, the rest alone cannot be certain.
    """
    described = _described(a) == _described(b)
    steps = _steps(one, a), _steps(other, b)
    if steps[0] == steps[1] and steps[0] and not described:
        return Match("likely", Sentence("The same steps, but preparation, finish, protectant or coats differ."))
    if described and steps[0] == steps[1] and (steps[0] or any(_described(a)[:3])):
        return Match("certain", Sentence("The same recipe on each board."))
    if described and all(steps):
        return Match("likely", Sentence("The same preparation, finish, protectant and coats, but other steps."))
    if described and any(_described(a)[:3]):
        text = "The same preparation, finish, protectant and coats; the steps are not written down everywhere."
        return Match("likely", Sentence(text))
    if a.name and _plain(a.name) == _plain(b.name):
        return Match("likely", Sentence("The same name, but the recipe differs or is not written down."))
    bare = not (a.name or b.name)
    if bare and identity(a.id) == identity(b.id):
        return Match("likely", Sentence("The same label, but the recipe differs or is not written down."))
    return Match("none", Sentence("Neither recipe nor name is the same."))


def suggest(records: Sequence[BoardRecord]) -> Matching:
    """Return which treatments are the same as far as the boards tell; every treatment is in it once.

    Board after board is compared with what is there already: certain matches first, then likely ones, and among
    equals the same name, then the order of the ids. Controls match controls: coupons with the role control are one
    group on each board, whatever treatment they name, and a treatment that only controls have is part of them.

    Raises:
        InputError: too many boards.
    """
    if len(records) > MOST_BOARDS:
        raise InputError(f"At most {MOST_BOARDS} boards can be put together; choose fewer.")
    rows: list[dict[int, Treatment]] = []
    found: list[Match] = []
    for number, record in enumerate(records):
        _take_in(rows, found, records, number, tested_treatments(record))
    common = [_common(row, match, records) for row, match in zip(rows, found, strict=True)]
    return Matching(_board_names(records), (*named_apart(common), *_controls(records)))


def _take_in(
    rows: list[dict[int, Treatment]],
    found: list[Match],
    records: Sequence[BoardRecord],
    number: int,
    treatments: list[Treatment],
) -> None:
    """Put the treatments of one board into the rows: where they match best, else into rows of their own."""
    offers = []
    for place, row in enumerate(rows):
        for order, each in enumerate(treatments):
            match = max(
                (match_of(records[at], mine, records[number], each) for at, mine in row.items()), key=sureness
            )
            if match.sure != "none":
                named = any(_plain(mine.title) == _plain(each.title) for mine in row.values())
                offers.append((-sureness(match), not named, place, order, match))
    taken_rows: set[int] = set()
    taken: set[int] = set()
    for _, _, place, order, match in sorted(offers, key=lambda each: each[:4]):
        if place not in taken_rows and order not in taken:
            taken_rows.add(place)
            taken.add(order)
            rows[place][number] = treatments[order]
            found[place] = match if found[place].sure == "none" else min(found[place], match, key=sureness)
    for order, each in enumerate(treatments):
        if order not in taken:
            rows.append({number: each})
            found.append(Match("none", Sentence(ALONE)))


def sureness(match: Match) -> int:
    """Return what sorts matches by how sure they are, the surest last."""
    return _ORDER[match.sure]


def tested_treatments(record: BoardRecord) -> list[Treatment]:
    """Return the treatments that test coupons have."""
    keys = {each.treatment for each in record.coupons.values() if each.role != "control"}
    return [
        record.treatments[key] for key in sorted(record.treatments, key=lambda key: natural_order(record, key))
        if key in keys
    ]  # fmt: skip


def _common(row: dict[int, Treatment], match: Match, records: Sequence[BoardRecord]) -> Common:
    first = min(row)
    title = treatment_titles(records[first]).get(row[first].key, row[first].title)
    treatments = tuple(row[at].id if at in row else "" for at in range(len(records)))
    return Common(one_line(title, LONGEST_NAME) or "?", treatments, match.sure, match.why)


def named_apart(common: Sequence[Common]) -> list[Common]:
    """Return the rows with names of their own: a number behind what another row is called already."""
    taken = {identity(CONTROL)}
    found = []
    for each in common:
        name, number = each.name, 2
        while identity(name) in taken:
            name = f"{each.name} ({number})"
            number += 1
        taken.add(identity(name))
        found.append(replace(each, name=name))
    return found


def _controls(records: Sequence[BoardRecord]) -> list[Common]:
    has = tuple(any(each.role == "control" for each in record.coupons.values()) for record in records)
    if not any(has):
        return []
    ids = tuple(CONTROL if each else "" for each in has)
    if sum(has) < 2:
        return [Common(CONTROL, ids, "none", Sentence("No other board has controls."), controls=True)]
    alike = len({_control_kinds(record) for record, there in zip(records, has, strict=True) if there}) == 1
    if alike:
        return [Common(CONTROL, ids, "certain", Sentence("Controls match controls."), controls=True)]
    why = Sentence("Controls match controls, but what they are made of or treated with is not written down alike.")
    return [Common(CONTROL, ids, "likely", why, controls=True)]


def _control_kinds(record: BoardRecord) -> frozenset[object]:
    """Return what is known of a board's controls: of what steel, and the recipe that was put on."""
    kinds: set[object] = set()
    for each in record.coupons.values():
        if each.role == "control":
            own = record.treatment_of(each)
            recipe = ((), ()) if own is None else (_described(own), _steps(record, own))
            kinds.add((_plain(each.substrate), recipe))
    return frozenset(kinds)


def _board_names(records: Sequence[BoardRecord]) -> tuple[str, ...]:
    """Return the names of the boards, those that share one with a number behind."""
    names = [one_line(each.board.name, LONGEST_NAME) or "board" for each in records]
    found: list[str] = []
    for name in names:
        shown, number = name, 2
        while shown in found:
            shown = f"{name} ({number})"
            number += 1
        found.append(shown)
    return tuple(found)


def _described(treatment: Treatment) -> tuple[object, ...]:
    """Return what counts of a treatment beside its steps; ``none`` is as good as nothing written."""
    texts = (treatment.preparation, treatment.finish, treatment.protectant)
    return (*("" if _plain(each) == "none" else _plain(each) for each in texts), treatment.coats)


def _plain(text: str) -> str:
    """Return the form in which two texts count as the same: as `identity`, and any space as good as another."""
    return " ".join(identity(text).split())


def _steps(record: BoardRecord, treatment: Treatment) -> tuple[object, ...]:
    return tuple(_counting(each) for each in record.recipe_of(treatment.key).steps)


def _counting(step: RecipeStep) -> tuple[object, ...]:
    """Return what of a step makes a difference to the steel."""
    plain = replace(
        step, product=_plain(step.product), batch="", container_price=None, container_quantity=None,
        container_unit="ml", hands_on=True, who="", note="", unit="ml" if step.quantity is None else step.unit,
        per="coupon" if step.quantity is None else step.per,
    )  # fmt: skip
    return astuple(plain)


def check_matching(matching: Matching, records: Sequence[BoardRecord]) -> None:
    """Refuse a matching that makes no sense for these boards.

    Raises:
        InputError: other boards, a name that is missing or used twice, a treatment that is not there or is in twice.
    """
    if len(matching.boards) != len(records) or any(len(each.treatments) != len(records) for each in matching.common):
        raise InputError("The treatments were matched for other boards; match them again.")
    check_names(matching)
    for number, record in enumerate(records):
        known = {each.id for each in tested_treatments(record)}
        seen: set[str] = set()
        for each in matching.common:
            own = each.treatments[number]
            if each.controls or not own:
                continue
            if own not in known:
                raise InputError(
                    f"The board {quoted(matching.boards[number])} has no treatment {quoted(own)} on a test coupon; "
                    f"choose another one for {quoted(each.name)}."
                )
            if own in seen:
                raise InputError(
                    f"The treatment {quoted(own)} of the board {quoted(matching.boards[number])} is in two rows; "
                    "leave it in one."
                )
            seen.add(own)


def check_names(matching: Matching) -> None:
    """Refuse rows without a name, or two of one name.

    Raises:
        InputError: there are such.
    """
    names: set[str] = set()
    for each in matching.common:
        if not one_line(each.name):
            raise InputError("A row of matched treatments has no name; give it one.")
        if identity(one_line(each.name)) in names:
            raise InputError(f"Two rows of matched treatments are called {quoted(each.name)}; rename one of them.")
        names.add(identity(one_line(each.name)))
    if sum(each.controls for each in matching.common) > 1:
        raise InputError("The controls are in two rows of the matched treatments; leave them in one.")
