"""Pairs of treatments to compare: a list, and two treatments to add another pair from."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import (
    QAbstractItemView,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.cells import identity
from rustboard.board.model import Treatment
from rustboard.support.text import printable
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.form import WheelGuard, choice_field
from rustboard.ui.forms.labels import words_label

Pairs = tuple[tuple[str, str], ...]
_LINES_SEEN = 5


class PairsEditor(QWidget):
    """The pairs of a question.

    Signals:
        pairs_asked(object): these pairs are wanted, a tuple of pairs of ids.
    """

    pairs_asked = Signal(object)

    def __init__(self, wheel: WheelGuard, parent: QWidget | None = None) -> None:
        """Build an empty list."""
        super().__init__(parent)
        self._pairs: Pairs = ()
        self._list = QListWidget()
        self._one, self._other = choice_field(), choice_field()
        self._add = QPushButton(self.tr("A&dd pair"))
        self._remove = QPushButton(self.tr("Ta&ke pair out"))
        self._empty = words_label(self.tr("No pair is chosen yet; choose two treatments and add them."), muted=True)
        self._build(wheel)
        self._wire()

    def _build(self, wheel: WheelGuard) -> None:
        self._list.setAccessibleName(self.tr("Pairs to compare"))
        self._list.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self._list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._list.setTextElideMode(Qt.TextElideMode.ElideRight)
        self._list.setFixedHeight(self._list.fontMetrics().lineSpacing() * _LINES_SEEN + 16)
        self._one.setAccessibleName(self.tr("First treatment of a pair"))
        self._other.setAccessibleName(self.tr("Second treatment of a pair"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._empty)
        column.addWidget(self._list)
        column.addWidget(self._one)
        column.addWidget(QLabel(self.tr("with")))
        column.addWidget(self._other)
        column.addWidget(flowing(self._add, self._remove, spacing=6))
        for each in (self._one, self._other):
            wheel.watch(each)

    def _wire(self) -> None:
        self._add.clicked.connect(self._add_pair)
        self._remove.clicked.connect(self._remove_pairs)
        self._one.currentIndexChanged.connect(self._enable)
        self._other.currentIndexChanged.connect(self._enable)
        self._list.itemSelectionChanged.connect(self._enable)

    def show_pairs(self, pairs: Pairs, treatments: Sequence[Treatment], *, writable: bool) -> None:
        """Show pairs of these treatments."""
        self._pairs = pairs
        titles = {identity(each.id): title for each in treatments if (title := _title(each))}
        for place, field in enumerate((self._one, self._other)):
            chosen = field.currentData()
            field.clear()
            for each in treatments:
                field.addItem(_title(each), each.id)
            found = field.findData(chosen)
            field.setCurrentIndex(found if found >= 0 else min(place, len(treatments) - 1))
            field.setEnabled(writable)
        self._list.clear()
        for one, other in pairs:
            names = [titles.get(identity(each)) or self.tr("{0} (gone)").format(each) for each in (one, other)]
            self._list.addItem(QListWidgetItem(printable(self.tr("{0} with {1}").format(*names))))
        self._list.setVisible(bool(pairs))
        self._remove.setVisible(bool(pairs))
        self._empty.setVisible(not pairs)
        self._enable()

    @Slot()
    def _enable(self) -> None:
        one, other = self._one.currentData(), self._other.currentData()
        alike = one is None or other is None or one == other
        there = {frozenset(map(identity, each)) for each in self._pairs}
        writable = self._one.isEnabled()
        self._add.setEnabled(writable and not alike and frozenset({identity(one), identity(other)}) not in there)
        self._remove.setEnabled(writable and bool(self._list.selectedItems()))

    @Slot()
    def _add_pair(self) -> None:
        self.pairs_asked.emit((*self._pairs, (self._one.currentData(), self._other.currentData())))

    @Slot()
    def _remove_pairs(self) -> None:
        gone = {self._list.row(each) for each in self._list.selectedItems()}
        self.pairs_asked.emit(tuple(pair for place, pair in enumerate(self._pairs) if place not in gone))


def _title(treatment: Treatment) -> str:
    return printable(f"{treatment.id} · {treatment.name}" if treatment.name else treatment.id)
