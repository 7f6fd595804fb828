"""What the clocks of the axis are called, what they count, and why one cannot be had."""

from __future__ import annotations

from typing import Final, Literal

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from rustboard.board.exposure_clock import ClockKind, ExposureClock
from rustboard.ui import wording

WhyNot = Literal["", "no inspection", "no weather", "no rain", "never wet", "working", "failed", "no controls"]
"""Why a clock cannot be had; empty when it can."""

_NAMES: Final[dict[ClockKind, tuple[str, str]]] = {
    "days": (str(QT_TRANSLATE_NOOP("timeline", "Days")), str(QT_TRANSLATE_NOOP("timeline", "Days"))),
    "wet hours": (str(QT_TRANSLATE_NOOP("timeline", "Wet hours")), str(QT_TRANSLATE_NOOP("timeline", "Wet h"))),
    "rain": (str(QT_TRANSLATE_NOOP("timeline", "Rain, mm")), str(QT_TRANSLATE_NOOP("timeline", "Rain"))),
    "controls": (str(QT_TRANSLATE_NOOP("timeline", "Control clock")), str(QT_TRANSLATE_NOOP("timeline", "Controls"))),
}
"""Names of the choices, and short ones for a narrow panel."""

_EXPLAINED: Final[dict[ClockKind, str]] = {
    "days": str(QT_TRANSLATE_NOOP("timeline", "The axis counts days since exposure began.")),
    "wet hours": str(
        QT_TRANSLATE_NOOP(
            "timeline", "The axis counts hours in which the surface was wet: dry spells take up no room."
        )
    ),
    "rain": str(QT_TRANSLATE_NOOP("timeline", "The axis counts mm of rain: days without rain take up no room.")),
    "controls": str(
        QT_TRANSLATE_NOOP(
            "timeline",
            "The axis counts the grades that the untreated controls have lost (10 less the mean of their last known "
            "grades, never running back). Nobody looked between two inspections: there it is taken to run evenly.",
        )
    ),
}
_TITLES: Final[dict[ClockKind, str]] = {
    "days": str(QT_TRANSLATE_NOOP("timeline", "days of exposure")),
    "wet hours": str(QT_TRANSLATE_NOOP("timeline", "wet hours")),
    "rain": str(QT_TRANSLATE_NOOP("timeline", "mm of rain")),
    "controls": str(QT_TRANSLATE_NOOP("timeline", "grades lost by the controls")),
}
_PLACES: Final[dict[ClockKind, str]] = {
    "days": str(QT_TRANSLATE_NOOP("timeline", "day {0}")),
    "wet hours": str(QT_TRANSLATE_NOOP("timeline", "{0} wet hours")),
    "rain": str(QT_TRANSLATE_NOOP("timeline", "{0} mm of rain")),
    "controls": str(QT_TRANSLATE_NOOP("timeline", "controls down by {0}")),
}
_WHY_NOT: Final[dict[WhyNot, str]] = {
    "no inspection": str(QT_TRANSLATE_NOOP("timeline", "There is no inspection yet.")),
    "no weather": str(
        QT_TRANSLATE_NOOP("timeline", "No weather is known yet: add a logger's file or note days by hand.")
    ),
    "no rain": str(QT_TRANSLATE_NOOP("timeline", "No rain is known of between start and last inspection.")),
    "never wet": str(QT_TRANSLATE_NOOP("timeline", "No wet hour is known of between start and last inspection.")),
    "working": str(QT_TRANSLATE_NOOP("timeline", "The weather is being worked out.")),
    "failed": str(QT_TRANSLATE_NOOP("timeline", "The weather of this board cannot be read.")),
    "no controls": str(
        QT_TRANSLATE_NOOP("timeline", "No control was graded yet: give a coupon the role control, and grade it.")
    ),
}


def _say(text: str) -> str:
    return QCoreApplication.translate("timeline", text)


def clock_names(kind: ClockKind) -> tuple[str, str]:
    """Return what the choice of a clock is called, and a short name."""
    long, short = _NAMES[kind]
    return _say(long), _say(short)


def clock_explained(kind: ClockKind) -> str:
    """Return what a clock counts."""
    return _say(_EXPLAINED[kind])


def why_not_text(why: WhyNot) -> str:
    """Return why a clock cannot be had; an empty text when it can."""
    return _say(_WHY_NOT[why]) if why else ""


def decimals_of(kind: ClockKind) -> int:
    """Return how many decimals the axis is numbered with."""
    return 1 if kind == "controls" else 0


def axis_title(clock: ExposureClock) -> str:
    """Return the title of the axis: ``wet hours (known 83 % of the time)``."""
    title = _say(_TITLES[clock.kind])
    if clock.kind in ("days", "controls") or clock.known >= 1.0:
        return title
    # Rounded down: 99.6 % is not all of it.
    return _say("{0} (known {1} % of the time)").format(title, wording.number(int(clock.known * 100), 0))


def place_text(clock: ExposureClock, value: float, day: float) -> str:
    """Return where something lies as people say it: ``day 30``, ``142 wet hours, day 30``."""
    if clock.kind == "days":
        return wording.day_text(day)
    counted = _say(_PLACES[clock.kind]).format(wording.number(value, decimals_of(clock.kind)))
    return _say("{0}, {1}").format(counted, wording.day_text(day))


def explained_in_full(clock: ExposureClock) -> str:
    """Return what the clock in use counts and what it leaves out, for a line under the choices."""
    said = clock_explained(clock.kind)
    if clock.kind in ("days", "controls") or clock.known >= 1.0:
        return said
    unknown = wording.number(100 - int(clock.known * 100), 0)
    return _say("{0} Of {1} % of the time nothing is known; it is not counted.").format(said, unknown)
