"""What of a plan can be used: its coupons, treatments and markers judged one by one.

What breaks a rule is left out and named, the rest is kept. Only what makes the whole plan doubtful refuses it: too
many coupons or treatments, or an impossible grid.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rustboard.board.cells import identity, quoted
from rustboard.board.model import (
    MOST_COUPONS,
    MOST_TREATMENTS,
    ROLES,
    Board,
    Marker,
    Plan,
    PlannedCoupon,
    Treatment,
)
from rustboard.board.outline import outline_fault, without_repeats
from rustboard.board.plan_rules import (
    MARKER_IDS,
    RANGES,
    Place,
    Places,
    refuse_too_many,
    sound_moment,
    with_sound_amounts,
)
from rustboard.board.planning_check import PlanningJudge
from rustboard.board.position import MOST_COLUMNS, MOST_ROWS, Position
from rustboard.board.problem_list import ProblemList
from rustboard.support.problems import Problem
from rustboard.support.text import counted

_BOARD_AMOUNTS: Final = ("width_mm", "height_mm", "edge_margin_mm", "incline_deg", "facing_deg")
_TREATMENT_AMOUNTS: Final = ("coats", "cost_per_m2", "minutes_per_m2")


def check_plan(plan: Plan, file: str = "", places: Places | None = None) -> tuple[Plan, list[Problem]]:
    """Return what of a plan can be used, and what was left out and why.

    Raises:
        InputError: more than `MOST_COUPONS` coupons or `MOST_TREATMENTS` treatments, or a grid of an impossible size.
    """
    problems = ProblemList(file)
    return settle_plan(plan, places or Places.numbered(plan), problems), problems.listed()


def settle_plan(plan: Plan, places: Places, problems: ProblemList) -> Plan:
    """Do `check_plan` with a list of problems that a reader has begun already."""
    refuse_too_many(len(plan.coupons), "coupons", MOST_COUPONS, problems)
    refuse_too_many(len(plan.treatments), "treatments", MOST_TREATMENTS, problems)
    board = _settled_board(plan.board, problems)
    treatments = _settled_treatments(plan.treatments, places.treatments, problems)
    judge = _CouponJudge(board, treatments, problems)
    planning = PlanningJudge(treatments, problems)
    return Plan(
        board=board,
        treatments=treatments,
        coupons=tuple(
            kept
            for coupon, place in zip(plan.coupons, places.coupons, strict=True)
            if (kept := judge.settled(coupon, place)) is not None
        ),
        markers=_settled_markers(plan.markers, places.markers, board, problems),
        recipes=planning.recipes(plan.recipes, places.recipes),
        questions=planning.questions(plan.questions, places.questions),
        layout=None if plan.layout is None else planning.layout(plan.layout),
        calendar=None if plan.calendar is None else planning.calendar(plan.calendar),
    )


def _settled_board(board: Board, problems: ProblemList) -> Board:
    for key, value, most in (("rows", board.rows, MOST_ROWS), ("columns", board.columns, MOST_COLUMNS)):
        if not 1 <= value <= most:
            raise problems.refusal(f"A board has 1 to {most} {key}; mend this number.", column=f"board.{key}")
    place = Place(path="board")
    started = sound_moment(board.started, place, "started", problems)
    return with_sound_amounts(replace(board, started=started), _BOARD_AMOUNTS, Board(""), place, problems)


def _settled_treatments(
    treatments: Sequence[Treatment], places: Sequence[Place], problems: ProblemList
) -> tuple[Treatment, ...]:
    kept: dict[str, Treatment] = {}
    for treatment, place in zip(treatments, places, strict=True):
        if not treatment.id:
            problems.add("The treatment has no id; give it a short one.", row=place.row, column=place.column("id"))
        elif identity(treatment.id) in kept:
            problems.add(
                f"The id {quoted(treatment.id)} is given to two treatments; the first was kept.",
                row=place.row,
                column=place.column("id"),
            )
        else:
            kept[identity(treatment.id)] = with_sound_amounts(treatment, _TREATMENT_AMOUNTS, None, place, problems)
    return tuple(kept.values())


def _settled_markers(
    markers: Sequence[Marker], places: Sequence[Place], board: Board, problems: ProblemList
) -> tuple[Marker, ...]:
    kept: dict[int, Marker] = {}
    for marker, place in zip(markers, places, strict=True):
        key, fault = _marker_fault(marker, board)
        if not fault and marker.id in kept:
            key, fault = "id", f"Marker {marker.id} is there twice; the first was kept."
        if fault:
            problems.add(fault, row=place.row, column=place.column(key))
        else:
            kept[marker.id] = marker
    return tuple(kept.values())


def _marker_fault(marker: Marker, board: Board) -> tuple[str, str]:
    """Return the key and the sentence of a marker's first fault; the sentence is empty when there is none."""
    if marker.id not in MARKER_IDS:
        return "id", f"{marker.id} is not a marker of a board; markers are numbered 0 to 3, clockwise from top left."
    low, high, unit = RANGES["size_mm"]
    if not low <= marker.size_mm <= high:
        return (
            "size_mm",
            f"{marker.size_mm:g}{unit} is not between {low:g} and {high:g}{unit}; the marker was left out.",
        )
    for value, reach in zip(marker.centre_mm, (board.width_mm, board.height_mm), strict=True):
        if not 0 <= value <= (reach or math.inf) or math.isinf(value):
            return "centre_mm", "The marker's centre lies beyond the board; mend it or the board's size."
    return "", ""


_AT_MOST = f"A board has at most {MOST_ROWS} rows and {MOST_COLUMNS} columns"


def _possible(position: Position) -> bool:
    """Return whether some board has this position."""
    return 0 <= position.row < MOST_ROWS and 0 <= position.column < MOST_COLUMNS


class _CouponJudge:
    """Judges the coupons of one plan in turn and remembers which ids and positions are taken."""

    def __init__(self, board: Board, treatments: Sequence[Treatment], problems: ProblemList) -> None:
        self._board = board
        self._treatments = {identity(each.id): each.id for each in treatments}
        self._problems = problems
        self._by_id: dict[str, Place] = {}
        self._by_position: dict[Position, tuple[PlannedCoupon, Place]] = {}

    def settled(self, coupon: PlannedCoupon, place: Place) -> PlannedCoupon | None:
        """Return the coupon as it can be used, or None when it had to be left out."""
        for key, fault in (
            ("id", self._id_fault(coupon)),
            ("position", self._position_fault(coupon)),
            ("role", "" if coupon.role in ROLES else f"{quoted(coupon.role)} is not a role; write test or control."),
        ):
            if fault:
                self._problems.add(fault, row=place.row, column=place.column(key))
                return None
        self._by_id[identity(coupon.id)] = place
        self._by_position[coupon.position] = (coupon, place)
        return replace(
            coupon,
            treatment=self._treatment(coupon, place),
            outline_mm=self._outline(coupon, place),
            drawn=self._drawn(coupon, place),
        )

    def _id_fault(self, coupon: PlannedCoupon) -> str:
        if not coupon.id:
            return "The coupon has no id; write the one that is on the piece."
        before = self._by_id.get(identity(coupon.id))
        if before is None:
            return ""
        return f"The id {quoted(coupon.id)} is taken by the coupon in {before.words()}; give each coupon its own id."

    def _position_fault(self, coupon: PlannedCoupon) -> str:
        position, board = coupon.position, self._board
        if not _possible(position):
            return f"{_AT_MOST}; mend this position."
        if position.row >= board.rows:
            return f"Position {position.label} is not on the board, which has only {counted(board.rows, 'row')}."
        if position.column >= board.columns:
            return (
                f"Position {position.label} is not on the board, which has only {counted(board.columns, 'column')}."
            )
        if position not in self._by_position:
            return ""
        other, place = self._by_position[position]
        return (
            f"Position {position.label} is taken by coupon {quoted(other.id)} in {place.words()}; "
            f"give coupon {quoted(coupon.id)} another one."
        )

    def _treatment(self, coupon: PlannedCoupon, place: Place) -> str:
        if not coupon.treatment:
            return ""
        known = self._treatments.get(identity(coupon.treatment))
        if known is None:
            self._problems.add(
                f"The plan has no treatment {quoted(coupon.treatment)}; coupon {quoted(coupon.id)} was kept without.",
                row=place.row,
                column=place.column("treatment"),
            )
        return known or ""

    def _drawn(self, coupon: PlannedCoupon, place: Place) -> Position | None:
        if coupon.drawn is None or _possible(coupon.drawn):
            return coupon.drawn
        self._problems.add(
            f"{_AT_MOST}; coupon {quoted(coupon.id)} was kept without the position that the lots gave it.",
            row=place.row,
            column=place.column("drawn"),
        )
        return None

    def _outline(self, coupon: PlannedCoupon, place: Place) -> tuple[tuple[float, float], ...]:
        # A point that is not a number never equals itself, so judging after the repeats are out still finds it.
        outline = without_repeats(coupon.outline_mm)
        fault = outline_fault(outline, self._board)
        if not fault:
            return outline
        self._problems.add(
            f"{fault[:-1]}; coupon {quoted(coupon.id)} was kept without it.",
            row=place.row,
            column=place.column("outline_mm"),
        )
        return ()
