"""Damage of one coupon at one inspection: five kinds, each kept as soon as its row is left."""

from __future__ import annotations

from PySide6.QtCore import QTimer, Slot
from PySide6.QtWidgets import QApplication, QDialogButtonBox, QPushButton, QWidget

from rustboard.board.damage import DAMAGE_KINDS, Damage
from rustboard.board.damages_noted import damages_of
from rustboard.board.model import Coupon, Inspection
from rustboard.operations.damage import note_damage, withdraw_damage
from rustboard.session.session import Session
from rustboard.support.text import one_line
from rustboard.ui.damage.row import DamageRow, low_label, row_of
from rustboard.ui.damage_words import kind_name
from rustboard.ui.doing import Do
from rustboard.ui.forms.form import FormDialog, WrongFieldError
from rustboard.ui.refusals import refusal_in
from rustboard.ui.wording import coupon_title, date_only

_LONGEST_ID = 60
_LONGEST_TITLE = 160


class DamageDialog(FormDialog):
    """Notes damage and takes it back; nothing waits for OK.

    Attributes:
        rows: one for each kind, in the order of `DAMAGE_KINDS`.
    """

    width_in_letters = 150

    def __init__(
        self, session: Session, coupon: Coupon, inspection: Inspection, do: Do, parent: QWidget | None = None
    ) -> None:
        """Show what is noted of a coupon at an inspection; ``do`` runs an operation and shows refusals."""
        super().__init__("", parent)
        self._session, self._coupon, self._inspection, self._do = session, coupon, inspection, do
        self.setWindowTitle(self.tr("Damage of {0}").format(one_line(coupon.id, _LONGEST_ID)))
        self._warned = False
        title = one_line(coupon_title(session.record, coupon), _LONGEST_TITLE)
        about = self.tr(
            "{0}, inspection of {1}. Nothing here changes the grade. Each kind is kept as you leave its fields; "
            "untick it to take it back."
        )
        self.add_text(low_label(about.format(title, date_only(inspection.at))))
        self.rows = tuple(row_of(kind) for kind in DAMAGE_KINDS)
        noted = {each.kind: each for each in damages_of(session.record, coupon.key, inspection.key)}
        for row in self.rows:
            row.show_noted(noted.get(row.kind))
            self.add_text(row)
            for choice in row.choices():
                self._wheel.watch(choice)
        self._buttons.clear()
        self._done = QPushButton(self.tr("&Close"))
        self._done.setProperty("primary", True)
        self._done.setDefault(True)
        self._buttons.addButton(self._done, QDialogButtonBox.ButtonRole.AcceptRole)
        self._wire()
        (next((each for each in self.rows if each.is_noted()), self.rows[0])).box.setFocus()

    def _wire(self) -> None:
        for row in self.rows:
            row.switched.connect(self._follow_switch)
            row.edited.connect(self._think_again)
        application = QApplication.instance()
        if isinstance(application, QApplication):
            application.focusChanged.connect(self._follow_focus)

    # ---- keeping

    @Slot()
    def _follow_switch(self) -> None:
        """Take back what is no longer ticked."""
        self._think_again()
        for row in self.rows:
            if row.is_noted() and not row.box.isChecked():
                gone = self._do(withdraw_damage, self._coupon.key, self._inspection.key, row.kind, origin=self)
                row.show_noted(self._noted(row))
                if gone is None:
                    self._complain(self._refusal())
        QTimer.singleShot(0, self, self._grow)

    @Slot(QWidget, QWidget)
    def _follow_focus(self, old: QWidget | None, new: QWidget | None) -> None:
        """Keep a row that the keyboard left; one that was only ticked waits."""
        if not self.isVisible():
            return
        for row in self.rows:
            if _is_in(row, old) and not _is_in(row, new) and row.has_content():
                try:
                    self._keep(row)
                except WrongFieldError as error:
                    self._complain(error.sentence)

    def _keep(self, row: DamageRow) -> None:
        """Note what a row says, if that is not noted yet.

        Raises:
            WrongFieldError: something in it must be mended, or the disk refuses.
        """
        if not row.is_pending():
            return
        grader = self._inspection.grader or self._session.who
        try:
            given = row.given(self._coupon.key, self._inspection.key, grader)
        except WrongFieldError as error:
            sentence = self.tr("{0}: {1}").format(kind_name(row.kind), error.sentence)
            raise WrongFieldError(sentence, error.field) from None
        if self._do(note_damage, given, origin=self) is None:
            raise WrongFieldError(self._refusal(), row.box)
        row.show_noted(self._noted(row))

    def _noted(self, row: DamageRow) -> Damage | None:
        found = damages_of(self._session.record, self._coupon.key, self._inspection.key)
        return next((each for each in found if each.kind == row.kind), None)

    def _refusal(self) -> str:
        window = self.parentWidget()
        return refusal_in(window) if window is not None else ""

    # ---- closing

    def read(self) -> None:
        """Keep every row that can be kept.

        Raises:
            WrongFieldError: the first that cannot.
        """
        wrong: WrongFieldError | None = None
        for row in self.rows:
            try:
                self._keep(row)
            except WrongFieldError as error:
                wrong = wrong or error
        if wrong is not None:
            raise wrong

    @Slot()
    def reject(self) -> None:
        """Keep every row and close; where one cannot be kept, say so, and close without it the second time."""
        try:
            self.read()
        except WrongFieldError as error:
            if not self._warned:
                self._complain(self.tr("{0} Esc again closes without it.").format(error.sentence))
                self._go_to(error.field)
                self._warned = True
                return
        super().reject()

    @Slot()
    def _think_again(self) -> None:
        self._warned = False
        self._forget_problem()
        QTimer.singleShot(0, self, self._grow)  # the rating under the fields may have come

    @Slot()
    def _grow(self) -> None:
        """Grow with the fields, and stay on the screen."""
        super()._grow()
        room, frame = self.screen().availableGeometry(), self.frameGeometry()
        if frame.bottom() > room.bottom():
            self.move(self.x(), max(room.top(), room.bottom() - frame.height()))

    def _fields_height(self, width: int) -> int:
        """Let the sentences be as high as their lines."""
        return self._form.heightForWidth(width - self._scroll.verticalScrollBar().sizeHint().width())


def _is_in(row: DamageRow, widget: QWidget | None) -> bool:
    """Return whether a widget belongs to a row; a list that drops down from it does."""
    while widget is not None and widget is not row:
        widget = widget.parentWidget()
    return widget is row
