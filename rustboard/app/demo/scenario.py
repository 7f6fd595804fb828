"""What a demo board is: its plan, its visits, how its coupons truly rust, and what its graders wrote down.

Everything here is made up: the shop, the people, the figures. Rust follows one curve per coupon, which only rises;
graders write the grade of that curve, save where the scenario says that they slipped, missed or mended something.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import exp, log1p
from typing import Final, Literal

from rustboard.app.demo.blind import BlindVisit
from rustboard.app.demo.weather_told import ToldWeather
from rustboard.board.grade import carries_letter
from rustboard.board.layout import Layout
from rustboard.board.model import Inspection, Marker, Outline, Plan, PlannedCoupon
from rustboard.board.position import Position
from rustboard.scales.rust_fields import Distribution
from rustboard.scales.rust_grade import grade_from_percent

COUPON_WIDTH_MM: Final = 60.0
COUPON_HEIGHT_MM: Final = 120.0
BOARD_WIDTH_MM: Final = 700.0
EDGE_MARGIN_MM: Final = 3.0

HUNG_BY_HAND: Final = Layout(
    method="hand", fair_edges=False, coupon_width_mm=COUPON_WIDTH_MM, coupon_height_mm=COUPON_HEIGHT_MM
)
"""How the demo's boards were laid out: no lots of this program are behind their positions, and nothing leads drips
away from the coupons below."""

_PHOTO_AFTER = timedelta(minutes=4)
_LEFT_MM, _COLUMN_STEP_MM = 56.0, 88.0
_TOP_MM, _ROW_STEP_MM = 10.0, 130.0
_MARKER_FROM_EDGE_MM, _MARKER_SIZE_MM = 20.0, 30.0


@dataclass(frozen=True, slots=True)
class Behaviour:
    """How one treatment rusts on one board.

    Attributes:
        letter: how the rust is strewn.
        starts: day on which the first speck may come.
        late_percent: % rusted by the board's last visit, for a replicate whose pace is 1.
        bend: how steeply it gathers speed; 1 begins at full pace.
        pace: one factor for each replicate, from the top row down.
    """

    letter: Distribution
    starts: float
    late_percent: float
    bend: float
    pace: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Oddity:
    """What made one coupon's grading at one visit other than the plain truth.

    Attributes:
        kind: ``slip``: a grade ``by`` off. ``missed``: not graded. ``dropping``: a bird's, so not graded.
            ``corrected``: a grade ``by`` off, put right at once. ``withdrawn``: graded, then taken back.
            ``stated``: the percent is stated with the grade. ``noted``: graded as it is, with a note.
    """

    day: int
    coupon: str
    kind: Literal["slip", "missed", "dropping", "corrected", "withdrawn", "stated", "noted"]
    by: int = 0
    note: str = ""


@dataclass(frozen=True, slots=True)
class WrittenGrade:
    """One grade as it is written down; of two for the same coupon and visit the later corrects the earlier."""

    coupon: str
    grade: int
    distribution: str
    percent: float | None = None
    note: str = ""
    withdrawn: bool = False


@dataclass(frozen=True, slots=True)
class DemoBoard:
    """One board of the demo, from plan to last visit.

    Attributes:
        behaviours: by treatment id.
        visits: by time.
        seed: which drawing.
        photo_prefix: how the photos' file names begin.
        blind: the visits that are graded blind; what `written_at` says of them is not written down.
        weather: the logger's file, the days and the disturbances noted by hand, and what was weighed.
    """

    plan: Plan
    behaviours: Mapping[str, Behaviour]
    visits: tuple[Inspection, ...]
    oddities: tuple[Oddity, ...]
    seed: int
    photo_prefix: str
    blind: tuple[BlindVisit, ...] = ()
    weather: ToldWeather | None = None

    def blind_at(self, visit: Inspection) -> BlindVisit | None:
        """Return how a visit is graded blind, or None where it is graded openly."""
        day = round(self.day_of(visit))
        return next((each for each in self.blind if each.day == day), None)

    def letter_of(self, coupon: str) -> str:
        """Return how the rust of a coupon is strewn."""
        return self.behaviours[next(each.treatment for each in self.plan.coupons if each.id == coupon)].letter

    def percents_at(self, visit: Inspection) -> dict[str, float]:
        """Return the percent of each coupon that is truly rusted at a visit, by coupon id."""
        return {each.id: self.percent_at(each, self.day_of(visit)) for each in self.plan.coupons}

    def day_of(self, visit: Inspection) -> float:
        """Return days of exposure at a visit."""
        started = self.plan.board.started
        return 0.0 if started is None else (visit.at - started) / timedelta(days=1)

    def percent_at(self, coupon: PlannedCoupon, day: float) -> float:
        """Return the percent of a coupon's significant surface that is truly rusted; it never falls with time.

        A rising share of a surface on which spots begin and grow (the form of Avrami's equation); the figures in it
        are made up.
        """
        behaviour = self.behaviours[coupon.treatment]
        if day <= behaviour.starts:
            return 0.0
        late = self.day_of(self.visits[-1])
        end = -log1p(-behaviour.late_percent / 100) * behaviour.pace[coupon.position.row]
        return 100 * (1 - exp(-end * ((day - behaviour.starts) / (late - behaviour.starts)) ** behaviour.bend))

    def odd(self, visit: Inspection) -> dict[str, Oddity]:
        """Return a visit's oddities by coupon id."""
        day = round(self.day_of(visit))
        return {each.coupon: each for each in self.oddities if each.day == day}

    def written_at(self, visit: Inspection) -> list[WrittenGrade]:
        """Return the grades written down at a visit, in the order in which they were."""
        odd = self.odd(visit)
        day = self.day_of(visit)
        grades: list[WrittenGrade] = []
        for coupon in self.plan.coupons:
            percent = self.percent_at(coupon, day)
            letter = self.behaviours[coupon.treatment].letter
            grades.extend(_written(coupon.id, percent, letter, odd.get(coupon.id)))
        return grades

    def photo_name(self, visit: Inspection) -> str:
        """Return the name the visit's photo had in the camera's folder."""
        return f"{self.photo_prefix} {visit.at:%Y-%m-%d}.jpg"

    def photo_taken(self, visit: Inspection) -> datetime:
        """Return when the visit's photo was taken: on arriving, before the grading."""
        return visit.at + _PHOTO_AFTER


def _written(coupon: str, percent: float, letter: str, odd: Oddity | None) -> list[WrittenGrade]:
    grade = grade_from_percent(percent)
    if odd is None:
        return [_one(coupon, grade, letter)]
    if odd.kind in {"missed", "dropping"}:
        return []
    if odd.kind == "slip":
        return [_one(coupon, grade + odd.by, letter, note=odd.note)]
    if odd.kind == "corrected":
        return [_one(coupon, grade + odd.by, letter), _one(coupon, grade, letter, note=odd.note)]
    if odd.kind == "stated":
        return [_one(coupon, grade, letter, percent=_as_stated(percent, grade), note=odd.note)]
    return [_one(coupon, grade, letter, note=odd.note, withdrawn=odd.kind == "withdrawn")]


def _one(
    coupon: str, grade: int, letter: str, percent: float | None = None, note: str = "", withdrawn: bool = False
) -> WrittenGrade:
    kept = min(10, max(0, grade))
    return WrittenGrade(coupon, kept, letter if carries_letter(kept) else "", percent, note, withdrawn)


def _as_stated(percent: float, grade: int) -> float:
    """Return a percent as a person states it, to two figures, unless that would be another grade."""
    rounded = float(f"{percent:.2g}")
    return rounded if grade_from_percent(rounded) == grade else percent


def planned_coupons(prefix: str, rows: tuple[str, ...], control: str) -> tuple[PlannedCoupon, ...]:
    """Return the coupons of a board, numbered as one reads it.

    Args:
        prefix: letter before the number.
        rows: the treatments' ids of each row, from left to right, between blanks.
        control: the treatment whose coupons are controls.
    """
    coupons: list[PlannedCoupon] = []
    for row, treatments in enumerate(rows):
        for column, treatment in enumerate(treatments.split()):
            coupons.append(
                PlannedCoupon(
                    id=f"{prefix}{len(coupons) + 1:02d}",
                    position=Position(row, column),
                    treatment=treatment,
                    role="control" if treatment == control else "test",
                    substrate="mild steel, 3 mm",
                    outline_mm=_outline_at(row, column),
                )
            )
    return tuple(coupons)


def _outline_at(row: int, column: int) -> Outline:
    left, top = _LEFT_MM + column * _COLUMN_STEP_MM, _TOP_MM + row * _ROW_STEP_MM
    right, bottom = left + COUPON_WIDTH_MM, top + COUPON_HEIGHT_MM
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def corner_markers(height_mm: float) -> tuple[Marker, ...]:
    """Return the four printed squares, clockwise from the top left."""
    near, right, low = _MARKER_FROM_EDGE_MM, BOARD_WIDTH_MM - _MARKER_FROM_EDGE_MM, height_mm - _MARKER_FROM_EDGE_MM
    centres = ((near, near), (right, near), (right, low), (near, low))
    return tuple(Marker(number, centre, _MARKER_SIZE_MM) for number, centre in enumerate(centres))
