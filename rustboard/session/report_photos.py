"""Which photos of a board its report shows, and what is said of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final, Literal, NamedTuple

from rustboard.board.grade import written
from rustboard.board.model import Coupon, Inspection, Photo
from rustboard.board.photo_times import may_be_shown, time_of
from rustboard.board.record import BoardRecord
from rustboard.report.choice import PictureMoment, Writing
from rustboard.session.photo_days import photos_in_order
from rustboard.support.text import counted, one_line

Moment = Literal["start", "middle", "end"]

IN_WORDS: Final[dict[Moment, str]] = {"start": "at the start", "middle": "in the middle", "end": "at the end"}

_NAME_LIMIT: Final = 60


class ChosenPhoto(NamedTuple):
    """A photo for the report, and why it is there; the reason is empty for those in between."""

    photo: Photo
    reason: str


def shown_photos(record: BoardRecord) -> list[Photo]:
    """Return the photos of a known time by time, without those that nobody may look at yet."""
    return [
        each for each in photos_in_order(record) if time_of(record, each) is not None and may_be_shown(record, each)
    ]


def chosen_photos(record: BoardRecord, most: int) -> list[ChosenPhoto]:
    """Return the first photo, that of the worst change, the last, and as many between them as there is room for."""
    photos = shown_photos(record)
    if not photos or most < 1:
        return []
    reasons = {photos[-1].key: "Last photo", photos[0].key: _first(record, photos[0])}
    worst = _worst_change(record, photos)
    if worst is not None:
        reasons.setdefault(worst.key, "Worst change")
    between = [each for each in photos if each.key not in reasons]
    wanted = {*reasons, *(each.key for each in _spread(between, most - len(reasons)))}
    found = [ChosenPhoto(each, reasons.get(each.key, "")) for each in photos if each.key in wanted]
    return found[:most]


def _first(record: BoardRecord, photo: Photo) -> str:
    when = time_of(record, photo)
    return "Day zero" if when is not None and abs(record.day_of(when)) < 1 else "First photo"


def _spread(photos: Sequence[Photo], room: int) -> list[Photo]:
    """Return so many photos, evenly out of all."""
    if room >= len(photos):
        return list(photos)
    return [photos[(2 * number + 1) * len(photos) // (2 * room)] for number in range(max(0, room))]


def _worst_change(record: BoardRecord, photos: Sequence[Photo]) -> Photo | None:
    """Return the newest photo of the inspection at which most grades were lost since the ones before."""
    of_inspection = {each.inspection: each for each in photos if each.inspection is not None}
    lost = {key: grades for key, grades in grades_lost(record).items() if grades > 0 and key in of_inspection}
    if not lost:
        return None
    return of_inspection[max(lost, key=lambda key: (lost[key], -key))]


def grades_lost(record: BoardRecord) -> dict[int, int]:
    """Return how many grades all coupons lost together at each inspection, against what each had before."""
    lost: Counter[int] = Counter()
    inspections = record.inspections_in_order()
    for coupon in record.coupons:
        points = record.history(coupon, inspections)
        for before, now in pairwise(points):
            lost[now.grading.inspection] += max(0, before.grading.grade - now.grading.grade)
    return dict(lost)


def moments(record: BoardRecord) -> Iterator[tuple[Moment, list[Photo]]]:
    """Yield start, end and middle, each with the photos that could stand for it, the likeliest first."""
    placed = [each for each in shown_photos(record) if each.mm_to_px is not None]
    if not placed:
        return
    yield "start", placed
    if len(placed) > 1:
        yield "end", placed[::-1]
    if len(placed) > 2:
        days = {each.key: record.day_of(time) for each in placed if (time := time_of(record, each)) is not None}
        middle = (days[placed[0].key] + days[placed[-1].key]) / 2
        yield "middle", sorted(placed[1:-1], key=lambda each: (abs(days[each.key] - middle), each.key))


def moment_of(record: BoardRecord, name: Moment, photo: Photo) -> PictureMoment | None:
    """Return what a photo stands for; None without a time."""
    when = time_of(record, photo)
    if when is None:
        return None
    inspection = inspection_of(record, photo)
    return PictureMoment(name, when, record.day_of(when), None if inspection is None else inspection.key)


def inspection_of(record: BoardRecord, photo: Photo) -> Inspection | None:
    """Return the inspection whose grades go with a photo: its own, else the last one before it."""
    own, when = record.inspections.get(photo.inspection or 0), time_of(record, photo)
    if own is not None or when is None:
        return own
    earlier = [each for each in record.inspections_in_order() if each.at <= when]
    return earlier[-1] if earlier else None


def caption(record: BoardRecord, photo: Photo, reason: str, writing: Writing) -> str:
    """Return the line below a picture: what it is, when it was taken, on which day of exposure."""
    when = time_of(record, photo)
    if when is None:
        return reason
    told = f"{writing.moment(when)}, day {writing.number(record.day_of(when), 0)}"
    return f"{reason}: {told}" if reason else told


def grades_in_words(record: BoardRecord, photo: Photo) -> str:
    """Return how the coupons stood at a photo's inspection: ``21 coupons; 3 at 10, 5 at 9, 1 not graded``."""
    on_board = [each for each in record.coupons.values() if each.position is not None]
    inspection = inspection_of(record, photo)
    given = Counter[int]()
    for coupon in on_board:
        grading = None if inspection is None else record.grading(coupon.key, inspection.key)
        if grading is not None:
            given[grading.grade] += 1
    parts = [f"{count} at {grade}" for grade, count in sorted(given.items(), reverse=True)]
    ungraded = len(on_board) - sum(given.values())
    if ungraded:
        parts.append(f"{ungraded} not graded" if given else "none graded")
    return f"{counted(len(on_board), 'coupon')}; {', '.join(parts)}" if parts else "no coupons"


def board_description(record: BoardRecord, name: str, when: str, grades: str) -> str:
    """Return what a picture of the whole board shows, for whoever cannot see it."""
    return f"{name} of the board {one_line(record.board.name, _NAME_LIMIT)}, {when}. Grades of this visit: {grades}."


def coupon_description(record: BoardRecord, coupon: Coupon, photo: Photo, moment: Moment) -> str:
    """Return what a coupon's picture shows, for whoever cannot see it."""
    treatment = record.treatment_of(coupon)
    kind = "control" if treatment is None and coupon.role == "control" else "no treatment noted"
    title = kind if treatment is None else one_line(treatment.title, _NAME_LIMIT)
    grading = record.latest(coupon.key, inspection_of(record, photo))
    grade = "not graded yet" if grading is None else f"grade {written(grading.grade, grading.distribution)}"
    return f"Coupon {one_line(coupon.id, _NAME_LIMIT)} {IN_WORDS[moment]}, {title}, {grade}."
