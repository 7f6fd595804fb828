"""What the parts and forms of a report are called, and why one cannot be had."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from rustboard.report.choice import Part
from rustboard.session.report_forms_wanted import FormKind
from rustboard.session.report_parts import WhyNoPart

PART_NAMES: Final[dict[Part, object]] = {
    "summary": QT_TRANSLATE_NOOP("reporting", "Summary"),
    "map": QT_TRANSLATE_NOOP("reporting", "Board map"),
    "histories": QT_TRANSLATE_NOOP("reporting", "Histories"),
    "comparisons": QT_TRANSLATE_NOOP("reporting", "Comparisons"),
    "failing": QT_TRANSLATE_NOOP("reporting", "Time to failing grade"),
    "value": QT_TRANSLATE_NOOP("reporting", "Value for money"),
    "exposure": QT_TRANSLATE_NOOP("reporting", "Exposure and weather"),
    "photos": QT_TRANSLATE_NOOP("reporting", "Photos"),
    "treatments": QT_TRANSLATE_NOOP("reporting", "Treatments, step by step"),
    "doubts": QT_TRANSLATE_NOOP("reporting", "Disturbances and doubts"),
    "graders": QT_TRANSLATE_NOOP("reporting", "How graders agree"),
    "plan": QT_TRANSLATE_NOOP("reporting", "Plan"),
    "method": QT_TRANSLATE_NOOP("reporting", "Method, scales, cautions"),
    "audit": QT_TRANSLATE_NOOP("reporting", "Record of changes"),
    "data": QT_TRANSLATE_NOOP("reporting", "Data sheets"),
}
WHY_NO_PART: Final[dict[WhyNoPart, object]] = {
    "no coupon": QT_TRANSLATE_NOOP("reporting", "no coupon yet"),
    "no grade": QT_TRANSLATE_NOOP("reporting", "nothing graded yet"),
    "hidden": QT_TRANSLATE_NOOP("reporting", "an inspection is still hidden"),
    "no cost": QT_TRANSLATE_NOOP("reporting", "no cost is known"),
    "no weather": QT_TRANSLATE_NOOP("reporting", "no weather is known"),
    "no photo": QT_TRANSLATE_NOOP("reporting", "no photo yet"),
    "no treatment": QT_TRANSLATE_NOOP("reporting", "no treatment yet"),
    "one grader": QT_TRANSLATE_NOOP("reporting", "nothing graded blind twice"),
    "no plan": QT_TRANSLATE_NOOP("reporting", "nothing was planned"),
}
FORM_NAMES: Final[dict[FormKind, object]] = {
    "workbook": QT_TRANSLATE_NOOP("reporting", "&Workbook"),
    "pdf": QT_TRANSLATE_NOOP("reporting", "P&DF to print or send"),
    "one page": QT_TRANSLATE_NOOP("reporting", "&One page"),
    "board": QT_TRANSLATE_NOOP("reporting", "Picture of the &board"),
    "timeline": QT_TRANSLATE_NOOP("reporting", "Picture of the &timeline"),
    "data": QT_TRANSLATE_NOOP("reporting", "Data as CS&V files, in a folder"),
}
STEP_NAMES: Final[dict[str, object]] = {
    "gathering": QT_TRANSLATE_NOOP("reporting", "working out the findings and cutting the pictures"),
    "workbook": QT_TRANSLATE_NOOP("reporting", "writing the workbook"),
    "pdf": QT_TRANSLATE_NOOP("reporting", "setting the PDF"),
    "one page": QT_TRANSLATE_NOOP("reporting", "setting the one page"),
    "board": QT_TRANSLATE_NOOP("reporting", "drawing the board"),
    "timeline": QT_TRANSLATE_NOOP("reporting", "drawing the timeline"),
    "data": QT_TRANSLATE_NOOP("reporting", "writing the data"),
    "placing": QT_TRANSLATE_NOOP("reporting", "putting the files in place"),
}


def say(text: object) -> str:
    """Return a text of this room in the user's language."""
    return QCoreApplication.translate("reporting", str(text))
