"""What the last step says, in sentences."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QT_TRANSLATE_NOOP

from rustboard.ui.importing.words import count, say

if TYPE_CHECKING:
    from rustboard.board.old_grades.past_board import PastBoard
    from rustboard.board.old_grades.reading import OldReading
    from rustboard.operations.past_boards import MatchedOldGrade, OldGradesMatched
    from rustboard.session.old_grades import DatedPhoto

_NEW = QT_TRANSLATE_NOOP("importing", "A new board “{0}” with {1} rows and {2} columns.")
_COUPONS = QT_TRANSLATE_NOOP("importing", "Coupons: {0}, of them controls: {1}, off the board: {2}.")
_TREATMENTS = QT_TRANSLATE_NOOP("importing", "Treatments: {0}.")
_GRADES = QT_TRANSLATE_NOOP("importing", "Inspections: {0}. Grades: {1}.")
_ADDED = QT_TRANSLATE_NOOP("importing", "Grades for the open board: {0}. One step of undo takes them all back.")
_CORRECTED = QT_TRANSLATE_NOOP("importing", "Of them, these take the place of others, which stay in the record: {0}.")
_PHOTOS = QT_TRANSLATE_NOOP("importing", "Photos, copied byte for byte: {0}, of them with an inspection above: {1}.")
_ROUNDED = QT_TRANSLATE_NOOP("importing", "Half grades are rounded down; each grade's note says what was written.")
_FROM = QT_TRANSLATE_NOOP("importing", "The notes and the record of changes say where they come from: {0}.")


def what_is_made(
    reading: OldReading,
    fresh: PastBoard | None,
    grades: Sequence[MatchedOldGrade],
    photos: Sequence[DatedPhoto],
) -> list[str]:
    """Return what will be made.

    Args:
        reading: the table.
        fresh: the new board, or None where the open one is added to.
        grades: what is added to the open board.
        photos: what is copied.
    """
    if fresh is None:
        corrected = sum(each.before is not None for each in grades)
        lines = [say(_ADDED).format(count(len(grades)))]
        lines += [say(_CORRECTED).format(count(corrected))] if corrected else []
    else:
        coupons = [each.coupon for each in fresh.coupons]
        controls = sum(each.role == "control" for each in coupons)
        off = sum(each.position is None for each in coupons)
        inspections = len({(each.when, each.has_hour) for each in fresh.grades})
        lines = [
            say(_NEW).format(fresh.board.name, count(fresh.board.rows), count(fresh.board.columns)),
            say(_COUPONS).format(count(len(coupons)), count(controls), count(off)),
            say(_TREATMENTS).format(count(len(fresh.treatments))),
            say(_GRADES).format(count(inspections), count(len(fresh.grades))),
        ]
    if photos:
        tied = sum(each.at is not None for each in photos)
        lines.append(say(_PHOTOS).format(count(len(photos)), count(tied)))
    if reading.layout.halves == "rounded down":
        lines.append(say(_ROUNDED))
    return [*lines, say(_FROM).format(reading.grid.where)]


def left_out(reading: OldReading, matched: OldGradesMatched | None) -> tuple[list[str], int]:
    """Return what is left out, a line each, and how much that is: lines are listed up to a bound."""
    more = () if matched is None else matched.problems
    lines = [each.sentence() for each in (*reading.problems, *more, *reading.skipped)]
    return lines, reading.refused + len(more) + len(reading.skipped)
