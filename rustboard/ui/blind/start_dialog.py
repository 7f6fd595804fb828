"""What is to be known before an inspection is hidden: from what to grade, and how many coupons come twice."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QWidget

from rustboard.board.blind import Basis
from rustboard.board.blind_order import repeats_of
from rustboard.board.model import Inspection
from rustboard.board.record import BoardRecord
from rustboard.operations.blind import BlindChoice
from rustboard.session.blind_rounds import graded_openly, photos_to_grade_from
from rustboard.ui.forms.form import FormDialog, choice_field
from rustboard.ui.forms.labels import words_label
from rustboard.ui.wording import date_time

_SHARES = (0, 10, 20, 25, 33, 50, 100)
_USUAL = 20


class StartBlindDialog(FormDialog):
    """Asks how an inspection is to be graded blind."""

    def __init__(self, record: BoardRecord, inspection: Inspection, parent: QWidget | None = None) -> None:
        """Ask about an inspection."""
        super().__init__("", parent)
        self.setWindowTitle(self.tr("Grade blind"))
        self._record, self._inspection = record, inspection
        self._photos = photos_to_grade_from(record, inspection)
        self._coupons = sum(each.position is not None for each in record.coupons.values())
        self._basis = choice_field()
        self._share = choice_field()
        self._choice = BlindChoice(inspection.key, "bench")
        self._build()

    def choice(self) -> BlindChoice:
        """Return what was chosen."""
        return self._choice

    def _build(self) -> None:
        self.add_words(
            self.tr(
                "Inspection of {0}. From now until you reveal it, the program hides treatments, coupon ids, all "
                "other grades and what the photos say. Every grader sees the coupons in an order of his own."
            ).format(date_time(self._inspection.at))
        )
        for photo in self._photos:
            when = date_time(photo.taken) if photo.taken is not None else self.tr("without a time")
            self._basis.addItem(self.tr("photo of {0}").format(when), photo.key)
        self._basis.addItem(self.tr("the bench, by position"), None)
        self.add_row(self.tr("&Grade from"), self._basis)
        for share in _SHARES:
            self._share.addItem(self._share_text(share), share)
        self._share.setCurrentIndex(_SHARES.index(_USUAL))
        self.add_row(self.tr("Shown &twice"), self._share)
        self.add_words("\n\n".join(self._hints()))
        self.ok_button().setText(self.tr("Start grading blind"))
        self._basis.setFocus()

    def add_words(self, text: str) -> None:
        """Add a sentence or two across the form."""
        self.add_text(words_label(text))

    def _share_text(self, share: int) -> str:
        if not share:
            return self.tr("none")
        return self.tr("{0} % – {1} of {2} coupons").format(share, repeats_of(self._coupons, share), self._coupons)

    def _hints(self) -> list[str]:
        hints = [
            self.tr(
                "A coupon shown twice tells how well a grader repeats himself. In photos it comes turned, so that it "
                "is not recognised; at the bench its place gives it away."
            )
        ]
        if not self._photos:
            hints.append(self.tr("To grade from a photo, add one of this inspection in which the board is found."))
        openly = graded_openly(self._record, self._inspection.key)
        if openly:
            hints.append(
                self.tr(
                    "{0} coupons are graded at this inspection already. Blind grades will take their place; both are "
                    "kept."
                ).format(openly)
            )
        return hints

    def read(self) -> None:
        """Read the fields into the choice."""
        photo = self._basis.currentData()
        basis: Basis = "bench" if photo is None else "photo"
        self._choice = BlindChoice(self._inspection.key, basis, photo, float(_chosen(self._share)))


def _chosen(field: QComboBox) -> int:
    return int(field.currentData())
