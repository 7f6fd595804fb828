"""The order that came out: the coupons from best to rustiest, and what the order is worth in plain words."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QImage, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.model import Inspection
from rustboard.session.session import Session
from rustboard.session.side_by_side_order import Order, order_of, order_request, order_sentences
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge
from rustboard.ui.forms.labels import words_label
from rustboard.ui.side_by_side.order_table import OrderTable
from rustboard.ui.side_by_side.wording import sentence_text
from rustboard.ui.theme import Scheme
from rustboard.ui.turned_split import turn_split
from rustboard.ui.wording import date_time

_NARROW = 860
_TABLE_SHARE = 0.7


class ResultPage(QWidget):
    """What all graders' choices of an inspection say.

    Signals:
        go_on_asked(): more is to be compared. left(): back to the board. failed(str): a sentence.
    """

    go_on_asked = Signal()
    left = Signal()
    failed = Signal(str)

    def __init__(self, session: Session, bridge: JobBridge, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Build the page; nothing is shown before `show_inspection`."""
        super().__init__(parent)
        self._session, self._bridge = session, bridge
        self._inspection: Inspection | None = None
        self._heading = QLabel()
        self._heading.setProperty("heading", True)
        self._heading.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.go_on = QPushButton(self.tr("Go on comparing"))
        self._back = QPushButton(self.tr("Back to the board"))
        self.table = OrderTable(session, scheme)
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._said: list[QLabel] = []
        self._words = QVBoxLayout()
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self._heading, 1)
        head.addWidget(self.go_on)
        head.addWidget(self._back)
        side = QFrame()
        inside = QVBoxLayout(side)
        inside.setContentsMargins(12, 6, 8, 6)
        self._words.setSpacing(9)
        inside.addLayout(self._words)
        inside.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setAccessibleName(self.tr("What the order says"))
        scroll.setWidget(side)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(self.table)
        self._split.addWidget(scroll)
        self._split.setStretchFactor(0, 5)
        self._split.setStretchFactor(1, 2)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 6, 8, 8)
        column.addLayout(head)
        column.addWidget(self._split, 1)

    def _wire(self) -> None:
        self.go_on.clicked.connect(self.go_on_asked)
        self._back.clicked.connect(self.left)

    def show_inspection(self, inspection: Inspection) -> None:
        """Show the order at an inspection; it is worked out beside the window."""
        if self._inspection is None or self._inspection.key != inspection.key:
            self.table.show_order(None)
            self._say(())
        self._inspection = inspection
        self._heading.setText(self.tr("Order side by side: inspection of {0}").format(date_time(inspection.at)))
        self.go_on.setVisible(not self._session.read_only_reason)
        request = order_request(self._session.record, inspection.key)
        if request is None:
            self.table.show_order(None)
            self._say((self.tr("Nothing was compared at this inspection yet."),))
            return
        if not self.table.order_model.rowCount():
            self._say((self.tr("The order is being worked out…"),))
        self._bridge.start(
            ("side by side order", id(self)), order_of, request, done=self._come, failed=self._refused, owner=self
        )

    def _come(self, order: Order) -> None:
        if self._inspection is None or order.request.inspection != self._inspection.key:
            return
        if not all(key in self._session.record.coupons for key in order.request.coupons):
            return  # taken away meanwhile; it is being worked out anew
        self.table.show_order(order)
        self._say(tuple(map(sentence_text, order_sentences(self._session.record, order))))

    def _refused(self, error: InputError) -> None:
        self.failed.emit(str(error))

    def _say(self, texts: tuple[str, ...]) -> None:
        for label in self._said:
            label.hide()
            label.deleteLater()
        self._said = [words_label(text, narrow=True) for text in texts]
        for place, label in enumerate(self._said):
            label.setProperty("heading", place == 0)
            self._words.addWidget(label)

    def said(self) -> str:
        """Return all sentences, line by line."""
        return "\n".join(each.text() for each in self._said)

    def show_pictures(self, pictures: dict[int, QImage]) -> None:
        """Show pictures of the coupons, by key."""
        self.table.order_model.show_pictures(pictures, self.devicePixelRatioF())

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.table.set_scheme(scheme)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave by Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the sentences below where there is no room beside the table."""
        super().resizeEvent(event)
        turn_split(self._split, event, _NARROW, _TABLE_SHARE)

    @Slot()
    def take_keyboard(self) -> None:
        """Bring the keyboard to the table."""
        self.table.setFocus()
