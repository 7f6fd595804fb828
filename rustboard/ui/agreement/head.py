"""The line over the agreement: whose grades are compared, grading the next inspection blind, and the way back."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from rustboard.board.record import BoardRecord
from rustboard.session.agreement import Scope, scopes
from rustboard.ui.agreement.agreement_words import scope_text
from rustboard.ui.theme import px_of_mm

_TOUCH_MM = 9.0


class AgreementHead(QWidget):
    """Says whose grades are compared.

    Signals:
        chosen(): the user chose others. left(): back to the board.
        blind_asked(): the inspection in view is to be graded blind.
    """

    chosen = Signal()
    blind_asked = Signal()
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the line."""
        super().__init__(parent)
        self._scopes: list[Scope] = []
        label = QLabel(self.tr("&Agreement of"))
        label.setProperty("heading", True)
        self.box = QComboBox()
        self.box.setAccessibleName(self.tr("Whose grades are compared"))
        self.box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.box.setMinimumWidth(120)
        self.box.setMaxVisibleItems(20)
        self.box.setMinimumHeight(px_of_mm(self, _TOUCH_MM))
        self.box.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        label.setBuddy(self.box)
        self.state = QLabel()
        self.state.setProperty("muted", True)
        self.state.setTextFormat(Qt.TextFormat.PlainText)
        self.state.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.blind = QPushButton(self.tr("Grade bl&ind…"))
        self.blind.hide()
        self._back = QPushButton(self.tr("Bac&k to the board"))
        row = QHBoxLayout(self)
        row.setContentsMargins(4, 0, 0, 0)
        row.addWidget(label)
        row.addWidget(self.box)
        row.addWidget(self.state, 1)
        row.addWidget(self.blind)
        row.addWidget(self._back)
        self._wire()

    def _wire(self) -> None:
        self.box.activated.connect(self._choose)
        self.blind.clicked.connect(self._ask_blind)
        self._back.clicked.connect(self._leave)

    def show_scopes(self, record: BoardRecord, wanted: Scope | None) -> Scope | None:
        """Show what can be chosen and choose ``wanted``, or the first; return what is chosen, None without any."""
        before = wanted if wanted is not None else self.scope()
        self._scopes = scopes(record)
        texts = [scope_text(record, each) for each in self._scopes]
        if texts != [self.box.itemText(at) for at in range(self.box.count())]:
            self.box.clear()
            self.box.addItems(texts)
        if before in self._scopes:
            self.box.setCurrentIndex(self._scopes.index(before))
        elif self._scopes:
            self.box.setCurrentIndex(0)
        return self.scope()

    def scope(self) -> Scope | None:
        """Return whose grades are chosen, or None where there are none."""
        at = self.box.currentIndex()
        return self._scopes[at] if 0 <= at < len(self._scopes) else None

    def offer_blind(self, offered: bool) -> None:
        """Offer to grade the inspection in view blind, or do not."""
        self.blind.setVisible(offered)

    @Slot()
    def _ask_blind(self) -> None:
        self.blind_asked.emit()

    @Slot()
    def _choose(self) -> None:
        self.chosen.emit()

    @Slot()
    def _leave(self) -> None:
        self.left.emit()
