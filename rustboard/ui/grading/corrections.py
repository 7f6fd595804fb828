"""The letter and the note of a coupon: corrected where it is graded, else kept until it is."""

from __future__ import annotations

from typing import cast

from PySide6.QtCore import QObject, Signal, Slot

from rustboard.board.grade import Source, carries_letter
from rustboard.board.model import Grading
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.ui.doing import Do
from rustboard.ui.guide.options import GradingOptions


class Corrections(QObject):
    """Letters pressed and notes typed beside the keys.

    Signals:
        told(str): something to note.
    """

    told = Signal(str)

    def __init__(self, session: Session, do: Do, options: GradingOptions, parent: QObject) -> None:
        """Start without a coupon."""
        super().__init__(parent)
        self._session, self._do, self._options = session, do, options
        self._drafts: dict[tuple[int, int], str] = {}
        self._subject = (0, 0)  # coupon and inspection that letter and note on the screen belong to
        self._wire()

    def _wire(self) -> None:
        self._options.letter_changed.connect(self._change_letter)
        self._options.note_entered.connect(self._change_note)

    def show_coupon(self, coupon: int, inspection: int) -> None:
        """Show the letter and the note of a coupon at an inspection, or the note that waits for its grade."""
        self._subject = (coupon, inspection)
        grading = self._grading()
        if grading is None:
            self._options.set_values("", self._drafts.get(self._subject, ""), graded=False)
        else:
            self._options.set_values(grading.distribution, grading.note, graded=True)

    def forget_draft(self, coupon: int, inspection: int) -> None:
        """Let a note go that was recorded with its grade."""
        self._drafts.pop((coupon, inspection), None)

    def _grading(self) -> Grading | None:
        return self._session.record.grading(*self._subject)

    @Slot(str)
    def _change_letter(self, letter: str) -> None:
        grading = self._grading()
        if grading is None or not carries_letter(grading.grade) or grading.distribution == letter:
            return
        if self._correct(grading, letter, grading.note) is None:
            self._options.show_letter(grading.distribution)

    @Slot(str)
    def _change_note(self, note: str) -> None:
        grading = self._grading()
        if grading is None:
            self._drafts[self._subject] = note
            if note.strip():
                self.told.emit(self.tr("The note waits for this coupon's grade and is written with it."))
        elif grading.note != note.strip():
            self._correct(grading, grading.distribution, note)

    def _correct(self, grading: Grading, letter: str, note: str) -> ChangeSet | None:
        source = cast("Source", grading.source)
        given = GivenGrade(
            grading.coupon, grading.inspection, grading.grade, letter, grading.percent, grading.grader, source, note
        )
        return self._do(grade_coupon, given, origin=self.parent())
