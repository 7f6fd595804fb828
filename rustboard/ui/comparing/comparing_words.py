"""How boards beside one another are put into words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from typing import Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QLocale

from rustboard.board.exposure_clock import ClockKind
from rustboard.session.board_differences import Alike, Aspect, BoardDifference, Value
from rustboard.session.comparing import CellThen, ClockedBoard, ClockedBoards, CouponThen
from rustboard.support.text import printable
from rustboard.ui.clock_words import decimals_of
from rustboard.ui.wording import date_only, number

DASH: Final = "–"

_ASPECTS: Final[dict[Aspect, str]] = {
    "site": str(QT_TRANSLATE_NOOP("comparing", "Site")),
    "steel": str(QT_TRANSLATE_NOOP("comparing", "Steel")),
    "shelter": str(QT_TRANSLATE_NOOP("comparing", "Shelter")),
    "incline": str(QT_TRANSLATE_NOOP("comparing", "Incline")),
    "facing": str(QT_TRANSLATE_NOOP("comparing", "Faces")),
    "period": str(QT_TRANSLATE_NOOP("comparing", "Period")),
    "season": str(QT_TRANSLATE_NOOP("comparing", "Time of year")),
    "days": str(QT_TRANSLATE_NOOP("comparing", "Days watched")),
    "wet hours": str(QT_TRANSLATE_NOOP("comparing", "Wet hours known")),
    "rain": str(QT_TRANSLATE_NOOP("comparing", "Rain known")),
    "temperature": str(QT_TRANSLATE_NOOP("comparing", "Mean temperature")),
    "coupons": str(QT_TRANSLATE_NOOP("comparing", "Coupons")),
    "inspections": str(QT_TRANSLATE_NOOP("comparing", "Inspections")),
}
_UNITS: Final[dict[Aspect, str]] = {
    "incline": str(QT_TRANSLATE_NOOP("comparing", "{0}° from level")),
    "facing": str(QT_TRANSLATE_NOOP("comparing", "{0}°")),
    "days": str(QT_TRANSLATE_NOOP("comparing", "{0} days")),
    "wet hours": str(QT_TRANSLATE_NOOP("comparing", "{0} h")),
    "rain": str(QT_TRANSLATE_NOOP("comparing", "{0} mm")),
    "temperature": str(QT_TRANSLATE_NOOP("comparing", "{0} °C")),
}
_ALIKE: Final[dict[Alike, str]] = {
    "alike": str(QT_TRANSLATE_NOOP("comparing", "alike")),
    "differs": str(QT_TRANSLATE_NOOP("comparing", "different")),
    "not known": str(QT_TRANSLATE_NOOP("comparing", "not known of all")),
}
_PLACES: Final[dict[ClockKind, str]] = {
    "days": str(QT_TRANSLATE_NOOP("comparing", "day {0}")),
    "wet hours": str(QT_TRANSLATE_NOOP("comparing", "{0} wet hours")),
    "rain": str(QT_TRANSLATE_NOOP("comparing", "{0} mm of rain")),
    "controls": str(QT_TRANSLATE_NOOP("comparing", "{0} grades lost by the controls")),
}


def say(text: str) -> str:
    """Return a text of this screen in the user's language."""
    return QCoreApplication.translate("comparing", text)


def aspect_text(aspect: Aspect) -> str:
    """Return what boards may differ in."""
    return say(_ASPECTS[aspect])


def alike_text(alike: Alike) -> str:
    """Return whether boards agree, in words."""
    return say(_ALIKE[alike])


def value_text(row: BoardDifference, value: Value) -> str:
    """Return what one board has of something."""
    if value is None:
        return DASH
    if isinstance(value, tuple):
        return _months(value) if row.aspect == "season" else _dates(value)
    if isinstance(value, str):
        return printable(value)
    text = number(value, 1 if row.aspect == "temperature" else 0)
    return say(_UNITS[row.aspect]).format(text) if row.aspect in _UNITS else text


def _dates(value: Sequence[object]) -> str:
    found = [date_only(datetime(each.year, each.month, each.day)) for each in value if isinstance(each, date)]
    return say("{0} to {1}").format(*found) if len(found) == 2 else "".join(found)


def _months(value: Sequence[object]) -> str:
    first, last = (QLocale().standaloneMonthName(each) for each in value if isinstance(each, int))
    return first if first == last else say("{0} to {1}").format(first, last)


def at_text(kind: ClockKind, place: float) -> str:
    """Return a place on a clock as people say it: ``day 30``, ``142 wet hours``."""
    return say(_PLACES[kind]).format(number(place, decimals_of(kind)))


def shared_text(clocked: ClockedBoards, place: float, slack: float) -> str:
    """Return which boards were watched as far as a place."""
    there = [each for each in clocked.boards if each.clock is not None]
    short = [each for each in there if each.reached + slack < place]
    if not there:
        return say("None of the boards has this clock.")
    if not short:
        return say("Every board with this clock was watched so far.")
    names = ", ".join(printable(each.name) for each in short)
    if len(short) == len(there):
        return say("No board was watched so far.")
    return say("Not watched so far: {0}. Of it nothing is shown here.").format(names)


def cell_note(board: ClockedBoard, cell: CellThen, kind: ClockKind) -> str:
    """Return what to know of a cell beside its coupons; empty where there is nothing."""
    if not cell.coupons:
        return say("not on this board")
    if board.clock is None:
        return say("has no such clock")
    if cell.beyond:
        return say("watched only to {0}").format(at_text(kind, board.reached))
    given = [each.place for each in cell.coupons if each.place is not None]
    return say("graded at {0}").format(at_text(kind, max(given))) if given else say("not graded yet")


def coupon_text(coupon: CouponThen, kind: ClockKind) -> str:
    """Return one coupon in a sentence."""
    name = printable(coupon.id)
    if coupon.where:
        name = say("{0} at {1}").format(name, coupon.where)
    if coupon.grade is None or coupon.place is None:
        return say("{0}: no grade.").format(name)
    return say("{0}: grade {1}, given at {2}.").format(name, coupon.grade, at_text(kind, coupon.place))


def cell_text(row: str, board: ClockedBoard, cell: CellThen, kind: ClockKind) -> str:
    """Return a cell in sentences, for screen readers and hints."""
    head = say("{0} on {1}: {2}.").format(printable(row), printable(board.name), cell_note(board, cell, kind))
    return " ".join([head, *(coupon_text(each, kind) for each in cell.coupons)])
