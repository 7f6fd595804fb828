"""The choices of a layout, and what each means in plain words."""

from __future__ import annotations

from typing import Final, Generic, NamedTuple, TypeVar

from PySide6.QtCore import QT_TRANSLATE_NOOP

from rustboard.board.layout import DrainCare, Method

V = TypeVar("V")


class Choice(NamedTuple, Generic[V]):
    """One choice: its value, its text in the list, and a sentence on what it means."""

    value: V
    text: str
    words: str


METHOD_CHOICES: Final[tuple[Choice[Method], ...]] = (
    Choice(
        "rows",
        str(QT_TRANSLATE_NOOP("layout", "By lot, row by row")),
        str(
            QT_TRANSLATE_NOOP(
                "layout",
                "Every row gets every treatment, as evenly as can be, and the lots are drawn within each row. "
                "The usual choice: sun and rain differ from top to bottom.",
            )
        ),
    ),
    Choice(
        "complete",
        str(QT_TRANSLATE_NOOP("layout", "By lot, over the whole board")),
        str(
            QT_TRANSLATE_NOOP(
                "layout", "Any coupon may hang anywhere. Good for small boards and for boards exposed evenly."
            )
        ),
    ),
    Choice(
        "hand",
        str(QT_TRANSLATE_NOOP("layout", "By hand, without lots")),
        str(
            QT_TRANSLATE_NOOP(
                "layout",
                "You choose every position. Nobody can then rule out that a treatment got the better places, and "
                "the findings will say so.",
            )
        ),
    ),
)

COLUMN_WORDS: Final = str(
    QT_TRANSLATE_NOOP("layout", "With whole columns of one treatment, the lots are drawn between the columns.")
)
"""Said instead of a method's own words while whole columns are drawn."""

DRAIN_CHOICES: Final[tuple[Choice[DrainCare], ...]] = (
    Choice(
        "none",
        str(QT_TRANSLATE_NOOP("layout", "Nothing is done")),
        str(
            QT_TRANSLATE_NOOP(
                "layout",
                "Wax, oil and rust run down from a coupon onto those below it in its column. Where that is another "
                "treatment, the map shows a drop.",
            )
        ),
    ),
    Choice(
        "columns",
        str(QT_TRANSLATE_NOOP("layout", "Whole columns of one treatment")),
        str(
            QT_TRANSLATE_NOOP(
                "layout",
                "Drips stay within a treatment. But then only columns are drawn by lot: the coupons of a column "
                "count as one.",
            )
        ),
    ),
    Choice(
        "spacing",
        str(QT_TRANSLATE_NOOP("layout", "Free positions between")),
        str(
            QT_TRANSLATE_NOOP(
                "layout",
                "Lots leave empty positions below every coupon where there is room, so that drips end on the board. "
                "It takes about twice the room.",
            )
        ),
    ),
    Choice(
        "drip edges",
        str(QT_TRANSLATE_NOOP("layout", "Drip edges under every row")),
        str(
            QT_TRANSLATE_NOOP(
                "layout",
                "A slanted strip under each row leads drips off the board. You must fit them; the board map on "
                "paper shows where.",
            )
        ),
    ),
)
