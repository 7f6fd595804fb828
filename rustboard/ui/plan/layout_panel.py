"""Layout: grid, lots, drips, edges; and an honest word on what the layout as it hangs keeps and breaks."""

from __future__ import annotations

import secrets
from dataclasses import replace
from typing import Final

from PySide6.QtCore import QCoreApplication, Qt, Slot
from PySide6.QtWidgets import (
    QCheckBox,
    QFrame,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.cells import read_whole
from rustboard.board.layout import LARGEST_SEED, MOST_FREE_ROWS, Layout
from rustboard.board.position import MOST_COLUMNS, MOST_ROWS
from rustboard.operations.boards import edit_board
from rustboard.operations.layouts import draw_board_lots, set_grid, set_layout
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.support.clock import wall_clock
from rustboard.support.problems import InputError
from rustboard.ui.doing import Do
from rustboard.ui.forms.form import ProblemLine, WheelGuard, choice_field, line_field, text_of
from rustboard.ui.forms.labels import add_labelled, panel_form, words_label
from rustboard.ui.plan.layout_choices import COLUMN_WORDS, DRAIN_CHOICES, METHOD_CHOICES
from rustboard.ui.plan.layout_words import layout_lines

_FLAT_OR_UNKNOWN: Final = -1


class LayoutPanel(QWidget):
    """Rules of the layout, the button that draws the lots, and how the board stands to the rules."""

    def __init__(self, session: Session, do: Do, parent: QWidget | None = None) -> None:
        """Show a session's layout."""
        super().__init__(parent)
        self._session, self._do = session, do
        self._shown: Layout = session.record.layout
        self._filling = False
        self._wheel = WheelGuard(self)
        self._rows = _spin(1, MOST_ROWS)
        self._columns = _spin(1, MOST_COLUMNS)
        self._incline = _spin(_FLAT_OR_UNKNOWN, 180, suffix=" °")
        self._incline.setSpecialValueText(self.tr("not known"))
        self._method = choice_field([_say(each.text) for each in METHOD_CHOICES])
        self._method_words = words_label(muted=True)
        self._care = choice_field([_say(each.text) for each in DRAIN_CHOICES])
        self._care_words = words_label(muted=True)
        self._free_rows = _spin(1, MOST_FREE_ROWS)
        self._fair_edges = QCheckBox(self.tr("Spread ed&ge positions fairly"))
        self._seed = line_field("", hint=self.tr("a new number each time"), limit=12)
        self._problem = ProblemLine()
        self._draw = QPushButton(self.tr("&Draw lots"))
        self._draw.setProperty("primary", True)
        self._why_not = words_label(muted=True)
        self._state = words_label()
        self._caution = QFrame()
        self._caution_words = words_label()
        self._build()
        self._wire()
        self.refresh()

    def _build(self) -> None:
        form = panel_form()
        for label, field in (
            (self.tr("&Rows"), self._rows),
            (self.tr("&Columns"), self._columns),
            (self.tr("&Incline"), self._incline),
            (self.tr("Positio&ns"), self._method),
        ):
            add_labelled(form, label, field)
        form.addRow(self._method_words)
        add_labelled(form, self.tr("Drip&s"), self._care)
        form.addRow(self._care_words)
        self._free_label = add_labelled(form, self.tr("Free positi&ons"), self._free_rows)
        form.addRow(self._fair_edges)
        add_labelled(form, self.tr("Lot n&umber"), self._seed)
        self._caution.setProperty("message", "note")
        inside = QVBoxLayout(self._caution)
        inside.setContentsMargins(8, 6, 8, 6)
        inside.addWidget(self._caution_words)
        self._incline.setToolTip(self.tr("0 is flat, 90 upright. On a flat board nothing drips on a neighbour."))
        column = QVBoxLayout(self)
        column.addLayout(form)
        column.addWidget(self._problem)
        column.addWidget(self._draw, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self._why_not)
        column.addWidget(self._caution)
        column.addWidget(self._state)
        column.addStretch(1)
        for each in (self._rows, self._columns, self._incline, self._method, self._care, self._free_rows):
            self._wheel.watch(each)

    def _wire(self) -> None:
        self._rows.valueChanged.connect(self._set_grid)
        self._columns.valueChanged.connect(self._set_grid)
        self._incline.valueChanged.connect(self._set_incline)
        self._method.activated.connect(self._set_layout)
        self._care.activated.connect(self._set_layout)
        self._free_rows.valueChanged.connect(self._set_layout)
        self._fair_edges.clicked.connect(self._set_layout)
        self._draw.clicked.connect(self._draw_lots)
        self._seed.returnPressed.connect(self._draw_lots)

    # ---- what it shows

    def apply(self, changes: ChangeSet) -> None:
        """Show what changed."""
        if changes.touches("board", "coupon", "treatment", "layout", "lot", "inspection", "photo"):
            self.refresh()

    def refresh(self) -> None:
        """Show everything as it is now."""
        record = self._session.record
        layout = self._shown = record.layout
        self._filling = True
        self._rows.setValue(record.board.rows)
        self._columns.setValue(record.board.columns)
        incline = record.board.incline_deg
        self._incline.setValue(_FLAT_OR_UNKNOWN if incline is None else round(incline))
        self._method.setCurrentIndex([each.value for each in METHOD_CHOICES].index(layout.method))
        self._care.setCurrentIndex([each.value for each in DRAIN_CHOICES].index(layout.drain))
        self._free_rows.setValue(layout.free_rows)
        self._fair_edges.setChecked(layout.fair_edges)
        self._filling = False
        in_columns = layout.drain == "columns" and layout.method != "hand"
        words = COLUMN_WORDS if in_columns else METHOD_CHOICES[self._method.currentIndex()].words
        self._method_words.setText(_say(words))
        self._care_words.setText(_say(DRAIN_CHOICES[self._care.currentIndex()].words))
        for each in (self._free_rows, self._free_label):
            each.setVisible(layout.drain == "spacing")
        state, cautions = layout_lines(record)
        self._caution_words.setText("\n".join(f"• {each}" for each in cautions))
        self._caution.setVisible(bool(cautions))
        self._state.setText("\n\n".join(state))
        self._enable()

    def _enable(self) -> None:
        record = self._session.record
        writable = not self._session.read_only_reason
        for each in (self._rows, self._columns, self._incline, self._method, self._care, self._free_rows):
            each.setEnabled(writable)
        by_lot = self._shown.method != "hand"
        begun = record.has_begun(wall_clock())
        self._fair_edges.setEnabled(writable and by_lot)
        self._seed.setEnabled(writable and by_lot and not begun)
        self._draw.setEnabled(writable and by_lot and not begun and bool(record.coupons))
        reason = "" if not (begun and by_lot) else self.tr("Exposure has begun, so lots can no longer be drawn.")
        self._why_not.setText(reason)
        self._why_not.setVisible(bool(reason))
        again = self._shown.seed is not None
        self._draw.setText(self.tr("&Draw lots again") if again else self.tr("&Draw lots"))

    # ---- what the user changes

    @Slot()
    def _set_grid(self) -> None:
        if not self._filling and self._do(set_grid, self._rows.value(), self._columns.value(), origin=self) is None:
            self.refresh()

    @Slot()
    def _set_incline(self) -> None:
        value = self._incline.value()
        board = replace(self._session.record.board, incline_deg=None if value == _FLAT_OR_UNKNOWN else float(value))
        if not self._filling and self._do(edit_board, board, origin=self) is None:
            self.refresh()

    @Slot()
    def _set_layout(self) -> None:
        if self._filling:
            return
        layout = replace(
            self._session.record.layout,
            method=METHOD_CHOICES[self._method.currentIndex()].value,
            drain=DRAIN_CHOICES[self._care.currentIndex()].value,
            free_rows=self._free_rows.value(),
            fair_edges=self._fair_edges.isChecked(),
        )
        if self._do(set_layout, layout, origin=self) is None:
            self.refresh()

    @Slot()
    def _draw_lots(self) -> None:
        self._problem.say("")
        text = text_of(self._seed)
        try:
            seed = read_whole(text) if text else secrets.randbelow(LARGEST_SEED + 1)
            if not 0 <= seed <= LARGEST_SEED:
                raise InputError(self.tr("The lot number is a whole number from 0 to {0}.").format(LARGEST_SEED))
        except InputError as error:
            self._problem.say(error.problem.what)
            self._seed.setFocus()
            return
        self._do(draw_board_lots, seed, origin=self)


def _say(text: str) -> str:
    return QCoreApplication.translate("layout", text)


def _spin(low: int, high: int, suffix: str = "") -> QSpinBox:
    field = QSpinBox()
    field.setRange(low, high)
    field.setSuffix(suffix)
    field.setKeyboardTracking(False)
    field.setMinimumHeight(round(field.fontMetrics().height() * 1.7))
    field.setMaximumWidth(field.fontMetrics().averageCharWidth() * 22)
    return field
