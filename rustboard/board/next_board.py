"""The next board with one thing changed: what of an old board is repeated, and in what the new one differs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from rustboard.board.cells import identity
from rustboard.board.model import Board, Coupon, Plan, PlannedCoupon, Treatment
from rustboard.board.next_id import next_id
from rustboard.board.position import MOST_ROWS, Position
from rustboard.board.recipe import Recipe
from rustboard.board.record import BoardRecord
from rustboard.support.problems import InputError
from rustboard.support.text import counted, one_line

Thing = Literal[
    "preparation", "finish", "protectant", "coats", "steel", "site", "shelter", "incline", "coupons each"
]  # fmt: skip
RECIPE_THINGS: Final[tuple[Thing, ...]] = ("protectant", "finish", "preparation", "coats")
BOARD_THINGS: Final[tuple[Thing, ...]] = ("steel", "site", "shelter", "incline", "coupons each")
THINGS: Final = (*RECIPE_THINGS, *BOARD_THINGS)

MOST_EACH: Final = 200
MOST_COATS: Final = 100
_LONGEST: Final = 60
_LONGEST_TOLD: Final = 480
Moved = Callable[[tuple[tuple[float, float], ...], Position, Position, Board], tuple[tuple[float, float], ...]]


@dataclass(frozen=True, slots=True)
class NextChoice:
    """What the user chose for the next board.

    Attributes:
        kept: keys of the treatments whose test coupons are repeated. controls: whether the controls are.
        target: key of the treatment whose recipe is changed; None = of all that are kept.
        values: what is to be, by what; only what the user typed or chose. Texts as they are; numbers for coats,
            incline and coupons each.
    """

    kept: tuple[int, ...]
    controls: bool = True
    target: int | None = None
    values: tuple[tuple[Thing, str | float], ...] = ()

    def value(self, thing: Thing) -> str | float | None:
        """Return what something is to be, or None where it stays as it is."""
        return dict(self.values).get(thing)


@dataclass(frozen=True, slots=True)
class Change:
    """One thing in which the new board differs from the old one.

    Attributes:
        thing: what. before, after: in words; an empty text is none.
    """

    thing: Thing
    before: str
    after: str

    def text(self) -> str:
        """Return the change in plain words."""
        return f"{self.thing} from {self.before or 'none'} to {self.after or 'none'}"


def told(record: BoardRecord, choice: NextChoice, thing: Thing) -> str:
    """Return what the old board has of something, in words; several values one after the other, empty for none."""
    board = record.board
    match thing:
        case "site" | "shelter":
            return one_line(str(getattr(board, thing)), _LONGEST)
        case "incline":
            return "" if board.incline_deg is None else f"{board.incline_deg:g}"
        case "steel":
            return _listed(one_line(each.substrate, _LONGEST) for each in _kept_coupons(record, choice))
        case "coupons each":
            counts = Counter(_group(each) for each in _kept_coupons(record, choice))
            return _listed(str(each) for each in sorted(counts.values()))
        case "coats":
            return _listed("" if each.coats is None else str(each.coats) for each in _changed(record, choice))
        case _:
            return _listed(one_line(str(getattr(each, thing)), _LONGEST) for each in _changed(record, choice))


def changes(record: BoardRecord, choice: NextChoice) -> tuple[Change, ...]:
    """Return in what the new board differs; what is typed as it was before is no change."""
    found = []
    for thing in THINGS:
        value = choice.value(thing)
        if value is None:
            continue
        after = f"{value:g}" if isinstance(value, (int, float)) else one_line(value, _LONGEST)
        before = told(record, choice, thing)
        if identity(after) != identity(before):
            found.append(Change(thing, before, after))
    return tuple(found)


def kept_words(record: BoardRecord, choice: NextChoice) -> str:
    """Return which treatments are repeated, in words."""
    names = [one_line(record.treatments[key].title, _LONGEST) for key in choice.kept]
    if choice.controls and any(each.role == "control" for each in record.coupons.values()):
        names.append("controls")
    return one_line(", ".join(names), _LONGEST_TOLD)


def changed_words(found: Sequence[Change]) -> str:
    """Return what is changed, in words; that it is more than one thing is part of the record."""
    if not found:
        return "nothing, the same again"
    text = "; ".join(each.text() for each in found)
    return one_line(text if len(found) == 1 else f"{len(found)} things at once: {text}", _LONGEST_TOLD)


def next_plan(record: BoardRecord, plan: Plan, choice: NextChoice, moved: Moved) -> Plan:
    """Return the plan of the next board, for lots still to be drawn.

    Args:
        record: the old board.
        plan: of a new board like the old one, without dates and lots.
        choice: what is repeated and changed.
        moved: takes an outline from one position to another.

    Raises:
        InputError: nothing is kept, a number cannot be, or the coupons do not fit.
    """
    _check(record, choice)
    board = _board(plan.board, choice)
    wanted = [each for each in plan.coupons if _is_kept(record, choice, each)]
    steel = choice.value("steel")
    if isinstance(steel, str) and _differs(record, choice, "steel"):
        wanted = [replace(each, substrate=one_line(steel)) for each in wanted]
    board, wanted = _counted(board, plan, wanted, choice, moved)
    treatments, recipes = _treatments(record, plan, wanted, choice)
    ids = {identity(each.id) for each in treatments}
    questions = tuple(
        replace(each, pairs=tuple(pair for pair in each.pairs if all(identity(one) in ids for one in pair)))
        for each in plan.questions
    )
    layout = plan.layout
    if layout is not None and layout.method == "hand":
        layout = replace(layout, method="rows")
    return replace(
        plan, board=board, treatments=treatments, coupons=tuple(wanted), recipes=recipes, questions=questions,
        layout=layout,
    )  # fmt: skip


def _check(record: BoardRecord, choice: NextChoice) -> None:
    if not choice.kept:
        raise InputError("Keep at least one treatment for the next board.")
    if not _kept_coupons(record, choice):
        raise InputError("What is kept has no coupon on the old board; keep another treatment.")
    each = choice.value("coupons each")
    if each is not None and not (isinstance(each, (int, float)) and 1 <= each <= MOST_EACH and each == int(each)):
        raise InputError(f"A treatment has 1 to {MOST_EACH} coupons on the next board.")
    incline = choice.value("incline")
    if incline is not None and not (isinstance(incline, (int, float)) and 0 <= incline <= 180):
        raise InputError("The incline is from 0 to 180 degrees.")
    coats = choice.value("coats")
    if coats is not None and not (
        isinstance(coats, (int, float)) and 0 <= coats <= MOST_COATS and coats == int(coats)
    ):
        raise InputError(f"The coats are a whole number from 0 to {MOST_COATS}.")


def _differs(record: BoardRecord, choice: NextChoice, thing: Thing) -> bool:
    return any(each.thing == thing for each in changes(record, choice))


def _board(board: Board, choice: NextChoice) -> Board:
    site, shelter, incline = (choice.value(each) for each in ("site", "shelter", "incline"))
    if isinstance(site, str):
        board = replace(board, site=one_line(site))
    if isinstance(shelter, str):
        board = replace(board, shelter=one_line(shelter))
    return replace(board, incline_deg=float(incline)) if isinstance(incline, (int, float)) else board


def _group(coupon: Coupon | PlannedCoupon) -> object:
    return "control" if coupon.role == "control" else coupon.treatment


def _kept_coupons(record: BoardRecord, choice: NextChoice) -> list[Coupon]:
    return [
        each
        for each in record.coupons_in_order()
        if each.position is not None
        and (choice.controls if each.role == "control" else each.treatment in choice.kept)
    ]


def _is_kept(record: BoardRecord, choice: NextChoice, coupon: PlannedCoupon) -> bool:
    if coupon.role == "control":
        return choice.controls
    ids = {identity(record.treatments[key].id) for key in choice.kept}
    return identity(coupon.treatment) in ids


def _counted(
    board: Board, plan: Plan, wanted: list[PlannedCoupon], choice: NextChoice, moved: Moved
) -> tuple[Board, list[PlannedCoupon]]:
    """Return the coupons, so many of each treatment as there are to be, on a board with room for them."""
    each = choice.value("coupons each")
    if each is None:
        return board, wanted
    groups: dict[object, list[PlannedCoupon]] = {}
    for coupon in wanted:
        groups.setdefault(_group(coupon), []).append(coupon)
    total = int(each) * len(groups)
    rows = max(board.rows, -(-total // board.columns))
    if rows > MOST_ROWS:
        raise InputError(f"{counted(total, 'coupon')} do not fit on a board; make it fewer of each.")
    grown = rows != board.rows
    board = replace(board, rows=rows)
    kept = [coupon for group in groups.values() for coupon in group[: int(each)]]
    ids, taken = [coupon.id for coupon in plan.coupons], {coupon.position for coupon in kept}
    free = iter([p for p in (Position(r, c) for r in range(rows) for c in range(board.columns)) if p not in taken])
    for group in groups.values():
        for _ in range(int(each) - len(group)):
            like, position = group[0], next(free)
            ids.append(next_id(ids, "C01"))
            outline = moved(like.outline_mm, like.position, position, board)
            kept.append(replace(like, id=ids[-1], position=position, outline_mm=outline, note="", drawn=None))
    if grown:  # the grid has another pitch now, and nobody has said where its coupons are
        kept = [replace(coupon, outline_mm=()) for coupon in kept]
    return board, kept


def _changed(record: BoardRecord, choice: NextChoice) -> list[Treatment]:
    keys = choice.kept if choice.target is None else (choice.target,)
    return [record.treatments[key] for key in keys if key in record.treatments and key in choice.kept]


def _treatments(
    record: BoardRecord, plan: Plan, coupons: Sequence[PlannedCoupon], choice: NextChoice
) -> tuple[tuple[Treatment, ...], tuple[tuple[str, Recipe], ...]]:
    used = {identity(each.treatment) for each in coupons if each.treatment}
    changed = {identity(each.id) for each in _changed(record, choice)}
    altered = [each for each in RECIPE_THINGS if _differs(record, choice, each)]
    recipes = {identity(name): recipe for name, recipe in plan.recipes}
    treatments, told_recipes = [], []
    for each in plan.treatments:
        own = identity(each.id)
        if own not in used:
            continue
        after, recipe = each, recipes.get(own)
        if own in changed:
            for thing in altered:
                after, recipe = _with(after, recipe, thing, choice.value(thing))
        treatments.append(after)
        if recipe is not None:
            told_recipes.append((after.id, recipe))
    return tuple(treatments), tuple(told_recipes)


def _with(
    treatment: Treatment, recipe: Recipe | None, thing: Thing, value: str | float | None
) -> tuple[Treatment, Recipe | None]:
    """Return a treatment with one part of its recipe changed; its name says so, and so do the steps that name it."""
    if thing == "coats":
        coats = None if value is None else int(value)
        name = one_line(f"{treatment.title}, coats: {coats}")
        return replace(treatment, coats=coats, name=name), recipe
    before, after = str(getattr(treatment, thing)), one_line(str(value or ""))
    name = one_line(f"{treatment.title}, {thing}: {after or 'none'}")
    changed = replace(treatment, name=name)
    match thing:
        case "protectant":
            changed = replace(changed, protectant=after)
        case "finish":
            changed = replace(changed, finish=after)
        case _:
            changed = replace(changed, preparation=after)
    if recipe is None or not before:
        return changed, recipe
    steps = tuple(
        replace(each, product=after, batch="", container_price=None, container_quantity=None)
        if identity(each.product) == identity(before)
        else each
        for each in recipe.steps
    )
    return changed, recipe if steps == recipe.steps else Recipe(steps)


def _listed(texts: Iterable[str]) -> str:
    found = list(dict.fromkeys(texts))
    return one_line(", ".join(each or "none" for each in found), _LONGEST_TOLD) if any(found) else ""
