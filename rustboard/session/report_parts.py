"""Which parts of a report a board has something for, and why not; told from the record alone, so at once."""

from __future__ import annotations

from typing import Literal

from rustboard.board.record import BoardRecord
from rustboard.report.choice import Part
from rustboard.session.agreement import anything_to_compare
from rustboard.session.weather import has_weather

WhyNoPart = Literal["no coupon", "no grade", "hidden", "no cost", "no weather", "no photo", "no treatment",
                    "one grader", "no plan"]  # fmt: skip


def parts_missing(record: BoardRecord) -> dict[Part, WhyNoPart]:
    """Return the parts that the board has nothing for, each with the reason."""
    missing: dict[Part, WhyNoPart] = {}
    if not record.coupons:
        missing["map"] = "no coupon"
    _without_grades(record, missing)
    if "value" not in missing and not _has_prices(record):
        missing["value"] = "no cost"
    if not has_weather(record):
        missing["exposure"] = "no weather"
    if not record.photos:
        missing["photos"] = "no photo"
    if not record.treatments:
        missing["treatments"] = "no treatment"
    if not anything_to_compare(record):
        missing["graders"] = "one grader"
    if not (record.questions or record.layouts or record.lots or record.calendar.days):
        missing["plan"] = "no plan"
    return missing


def _without_grades(record: BoardRecord, missing: dict[Part, WhyNoPart]) -> None:
    graded = any(record.current.values())
    worked_out: tuple[Part, ...] = ("summary", "comparisons", "failing", "value")
    if not graded:
        missing.update(dict.fromkeys((*worked_out, "histories"), "no grade"))
    elif record.hidden_inspection is not None:
        missing.update(dict.fromkeys(worked_out, "hidden"))


def _has_prices(record: BoardRecord) -> bool:
    from rustboard.findings.value.points import price_of  # needs what the first window does not

    return any(price_of(record, each).known for each in record.treatments)
