"""The tidy table of what was measured in photos: one row a coupon and photo, the same in workbook and CSV."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Final, NamedTuple

from rustboard.board.grade import BY_PHOTO
from rustboard.board.model import Photo
from rustboard.board.photo_times import may_be_shown, time_of
from rustboard.board.record import BoardRecord
from rustboard.report.tidy import said_of
from rustboard.scales.rust_grade import grade_from_percent

BETWEEN_WARNINGS: Final = "; "


class MeasurementRow(NamedTuple):
    """What was measured on one coupon in one photo, as it counts now; the field names are the columns.

    Attributes:
        taken: when the photo was taken; that of its inspection where it has no time of its own.
        inspected: time of the inspection it belongs to.
        low, high: the program's own 90 % range.
        accepted: ``yes`` where the grade that counts at that inspection rests on this measurement, else ``no``.
        confident: whether it could be taken over without a closer look. newest: judged without any later photo.
    """

    coupon: str
    position: str
    treatment: str
    role: str
    photo: str
    taken: datetime | None
    inspected: datetime | None
    percent: float | None
    low: float | None
    high: float | None
    grade: int | None
    distribution: str
    debris_percent: float
    unseen_percent: float
    resolvable_percent: float
    spots: int
    largest_mm2: float
    present: str
    confident: str
    newest: str
    accepted: str
    warnings: str


def tidy_measurements(record: BoardRecord) -> Iterator[MeasurementRow]:
    """Yield one row a coupon and photo, by time of the photo, then as one reads the board.

    Of an inspection that is being graded blind nothing is told, nor of what was photographed since its day.
    """
    coupons = record.coupons_in_order()
    said = {each.key: said_of(record, each) for each in coupons}
    accepted = _accepted(record)
    for photo in _told(record):
        found = record.measured[photo.key]
        inspection = record.inspections.get(photo.inspection or 0)
        for coupon in coupons:
            each = found.get(coupon.key)
            if each is None:
                continue
            yield MeasurementRow(
                *said[coupon.key],
                photo=photo.name,
                taken=_whole_seconds(time_of(record, photo)),
                inspected=_whole_seconds(None if inspection is None else inspection.at),
                percent=each.percent,
                low=each.low,
                high=each.high,
                grade=None if each.percent is None else grade_from_percent(each.percent),
                distribution=each.distribution,
                debris_percent=each.debris_percent,
                unseen_percent=each.unseen_percent,
                resolvable_percent=each.resolvable_percent,
                spots=each.spots,
                largest_mm2=each.largest_mm2,
                present=each.present,
                confident=_yes(each.confident),
                newest=_yes(each.newest),
                accepted=_yes(accepted.get((coupon.key, photo.inspection)) == photo.key),
                warnings=BETWEEN_WARNINGS.join(each.warnings),
            )


def _accepted(record: BoardRecord) -> dict[tuple[int, int | None], int]:
    """Return the photo, by coupon and inspection, whose measurement the grade that counts there was taken from.

    Of several photos that say the same it is the newest.
    """
    found: dict[tuple[int, int | None], int] = {}
    for photo in _told(record):
        for coupon, each in record.measured[photo.key].items():
            grading = record.grading(coupon, photo.inspection or 0)
            if grading is not None and grading.source in BY_PHOTO and grading.percent == each.percent:
                found[coupon, photo.inspection] = photo.key
    return found


def _yes(value: bool) -> str:
    return "yes" if value else "no"


def _whole_seconds(when: datetime | None) -> datetime | None:
    return None if when is None else when.replace(microsecond=0, tzinfo=None)


def _told(record: BoardRecord) -> list[Photo]:
    """Return the measured photos by time, without those that nobody may look at yet."""
    photos = (record.photos[key] for key in record.measured if key in record.photos)
    told = [each for each in photos if may_be_shown(record, each)]
    return sorted(told, key=lambda each: (time_of(record, each) or datetime.max, each.key))
