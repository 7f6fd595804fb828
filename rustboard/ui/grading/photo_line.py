"""What the photo of the inspection says of the coupon being graded: one quiet line, and a button to take it over."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLabel, QPushButton, QWidget

from rustboard.board.measured import Measurement
from rustboard.operations.measuring import accept_measurement
from rustboard.session.grading_round import next_ungraded
from rustboard.session.photo_days import measured_at
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings, save_settings
from rustboard.support.text import printable
from rustboard.ui.doing import Do
from rustboard.ui.measured_words import measured_grade, suggestion_text
from rustboard.ui.wording import tool_tip


class PhotoLine(QWidget):
    """The photo's suggestion. Grading blind, it is hidden until the person has graded.

    Signals:
        go_to(int): the grade was taken over; this coupon is next.
        finished(): the grade was taken over, and every coupon of the inspection has one.
        told(str): something to note.
    """

    go_to = Signal(int)
    finished = Signal()
    told = Signal(str)

    def __init__(self, session: Session, do: Do, settings: Settings, parent: QWidget | None = None) -> None:
        """Build the line, hidden."""
        super().__init__(parent)
        self._session, self._do, self._settings = session, do, settings
        self._subject = (0, 0)  # coupon and inspection
        self._text = QLabel()
        self._text.setTextFormat(Qt.TextFormat.PlainText)
        self._text.setProperty("muted", True)
        self._take = QPushButton()
        self._take.setToolTip(
            self.tr(
                "Make this the coupon's grade, as a photo's grade confirmed by eye, and go on. "
                "Key: Enter, unless you grade by percent"
            )
        )
        self._blind = QCheckBox(self.tr("hide until graded"))
        self._blind.setToolTip(
            self.tr("Hide what the photo says of a coupon until you have graded it, so that it cannot sway you.")
        )
        self._blind.setChecked(settings.hide_suggestion)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        for each in (self._text, self._take, self._blind):
            row.addWidget(each)
        # What comes and goes here keeps its room, so that no button of the line moves under the pointer.
        policy = self._take.sizePolicy()
        policy.setRetainSizeWhenHidden(True)
        self._take.setSizePolicy(policy)
        for button in (self._take, self._blind):
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the keyboard with the grades
        self.hide()
        self._wire()

    def _wire(self) -> None:
        self._take.clicked.connect(self.take_over)
        self._blind.toggled.connect(self._change_blind)

    def show_coupon(self, coupon: int, inspection: int) -> None:
        """Show what is said of a coupon at an inspection; nothing where nothing was measured."""
        self._subject = (coupon, inspection)
        self._follow_settings()
        self._reserve_room(inspection)
        self._show()

    def set_least_height(self, px: int) -> None:
        """Make everything to press at least this high; 0 for as high as it is otherwise."""
        for each in (self._take, self._blind):
            each.setMinimumHeight(px)

    def _follow_settings(self) -> None:
        """Show the tick as it is; it can be taken off where the photos are looked at, too."""
        self._blind.blockSignals(True)
        self._blind.setChecked(self._settings.hide_suggestion)
        self._blind.blockSignals(False)

    def _reserve_room(self, inspection: int) -> None:
        """Be as wide as the longest of what the photos say of this inspection; no room where they say nothing."""
        record = self._session.record
        found = [
            each
            for photo in record.photos.values()
            if photo.inspection == inspection
            for each in record.measured.get(photo.key, {}).values()
            if each.percent is not None
        ]
        texts = [self._hidden_text(), self._again_text(), *(suggestion_text(each) for each in found)]
        grades = {self._take_text(), *(self._take_text(measured_grade(each)) for each in found)}
        metrics = self.fontMetrics()
        self._text.setMinimumWidth(max(metrics.horizontalAdvance(each) for each in texts))
        shown = self._take.text()
        widths = []
        for each in grades:
            self._take.setText(each)
            widths.append(self._take.sizeHint().width())
        self._take.setText(shown)
        self._take.setMinimumWidth(max(widths))
        policy = self.sizePolicy()
        policy.setRetainSizeWhenHidden(bool(found))
        self.setSizePolicy(policy)

    def _hidden_text(self) -> str:
        return self.tr("photo: measured")

    def _again_text(self) -> str:
        return self.tr("photo: to be measured again")

    def _take_text(self, grade: str = "") -> str:
        return self.tr("Take over {0}").format(grade)

    def _found(self) -> Measurement | None:
        return measured_at(self._session.record, *self._subject)

    def _is_hidden(self) -> bool:
        graded = self._session.record.grading(*self._subject) is not None
        return self._settings.hide_suggestion and not graded

    def _is_out_of_date(self, found: Measurement) -> bool:
        from rustboard.session.out_of_date import OutOfDate

        return bool(OutOfDate(self._session.record).parts(found))

    def _show(self) -> None:
        found = self._found()
        self.setVisible(found is not None and found.percent is not None)
        if found is None or found.percent is None:
            return
        hidden = self._is_hidden()
        again = not hidden and self._is_out_of_date(found)
        writable = not self._session.read_only_reason
        self._text.setText(self._hidden_text() if hidden else suggestion_text(found))
        if again:
            self._text.setText(self._again_text())
        warnings = "; ".join(printable(each) for each in found.warnings)
        self._text.setToolTip("" if hidden else tool_tip(warnings))
        self._take.setText(self._take_text("" if hidden else measured_grade(found)))
        self._take.setVisible(writable and not hidden and not again)

    @Slot()
    def take_over(self) -> None:
        """Make the suggestion the grade and go on; nothing while it is hidden."""
        found, record = self._found(), self._session.record
        coupon, inspection = self._subject
        if found is None or found.percent is None or self._is_hidden() or self._session.read_only_reason:
            return
        if not self._take.isVisibleTo(self) or self._is_out_of_date(found):
            return  # nobody has seen it, or it no longer fits
        first_time = record.grading(coupon, inspection) is None
        grader = record.inspections[inspection].grader or self._session.who
        if self._do(accept_measurement, found.photo, coupon, grader) is None:
            return
        following = next_ungraded(self._session.record, inspection, coupon)
        if following is not None:
            self.go_to.emit(following)
        elif first_time:
            self.finished.emit()

    @Slot(bool)
    def _change_blind(self, blind: bool) -> None:
        self._settings.hide_suggestion = blind
        try:
            save_settings(self._settings)
        except InputError as error:
            self.told.emit(str(error))
        self._show()
