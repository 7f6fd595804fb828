"""The figures of one coupon in one photo, in words: rust and its range, what hides it, the eye, revisions."""

from __future__ import annotations

from collections.abc import Collection
from contextlib import suppress
from itertools import pairwise

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QFormLayout, QFrame, QLabel, QPushButton, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from rustboard.board.grade import written
from rustboard.board.measured import Measurement
from rustboard.board.model import Coupon, Grading, Photo
from rustboard.scales.rust_grade import grade_from_percent
from rustboard.session.out_of_date import OutOfDate
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings, save_settings
from rustboard.support.text import printable
from rustboard.ui.forms.labels import words_label
from rustboard.ui.measured_words import PRESENT_WORDS, measured_grade, percent_text, range_text
from rustboard.ui.measured_words import say as say_measured
from rustboard.ui.photos.photo_words import HIDDEN_WORDS, again_words, grouped, left_out, say
from rustboard.ui.theme import grade_colour, grade_ink
from rustboard.ui.wording import coupon_title, grade_text, number, tool_tip

_ROWS = ("rust", "range", "spots", "dirt", "unseen", "least", "eye")


class FiguresPanel(QScrollArea):
    """Says what was measured, and takes it over.

    Signals:
        accept_asked(), confident_asked(): take over this coupon's measurement; that of all confident ones.
        revealed(): what was hidden until the coupon is graded is shown from now on.

    Attributes:
        fits: whether what is shown still fits the board.
    """

    accept_asked = Signal()
    confident_asked = Signal()
    revealed = Signal()

    def __init__(self, session: Session, settings: Settings, parent: QWidget | None = None) -> None:
        """Build the panel, empty; ``settings`` say whether the person grades blind."""
        super().__init__(parent)
        self._session, self._settings = session, settings
        self.fits = True
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("Figures of this coupon"))
        self._title = words_label(narrow=True)
        self._title.setProperty("heading", True)
        self._chip = QLabel()
        self._chip.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._chip.setTextFormat(Qt.TextFormat.PlainText)
        self._values = {name: words_label(narrow=True) for name in _ROWS}
        self._notes = words_label(narrow=True)
        self._revisions = words_label(muted=True, narrow=True)
        self._confident = words_label(muted=True, narrow=True)
        self._accept = QPushButton()
        self._accept.setProperty("primary", True)
        self._all = QPushButton()
        self._reveal = QPushButton(self.tr("Show without grading first"))
        self._reveal.setToolTip(self.tr("Takes the tick off “hide until graded”, here and where you grade."))
        for each in (self._accept, self._all, self._reveal):
            each.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(6, 2, 6, 4)
        column.setSpacing(5)
        form = QFormLayout()
        form.setContentsMargins(0, 0, 0, 0)
        form.setVerticalSpacing(3)
        names = (
            self.tr("Rust"),
            self.tr("Between"),
            self.tr("Spots"),
            self.tr("Dirt"),
            self.tr("Unseen"),
            self.tr("Least seen"),
            self.tr("By eye"),
        )
        tips = {
            "range": self.tr(
                "In nine of ten cases the true share lies in this range, by the program's own reckoning."
            ),
            "unseen": self.tr("Glare, drops and shadow edges hide this much of the surface; it counts neither way."),
            "least": self.tr("The least share of rust that this photo could have shown."),
        }
        for name, text in zip(_ROWS, names, strict=True):
            label = QLabel(text)
            label.setProperty("muted", True)
            label.setToolTip(tips.get(name, ""))
            self._values[name].setToolTip(tips.get(name, ""))
            self._values[name].setAccessibleName(text)
            form.addRow(label, self._values[name])
        column.addWidget(self._title)
        column.addWidget(self._chip, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self._accept)
        column.addLayout(form)
        for each in (self._notes, self._reveal, self._revisions, self._all, self._confident):
            column.addWidget(each)
        column.addStretch(1)
        self.setWidget(inside)

    def _wire(self) -> None:
        self._accept.clicked.connect(self._ask_accept)
        self._all.clicked.connect(self._ask_confident)
        self._reveal.clicked.connect(self._reveal_all)

    @Slot()
    def _ask_accept(self) -> None:
        self.accept_asked.emit()

    @Slot()
    def _ask_confident(self) -> None:
        self.confident_asked.emit()

    @Slot()
    def _reveal_all(self) -> None:
        self._settings.hide_suggestion = False
        with suppress(InputError):  # a full disk: it holds until the program ends
            save_settings(self._settings)
        self.revealed.emit()

    # ---- what is shown

    def show_figures(self, photo: Photo | None, coupon: Coupon | None, hidden: Collection[int] = ()) -> None:
        """Show what was measured on a coupon in a photo; of ``hidden`` ones nothing."""
        record = self._session.record
        found = None
        if photo is not None and coupon is not None:
            found = record.measured.get(photo.key, {}).get(coupon.key)
        self._title.setText(self.tr("No coupon chosen") if coupon is None else coupon_title(record, coupon))
        covered = found is not None and found.coupon in hidden
        if covered:
            found = None
        again = "" if found is None else again_words(OutOfDate(record).parts(found))
        self.fits = not again
        self._show_chip(found, again)
        self._show_values(found, self._grading(photo, coupon))
        self._notes.setText(say(HIDDEN_WORDS) if covered else "\n".join(_notes(found, again)))
        self._notes.setVisible(bool(self._notes.text()))
        self._reveal.setVisible(covered)
        self._show_revisions(photo, None if covered else coupon)
        self._show_buttons(photo, found, again, blind=bool(hidden))

    def say_masks_gone(self) -> None:
        """Say that the masks of a measurement are no longer kept."""
        words = self.tr(
            "Its masks are no longer kept on this computer; measure again to see them and to use the brush."
        )
        if words not in self._notes.text():
            self._notes.setText("\n".join(each for each in (self._notes.text(), f"• {words}") if each))
            self._notes.show()

    def show_painted(self, percent: float | None) -> None:
        """Say how much the mask shows with strokes that are not measured yet."""
        if percent is not None:
            self._values["rust"].setText(self.tr("{0} % as painted").format(percent_text(percent)))

    def _grading(self, photo: Photo | None, coupon: Coupon | None) -> Grading | None:
        if photo is None or coupon is None:
            return None
        return self._session.record.grading(coupon.key, photo.inspection or 0)

    def _show_chip(self, found: Measurement | None, again: str) -> None:
        self._chip.setVisible(found is not None and found.percent is not None)
        if found is None or found.percent is None:
            return
        if again:
            self._chip.setText(self.tr("to be measured again"))
            self._chip.setAccessibleName(again)
            self._chip.setStyleSheet("border: 1px dashed; border-radius: 5px; padding: 3px 12px; font-weight: 700;")
            return
        grade = grade_from_percent(found.percent)
        self._chip.setText(self.tr("{0}   {1} %").format(measured_grade(found), percent_text(found.percent)))
        self._chip.setAccessibleName(self.tr("Suggested grade {0}").format(self._chip.text()))
        ground, ink = grade_colour(grade).name(), grade_ink(grade).name()
        style = (
            "background: {0}; color: {1}; border-radius: 5px; padding: 3px 12px; font-weight: 700; font-size: 15pt;"
        )
        self._chip.setStyleSheet(style.format(ground, ink))

    def _show_values(self, found: Measurement | None, grading: Grading | None) -> None:
        values = dict.fromkeys(_ROWS, "")
        if found is not None and found.percent is not None:
            values["rust"] = self.tr("{0} %, grade {1}").format(percent_text(found.percent), measured_grade(found))
            values["range"] = self.tr("{0} %").format(range_text(found)) if found.low is not None else ""
            values["spots"] = self._spots(found)
        if found is not None:
            values["dirt"] = self.tr("{0} %").format(number(found.debris_percent, 2))
            values["unseen"] = self.tr("{0} %").format(number(found.unseen_percent, 2))
            values["least"] = self.tr("{0} %").format(percent_text(found.resolvable_percent))
        values["eye"] = self._eye(grading)
        for name, text in values.items():
            self._values[name].setText(text or "–")

    def _spots(self, found: Measurement) -> str:
        if not found.spots:
            return self.tr("none")
        return self.tr("{0}, largest {1} mm²").format(number(found.spots, 0), number(found.largest_mm2, 2))

    def _eye(self, grading: Grading | None) -> str:
        if grading is None:
            return self.tr("not graded at this inspection")
        parts = [grade_text(grading)]
        if grading.source == "photo confirmed":
            parts.append(self.tr("taken over from the photo"))
        if grading.grader:
            parts.append(printable(grading.grader))
        return ", ".join(parts)

    # ---- revisions

    def _show_revisions(self, photo: Photo | None, coupon: Coupon | None) -> None:
        lines: list[str] = []
        if photo is not None and coupon is not None:
            history = self._session.measurements(photo.key, coupon.key)
            lines = [_revision(old, new) for old, new in pairwise(history)]
            replaced = [
                written(each.grade, each.distribution)
                for each in self._session.gradings(coupon.key, photo.inspection or 0)
                if each.state == "superseded"
            ]
            if replaced:
                lines.append(self.tr("Grades before: {0}").format(", ".join(replaced)))
        self._revisions.setText("\n".join(lines))
        self._revisions.setVisible(bool(lines))

    # ---- taking over

    def _show_buttons(self, photo: Photo | None, found: Measurement | None, again: str, *, blind: bool) -> None:
        record = self._session.record
        writable = not self._session.read_only_reason
        measured = photo is not None and photo.key in record.measured and not blind
        usable = found is not None and found.percent is not None and photo is not None
        has_visit = photo is not None and photo.inspection is not None
        self._accept.setVisible(writable and usable)
        self._accept.setEnabled(has_visit and not again)
        if found is not None:
            self._accept.setText(self.tr("Take over {0}").format(measured_grade(found)))
        tip = self.tr(
            "Make this the coupon's grade at this inspection, as a photo's grade confirmed by eye. Key: Enter"
        )
        if not has_visit:
            tip = self.tr("This photo belongs to no inspection; give it a date first.")
        elif again:
            tip = again
        self._accept.setToolTip(tip)
        confident = [] if photo is None else OutOfDate(record).confident(photo)
        self._all.setVisible(writable and measured)
        self._all.setEnabled(bool(confident))
        text = self.tr("Take over all {0} confident") if confident else self.tr("None left to take over at once")
        self._all.setText(text.format(len(confident)))
        self._confident.setVisible(writable and measured)
        if photo is not None and measured:
            out = left_out(record, photo)
            text = self.tr("Left out: {0}").format(grouped(out)) if out else self.tr("None is left out.")
            self._confident.setText(text)
            self._confident.setToolTip(tool_tip(grouped(out, 200)))


def _notes(found: Measurement | None, again: str) -> list[str]:
    """Return what is to be known about a measurement, a sentence a line."""
    if found is None:
        return [say("Not measured in this photo.")]
    lines = [again] if again else []
    if found.present in PRESENT_WORDS:
        lines.append(say_measured(PRESENT_WORDS[found.present]))
    lines.extend(printable(each) for each in found.warnings)
    if found.newest:
        lines.append(say("Newest photo: what lies on the coupon may still prove to be dirt, so the range is wider."))
    if found.percent is not None and not again:
        lines.append(say("Sure enough to take over.") if found.confident else say("Wants a closer look."))
    return [f"• {each}" for each in lines]


def _revision(old: Measurement, new: Measurement) -> str:
    """Return one superseded measurement in a line, with why it was revised."""
    when = old.measured[:10]
    if old.percent is None:
        text = say("Before ({0}): not measured").format(when)
    else:
        text = say("Before ({0}): {1} %, grade {2}").format(when, percent_text(old.percent), measured_grade(old))
    return say("{0}; revised because: {1}").format(text, printable(new.reason)) if new.reason else text
