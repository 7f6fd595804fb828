"""What findings are about: a board at one moment, seen on one clock, asked one question."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from rustboard.board.comparisons import Comparison, Level, comparisons_of
from rustboard.board.exposure_clock import ExposureClock
from rustboard.board.question import Question
from rustboard.board.record import BoardRecord
from rustboard.findings.coupons.groups import Group, GroupResult, group_results, groups_of
from rustboard.findings.coupons.measures import CouponMeasures, measures_of
from rustboard.findings.hung import hung_board
from rustboard.findings.proof_table import LayoutState
from rustboard.findings.spread import Spread
from rustboard.findings.units import Exchanges, HungBoard, HungUnit, hanging_units


@dataclass(frozen=True, slots=True)
class FindingsRequest:
    """What findings are worked out from; frozen.

    Attributes:
        record: a snapshot of the board.
        clock: that exposure is told by, with a place for every inspection.
        question: what is compared, by which measure, and the failing grade; as the board has it, or as a view of it
            asks. Where it differs from the board's own, that is said among the cautions.
        earlier: spread on the user's earlier boards, or None.
    """

    record: BoardRecord
    clock: ExposureClock
    question: Question
    earlier: Spread | None = None


@dataclass(frozen=True)
class Subject:
    """A board as the findings see it: coupons that hang, were graded and are not left out.

    Attributes:
        request: what was asked.
    """

    request: FindingsRequest

    @property
    def record(self) -> BoardRecord:
        """The board."""
        return self.request.record

    @property
    def question(self) -> Question:
        """What is asked of it."""
        return self.request.question

    @property
    def in_grades(self) -> bool:
        """Whether values are grades; otherwise they are places on the clock."""
        return self.question.measure != "days to failing grade"

    @cached_property
    def left_out(self) -> dict[int, str]:
        """Keys of coupons the user left out, with the reason."""
        return {each.coupon: each.reason for each in self.record.left_out.values()}

    @cached_property
    def all_measures(self) -> dict[int, CouponMeasures]:
        """Measures of every graded coupon by key, those left out among them."""
        return measures_of(self.record, self.request.clock, self.question.failing_grade)

    @cached_property
    def measures(self) -> dict[int, CouponMeasures]:
        """Measures of the coupons that count, by key."""
        return {key: each for key, each in self.all_measures.items() if key not in self.left_out}

    @cached_property
    def values(self) -> dict[int, float]:
        """What each coupon that counts is judged by: a grade, or how long on the clock it stayed above failing.

        A coupon that has failed counts with the middle of the interval in which it did, one that has not with all
        the exposure that it was seen through: what is compared is the time above the failing grade so far.
        """
        return {key: self._value(each) for key, each in self.measures.items()}

    def _value(self, each: CouponMeasures) -> float:
        if self.question.measure == "last grade":
            return float(each.last_grade)
        if self.question.measure == "mean grade":
            return each.mean_grade
        failure = each.failure
        return failure.after if failure.before is None else (failure.after + failure.before) / 2

    @cached_property
    def groups(self) -> tuple[Group, ...]:
        """Coupons treated alike."""
        return groups_of(self.record)

    @cached_property
    def group_results(self) -> tuple[GroupResult, ...]:
        """What each group came to, in the order of the groups."""
        failed = [key for key, each in self.measures.items() if each.failure.before is not None]
        return group_results(
            self.groups, self.values, {key: each.last_grade for key, each in self.measures.items()}, failed
        )

    @cached_property
    def _hung(self) -> tuple[HungBoard, LayoutState]:
        board, state = hung_board(self.record)
        # What was never graded and had no lot never took part: it changes neither edges nor lots.
        strangers = (board.without_lot if board.by_lot else board.roles.keys()) - self.record.current.keys()
        hung = tuple(each for each in board.hung if each.coupon not in strangers)
        drawn = tuple(each for each in board.drawn if each.coupon not in strangers)
        return replace(board, hung=hung, drawn=drawn, without_lot=board.without_lot - strangers), state

    @property
    def board(self) -> HungBoard:
        """The coupons as they hang and as the lots put them."""
        return self._hung[0]

    @property
    def state(self) -> LayoutState:
        """How the layout stands."""
        return self._hung[1]

    @cached_property
    def exchanges(self) -> Exchanges:
        """Between which coupons labels may change places."""
        return Exchanges(self.board)

    @cached_property
    def units(self) -> tuple[HungUnit, ...]:
        """What a model sees as one: a coupon, or the coupons of one treatment in a column; only what has a value."""
        units = (
            replace(each, coupons=frozenset(each.coupons & self.values.keys())) for each in hanging_units(self.board)
        )
        return tuple(each for each in units if each.coupons)

    def unit_value(self, unit: HungUnit) -> float:
        """Return the mean value of the coupons of a unit."""
        return sum(self.values[each] for each in sorted(unit.coupons)) / len(unit.coupons)

    @cached_property
    def comparisons(self) -> tuple[Comparison, ...]:
        """What is compared, with the coupons that have a value; where a side has none, it is not among these."""
        hanging = {each.coupon for each in self.board.hung}
        found = (
            _with_values(each, self.values.keys() & hanging) for each in comparisons_of(self.question, self.record)
        )
        return tuple(each for each in found if each is not None)

    @cached_property
    def not_compared(self) -> tuple[Comparison, ...]:
        """What was to be compared, but on one side nothing was graded."""
        known = {(each.kind, each.a, each.b) for each in self.comparisons}
        return tuple(
            each for each in comparisons_of(self.question, self.record) if (each.kind, each.a, each.b) not in known
        )


def subject_of(request: FindingsRequest) -> Subject:
    """Return the board as the findings see it."""
    return Subject(request)


def _with_values(comparison: Comparison, valued: Iterable[int]) -> Comparison | None:
    there = frozenset(valued)
    levels = [Level(each.name, each.a & there, each.b & there) for each in comparison.levels]
    levels = [each for each in levels if each.a and each.b]
    if not levels:
        return None
    a = frozenset[int]().union(*(each.a for each in levels))
    b = frozenset[int]().union(*(each.b for each in levels))
    return replace(comparison, coupons_a=a, coupons_b=b, levels=tuple(levels))


def values_of(coupons: Iterable[int], values: Mapping[int, float]) -> list[float]:
    """Return the values of coupons that have one, in the order of their keys."""
    return [values[each] for each in sorted(coupons) if each in values]
