"""The same board as a table: sortable, readable by screen readers, with the same choice and the same taps."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QSortFilterProxyModel,
    Qt,
    Signal,
    Slot,
)
from PySide6.QtGui import QColor, QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from rustboard.board.damage import Damage
from rustboard.board.damages_noted import damages_at
from rustboard.board.left_out import LeftOut
from rustboard.board.model import Coupon, Grading
from rustboard.board.record import left_out_by_coupon
from rustboard.session.session import Session
from rustboard.support.text import printable
from rustboard.ui.board.tile_view import photo_of_graded
from rustboard.ui.damage_words import noted_text
from rustboard.ui.measured_words import photo_cell
from rustboard.ui.theme import grade_colour, grade_ink
from rustboard.ui.wording import date_only, grade_text, number, tool_tip

Index = QModelIndex | QPersistentModelIndex
_DISPLAY = Qt.ItemDataRole.DisplayRole
SORT_ROLE = int(Qt.ItemDataRole.UserRole)
KEY_ROLE = SORT_ROLE + 1
(POSITION, COUPON, TREATMENT, ROLE, GRADE, PERCENT, GRADER, LAST, LAST_ON, PHOTO, DAMAGE, NOTE) = range(12)


class BoardTableModel(QAbstractTableModel):
    """One row a coupon, in reading order."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Show a session's coupons."""
        super().__init__(parent)
        self._session = session
        self._coupons: list[Coupon] = []
        self._latest: dict[int, Grading] = {}
        self._damage: dict[int, tuple[Damage, ...]] = {}
        self._left_out: dict[int, LeftOut] = {}
        self._titles = (
            self.tr("Position"),
            self.tr("Coupon"),
            self.tr("Treatment"),
            self.tr("Role"),
            self.tr("Grade"),
            self.tr("%"),
            self.tr("By"),
            self.tr("Last"),
            self.tr("Last on"),
            self.tr("Photo"),
            self.tr("Damage"),
            self.tr("Note"),
        )
        self.reload()

    def reload(self) -> None:
        """Read everything again."""
        self.beginResetModel()
        self._coupons = self._session.record.coupons_in_order()
        self._latest = {}
        self._find_latest(frozenset(each.key for each in self._coupons))
        self._find_damage()
        self._left_out = left_out_by_coupon(self._session.record)
        self.endResetModel()

    def _find_latest(self, coupons: frozenset[int]) -> None:
        # Sorting asks for the last grade of every coupon many times over.
        for key in coupons:
            latest = self._session.record.latest(key)
            if latest is None:
                self._latest.pop(key, None)
            else:
                self._latest[key] = latest

    def _find_damage(self) -> None:
        self._damage = damages_at(self._session.record, self._session.selection.inspection or 0)

    def refresh(self, coupons: frozenset[int]) -> None:
        """Say that the grades or the damage of these coupons changed."""
        self._find_latest(coupons)
        self._find_damage()
        for row, coupon in enumerate(self._coupons):
            if coupon.key in coupons:
                self.dataChanged.emit(self.index(row, 0), self.index(row, len(self._titles) - 1))

    def has_damage(self) -> bool:
        """Return whether any damage is noted at the inspection in view."""
        return bool(self._damage)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        """Return the number of coupons."""
        return 0 if parent.isValid() else len(self._coupons)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        """Return the number of columns."""
        return 0 if parent.isValid() else len(self._titles)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = _DISPLAY) -> Any:
        """Return a column's title."""
        if orientation == Qt.Orientation.Horizontal and role == _DISPLAY:
            return self._titles[section]
        return None

    def data(self, index: Index, role: int = _DISPLAY) -> Any:
        """Return what a cell shows, sorts by, or is painted with."""
        coupon = self._coupons[index.row()]
        if role == KEY_ROLE:
            return coupon.key
        if role in (_DISPLAY, Qt.ItemDataRole.AccessibleTextRole):
            return printable(self._text(coupon, index.column()))
        if role == Qt.ItemDataRole.ToolTipRole:
            return tool_tip(self._tip(coupon, index.column()))
        if role == SORT_ROLE:
            return self._sort_value(coupon, index.column(), index.row())
        if index.column() == GRADE:
            return self._grade_paint(coupon, role)
        return None

    def _grading(self, coupon: Coupon) -> Any:
        return self._session.record.grading(coupon.key, self._session.selection.inspection or 0)

    def _text(self, coupon: Coupon, column: int) -> str:
        record = self._session.record
        if column == POSITION:
            return coupon.position.label if coupon.position is not None else self.tr("off")
        if column == COUPON:
            return coupon.id
        if column == TREATMENT:
            treatment = record.treatment_of(coupon)
            return treatment.title if treatment is not None else ""
        if column == ROLE:
            return self._role_text(coupon)
        if column in (LAST, LAST_ON):
            latest = self._latest.get(coupon.key)
            if latest is None:
                return "–"
            return grade_text(latest) if column == LAST else date_only(record.inspections[latest.inspection].at)
        if column == DAMAGE:
            return noted_text(self._damage.get(coupon.key, ()))
        return self._grading_text(coupon, column)

    def _role_text(self, coupon: Coupon) -> str:
        if coupon.key not in self._left_out:
            return self.tr("control") if coupon.role == "control" else self.tr("test")
        return self.tr("control, left out") if coupon.role == "control" else self.tr("test, left out")

    def _tip(self, coupon: Coupon, column: int) -> str:
        text, left_out = self._text(coupon, column), self._left_out.get(coupon.key)
        if column != ROLE or left_out is None:
            return text
        return self.tr("{0} of the findings: {1}").format(text, left_out.reason)

    def _grading_text(self, coupon: Coupon, column: int) -> str:
        grading = self._grading(coupon)
        if grading is None:
            return "–" if column == GRADE else ""
        if column == GRADE:
            return grade_text(grading)
        if column == PHOTO:
            found = photo_of_graded(self._session.record, coupon.key, grading)
            return "" if found is None or found.percent is None else photo_cell(found)
        if column == PERCENT:
            return "" if grading.percent is None else number(grading.percent, 3)
        return str(grading.grader if column == GRADER else grading.note)

    def _sort_value(self, coupon: Coupon, column: int, row: int) -> Any:
        if column == POSITION:
            return row
        if column in (GRADE, PERCENT):
            grading = self._grading(coupon)
            value = None if grading is None else grading.grade if column == GRADE else grading.percent
            return -1.0 if value is None else float(value)
        if column == PHOTO:
            found = photo_of_graded(self._session.record, coupon.key, self._grading(coupon))
            return -1.0 if found is None or found.percent is None else found.percent
        if column in (LAST, LAST_ON):
            latest = self._latest.get(coupon.key)
            if latest is None:
                return -1 if column == LAST else ""
            return (
                latest.grade if column == LAST else self._session.record.inspections[latest.inspection].at.isoformat()
            )
        return self._text(coupon, column).casefold()

    def _grade_paint(self, coupon: Coupon, role: int) -> Any:
        grading = self._grading(coupon)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignCenter
        if grading is None:
            return None
        if role == Qt.ItemDataRole.BackgroundRole:
            return QColor(grade_colour(grading.grade))
        if role == Qt.ItemDataRole.ForegroundRole:
            return QColor(grade_ink(grading.grade))
        return None


class BoardTable(QTableView):
    """The table view of the board.

    Signals:
        tapped(int): Enter or a double click on a coupon, by key.
    """

    tapped = Signal(int)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Show a session's coupons."""
        super().__init__(parent)
        self._session = session
        self._following = False
        self.board_model = BoardTableModel(session, self)
        self._sorted = QSortFilterProxyModel(self)
        self._sorted.setSourceModel(self.board_model)
        self._sorted.setSortRole(SORT_ROLE)
        self.setModel(self._sorted)
        self.setSortingEnabled(True)
        self.sortByColumn(POSITION, Qt.SortOrder.AscendingOrder)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setAlternatingRowColors(True)
        self.setTabKeyNavigation(False)
        self.setAccessibleName(self.tr("The board as a table"))
        self.verticalHeader().hide()
        header = self.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        header.setMaximumSectionSize(240)
        header.setStretchLastSection(True)
        self.resizeColumnsToContents()
        self._wire()
        self._share_columns()

    def _wire(self) -> None:
        self.activated.connect(self._tap)
        self.selectionModel().selectionChanged.connect(self._choose)
        self.selectionModel().currentChanged.connect(self._choose)
        self.board_model.dataChanged.connect(self._share_columns)
        self.board_model.modelReset.connect(self._share_columns)

    @Slot()
    def _share_columns(self) -> None:
        """Show the column for damage while there is any, or it would only push the notes away."""
        hidden = not self.board_model.has_damage()
        if hidden != self.isColumnHidden(DAMAGE):
            self.setColumnHidden(DAMAGE, hidden)
            self.resizeColumnToContents(DAMAGE)

    def reload(self) -> None:
        """Read everything again, and keep the choice."""
        self.board_model.reload()
        self.resizeColumnsToContents()
        self.follow_selection()

    def follow_selection(self) -> None:
        """Mark the rows of the chosen coupons, and bring the keyboard to the one it is on."""
        wanted, focus = self._session.selection.coupons, self._session.selection.focus
        if wanted == self._chosen() and focus == self.current_coupon():
            return
        flags = QItemSelectionModel.SelectionFlag
        chosen = QItemSelection()
        self._following = True
        for row in range(self._sorted.rowCount()):
            index = self._sorted.index(row, 0)
            if index.data(KEY_ROLE) in wanted:
                chosen.select(index, index)
            if index.data(KEY_ROLE) == focus:
                self.selectionModel().setCurrentIndex(index, flags.NoUpdate)
                self.scrollTo(index)
        self.selectionModel().select(chosen, flags.ClearAndSelect | flags.Rows)
        self._following = False

    def _chosen(self) -> frozenset[int]:
        return frozenset(index.data(KEY_ROLE) for index in self.selectionModel().selectedRows())

    def current_coupon(self) -> int | None:
        """Return the key of the coupon the keyboard is on, or None."""
        index = self.currentIndex()
        return index.data(KEY_ROLE) if index.isValid() else None

    @Slot(QModelIndex)
    def _tap(self, index: QModelIndex) -> None:
        self.tapped.emit(index.data(KEY_ROLE))

    @Slot()
    def _choose(self) -> None:
        if not self._following:
            chosen, current = self._chosen(), self.current_coupon()
            self._session.selection.choose(chosen, current if current in chosen else None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter for a tap on every platform; Qt leaves that to the desktop's style."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            self._tap(self.currentIndex())
            return
        super().keyPressEvent(event)
