"""The coupons in their order, least rusted first: picture, grade, strength with its interval, who is like whom."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPixmap
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from rustboard.session.session import Session
from rustboard.session.side_by_side_order import Order, alike, look_again, reason
from rustboard.support.text import printable
from rustboard.ui.side_by_side.delegates import GroupDelegate, Groups, StrengthDelegate
from rustboard.ui.side_by_side.wording import sentence_text
from rustboard.ui.theme import Scheme, grade_colour, grade_ink
from rustboard.ui.wording import grade_text, number, tool_tip

if TYPE_CHECKING:
    from rustboard.findings.side_by_side.order import Misplaced

Index = QModelIndex | QPersistentModelIndex
_DISPLAY = Qt.ItemDataRole.DisplayRole
(PLACE, PICTURE, COUPON, TREATMENT, GRADE, STRENGTH, ALIKE, LOOK) = range(8)
_PICTURE: Final = QSize(58, 46)
_MOST_NAMED: Final = 12


class OrderModel(QAbstractTableModel):
    """One row a coupon, least rusted first."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._session = session
        self.order: Order | None = None
        self._alike: dict[int, tuple[int, ...]] = {}
        self._look: dict[int, Misplaced] = {}
        self._pictures: dict[int, QPixmap] = {}
        self._titles = (
            "",
            self.tr("Picture"),
            self.tr("Coupon"),
            self.tr("Treatment"),
            self.tr("Grade"),
            self.tr("← rustier – less rust →"),
            self.tr("Alike"),
            self.tr("Look again"),
        )

    def show_order(self, order: Order | None) -> None:
        """Show an order, or none."""
        self.beginResetModel()
        self.order = order
        self._alike = {} if order is None else alike(order)
        self._look = {} if order is None else look_again(order)
        self.endResetModel()

    def show_pictures(self, pictures: dict[int, QImage], ratio: float) -> None:
        """Show pictures of the coupons, by key; ``ratio``: px of the screen to one of the window."""
        self._pictures = {}
        for key, image in pictures.items():
            small = image.scaled(
                _PICTURE * ratio, Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
            )
            small.setDevicePixelRatio(ratio)
            self._pictures[key] = QPixmap.fromImage(small)
        if self.rowCount():
            self.dataChanged.emit(self.index(0, PICTURE), self.index(self.rowCount() - 1, PICTURE))

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        """Return the number of coupons."""
        return 0 if parent.isValid() or self.order is None else len(self.order.strengths.order)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        """Return the number of columns."""
        return 0 if parent.isValid() else len(self._titles)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = _DISPLAY) -> Any:
        """Return a column's title."""
        if orientation == Qt.Orientation.Horizontal and role == _DISPLAY:
            return self._titles[section]
        return None

    def data(self, index: Index, role: int = _DISPLAY) -> Any:
        """Return what a cell shows, or is painted with."""
        if self.order is None:
            return None
        key, column = self.order.strengths.order[index.row()].item, index.column()
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self.text(index.row(), column)
        if role == Qt.ItemDataRole.ToolTipRole:
            return tool_tip(self.text(index.row(), column))
        if role == Qt.ItemDataRole.TextAlignmentRole and column in (PLACE, PICTURE, GRADE):
            return Qt.AlignmentFlag.AlignCenter
        if role == Qt.ItemDataRole.DecorationRole and column == PICTURE:
            return self._pictures.get(key)
        if role == _DISPLAY and column == LOOK:
            return self._short(key)
        if role == _DISPLAY and column not in (PICTURE, STRENGTH, ALIKE):
            return self.text(index.row(), column)
        return self._grade_paint(key, role) if column == GRADE else None

    def _grade_paint(self, key: int, role: int) -> QColor | None:
        grade = None if self.order is None else self.order.request.grades.get(key)
        if grade is None or role not in (Qt.ItemDataRole.BackgroundRole, Qt.ItemDataRole.ForegroundRole):
            return None
        return grade_colour(grade) if role == Qt.ItemDataRole.BackgroundRole else grade_ink(grade)

    def text(self, row: int, column: int) -> str:
        """Return what a cell says in words."""
        if self.order is None:
            return ""
        strength = self.order.strengths.order[row]
        record, coupon = self._session.record, self._session.record.coupons.get(strength.item)
        if coupon is None:
            return ""
        if column == PLACE:
            return str(row + 1)
        if column in (COUPON, PICTURE):
            return printable(coupon.id)
        if column == TREATMENT:
            treatment = record.treatment_of(coupon)
            return "" if treatment is None else printable(treatment.title)
        if column == GRADE:
            return grade_text(record.grading(coupon.key, self.order.request.inspection))
        if column == STRENGTH:
            return self.tr("{0}, between {1} and {2}; {3} choices").format(
                number(strength.value), number(strength.low), number(strength.high), strength.choices
            )
        if column == ALIKE:
            return self._alike_text(strength.item)
        misplaced = self._look.get(strength.item)
        return "" if misplaced is None else sentence_text(reason(misplaced))

    def _short(self, key: int) -> str:
        misplaced = self._look.get(key)
        if misplaced is None:
            return ""
        places = abs(misplaced.off_by)
        if misplaced.off_by > 0:
            text = self.tr("1 place rustier") if places == 1 else self.tr("{0} places rustier")
        else:
            text = self.tr("1 place less rusted") if places == 1 else self.tr("{0} places less rusted")
        return text.format(places)

    def _alike_text(self, key: int) -> str:
        others = self._alike.get(key, ())
        if not others:
            return self.tr("told apart from all others")
        names = [self._session.record.coupons[each].id for each in others[:_MOST_NAMED]]
        if len(others) > _MOST_NAMED:
            names.append(self.tr("{0} more").format(len(others) - _MOST_NAMED))
        return printable(self.tr("not told apart from {0}").format(", ".join(names)))


class OrderTable(QTableView):
    """The table of an order."""

    def __init__(self, session: Session, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self.order_model = OrderModel(session, self)
        self._strengths, self._groups = StrengthDelegate(scheme, self), GroupDelegate(scheme, self)
        self.setModel(self.order_model)
        self.setItemDelegateForColumn(STRENGTH, self._strengths)
        self.setItemDelegateForColumn(ALIKE, self._groups)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setWordWrap(True)
        self.setIconSize(_PICTURE)
        self.setAccessibleName(self.tr("Coupons in their order, least rusted first"))
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(max(_PICTURE.height() + 8, self.fontMetrics().height() * 2 + 8))
        header = self.horizontalHeader()
        header.setMinimumSectionSize(30)
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        header.setSectionResizeMode(STRENGTH, QHeaderView.ResizeMode.Stretch)

    def show_order(self, order: Order | None) -> None:
        """Show an order, or none."""
        self.order_model.show_order(order)
        strengths = () if order is None else order.strengths.order
        self._strengths.strengths = strengths
        groups = Groups() if order is None else Groups(order.groups, tuple(each.item for each in strengths))
        self._groups.groups = groups
        letters = self.fontMetrics().averageCharWidth()
        looks = any(self.order_model.text(row, LOOK) for row in range(len(strengths)))
        self.setColumnHidden(LOOK, not looks)
        self.resizeColumnsToContents()
        for column, least, most in (
            (PLACE, 4, 7),
            (COUPON, 8, 16),
            (TREATMENT, 10, 22),
            (GRADE, 7, 9),
            *(((LOOK, 11, 16),) if looks else ()),
        ):
            width = min(max(self.columnWidth(column), least * letters), most * letters)
            self.setColumnWidth(column, max(width, self._title_width(column)))
        self.setColumnWidth(PICTURE, max(_PICTURE.width() + 14, self._title_width(PICTURE)))
        self.setColumnWidth(ALIKE, max(self._groups.width(), self._title_width(ALIKE)))

    def _title_width(self, column: int) -> int:
        return self.horizontalHeader().sectionSizeHint(column) + 6

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._strengths.scheme = self._groups.scheme = scheme
        self.viewport().update()
