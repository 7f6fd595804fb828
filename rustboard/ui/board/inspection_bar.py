"""Which inspection is in view: back, list, forward, add; and how many coupons are graded at it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QToolButton, QWidget

from rustboard.session.session import Session
from rustboard.ui.wording import date_time, day_text


class InspectionBar(QWidget):
    """The line above the board.

    Signals:
        chosen(int): key of the inspection the user wants in view.
        add_asked(): a new inspection is wanted.
    """

    chosen = Signal(int)
    add_asked = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Show a session's inspections."""
        super().__init__(parent)
        self._session = session
        self._keys: list[int] = []
        self._back = QToolButton()
        self._back.setArrowType(Qt.ArrowType.LeftArrow)
        self._back.setAccessibleName(self.tr("Earlier inspection"))
        self._back.setToolTip(self.tr("Earlier inspection"))
        self._list = QComboBox()
        self._list.setAccessibleName(self.tr("Inspection in view"))
        self._list.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self._list.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self._list.setMinimumWidth(90)
        self._list.setMaxVisibleItems(20)
        self._forward = QToolButton()
        self._forward.setArrowType(Qt.ArrowType.RightArrow)
        self._forward.setAccessibleName(self.tr("Later inspection"))
        self._forward.setToolTip(self.tr("Later inspection"))
        self._count = QLabel()
        self._count.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self._add = QPushButton(self.tr("Add inspection…"))
        self._add.setEnabled(not session.read_only_reason)
        row = QHBoxLayout(self)
        row.setContentsMargins(6, 2, 6, 4)
        for each in (self._back, self._list, self._forward, self._count, self._add):
            row.addWidget(each)
        self._wire()
        self.reload()

    def _wire(self) -> None:
        self._back.clicked.connect(self._go_back)
        self._forward.clicked.connect(self._go_forward)
        self._list.activated.connect(self._go_to)
        self._add.clicked.connect(self.add_asked)

    def reload(self) -> None:
        """Read the inspections again."""
        record = self._session.record
        inspections = record.inspections_in_order()
        keys = [each.key for each in inspections]
        texts = [
            self.tr("{0}  ·  {1}").format(date_time(each.at), day_text(record.day_of(each.at)))
            for each in inspections
        ]
        shown = [self._list.itemText(at) for at in range(self._list.count())]
        if keys != self._keys or texts != shown:
            self._keys = keys
            self._list.clear()
            self._list.addItems(texts)
        self._list.setEnabled(bool(keys))
        if not keys:
            self._list.addItem(self.tr("No inspection yet"))
        self._show_current()

    def refresh_count(self) -> None:
        """Count again how many coupons are graded."""
        self._show_current()

    def _show_current(self) -> None:
        record, inspection = self._session.record, self._session.selection.inspection
        at = self._keys.index(inspection) if inspection in self._keys else -1
        if self._keys:
            self._list.setCurrentIndex(at)
        self._back.setEnabled(at > 0)
        self._forward.setEnabled(0 <= at < len(self._keys) - 1)
        if inspection is None or at < 0:
            self._count.setText("")
            return
        hanging = sum(each.position is not None for each in record.coupons.values())
        graded = hanging - len(record.ungraded(inspection))
        self._count.setText(self.tr("{0} of {1} graded").format(graded, hanging))

    def _go(self, by: int) -> None:
        inspection = self._session.selection.inspection
        if inspection in self._keys:
            at = self._keys.index(inspection) + by
            if 0 <= at < len(self._keys):
                self.chosen.emit(self._keys[at])

    @Slot()
    def _go_back(self) -> None:
        self._go(-1)

    @Slot()
    def _go_forward(self) -> None:
        self._go(1)

    @Slot(int)
    def _go_to(self, at: int) -> None:
        if 0 <= at < len(self._keys):
            self.chosen.emit(self._keys[at])
