"""The coupons on which graders differ: the list, and the chosen one beside or below it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QSplitter, QVBoxLayout, QWidget

from rustboard.operations.blind import agree_grade
from rustboard.session.agreement import Differing
from rustboard.session.session import Session
from rustboard.ui.agreement.agreement_words import counts_text, given_text
from rustboard.ui.agreement.coupon_thumbs import CouponThumbs
from rustboard.ui.agreement.differing_list import DIGITS, LETTERS, DifferingList, Row
from rustboard.ui.agreement.dispute_panel import DisputePanel
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.forms.labels import words_label
from rustboard.ui.theme import Scheme
from rustboard.ui.turned_split import turn_split
from rustboard.ui.wording import coupon_title, date_only

_NARROW = 560
_LEAST_PANEL = 260
_LIST_SHARE = 0.38


class CouponsPane(QWidget):
    """List and chosen coupon; keys 0 to 9, T and the letters agree on a grade.

    Attributes:
        list: the coupons. panel: the chosen one.
    """

    def __init__(
        self, session: Session, bridge: JobBridge, do: Do, scheme: Scheme, parent: QWidget | None = None
    ) -> None:
        """Start empty."""
        super().__init__(parent)
        self._session, self._do = session, do
        self._differing: Sequence[Differing] = ()
        self._several = False
        self._filling = False
        self._thumbs = CouponThumbs(session, bridge, self)
        self.heading = QLabel()
        self.heading.setProperty("heading", True)
        self._nothing = words_label(muted=True, narrow=True)
        self.list = DifferingList(self._thumbs, scheme)
        self.panel = DisputePanel(self._thumbs, bridge, scheme)
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 4, 0, 0)
        column.addWidget(self.heading)
        column.addWidget(self._nothing)
        column.addWidget(self.list, 1)
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(left)
        self._split.addWidget(self._rolled(self.panel))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._split)
        self._wire()

    def _rolled(self, panel: QWidget) -> QScrollArea:
        """Return what lets a panel be rolled up and down where the window is low."""
        self._around = QScrollArea()
        self._around.setWidgetResizable(True)
        self._around.setFrameShape(QFrame.Shape.NoFrame)
        self._around.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._around.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._around.setWidget(panel)
        self._around.setMinimumWidth(_LEAST_PANEL)
        return self._around

    def _wire(self) -> None:
        self.list.row_chosen.connect(self._show_chosen)
        self.panel.agreed.connect(self._agree)
        self._thumbs.arrived.connect(self.list.paint_again)
        self._thumbs.arrived.connect(self.panel.show_thumbs)

    def show_differing(self, differing: Sequence[Differing], *, several: bool) -> None:
        """Show the coupons of a study; ``several``: they are of more than one inspection."""
        self._differing, self._several = differing, several
        self.refresh()
        self._thumbs.want((each.coupon, each.inspection) for each in differing)

    def refresh(self) -> None:
        """Show which grades count now."""
        record = self._session.record
        rows = [self._row(each) for each in self._differing if each.coupon in record.coupons]
        count = len(rows)
        if count == 1:
            self.heading.setText(self.tr("1 coupon graded differently"))
        else:
            text = self.tr("They differ {0} times") if self._several else self.tr("{0} coupons graded differently")
            self.heading.setText(text.format(count))
        self.heading.setVisible(bool(rows))
        self._nothing.setText(self.tr("They differ on no coupon."))
        self._nothing.setVisible(not rows)
        self.list.setVisible(bool(rows))
        self._around.setVisible(bool(rows))
        self._filling = True
        self.list.show_rows(rows)
        self._filling = False

    def forget_pictures(self) -> None:
        """Cut the pictures anew."""
        self._thumbs.forget()

    def _row(self, differing: Differing) -> Row:
        record = self._session.record
        coupon = record.coupons[differing.coupon]
        inspection = record.inspections.get(differing.inspection)
        day = date_only(inspection.at) if self._several and inspection is not None else ""
        counts = record.grading(differing.coupon, differing.inspection)
        title = coupon_title(record, coupon)
        return Row(differing, title, day, given_text(differing), counts_text(differing, counts))

    @Slot(int)
    def _show_chosen(self, number: int) -> None:
        row = self.list.row()
        counts = None
        if row is not None:
            counts = self._session.record.grading(*row.subject)
            if not self._filling:  # who chooses a coupon here finds it chosen on the timeline and in the photos
                self._session.selection.choose({row.differing.coupon}, row.differing.coupon)
        self.panel.show_row(row, counts, writable=not self._session.read_only_reason)

    @Slot(int, str)
    def _agree(self, grade: int, letter: str) -> None:
        row = self.list.row()
        if row is not None:
            self._do(agree_grade, row.differing.coupon, row.differing.inspection, grade, letter)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.list.set_scheme(scheme)
        self.panel.set_scheme(scheme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the chosen coupon below the list where it has no room beside it."""
        super().resizeEvent(event)
        turn_split(self._split, event, _NARROW, _LIST_SHARE)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Agree by digit, and press the letters."""
        text = event.text().upper()
        held = event.modifiers() & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier)
        if held or event.isAutoRepeat() or len(text) != 1 or not self.panel.can_agree():
            super().keyPressEvent(event)
        elif text in DIGITS:
            self.panel.agree(10 if text == "T" else int(text))
        elif text in LETTERS:
            self.panel.letters[text].click()
        else:
            super().keyPressEvent(event)
