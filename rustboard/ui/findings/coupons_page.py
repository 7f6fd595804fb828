"""Every coupon with what it came to, and whether it counts."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from rustboard.findings.conclude.findings import Findings
from rustboard.ui.findings.figures_table import FiguresTable
from rustboard.ui.findings.tables_of import coupon_columns, coupon_rows
from rustboard.ui.theme import Scheme


class CouponsPage(QWidget):
    """The coupons.

    Signals:
        leave_out_asked(int), take_back_asked(int): this coupon is to be left out of the findings, or to count again.
        show_asked(object): a frozenset of keys of coupons to show on the board.
        copied(str): what was copied, to be told.

    Attributes:
        figures: the table. leave, take, show_button: what can be done with the chosen coupon.
    """

    leave_out_asked = Signal(int)
    take_back_asked = Signal(int)
    show_asked = Signal(object)
    copied = Signal(str)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._found: Findings | None = None
        self._writable = True
        self.figures = FiguresTable()
        self.figures.describe(
            self.tr("Coupons"),
            self.tr("Choose a figure to read how it was got, or a coupon to leave it out."),
        )
        self.leave = QPushButton(self.tr("Leave out of the findings…"))
        self.take = QPushButton(self.tr("Take back in"))
        self.show_button = QPushButton(self.tr("Show on the board"))
        for each in (self.leave, self.take, self.show_button):
            self.figures.buttons.addWidget(each)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.figures)
        self.setFocusProxy(self.figures.table)
        self._wire()
        self._update()

    def _wire(self) -> None:
        self.figures.chosen.connect(self._update)
        self.figures.opened.connect(self._ask_show)
        self.figures.copied.connect(self.copied)
        self.leave.clicked.connect(self._ask_leave)
        self.take.clicked.connect(self._ask_take)
        self.show_button.clicked.connect(self._ask_show)

    def set_writable(self, writable: bool) -> None:
        """Say whether the board may be changed."""
        self._writable = writable
        self._update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours: those of the window are enough."""

    def show_findings(self, found: Findings) -> None:
        """Show the coupons of findings."""
        self._found = found
        self.figures.show_rows(coupon_columns(found), coupon_rows(found), self.tr("There are no coupons yet."))
        self._update()

    def coupon(self) -> int | None:
        """Return the chosen coupon, or None."""
        row = self.figures.row()
        return None if row is None else next(iter(row.coupons))

    @Slot()
    def _update(self) -> None:
        coupon = self.coupon()
        left_out = {} if self._found is None else self._found.subject.left_out
        self.leave.setEnabled(self._writable and coupon is not None and coupon not in left_out)
        self.take.setEnabled(self._writable and coupon is not None and coupon in left_out)
        self.show_button.setEnabled(coupon is not None)

    @Slot()
    def _ask_leave(self) -> None:
        self.leave_out_asked.emit(self.coupon() or 0)

    @Slot()
    def _ask_take(self) -> None:
        self.take_back_asked.emit(self.coupon() or 0)

    @Slot()
    def _ask_show(self) -> None:
        row = self.figures.row()
        if row is not None:
            self.show_asked.emit(row.coupons)
