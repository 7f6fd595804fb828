"""The board that an old table makes, by what a person said of its treatments and of the board."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from rustboard.board.cells import identity
from rustboard.board.model import Board, Coupon, Treatment
from rustboard.board.old_grades.our_sheets import OurSheets
from rustboard.board.old_grades.reading import OldCoupon, OldGrade, OldReading, inspected
from rustboard.board.old_grades.values import means_control, with_told
from rustboard.board.plan_rules import board_name, fitted_grid
from rustboard.board.position import MOST_COLUMNS, MOST_ROWS, Position
from rustboard.support.problems import InputError

LONGEST_TREATMENT_ID: Final = 12


@dataclass(frozen=True, slots=True)
class OldTreatment:
    """A treatment as the table writes it, and what it is to be.

    Attributes:
        text: as written. coupons: how many got it.
        name, family: as it is to be called; treatments of the same name become one.
        control: whether its coupons are controls, where no column says that of them.
        known: what our own workbook says of it, or None.
    """

    text: str
    coupons: int
    name: str
    family: str = ""
    control: bool = False
    known: Treatment | None = None


@dataclass(frozen=True, slots=True)
class BoardChoice:
    """What a person says of the board.

    Attributes:
        started: when exposure began, or None. per_row: coupons in a row, in the table's order; 0 = as the table says.
    """

    name: str
    customer: str = ""
    site: str = ""
    started: datetime | None = None
    per_row: int = 0


@dataclass(frozen=True, slots=True)
class PastCoupon:
    """A coupon with its treatment by id; empty = none."""

    coupon: Coupon
    treatment: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class PastBoard:
    """A whole board to be made.

    Attributes:
        told: where it comes from.
    """

    board: Board
    treatments: tuple[Treatment, ...]
    coupons: tuple[PastCoupon, ...]
    grades: tuple[OldGrade, ...]
    told: str


def all_coupons(reading: OldReading, ours: OurSheets) -> tuple[OldCoupon, ...]:
    """Return the coupons of the table and, of our own workbook, those without a grade; the workbook's word counts."""
    if not reading.layout.ours:
        return reading.coupons
    named = {identity(each.id) for each in reading.coupons}
    known = tuple(ours.coupons.get(identity(each.id), each) for each in reading.coupons)
    return (*known, *(each for key, each in ours.coupons.items() if key not in named))


def old_treatments(reading: OldReading, ours: OurSheets) -> tuple[OldTreatment, ...]:
    """Return the treatments that the table names, once each; those that are spelled alike get one name."""
    found: dict[str, OldTreatment] = {}
    spelled: dict[str, str] = {}
    for each in all_coupons(reading, ours):
        key = identity(each.treatment)
        if not each.treatment:
            continue
        if key not in found:
            known = ours.treatments.get(key) if reading.layout.ours else None
            plain = "".join(char for char in key if char.isalnum()) or key
            name = each.treatment if reading.layout.ours else spelled.setdefault(plain, each.treatment)
            name = name if known is None else known.name
            found[key] = OldTreatment(each.treatment, 0, name, each.family, means_control(each.treatment), known)
        count = found[key].coupons + 1
        found[key] = replace(found[key], coupons=count, family=found[key].family or each.family)
    unused = ours.treatments.items() if reading.layout.ours else ()
    rest = (OldTreatment(each.id, 0, each.name, each.family, False, each) for key, each in unused if key not in found)
    return (*found.values(), *rest)


def usual_choice(reading: OldReading, ours: OurSheets) -> BoardChoice:
    """Return what is said of the board when nobody says otherwise."""
    coupons = all_coupons(reading, ours)
    has_places = any(each.position is not None for each in coupons) or not coupons
    wide = max(1, min(MOST_COLUMNS, max(7, -(-len(coupons) // MOST_ROWS))))
    per_row = 0 if has_places or reading.layout.ours else wide
    started = min((inspected(each) for each in reading.grades), default=None)
    return BoardChoice(board_name(reading.grid.file), started=started, per_row=per_row)


def provenance(reading: OldReading) -> str:
    """Return where grades come from, as a note says it."""
    return f"Imported from {reading.grid.where}."


def with_provenance(reading: OldReading) -> tuple[OldGrade, ...]:
    """Return the grades with a note where they come from.

    Grades of the program's own table keep their notes as they are, so that they are the same again; the notes of
    their inspections and the record of changes say where they come from.
    """
    if reading.layout.ours:
        return reading.grades
    told = provenance(reading)
    return tuple(each._replace(note=with_told(each.note, told)) for each in reading.grades)


def past_board(
    reading: OldReading, ours: OurSheets, treatments: Sequence[OldTreatment], choice: BoardChoice
) -> PastBoard:
    """Return the board that a table makes.

    Raises:
        InputError: there is no coupon, or a row has room for fewer coupons than there are.
    """
    coupons = all_coupons(reading, ours)
    if not coupons:
        raise InputError(
            "No coupon of the table can be used; see what is wrong with its cells.", file=reading.grid.file
        )
    recipes = _recipes(treatments, exact=reading.layout.ours)
    controls = {identity(each.text) for each in treatments if each.control}
    made: list[PastCoupon] = []
    for number, each in enumerate(coupons):
        position = Position(*divmod(number, choice.per_row)) if choice.per_row else each.position
        if position is not None and position.row >= MOST_ROWS:
            raise InputError(f"A board has at most {MOST_ROWS} rows; put more coupons in a row.")
        key = identity(each.treatment)
        role = each.role or ("control" if key in controls else "test")
        coupon = Coupon(each.id, position, role=role, substrate=each.substrate, note=each.note)
        made.append(PastCoupon(coupon, recipes[key].id if each.treatment else ""))
    positions = [each.coupon.position for each in made if each.coupon.position is not None]
    board = Board(
        choice.name,
        1,
        1,
        started=choice.started,
        site=choice.site,
        customer=choice.customer,
        note=provenance(reading),
    )
    board = fitted_grid(board, positions, rows=True, columns=True)
    unique = {each.id: each for each in recipes.values()}
    return PastBoard(board, tuple(unique.values()), tuple(made), with_provenance(reading), reading.grid.where)


def _recipes(treatments: Sequence[OldTreatment], *, exact: bool) -> Mapping[str, Treatment]:
    """Return the treatment of each text, by the form in which texts are compared.

    Of the program's own table a text is an id; else it is a name, and those of one name are one treatment.
    """
    if exact:
        return {identity(each.text): _exact(each) for each in treatments}
    taken = {identity(each.name) for each in treatments if _is_id(each.name)}
    by_name: dict[str, Treatment] = {}
    found: dict[str, Treatment] = {}
    for each in treatments:
        name = each.name or each.text
        known = by_name.get(identity(name))
        if known is None:
            own = name if _is_id(name) else _free_id(taken)
            known = Treatment(own, name, each.family)
        elif each.family and not known.family:
            known = replace(known, family=each.family)
        by_name[identity(name)] = known
        found[identity(each.text)] = known
    return {key: by_name[identity(each.name)] for key, each in found.items()}


def _exact(old: OldTreatment) -> Treatment:
    known = old.known or Treatment(old.text)
    return replace(
        known, name=old.name if old.known or old.name != old.text else "", family=old.family or known.family
    )


def _is_id(text: str) -> bool:
    return 0 < len(text) <= LONGEST_TREATMENT_ID and len(text.split()) == 1


def _free_id(taken: set[str]) -> str:
    number = 1
    while identity(f"T{number}") in taken:
        number += 1
    taken.add(identity(f"T{number}"))
    return f"T{number}"
