"""Everything one board holds, in memory, with the questions the screens and the report ask of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from typing import NamedTuple

from rustboard.board.blind import BlindGrade, BlindInspection, BlindRound
from rustboard.board.damage import Damage
from rustboard.board.inspection_days import InspectionDays
from rustboard.board.layout import Layout, Lot
from rustboard.board.left_out import LeftOut
from rustboard.board.measured import Card, Disturbance, ExcludedArea, Measurement, Stroke
from rustboard.board.model import AxisLabel, Board, Coupon, Grading, Inspection, Marker, Photo, Treatment
from rustboard.board.pair_choice import PairChoice
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.recipe import Recipe, TreatmentRecipe
from rustboard.board.shelving import Forerunner, Shelving, Tag
from rustboard.board.weather import DayNote, Site, WeatherFile
from rustboard.board.weighing import Weighing


class HistoryPoint(NamedTuple):
    """One current grade of a coupon on the time axis.

    Attributes:
        day: days of exposure at the inspection (a fraction of a day counts).
        missed: whether an inspection lies between this point and the one before in which the coupon was not graded.
    """

    day: float
    grading: Grading
    missed: bool


@dataclass(slots=True)
class BoardRecord:
    """One board's rows by key. The session keeps it in step with the store; nobody else changes it.

    Attributes:
        current: the grade that counts, by coupon key, then inspection key.
        questions: the question and its later changes; the newest counts.
        layouts, calendars: one at most.
        lots: where the lots put the coupons.
        measured: the measurement that counts, by photo key, then coupon key.
        strokes, excluded_areas, cards, disturbances: by key; see `rustboard.board.measured`.
        blind_inspections, blind_rounds: by key. blind_grades: those that count, by key of the round, then number of
            the showing; see `rustboard.board.blind`.
        pair_choices, damages, weighings: those that count, by key.
        weather_files, day_notes: by key. sites: one at most; see `site_of`.
        left_out: coupons left out of the findings, by key; of each coupon one at most.
        tags: by key; see `tags_of`. shelvings, forerunners: one at most; see `is_archived` and `forerunner_of`.
    """

    board: Board
    treatments: dict[int, Treatment] = field(default_factory=dict)
    coupons: dict[int, Coupon] = field(default_factory=dict)
    inspections: dict[int, Inspection] = field(default_factory=dict)
    photos: dict[int, Photo] = field(default_factory=dict)
    axis_labels: dict[int, AxisLabel] = field(default_factory=dict)
    markers: tuple[Marker, ...] = ()
    current: dict[int, dict[int, Grading]] = field(default_factory=dict)
    recipes: dict[int, TreatmentRecipe] = field(default_factory=dict)
    questions: dict[int, Question] = field(default_factory=dict)
    layouts: dict[int, Layout] = field(default_factory=dict)
    lots: dict[int, Lot] = field(default_factory=dict)
    calendars: dict[int, InspectionDays] = field(default_factory=dict)
    measured: dict[int, dict[int, Measurement]] = field(default_factory=dict)
    strokes: dict[int, Stroke] = field(default_factory=dict)
    excluded_areas: dict[int, ExcludedArea] = field(default_factory=dict)
    cards: dict[int, Card] = field(default_factory=dict)
    disturbances: dict[int, Disturbance] = field(default_factory=dict)
    blind_inspections: dict[int, BlindInspection] = field(default_factory=dict)
    blind_rounds: dict[int, BlindRound] = field(default_factory=dict)
    blind_grades: dict[int, dict[int, BlindGrade]] = field(default_factory=dict)
    pair_choices: dict[int, PairChoice] = field(default_factory=dict)
    damages: dict[int, Damage] = field(default_factory=dict)
    weather_files: dict[int, WeatherFile] = field(default_factory=dict)
    day_notes: dict[int, DayNote] = field(default_factory=dict)
    sites: dict[int, Site] = field(default_factory=dict)
    weighings: dict[int, Weighing] = field(default_factory=dict)
    left_out: dict[int, LeftOut] = field(default_factory=dict)
    tags: dict[int, Tag] = field(default_factory=dict)
    shelvings: dict[int, Shelving] = field(default_factory=dict)
    forerunners: dict[int, Forerunner] = field(default_factory=dict)

    def snapshot(self) -> BoardRecord:
        """Return a copy that stays as it is while the board changes; its values are shared, they never change."""
        return BoardRecord(
            self.board,
            dict(self.treatments),
            dict(self.coupons),
            dict(self.inspections),
            dict(self.photos),
            dict(self.axis_labels),
            self.markers,
            {coupon: dict(graded) for coupon, graded in self.current.items()},
            dict(self.recipes),
            dict(self.questions),
            dict(self.layouts),
            dict(self.lots),
            dict(self.calendars),
            {photo: dict(coupons) for photo, coupons in self.measured.items()},
            dict(self.strokes),
            dict(self.excluded_areas),
            dict(self.cards),
            dict(self.disturbances),
            dict(self.blind_inspections),
            dict(self.blind_rounds),
            {key: dict(given) for key, given in self.blind_grades.items()},
            dict(self.pair_choices),
            dict(self.damages),
            dict(self.weather_files),
            dict(self.day_notes),
            dict(self.sites),
            dict(self.weighings),
            dict(self.left_out),
            dict(self.tags),
            dict(self.shelvings),
            dict(self.forerunners),
        )

    @property
    def layout(self) -> Layout:
        """How the board is laid out; the usual rules where nobody has chosen any."""
        return next(iter(self.layouts.values()), Layout())

    @property
    def calendar(self) -> InspectionDays:
        """The planned inspections; none where nobody has planned any."""
        return next(iter(self.calendars.values()), InspectionDays())

    @property
    def hidden_inspection(self) -> BlindInspection | None:
        """The blind inspection that is not revealed yet, or None; there is one at most."""
        return next((each for each in self.blind_inspections.values() if each.revealed is None), None)

    @property
    def question(self) -> Question | None:
        """The question that counts: the newest, or None where none was written down."""
        return max(self.questions.values(), key=lambda each: each.key, default=None)

    def recipe_of(self, treatment_key: int) -> Recipe:
        """Return the recipe of a treatment; without steps where none was written."""
        for each in self.recipes.values():
            if each.treatment == treatment_key:
                return each.recipe
        return Recipe()

    def has_begun(self, now: datetime) -> bool:
        """Return whether exposure has begun: there is an inspection or a photo, or the stated start is not to come.

        From then on lots are too late, and a change of the question is kept as late.
        """
        started = self.board.started
        return bool(self.inspections or self.photos) or (started is not None and started <= now)

    def inspections_in_order(self) -> list[Inspection]:
        """Return the inspections by time."""
        return sorted(self.inspections.values(), key=lambda each: (each.at, each.key))

    def coupons_in_order(self) -> list[Coupon]:
        """Return the coupons as one reads the board: row by row; those off the board last, by id."""
        return sorted(self.coupons.values(), key=reading_order)

    def coupon_at(self, position: Position) -> Coupon | None:
        """Return the coupon at a position, or None."""
        return next((each for each in self.coupons.values() if each.position == position), None)

    def treatment_of(self, coupon: Coupon) -> Treatment | None:
        """Return the coupon's treatment, or None."""
        return None if coupon.treatment is None else self.treatments.get(coupon.treatment)

    def day_zero(self) -> datetime | None:
        """Return when exposure began: as stated, else the first inspection; None when neither is there."""
        if self.board.started is not None:
            return self.board.started
        return min((each.at for each in self.inspections.values()), default=None)

    def day_of(self, when: datetime) -> float:
        """Return days of exposure at ``when``; negative before the start."""
        return _days_between(self.day_zero(), when)

    def grading(self, coupon_key: int, inspection_key: int) -> Grading | None:
        """Return the grade that counts for a coupon at an inspection, or None."""
        return self.current.get(coupon_key, {}).get(inspection_key)

    def latest(self, coupon_key: int, until: Inspection | None = None) -> Grading | None:
        """Return the newest grade of a coupon, at or before ``until`` when that is given."""
        graded = self.current.get(coupon_key)
        if not graded:
            return None
        keys: Iterable[int] = graded
        if until is not None:
            limit = (until.at, until.key)
            keys = [key for key in graded if (self.inspections[key].at, key) <= limit]
        newest = max(keys, key=lambda key: (self.inspections[key].at, key), default=None)
        return None if newest is None else graded[newest]

    def history(self, coupon_key: int, inspections: list[Inspection] | None = None) -> list[HistoryPoint]:
        """Return a coupon's current grades by time.

        ``inspections`` is `inspections_in_order()` when the caller has it already.
        """
        graded = self.current.get(coupon_key, {})
        zero = self.day_zero()
        points: list[HistoryPoint] = []
        missed = False
        for inspection in self.inspections_in_order() if inspections is None else inspections:
            grading = graded.get(inspection.key)
            if grading is None:
                missed = bool(points)
                continue
            points.append(HistoryPoint(_days_between(zero, inspection.at), grading, missed))
            missed = False
        return points

    def ungraded(self, inspection_key: int) -> list[Coupon]:
        """Return the coupons on the board without a grade at this inspection, in reading order."""
        return [
            each
            for each in self.coupons_in_order()
            if each.position is not None and self.grading(each.key, inspection_key) is None
        ]

    def current_gradings(self) -> Iterator[tuple[Inspection, Coupon, Grading]]:
        """Yield every grade that counts, by time, then as one reads the board."""
        coupons = self.coupons_in_order()
        for inspection in self.inspections_in_order():
            for coupon in coupons:
                grading = self.grading(coupon.key, inspection.key)
                if grading is not None:
                    yield inspection, coupon, grading

    def axis_label(self, axis: str, number: int) -> str:
        """Return the label of a row or column, or an empty text."""
        for each in self.axis_labels.values():
            if each.axis == axis and each.number == number:
                return each.label
        return ""

    def newest_photo(self, until: Inspection | None = None) -> Photo | None:
        """Return the newest placed photo, taken at or before ``until`` when that is given."""
        placed = self._placed_photos(until)
        return placed[-1] if placed else None

    def first_photo(self) -> Photo | None:
        """Return the earliest placed photo: day zero's, or the nearest thing to it."""
        placed = self._placed_photos(None)
        return placed[0] if placed else None

    def day_of_photo(self, photo: Photo) -> float:
        """Return days of exposure when a photo was taken; that of its inspection where it has one."""
        when = self._photo_time(photo)
        return 0.0 if when is None else self.day_of(when)

    def photo_before(self, inspection: Inspection) -> Photo | None:
        """Return the newest placed photo of the inspections before this one, or None."""
        limit = (inspection.at, inspection.key)
        earlier = [each for each in self.inspections_in_order() if (each.at, each.key) < limit]
        return self.newest_photo(earlier[-1]) if earlier else None

    def _placed_photos(self, until: Inspection | None) -> list[Photo]:
        timed: list[tuple[datetime, int, Photo]] = []
        for photo in self.photos.values():
            when = self._photo_time(photo)
            if photo.mm_to_px is None or when is None:
                continue
            linked_to_this = until is not None and photo.inspection == until.key
            if until is None or linked_to_this or when <= until.at:
                timed.append((when, photo.key, photo))
        return [photo for _, _, photo in sorted(timed, key=lambda each: each[:2])]

    def _photo_time(self, photo: Photo) -> datetime | None:
        if photo.inspection is not None and photo.inspection in self.inspections:
            return self.inspections[photo.inspection].at
        return photo.taken


def site_of(record: BoardRecord) -> Site:
    """Return what reading the weather needs to know of the place; the usual assumptions where nobody said any."""
    return next(iter(record.sites.values()), Site())


def tags_of(record: BoardRecord) -> list[str]:
    """Return a board's tags, in the order in which they were given."""
    return [each.word for _, each in sorted(record.tags.items())]


def is_archived(record: BoardRecord) -> bool:
    """Return whether a board is in the archive."""
    return any(each.archived for each in record.shelvings.values())


def forerunner_of(record: BoardRecord) -> Forerunner | None:
    """Return which earlier board this one follows, or None."""
    return next(iter(record.forerunners.values()), None)


def left_out_by_coupon(record: BoardRecord) -> dict[int, LeftOut]:
    """Return the coupons left out of the findings, by key of the coupon."""
    return {each.coupon: each for each in record.left_out.values()}


def _days_between(zero: datetime | None, when: datetime) -> float:
    return 0.0 if zero is None else (when - zero).total_seconds() / 86_400


def reading_order(coupon: Coupon) -> tuple[bool, int, int, str]:
    """Return what to sort coupons by, to read the board row by row; those off the board come last, by id."""
    if coupon.position is None:
        return (True, 0, 0, coupon.id)
    return (False, coupon.position.row, coupon.position.column, coupon.id)
