"""The board screen: inspection line, and below it the tiles or the table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt, Signal, Slot
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.ui.board.canvas import BoardCanvas
from rustboard.ui.board.inspection_bar import InspectionBar
from rustboard.ui.grid.fitting_scroll import FittingScroll
from rustboard.ui.grid.geometry import Place
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.ui.board.table import BoardTable

_STRUCTURE = ("board", "coupon", "treatment", "inspection", "axis_label", "measurement", "left_out")


class BoardScreen(QWidget):
    """Tiles and table of one board.

    Signals:
        coupon_tapped(int): a coupon, by key.
        empty_tapped(object): an empty `Position`.
        walked_to(object): the keyboard walked to a coupon, by key, or to an empty position: None.
        add_inspection_asked(), inspection_chosen(int): from the inspection line.
    """

    coupon_tapped = Signal(int)
    empty_tapped = Signal(object)
    walked_to = Signal(object)
    add_inspection_asked = Signal()
    inspection_chosen = Signal(int)

    def __init__(self, session: Session, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Show a session's board."""
        super().__init__(parent)
        self._session = session
        self.bar = InspectionBar(session)
        self.canvas = BoardCanvas(session, scheme)
        self._scroll = FittingScroll()
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setWidget(self.canvas)
        self._scroll.setAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._table: BoardTable | None = None
        self._hint = QLabel()
        self._hint.setWordWrap(True)
        self._hint.setProperty("muted", True)
        self._hint_button = QPushButton(self.tr("Add inspection…"))
        self._hint_button.setProperty("primary", True)
        self._views = QStackedWidget()
        self._views.addWidget(self._scroll)
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 2, 4, 2)
        column.setSpacing(2)
        column.addWidget(self.bar)
        column.addWidget(self._hint)
        column.addWidget(self._hint_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self._views, 1)
        self._wire()
        self._show_hint()

    def _wire(self) -> None:
        self.canvas.tapped.connect(self._tap)
        self.canvas.walked.connect(self._walk)
        self.canvas.focus_moved.connect(self._bring_into_view)
        self._scroll.room_changed.connect(self._fit)
        self.bar.add_asked.connect(self.add_inspection_asked)
        self.bar.chosen.connect(self.inspection_chosen)
        self._hint_button.clicked.connect(self.add_inspection_asked)

    def _wire_table(self, table: BoardTable) -> None:
        table.tapped.connect(self.coupon_tapped)

    def apply(self, changes: ChangeSet) -> None:
        """Show what changed."""
        if changes.touches(*_STRUCTURE):
            self.reload()
            return
        self.canvas.refresh(changes.coupons)
        self.bar.refresh_count()
        if self._table is not None:
            self._table.board_model.refresh(changes.coupons)

    def reload(self) -> None:
        """Read everything again: another inspection is in view, or coupons came, went or moved."""
        self.bar.reload()
        self.canvas.reload()
        if self._table is not None:
            self._table.reload()
        self._show_hint()

    def selection_changed(self) -> None:
        """Show another choice of coupons."""
        self.canvas.update()
        if self._table is not None:
            self._table.follow_selection()

    def show_table(self, table: bool) -> None:
        """Show the board as a table, or as tiles."""
        if table and self._table is None:
            from rustboard.ui.board.table import BoardTable

            self._table = BoardTable(self._session)
            self._views.addWidget(self._table)
            self._wire_table(self._table)
        if table and self._table is not None:
            self._views.setCurrentWidget(self._table)
            self._table.follow_selection()
            self._table.setFocus()
        else:
            self._views.setCurrentWidget(self._scroll)
            self.canvas.setFocus()

    def is_table(self) -> bool:
        """Return whether the table is showing."""
        return self._table is not None and self._views.currentWidget() is self._table

    def focused_coupon(self) -> int | None:
        """Return the coupon the keyboard is on, in tiles or table, or None."""
        if self.is_table() and self._table is not None:
            return self._table.current_coupon()
        return self.canvas.content.coupon_of(self.canvas.focus_place())

    def show_coupon(self, key: int) -> None:
        """Bring a coupon's tile into view and the keyboard to it."""
        place = self.canvas.content.place_of(key)
        if place is not None:
            self.canvas.put_focus(place)

    def set_pictures(self, pictures: dict[int, QImage], age: str = "") -> None:
        """Show these pictures on the tiles, by coupon key; ``age`` says of which day, when not of this one."""
        self.canvas.set_pictures(pictures, age)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.canvas.set_scheme(scheme)

    def _show_hint(self) -> None:
        record = self._session.record
        hint = ""
        if not record.coupons:
            hint = self.tr(
                "This board is empty. Plan it (F9) to lay a fair board out, or tap a position to add the coupon that "
                "hangs there, with its treatment."
            )
        elif not record.inspections:
            hint = self.tr("No inspection yet. Add one for each visit to the board, then tap the tiles to grade.")
        self._hint.setText(hint)
        self._hint.setVisible(bool(hint))
        writable = not self._session.read_only_reason
        self._hint_button.setVisible(bool(record.coupons) and not record.inspections and writable)

    @Slot(object)
    def _tap(self, place: Place) -> None:
        key = self.canvas.content.coupon_of(place)
        if key is not None:
            self.coupon_tapped.emit(key)
        elif place.position is not None:
            self.empty_tapped.emit(place.position)

    @Slot(object)
    def _walk(self, place: Place) -> None:
        self.walked_to.emit(self.canvas.content.coupon_of(place))

    @Slot(object)
    def _bring_into_view(self, rect: QRectF) -> None:
        centre = rect.center().toPoint()
        self._scroll.ensureVisible(centre.x(), centre.y(), round(rect.width() / 2) + 8, round(rect.height() / 2) + 8)

    @Slot()
    def _fit(self) -> None:
        self.canvas.set_space(self._scroll.room())
