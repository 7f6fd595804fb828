"""The first step: which sheet, where its header is, what its columns hold, and which cells cannot be used."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtCore import QT_TRANSLATE_NOOP, QSignalBlocker, Signal, Slot
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit, QListWidget, QSpinBox, QTabWidget, QVBoxLayout, QWidget

from rustboard.support.problems import InputError
from rustboard.support.text import one_line
from rustboard.ui.flow_layout import FlowLayout
from rustboard.ui.forms.form import WheelGuard
from rustboard.ui.forms.labels import words_label
from rustboard.ui.forms.sentences import Sentences
from rustboard.ui.importing.preview import MOST_COLUMNS_SHOWN, Preview
from rustboard.ui.importing.words import count, plain_lines, say, told_of
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.board.old_grades.layout import OldLayout
    from rustboard.session.old_grades import OldFile, OldTable

_ORDERS = (
    (QT_TRANSLATE_NOOP("importing", "choose…"), ""),
    (QT_TRANSLATE_NOOP("importing", "day first (02.03. = 2 March)"), "day first"),
    (QT_TRANSLATE_NOOP("importing", "month first (02/03 = 3 February)"), "month first"),
)
_SCALES = (
    (QT_TRANSLATE_NOOP("importing", "rust grades, 10 = no rust"), "grades"),
    (QT_TRANSLATE_NOOP("importing", "percents rusted"), "percents"),
    (QT_TRANSLATE_NOOP("importing", "another scale"), "another"),
)
_HALVES = (
    (QT_TRANSLATE_NOOP("importing", "refused"), "refused"),
    (QT_TRANSLATE_NOOP("importing", "rounded down"), "rounded down"),
)
_MARKS = (
    (QT_TRANSLATE_NOOP("importing", "comma"), ","),
    (QT_TRANSLATE_NOOP("importing", "semicolon"), ";"),
    (QT_TRANSLATE_NOOP("importing", "tab"), "\t"),
)


class ColumnsPage(QWidget):
    """Shows how a table is understood, and lets a person say otherwise.

    Signals:
        layout_changed(object): an `OldLayout` by which the table is to be read anew.
        sheet_chosen(str): another sheet is wanted. delimiter_chosen(str): another mark between the cells.
    """

    layout_changed = Signal(object)
    sheet_chosen = Signal(str)
    delimiter_chosen = Signal(str)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without a table."""
        super().__init__(parent)
        self.table: OldTable | None = None
        self.sheet, self.delimiter = QComboBox(), _choice(_MARKS)
        self.header_row = QSpinBox()
        self.order, self.scale, self.halves = _choice(_ORDERS), _choice(_SCALES), _choice(_HALVES)
        self.day_zero = QLineEdit()
        self.doubts = Sentences()
        self.preview = Preview(scheme)
        self.bad, self.skipped = QListWidget(), QListWidget()
        self._tabs = QTabWidget()
        self.told = words_label(narrow=True)
        self._wheel = WheelGuard(self)
        self._build()
        self._wire()

    def _build(self) -> None:
        self.header_row.setRange(0, 1_048_576)
        self.header_row.setKeyboardTracking(False)
        self.day_zero.setPlaceholderText(self.tr("such as 2026-03-02"))
        self.told.setProperty("heading", True)
        top = QWidget()
        fields = FlowLayout(top, 10)
        self._parts = {
            name: self._labelled(text, field, fields)
            for name, text, field in (
                ("sheet", self.tr("&Sheet"), self.sheet),
                ("delimiter", self.tr("Between &cells"), self.delimiter),
                ("header", self.tr("&Header ends in row"), self.header_row),
                ("order", self.tr("&Dates"), self.order),
                ("zero", self.tr("Day &0 was on"), self.day_zero),
                ("scale", self.tr("&Grades are"), self.scale),
                ("halves", self.tr("Hal&f grades (8.5) are"), self.halves),
            )
        }
        for each, name in (
            (self.bad, self.tr("Cells that cannot be used")),
            (self.skipped, self.tr("Rows that are no coupons")),
        ):
            each.setAccessibleName(name)
            each.setWordWrap(True)
            each.setAlternatingRowColors(True)
        self._tabs.addTab(self.preview, self.tr("First &rows"))
        self._tabs.addTab(self.bad, "")
        self._tabs.addTab(self.skipped, "")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(top)
        column.addWidget(self.doubts)
        column.addWidget(self._tabs, 1)
        column.addWidget(self.told)

    def _labelled(self, text: str, field: QWidget, row: FlowLayout) -> QWidget:
        part = QWidget()
        inside = FlowLayout(part, 4)
        label = QLabel(text)
        label.setBuddy(field)
        self._wheel.watch(field)
        inside.addWidget(label)
        inside.addWidget(field)
        row.addWidget(part)
        return part

    def _wire(self) -> None:
        self.sheet.currentIndexChanged.connect(self._choose_sheet)
        self.delimiter.currentIndexChanged.connect(self._choose_delimiter)
        self.header_row.valueChanged.connect(self._move_header)
        self.preview.meaning_chosen.connect(self._choose_meaning)
        self.day_zero.editingFinished.connect(self._take_fields)
        for each in (self.order, self.scale, self.halves):
            each.currentIndexChanged.connect(self._take_fields)

    # ---- what is shown

    def show_file(self, file: OldFile) -> None:
        """Offer the sheets of a file."""
        with QSignalBlocker(self.sheet):
            self.sheet.clear()
            for each in file.sheets:
                shown = self.tr("{0} (hidden)").format(each) if each in file.hidden else each
                self.sheet.addItem(plain_lines([shown])[0], each)
            self.sheet.setCurrentIndex(self.sheet.findData(file.likely))
        self._parts["sheet"].setVisible(len(file.sheets) > 1)
        self._parts["delimiter"].setVisible(not file.sheets)

    def show_table(self, table: OldTable) -> None:
        """Show how a table was read."""
        self.table = table
        reading = table.reading
        self._show_fields(reading.layout)
        with QSignalBlocker(self.delimiter):
            self.delimiter.setCurrentIndex(self.delimiter.findData(reading.grid.delimiter))
        self.doubts.show_sentences([each.sentence for each in reading.doubts])
        self.preview.show_reading(reading)
        self._list(self.bad, 1, self.tr("Cannot be &used"), [each.sentence() for each in reading.problems])
        self._list(self.skipped, 2, self.tr("&Left out"), [each.sentence() for each in reading.skipped])
        more = len(reading.layout.columns) - MOST_COLUMNS_SHOWN
        beyond = self.tr("{0} more columns are not shown.").format(count(more)) if more > 0 else ""
        self.told.setText(" ".join(filter(None, (told_of(reading), beyond))))
        about = {each.about for each in reading.doubts}
        self._parts["order"].setVisible(reading.layout.date_order is not None or "order" in about)
        self._parts["zero"].setVisible(reading.layout.day_zero is not None or "beginning" in about)

    def _show_fields(self, layout: OldLayout) -> None:
        for field, value in (
            (self.order, layout.date_order or ""),
            (self.scale, layout.scale),
            (self.halves, layout.halves),
        ):
            with QSignalBlocker(field):
                field.setCurrentIndex(field.findData(value))
        with QSignalBlocker(self.header_row):
            self.header_row.setValue(layout.header_row)
        if layout.day_zero is not None:
            self.day_zero.setText(layout.day_zero.isoformat())

    def _list(self, field: QListWidget, tab: int, title: str, sentences: Sequence[str]) -> None:
        field.clear()
        field.addItems(plain_lines(sentences))
        self._tabs.setTabText(tab, f"{title} ({count(len(sentences))})" if sentences else title)

    # ---- gestures

    @Slot()
    def _choose_sheet(self) -> None:
        self.sheet_chosen.emit(self.sheet.currentData())

    @Slot()
    def _choose_delimiter(self) -> None:
        self.delimiter_chosen.emit(self.delimiter.currentData())

    @Slot()
    def _move_header(self) -> None:
        from rustboard.board.old_grades.guess import layout_at

        if self.table is not None:
            old = self.table.reading.layout
            fresh = layout_at(self.table.reading.grid, self.header_row.value())
            self.layout_changed.emit(replace(fresh, scale=old.scale, halves=old.halves, day_zero=old.day_zero))

    @Slot(int, str)
    def _choose_meaning(self, place: int, meaning: str) -> None:
        from rustboard.board.old_grades.guess import with_meaning

        if self.table is not None:
            reading = self.table.reading
            self.layout_changed.emit(with_meaning(reading.grid, reading.layout, place, meaning))  # type: ignore[arg-type]

    @Slot()
    def _take_fields(self) -> None:
        if self.table is None:
            return
        old = self.table.reading.layout
        fresh = replace(
            old,
            date_order=self.order.currentData() or None,
            scale=self.scale.currentData(),
            halves=self.halves.currentData(),
            day_zero=self._said_zero() or old.day_zero,
        )
        if fresh != old:
            self.layout_changed.emit(fresh)

    def _said_zero(self) -> date | None:
        from rustboard.board.old_grades.dates import moment, read_day

        try:
            return moment(read_day(one_line(self.day_zero.text())), "day first", None).when.date()
        except InputError:
            return None  # the question stays


def _choice(items: Sequence[tuple[object, str]]) -> QComboBox:
    field = QComboBox()
    for text, value in items:
        field.addItem(say(text), value)
    return field
