"""Words said through the desktop's screen reader, for hands that are busy and eyes that are on the steel."""

from __future__ import annotations

import logging

from PySide6 import QtGui
from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QWidget

from rustboard.board.model import Coupon, Grading
from rustboard.support.text import one_line, printable
from rustboard.ui.wording import number

_LOG = logging.getLogger(__name__)
_LONGEST = 300


def say(widget: QWidget, text: str) -> None:
    """Have a sentence said; nothing happens where nobody listens or the desktop cannot, and nothing is ever raised.

    Args:
        widget: what the sentence is about.
        text: of this program or the user's; made safe here.
    """
    event = getattr(QtGui, "QAccessibleAnnouncementEvent", None)  # not in every build of Qt
    if event is None or not QAccessible.isActive():
        return
    try:
        QAccessible.updateAccessibility(event(widget, one_line(printable(text), _LONGEST)))
    except (AttributeError, RuntimeError, TypeError, ValueError):
        _LOG.info("the desktop would not say a sentence")


def grade_in_words(grading: Grading) -> str:
    """Return a grade as it is said: ``7, spot``, or ``0.2 %, grade 7, spot``."""
    kinds = {"S": _word("spot"), "G": _word("general"), "P": _word("pinpoint"), "H": _word("hybrid")}
    parts = [str(grading.grade)]
    if grading.percent is not None:
        parts = [_word("{0} %").format(number(grading.percent, 4)), _word("grade {0}").format(grading.grade)]
    if grading.distribution in kinds:
        parts.append(kinds[grading.distribution])
    return ", ".join(parts)


def graded_sentence(coupon: Coupon, grading: Grading, following: Coupon | None) -> str:
    """Return what is said after a grade: ``C05: 7, spot. Next: C06``."""
    said = _word("{0}: {1}.").format(coupon.id, grade_in_words(grading))
    then = _word("Every coupon is graded.") if following is None else _word("Next: {0}").format(following.id)
    return f"{said} {then}"


def _word(text: str) -> str:
    return QCoreApplication.translate("spoken", text)
