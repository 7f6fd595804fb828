"""The choices of a question, and what each means in plain words."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from rustboard.board.question import Compared, Measure
from rustboard.ui.plan.layout_choices import Choice

COMPARED_CHOICES: Final[tuple[Choice[Compared], ...]] = (
    Choice(
        "control",
        str(QT_TRANSLATE_NOOP("question", "Treatments with controls")),
        str(QT_TRANSLATE_NOOP("question", "Does a treatment do anything, and how much? The usual question.")),
    ),
    Choice(
        "pairs",
        str(QT_TRANSLATE_NOOP("question", "Treatments with each other")),
        str(
            QT_TRANSLATE_NOOP(
                "question",
                "Which is best? Many comparisons at once, so each needs more coupons to be settled.",
            )
        ),
    ),
    Choice(
        "families",
        str(QT_TRANSLATE_NOOP("question", "Families: wax, oil, paint…")),
        str(
            QT_TRANSLATE_NOOP(
                "question",
                "Is wax better than oil? All treatments of a family count together; those without a family do not.",
            )
        ),
    ),
    Choice(
        "grid",
        str(QT_TRANSLATE_NOOP("question", "Finish crossed with protectant")),
        str(
            QT_TRANSLATE_NOOP(
                "question",
                "What does the finish do, and what the protectant? Each finish is compared with each other one under "
                "the same protectants, and the other way round. For boards on which several finishes each got "
                "several protectants.",
            )
        ),
    ),
    Choice(
        "chosen",
        str(QT_TRANSLATE_NOOP("question", "Only these pairs")),
        str(
            QT_TRANSLATE_NOOP(
                "question", "Only what matters to you. The fewer comparisons, the fewer coupons each takes."
            )
        ),
    ),
)

MEASURE_CHOICES: Final[tuple[Choice[Measure], ...]] = (
    Choice(
        "last grade",
        str(QT_TRANSLATE_NOOP("question", "Grade at the last inspection")),
        str(QT_TRANSLATE_NOOP("question", "How the coupons look in the end.")),
    ),
    Choice(
        "mean grade",
        str(QT_TRANSLATE_NOOP("question", "Mean grade over the exposure")),
        str(QT_TRANSLATE_NOOP("question", "How they looked over all the time; early rust counts.")),
    ),
    Choice(
        "days to failing grade",
        str(QT_TRANSLATE_NOOP("question", "Days to the failing grade")),
        str(QT_TRANSLATE_NOOP("question", "How long they lasted; needs inspections close enough to tell.")),
    ),
)


def say(text: str) -> str:
    """Return a text of these choices in the user's language."""
    return QCoreApplication.translate("question", text)
