"""The fourth step: photos of an old folder, when each was taken, and to which inspection it belongs."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Any, Final

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QPersistentModelIndex, Qt, Signal, Slot
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHeaderView,
    QLabel,
    QListWidget,
    QProgressBar,
    QPushButton,
    QSpinBox,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rustboard.support.text import one_line
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.labels import words_label
from rustboard.ui.importing.words import DATED_BY, count, moment_text, plain_lines, say
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import date_time

if TYPE_CHECKING:
    from rustboard.session.old_grades import DatedPhoto
    from rustboard.session.old_photos import ScannedFolder, ScannedPhoto

_NAME, _TAKEN, _BY, _INSPECTION = range(4)
_MOST_DAYS: Final = 60
_AT: Final = Qt.ItemDataRole.UserRole

_Index = QModelIndex | QPersistentModelIndex


class _Inspections(QStyledItemDelegate):
    """A list of the inspections, in the cell that is edited."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.choices: list[tuple[str, datetime | None]] = []

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: _Index) -> QWidget:
        field = QComboBox(parent)
        field.addItems([text for text, _ in self.choices])
        return field

    def setEditorData(self, editor: QWidget, index: _Index) -> None:
        at = index.data(_AT)
        places = [place for place, (_, each) in enumerate(self.choices) if each == at]
        if isinstance(editor, QComboBox):
            editor.setCurrentIndex(places[0] if places else 0)

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: _Index) -> None:
        if isinstance(editor, QComboBox):
            text, at = self.choices[max(0, editor.currentIndex())]
            model.setData(index, at, _AT)
            model.setData(index, text)


class PhotosPage(QWidget):
    """Photos and their inspections; a page that may be left as it is.

    Signals:
        folder_asked(): a folder is to be chosen. stop_asked(): stop looking through it.
        changed(): photos were found, or tied otherwise.
    """

    folder_asked = Signal()
    stop_asked = Signal()
    changed = Signal()

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without photos."""
        super().__init__(parent)
        self._scanned: tuple[ScannedPhoto, ...] = ()
        self._inspections: list[datetime] = []
        self.choose = QPushButton(self.tr("Choose a &folder…"))
        self.stop = QPushButton(self.tr("&Stop"))
        self.forget = QPushButton(self.tr("With&out photos"))
        self.days = QSpinBox()
        self.table = QTableWidget(0, 4)
        self.problems = QListWidget()
        self.bar = QProgressBar()
        self.told = words_label(narrow=True)
        self._delegate = _Inspections(self)
        self._build()
        self._wire()

    def _build(self) -> None:
        self.days.setRange(0, _MOST_DAYS)
        self.days.setSuffix(self.tr(" days"))
        label = QLabel(self.tr("An inspection at most so far &away:"))
        label.setBuddy(self.days)
        for each in (self.choose, self.stop, self.forget):
            each.setAutoDefault(False)
        self.bar.hide()
        self.stop.setEnabled(False)
        headers = [self.tr("Photo"), self.tr("Taken"), self.tr("Known by"), self.tr("Inspection (can be changed)")]
        self.table.setHorizontalHeaderLabels(headers)
        self.table.setAccessibleName(self.tr("Photos and their inspections"))
        self.table.verticalHeader().hide()
        self.table.setAlternatingRowColors(True)
        self.table.setShowGrid(False)
        self.table.setTabKeyNavigation(False)
        self.table.setItemDelegateForColumn(_INSPECTION, self._delegate)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.AllEditTriggers)
        header = self.table.horizontalHeader()
        header.setHighlightSections(False)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.problems.setAccessibleName(self.tr("Pictures that cannot be used"))
        self.problems.setMaximumHeight(self.fontMetrics().lineSpacing() * 5)
        self.problems.setWordWrap(True)
        self.problems.hide()
        self.told.setProperty("heading", True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(flowing(self.choose, self.stop, self.forget, label, self.days, spacing=8))
        column.addWidget(self.bar)
        column.addWidget(self.table, 1)
        column.addWidget(self.problems)
        column.addWidget(self.told)
        self._follow()

    def _wire(self) -> None:
        self.choose.clicked.connect(self.folder_asked)
        self.stop.clicked.connect(self.stop_asked)
        self.forget.clicked.connect(self.show_none)
        self.days.valueChanged.connect(self._tie_anew)
        self.table.itemChanged.connect(self._take)

    # ---- what is shown

    def say_busy(self, sentence: str, done: int = 0, total: int = 0) -> None:
        """Show how far looking through the folder is, or that nothing goes on."""
        busy = bool(sentence)
        self.bar.setVisible(busy)
        self.bar.setRange(0, total)
        self.bar.setValue(done)
        self.bar.setFormat(sentence)
        self.stop.setEnabled(busy)
        self.choose.setEnabled(not busy)

    def show_inspections(self, inspections: Sequence[datetime]) -> None:
        """Offer other inspections; the photos are tied anew when they differ."""
        if list(inspections) == self._inspections:
            return
        self._inspections = list(inspections)
        own = (self.tr("an inspection of its own"), None)
        self._delegate.choices = [own, *((date_time(each), each) for each in self._inspections)]
        self._tie_anew()

    def show_folder(self, folder: ScannedFolder) -> None:
        """Show the photos of a folder."""
        self._scanned = folder.photos
        self.problems.clear()
        self.problems.addItems(plain_lines([each.sentence() for each in folder.problems]))
        self.problems.setVisible(bool(folder.problems))
        self._tie_anew()

    @Slot()
    def show_none(self) -> None:
        """Go on without photos."""
        self._scanned = ()
        self.problems.clear()
        self.problems.hide()
        self._tie_anew()

    @Slot()
    def _tie_anew(self) -> None:
        from rustboard.session.old_photos import nearest

        self.table.blockSignals(True)  # a cell that is filled is none that a person changed
        self.table.setRowCount(len(self._scanned))
        for row, each in enumerate(self._scanned):
            at = nearest(each.when, self._inspections, self.days.value())
            self._put(row, _NAME, one_line(each.photo.name, 200))
            self._put(row, _TAKEN, moment_text(each.when, has_hour=each.has_hour))
            self._put(row, _BY, say(DATED_BY[each.how]))
            self._put(row, _INSPECTION, date_time(at) if at else self.tr("an inspection of its own"), at, True)
        self.table.blockSignals(False)
        self.table.resizeColumnsToContents()
        self.table.horizontalHeader().setSectionResizeMode(_INSPECTION, QHeaderView.ResizeMode.Stretch)
        widest = self.fontMetrics().averageCharWidth() * 36
        self.table.setColumnWidth(_NAME, min(self.table.columnWidth(_NAME), widest))
        self._take()

    def _put(self, row: int, column: int, text: str, data: Any = None, editable: bool = False) -> None:
        item = QTableWidgetItem(text)
        if not editable:
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
        item.setData(_AT, data)
        self.table.setItem(row, column, item)

    @Slot()
    def _take(self) -> None:
        self._follow()
        self.changed.emit()

    def _follow(self) -> None:
        self.forget.setEnabled(bool(self._scanned))
        if not self._scanned:
            self.told.setText(self.tr("No photos; this step may be left out."))
            return
        tied = sum(each is not None for each in self._at())
        weak = sum(each.how == "file" for each in self._scanned)
        parts = [
            self.tr("Photos: {0}, at an inspection: {1}").format(count(len(self._scanned)), count(tied)),
            self.tr("dated by the file's own time, which copying may change: {0}").format(count(weak))
            if weak
            else "",
        ]
        self.told.setText(", ".join(parts))

    def _at(self) -> list[datetime | None]:
        items = (self.table.item(row, _INSPECTION) for row in range(self.table.rowCount()))
        return [None if item is None else item.data(_AT) for item in items]

    def has_photos(self) -> bool:
        """Return whether there is any photo."""
        return bool(self._scanned)

    def photos(self) -> tuple[DatedPhoto, ...]:
        """Return the photos with their inspections."""
        from rustboard.session.old_grades import DatedPhoto
        from rustboard.session.old_photos import with_time

        pairs = zip(self._scanned, self._at(), strict=True)
        return tuple(DatedPhoto(with_time(each, at), at) for each, at in pairs)
