"""A plan carried out: its treatments and coupons put on an empty board; and a board turned back into a plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rustboard.board.cells import identity
from rustboard.board.layout import Lot
from rustboard.board.lot_changes import drawn_positions
from rustboard.board.model import Coupon, Plan, PlannedCoupon
from rustboard.board.plan_check import check_plan
from rustboard.board.plan_rules import Places
from rustboard.board.planning_check import PlanningJudge
from rustboard.board.problem_list import ProblemList
from rustboard.board.question import Question
from rustboard.board.recipe import Recipe, TreatmentRecipe
from rustboard.board.record import BoardRecord
from rustboard.operations.boards import checked_board
from rustboard.operations.calendars import new_uid
from rustboard.operations.coupons import add_coupons
from rustboard.operations.lookup import shown, the_board_row
from rustboard.operations.treatments import add_treatments
from rustboard.store.plan_tables import CALENDARS, LAYOUTS, LOTS, QUESTIONS, RECIPES
from rustboard.store.tables import BOARD, COUPONS, TREATMENTS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary


def carry_out_plan(tx: Transaction, plan: Plan) -> Summary:
    """Put everything a checked plan names on an empty board.

    Raises:
        InputError: the board holds coupons or treatments already, or the plan names what cannot be.
    """
    if tx.count(COUPONS) or tx.count(TREATMENTS):
        raise InputError("This board holds coupons already; carry the plan out on a new board.")
    tx.put(BOARD, replace(the_board_row(tx), board=checked_board(plan.board), markers=plan.markers))
    keys = {identity(each.id): each.key for each in add_treatments(tx, plan.treatments)}
    coupons = add_coupons(tx, [_coupon(each, keys) for each in plan.coupons])
    _put_planning(tx, _checked_planning(plan), keys)
    _put_lots(tx, plan.coupons, coupons)
    return Summary("Carry out the plan: {0} coupons", (str(len(plan.coupons)),))


def _checked_planning(plan: Plan) -> Plan:
    problems = ProblemList("")
    judge, places = PlanningJudge(plan.treatments, problems), Places.numbered(plan)
    checked = replace(
        plan,
        recipes=judge.recipes(plan.recipes, places.recipes),
        questions=judge.questions(plan.questions, places.questions),
        layout=None if plan.layout is None else judge.layout(plan.layout),
        calendar=None if plan.calendar is None else judge.calendar(plan.calendar),
    )
    if problems:
        raise InputError(f"This plan cannot be carried out as it is; the first problem: {problems.first()}")
    return checked


def _put_planning(tx: Transaction, plan: Plan, treatments: Mapping[str, int]) -> None:
    for treatment, recipe in plan.recipes:
        tx.put(RECIPES, TreatmentRecipe(treatments[identity(treatment)], recipe))
    for question in plan.questions:
        tx.put(QUESTIONS, question)
    if plan.layout is not None:
        tx.put(LAYOUTS, replace(plan.layout, key=1))
    if plan.calendar is not None:
        tx.put(CALENDARS, replace(plan.calendar, key=1, uid=plan.calendar.uid or new_uid()))


def _put_lots(tx: Transaction, planned: Sequence[PlannedCoupon], coupons: Sequence[Coupon]) -> None:
    for plan, coupon in zip(planned, coupons, strict=True):
        if plan.drawn is not None:
            tx.put(LOTS, Lot(coupon.key, plan.drawn))


def _coupon(planned: PlannedCoupon, treatments: Mapping[str, int]) -> Coupon:
    treatment = treatments.get(identity(planned.treatment)) if planned.treatment else None
    if planned.treatment and treatment is None:
        raise InputError(
            f"Coupon {shown(planned.id)} has the treatment {shown(planned.treatment)}, which the plan does not "
            "describe."
        )
    return Coupon(
        id=planned.id,
        position=planned.position,
        treatment=treatment,
        role=planned.role,
        substrate=planned.substrate,
        outline_mm=planned.outline_mm,
        note=planned.note,
    )


def whole_plan_of(record: BoardRecord) -> Plan:
    """Return everything of a board that a plan can hold; a board made from it has the same plan again.

    Coupons and treatments stand in the order in which they were added, so that their keys come back in the same order
    and the same number draws the same lots.

    Not in a plan, and so lost in one: coupons that were taken off the board and what the lots drew for them, names of
    rows and columns, and what a question said of treatments that are gone.
    """
    ids = {key: each.id for key, each in record.treatments.items()}
    drawn = drawn_positions(record)
    coupons = tuple(
        PlannedCoupon(
            id=each.id,
            position=each.position,
            treatment="" if each.treatment is None else ids[each.treatment],
            role=each.role,
            substrate=each.substrate,
            outline_mm=each.outline_mm,
            note=each.note,
            drawn=drawn.get(each.key),
        )
        for _, each in sorted(record.coupons.items())
        if each.position is not None
    )
    recipes = {each.treatment: each.recipe for each in record.recipes.values() if each.recipe != Recipe()}
    spelled = {identity(each): each for each in ids.values()}
    return Plan(
        board=record.board,
        treatments=tuple(replace(record.treatments[key], key=0) for key in sorted(ids)),
        coupons=coupons,
        markers=record.markers,
        recipes=tuple((ids[key], recipes[key]) for key in sorted(recipes)),
        questions=tuple(_told_of(record.questions[key], spelled) for key in sorted(record.questions)),
        layout=replace(record.layout, key=0) if record.layouts else None,
        calendar=replace(record.calendar, key=0, uid="") if record.calendars else None,
    )


def _told_of(question: Question, spelled: Mapping[str, str]) -> Question:
    """Return a question without its key and with the pairs of treatments that there are."""
    pairs = ((spelled.get(identity(one)), spelled.get(identity(other))) for one, other in question.pairs)
    known = tuple((one, other) for one, other in pairs if one is not None and other is not None)
    return replace(question, pairs=known, key=0)


def plan_of(record: BoardRecord, name: str) -> Plan:
    """Return the plan of a new board like this one.

    The same positions, treatments, recipes, rules of the layout and calendar, and the question as it stands now, to
    be written down anew. No dates, no grades, and no lots: those have to be drawn for each board afresh. Outlines and
    markers that lie beyond the board, because it was made smaller after them, are left out.
    """
    plan = whole_plan_of(record)
    fresh = replace(
        plan,
        board=replace(plan.board, name=name, started=None),
        coupons=tuple(replace(each, drawn=None) for each in plan.coupons),
        questions=tuple(replace(each, written=None, late=False) for each in plan.questions[-1:]),
        layout=None if plan.layout is None else plan.layout.undrawn(),
    )
    return check_plan(fresh)[0]
