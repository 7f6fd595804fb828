"""Before the pairs: what it is for, who compares, from which photo; what was compared so far."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from rustboard.board.model import Inspection, Photo
from rustboard.session.nameless_pictures import coupons_shown
from rustboard.session.session import Session
from rustboard.session.side_by_side import (
    Comparison,
    graders_at,
    has_enough,
    photos_to_compare_in,
    refuse_comparing,
    standing,
)
from rustboard.support.problems import InputError
from rustboard.support.text import printable
from rustboard.ui.enter_presses import press_by_enter
from rustboard.ui.forms.form import ProblemLine, choice_field, known_field, text_of
from rustboard.ui.forms.labels import words_label
from rustboard.ui.middle_card import in_the_middle, new_card
from rustboard.ui.wording import date_time


class StartPage(QWidget):
    """The page to which every grader comes and goes.

    Signals:
        begin_asked(object): a `Comparison` is to be begun or gone on with.
        order_asked(): what comes out so far is to be shown. left(): back to the board.
        failed(str): a sentence to stay until read.
    """

    begin_asked = Signal(object)
    order_asked = Signal()
    left = Signal()
    failed = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Build the page; nothing is shown before `show_inspection`."""
        super().__init__(parent)
        self._session = session
        self._inspection: Inspection | None = None
        self._heading = QLabel()
        self._heading.setProperty("heading", True)
        self._words = words_label(
            self.tr(
                "Two coupons are shown next to each other, without their names, and you choose the more rusted one. "
                "From the choices the program works out an order of the coupons with strengths, as a check on their "
                "grades."
            )
        )
        self.photos = choice_field()
        self.name = known_field("", ())
        self._standing, self._graders = words_label(), words_label(muted=True)
        self.problem = ProblemLine()
        self._back = QPushButton(self.tr("Back to the board"))
        self.order = QPushButton(self.tr("See the order"))
        self.begin = QPushButton(self.tr("Begin"))
        self.begin.setProperty("primary", True)
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        card, inside = new_card()
        inside.addWidget(self._heading)
        inside.addWidget(self._words)
        for text, field in ((self.tr("Fr&om the photo of:"), self.photos), (self.tr("&Who compares:"), self.name)):
            label = QLabel(text)
            label.setBuddy(field)
            row = QHBoxLayout()
            row.addWidget(label)
            row.addWidget(field, 1)
            inside.addLayout(row)
        inside.addWidget(self._standing)
        inside.addWidget(self._graders)
        inside.addWidget(self.problem)
        foot = QHBoxLayout()
        foot.addWidget(self._back)
        foot.addStretch(1)
        foot.addWidget(self.order)
        foot.addWidget(self.begin)
        inside.addLayout(foot)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.addWidget(in_the_middle(card))

    def _wire(self) -> None:
        self._back.clicked.connect(self.left)
        self.order.clicked.connect(self.order_asked)
        self.begin.clicked.connect(self._begin)
        self.photos.currentIndexChanged.connect(self.show_again)
        self.name.editTextChanged.connect(self.show_again)
        line = self.name.lineEdit()
        if line is not None:
            line.returnPressed.connect(self._begin)

    # ---- what is shown

    def show_inspection(self, inspection: Inspection, grader: str) -> None:
        """Show an inspection; ``grader`` is offered as the one who compares."""
        self._inspection = inspection
        self._heading.setText(self.tr("Side by side: inspection of {0}").format(date_time(inspection.at)))
        record = self._session.record
        self.photos.blockSignals(True)
        self.photos.clear()
        for photo in photos_to_compare_in(record, inspection):
            when = date_time(photo.taken) if photo.taken is not None else self.tr("no known time")
            self.photos.addItem(when, photo.key)
        self.photos.blockSignals(False)
        known = {each.grader for each in record.inspections.values()} | {
            name for name, _ in graders_at(record, inspection.key)
        }
        self.name.blockSignals(True)
        self.name.clear()
        self.name.addItems(sorted((printable(each) for each in known if each.strip()), key=str.casefold))
        self.name.setEditText(printable(grader))
        self.name.blockSignals(False)
        self.show_again()

    def photo(self) -> Photo | None:
        """Return the photo to compare from, or None when there is none."""
        return self._session.record.photos.get(self.photos.currentData() or 0)

    def names(self, comparison: Comparison) -> bool:
        """Return whether grader and photo chosen here are those of a comparison."""
        return text_of(self.name) == comparison.grader and self.photos.currentData() == comparison.photo

    @Slot()
    def show_again(self) -> None:
        """Show everything as it is now."""
        inspection = self._inspection
        if inspection is None:
            return
        record = self._session.record
        refused = self._refusal(inspection)
        self.problem.say(refused)
        for each in (self.begin, self.name, self.photos):
            each.setEnabled(not refused)
        self.begin.setText(self.tr("Begin"))
        comparison = self._comparison()
        self._standing.setVisible(comparison is not None and not refused)
        if comparison is not None and not refused:
            self._show_standing(comparison)
        graders = graders_at(record, inspection.key)
        told = ", ".join(self.tr("{0} ({1})").format(printable(name), count) for name, count in graders)
        self._graders.setText(self.tr("Choices so far: {0}").format(told))
        self._graders.setVisible(bool(graders))
        self.order.setVisible(bool(graders))

    def _refusal(self, inspection: Inspection) -> str:
        try:
            refuse_comparing(self._session, inspection, self.photo())
        except InputError as error:
            return error.problem.what
        return ""

    def _comparison(self) -> Comparison | None:
        photo = self.photo()
        if self._inspection is None or photo is None:
            return None
        coupons = coupons_shown(self._session.record, photo)
        return Comparison(self._inspection.key, photo.key, coupons, text_of(self.name))

    def _show_standing(self, comparison: Comparison) -> None:
        done, wanted = standing(self._session.record, comparison)
        if not done:
            text = self.tr("{0} coupons take about {1} choices. You can interrupt and go on whenever you like.")
            self._standing.setText(text.format(len(comparison.coupons), wanted))
            return
        self.begin.setText(self.tr("Go on"))
        if has_enough(self._session.record, comparison):
            text = self.tr("{0} choices are made, which is enough; more make the order surer.")
        else:
            text = self.tr("{0} of about {1} choices are made; it goes on with the pair at which you stopped.")
        self._standing.setText(text.format(done, wanted))

    def take_keyboard(self) -> None:
        """Bring the keyboard to what is most likely next."""
        likely = self._back if self.order.isHidden() else self.order
        (self.begin if self.begin.isEnabled() else likely).setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter press the button that has the keyboard."""
        if not press_by_enter(self, event):
            super().keyPressEvent(event)

    @Slot()
    def _begin(self) -> None:
        comparison = self._comparison()
        if comparison is None or not self.begin.isEnabled():
            return
        if not comparison.grader:
            self.failed.emit(self.tr("Write who compares, so that the choices of each are kept together."))
            self.name.setFocus()
            return
        self.begin_asked.emit(comparison)
