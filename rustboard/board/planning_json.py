"""The question, the layout and the calendar of a plan in JSON: each read from its object, and written."""

from __future__ import annotations

import re
from dataclasses import fields as fields_of
from datetime import time
from typing import Final

from rustboard.board.cells import quoted
from rustboard.board.inspection_days import InspectionDays
from rustboard.board.json_fields import Fields, finite_number, stated
from rustboard.board.layout import DRAIN_CARES, METHODS, Layout
from rustboard.board.question import COMPARED, MEASURES, Question
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

QUESTION_KEYS: Final = tuple(each.name for each in fields_of(Question) if each.name != "key")
LAYOUT_KEYS: Final = tuple(each.name for each in fields_of(Layout) if each.name != "key")
CALENDAR_KEYS: Final = ("days", "hour", "remind")

_HOUR: Final = re.compile(r"([0-9]{1,2}):([0-9]{2})(?::00)?")


def read_question(fields: Fields) -> Question:
    """Return a question; what is not stated is as usual."""
    usual = Question()
    failing, worthwhile = fields.whole("failing_grade"), fields.number("worthwhile")
    return Question(
        compared=fields.word("compared", COMPARED, usual.compared),
        pairs=_read_pairs(fields),
        failing_grade=usual.failing_grade if failing is None else failing,
        measure=fields.word("measure", MEASURES, usual.measure),
        worthwhile=usual.worthwhile if worthwhile is None else worthwhile,
        assumed_sd=fields.number("assumed_sd"),
        words=fields.lines("words"),
        written=fields.moment("written"),
        late=fields.flag("late", usual.late),
    )


def _read_pairs(fields: Fields) -> tuple[tuple[str, str], ...]:
    pairs = []
    for number, item in enumerate(fields.items("pairs")):
        both = item if isinstance(item, list) and len(item) == 2 else []
        ids = [one_line(each) for each in both if isinstance(each, str)]
        if len(ids) == 2 and all(ids):
            pairs.append((ids[0], ids[1]))
        else:
            fields.refuse(f"pairs[{number}]", "A pair is a list of two ids of treatments; the pair was left out.")
    return tuple(pairs)


def read_layout(top: Fields) -> Layout | None:
    """Return the layout of a plan, or None when the plan has none."""
    fields, usual = top.child_or_none("layout", LAYOUT_KEYS), Layout()
    if fields is None:
        return None
    free_rows, hole = fields.whole("free_rows"), fields.number("hole_below_top_mm")
    return Layout(
        method=fields.word("method", METHODS, usual.method),
        drain=fields.word("drain", DRAIN_CARES, usual.drain),
        free_rows=usual.free_rows if free_rows is None else free_rows,
        fair_edges=fields.flag("fair_edges", usual.fair_edges),
        seed=fields.whole("seed"),
        drawn_at=fields.moment("drawn_at"),
        coupon_width_mm=fields.number("coupon_width_mm") or 0.0,
        coupon_height_mm=fields.number("coupon_height_mm") or 0.0,
        hole_below_top_mm=usual.hole_below_top_mm if hole is None else hole,
        drawn_rows=fields.whole("drawn_rows") or 0,
        drawn_columns=fields.whole("drawn_columns") or 0,
        drawn_in_columns=fields.flag("drawn_in_columns", usual.drawn_in_columns),
    )


def read_calendar(top: Fields) -> InspectionDays | None:
    """Return the calendar of a plan, or None when the plan has none."""
    fields, usual = top.child_or_none("calendar", CALENDAR_KEYS), InspectionDays()
    if fields is None:
        return None
    hour = fields.converted("hour", _read_hour) if fields.text("hour") else None
    return InspectionDays(_read_days(fields), usual.hour if hour is None else hour, fields.flag("remind", True))


def _read_days(fields: Fields) -> tuple[int, ...]:
    days = []
    for number, item in enumerate(fields.items("days")):
        day = finite_number(item)
        if day is None or not day.is_integer():
            fields.refuse(f"days[{number}]", "A day is a whole number of days after the start; it was left out.")
        else:
            days.append(int(day))
    return tuple(days)


def _read_hour(text: str) -> time:
    found = _HOUR.fullmatch(text)
    try:
        if found is not None:
            return time(int(found[1]), int(found[2]))
    except ValueError:
        pass
    raise InputError(f"{quoted(text)} is not a time of day; write hours and minutes, such as 09:00.")


def question_object(question: Question) -> dict[str, object]:
    """Return a question as JSON has it."""
    return stated(
        compared=question.compared,
        pairs=question.pairs,
        failing_grade=question.failing_grade,
        measure=question.measure,
        worthwhile=question.worthwhile,
        assumed_sd=question.assumed_sd,
        words=question.words,
        written=None if question.written is None else question.written.isoformat(),
        late=question.late,
    )


def layout_object(layout: Layout) -> dict[str, object]:
    """Return a layout as JSON has it."""
    return stated(
        method=layout.method,
        drain=layout.drain,
        free_rows=layout.free_rows,
        fair_edges=layout.fair_edges,
        seed=layout.seed,
        drawn_at=None if layout.drawn_at is None else layout.drawn_at.isoformat(),
        coupon_width_mm=layout.coupon_width_mm or None,
        coupon_height_mm=layout.coupon_height_mm or None,
        hole_below_top_mm=layout.hole_below_top_mm,
        drawn_rows=layout.drawn_rows or None,
        drawn_columns=layout.drawn_columns or None,
        drawn_in_columns=layout.drawn_in_columns or None,
    )


def calendar_object(calendar: InspectionDays) -> dict[str, object]:
    """Return a calendar as JSON has it."""
    return {"days": calendar.days, "hour": calendar.hour.isoformat("minutes"), "remind": calendar.remind}
