"""Paper: sizes of board and coupons, holes and markers, and the way to maps, labels and sheets."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from rustboard.board.record import BoardRecord
from rustboard.board.setting_out import on_a_marker
from rustboard.operations.boards import edit_board
from rustboard.operations.layouts import place_markers, remove_markers, set_layout, set_out_coupons
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.support.text import some_of
from rustboard.ui.doing import Do
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.form import ProblemLine, WrongFieldError
from rustboard.ui.forms.labels import add_labelled, panel_form, words_label
from rustboard.ui.forms.numbers import number_field, number_in, shown_number

_USUAL_MARKER_MM: Final = 30.0
_FIELD_IN_LETTERS: Final = 8
_MOST_NAMED: Final = 12


class PaperPanel(QWidget):
    """What must be known for a map at true scale, and the button to preview and print.

    Signals:
        paper_asked(): the pages are wanted.
    """

    paper_asked = Signal()

    def __init__(self, session: Session, do: Do, parent: QWidget | None = None) -> None:
        """Show a session's sizes."""
        super().__init__(parent)
        self._session, self._do = session, do
        fields = [number_field(None, letters=_FIELD_IN_LETTERS) for _ in range(6)]
        self._board_width, self._board_height, self._coupon_width, self._coupon_height, self._hole, self._marker = (
            fields
        )
        self._set_out = QPushButton(self.tr("Set &out the coupons"))
        self._set_out_words = words_label(muted=True)
        self._place = QPushButton(self.tr("P&lace four markers"))
        self._remove = QPushButton(self.tr("Remove marker&s"))
        self._marker_words = words_label(muted=True)
        self._covered = ProblemLine()
        self._problem = ProblemLine()
        self._print = QPushButton(self.tr("Preview a&nd print…"))
        self._build()
        self._wire()
        self.refresh()

    def _build(self) -> None:
        self._print.setProperty("primary", True)
        sizes, markers = panel_form(), panel_form()
        board = self._pair(self._board_width, self._board_height, self.tr("Board"))
        add_labelled(sizes, self.tr("Board, &width × height"), board, self._board_width)
        coupon = self._pair(self._coupon_width, self._coupon_height, self.tr("Coupon"))
        add_labelled(sizes, self.tr("&Coupon, width × height"), coupon, self._coupon_width)
        add_labelled(sizes, self.tr("Hole below its top ed&ge"), _with_unit(self._hole, self.tr("mm")), self._hole)
        self._hole.setAccessibleName(self.tr("Hole below the coupon's top edge in mm"))
        marker = _with_unit(self._marker, self.tr("mm"))
        add_labelled(markers, self.tr("Marker, si&de of the square"), marker, self._marker)
        self._marker.setAccessibleName(self.tr("Marker size in mm"))
        column = QVBoxLayout(self)
        column.addWidget(_kinds_of_sheets(self._sheet_texts()))
        column.addWidget(self._print, 0, Qt.AlignmentFlag.AlignLeft)
        column.addSpacing(10)
        column.addLayout(sizes)
        column.addWidget(self._set_out, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self._set_out_words)
        column.addSpacing(6)
        column.addLayout(markers)
        column.addWidget(flowing(self._place, self._remove))
        column.addWidget(self._marker_words)
        column.addWidget(self._covered)
        column.addWidget(self._problem)
        column.addStretch(1)

    def _sheet_texts(self) -> list[tuple[str, str]]:
        return [
            (self.tr("Board map"), self.tr("at true scale over as many sheets as it takes, with marks to drill by")),
            (self.tr("Labels"), self.tr("with position, id and a code to scan, to be cut apart")),
            (self.tr("Corner markers"), self.tr("four printed squares by which photos are straightened")),
            (self.tr("Grading sheets"), self.tr("blank, to write grades at the board, without treatment names")),
        ]

    def _pair(self, width: QLineEdit, height: QLineEdit, name: str) -> QWidget:
        width.setAccessibleName(self.tr("{0}: width in mm").format(name))
        height.setAccessibleName(self.tr("{0}: height in mm").format(name))
        return _beside(width, QLabel("×"), height, QLabel(self.tr("mm")))

    def _wire(self) -> None:
        self._board_width.editingFinished.connect(self._set_board)
        self._board_height.editingFinished.connect(self._set_board)
        for field in (self._coupon_width, self._coupon_height, self._hole):
            field.editingFinished.connect(self._set_layout)
        self._marker.editingFinished.connect(self._check_marker)
        self._set_out.clicked.connect(self._set_out_all)
        self._place.clicked.connect(self._place_markers)
        self._remove.clicked.connect(self._remove_markers)
        self._print.clicked.connect(self.paper_asked)

    # ---- what it shows

    def apply(self, changes: ChangeSet) -> None:
        """Show what changed."""
        if changes.touches("board", "coupon", "layout"):
            self.refresh()

    def refresh(self) -> None:
        """Show everything as it is now."""
        record = self._session.record
        board, layout = record.board, record.layout
        for field, value in (
            (self._board_width, board.width_mm or None),
            (self._board_height, board.height_mm or None),
            (self._coupon_width, layout.coupon_width_mm or None),
            (self._coupon_height, layout.coupon_height_mm or None),
            (self._hole, layout.hole_below_top_mm),
        ):
            _show(field, value)
        if record.markers or not self._marker.text():
            _show(self._marker, record.markers[0].size_mm if record.markers else _USUAL_MARKER_MM)
        self._problem.say("")
        self._set_out_words.setText(self._outline_words(record))
        self._marker_words.setText(self._marker_state(record))
        self._covered.say(self._covered_words(record))
        self._enable(record)

    def _outline_words(self, record: BoardRecord) -> str:
        hanging = [each for each in record.coupons.values() if each.position is not None]
        outlined = sum(bool(each.outline_mm) for each in hanging)
        if not hanging:
            return self.tr("No coupon hangs on this board yet.")
        if record.photos:
            return self.tr("The board has photos, which show where its coupons are; their outlines stay as they are.")
        return self.tr(
            "Setting out puts an outline of this size in the middle of every coupon's position. {0} of {1} coupons "
            "have an outline; the map at true scale shows those."
        ).format(outlined, len(hanging))

    def _marker_state(self, record: BoardRecord) -> str:
        if record.markers:
            return self.tr("The board has {0} markers.").format(len(record.markers))
        return self.tr(
            "The board has no markers: photos of it cannot be straightened by themselves. Markers are placed in the "
            "four corners; the board's size must be known."
        )

    def _covered_words(self, record: BoardRecord) -> str:
        """Return which coupons lie under a marker, and what to do; nothing when none does."""
        coupons = [each for each in record.coupons_in_order() if each.position is not None]
        covered = [each.id for each in coupons if on_a_marker(each.outline_mm, record.markers)]
        if not covered:
            return ""
        names = some_of(covered, _MOST_NAMED)
        if record.photos:
            return self.tr("Markers, with the white around them, would lie over coupons: {0}.").format(names)
        return self.tr(
            "Markers, with the white around them, lie over coupons: {0}. Set out the coupons again, make the markers "
            "smaller, or hang these coupons elsewhere."
        ).format(names)

    def _enable(self, record: BoardRecord) -> None:
        writable = not self._session.read_only_reason
        fields = (self._board_width, self._board_height, self._coupon_width, self._coupon_height, self._hole)
        for each in (*fields, self._marker):
            each.setEnabled(writable)
        board_known = bool(record.board.width_mm and record.board.height_mm)
        layout = record.layout
        coupon_known = bool(layout.coupon_width_mm and layout.coupon_height_mm)
        hangs = any(each.position is not None for each in record.coupons.values())
        self._set_out.setEnabled(writable and board_known and coupon_known and hangs and not record.photos)
        self._place.setEnabled(writable and board_known)
        self._place.setText(self.tr("P&lace them again") if record.markers else self.tr("P&lace four markers"))
        self._remove.setEnabled(writable and bool(record.markers))

    # ---- what the user changes

    @Slot()
    def _set_board(self) -> None:
        board = self._session.record.board
        values = self._read(self._board_width, self._board_height)
        if values is None:
            return
        width, height = values
        if (width or 0.0, height or 0.0) == (board.width_mm, board.height_mm):
            return
        if self._do(edit_board, replace(board, width_mm=width or 0.0, height_mm=height or 0.0)) is None:
            self.refresh()

    @Slot()
    def _set_layout(self) -> None:
        layout = self._session.record.layout
        values = self._read(self._coupon_width, self._coupon_height, self._hole)
        if values is None:
            return
        width, height, hole = values
        wanted = replace(
            layout,
            coupon_width_mm=width or 0.0,
            coupon_height_mm=height or 0.0,
            hole_below_top_mm=layout.hole_below_top_mm if hole is None else hole,
        )
        if wanted == layout:
            _show(self._hole, layout.hole_below_top_mm)
        elif self._do(set_layout, wanted) is None:
            self.refresh()

    @Slot()
    def _check_marker(self) -> None:
        self._read(self._marker)

    @Slot()
    def _set_out_all(self) -> None:
        self._do(set_out_coupons)

    @Slot()
    def _place_markers(self) -> None:
        values = self._read(self._marker)
        if values is not None:
            self._do(place_markers, values[0] or _USUAL_MARKER_MM)

    @Slot()
    def _remove_markers(self) -> None:
        self._do(remove_markers)

    def _read(self, *fields: QLineEdit) -> list[float | None] | None:
        """Return the numbers in fields; None when one must be mended, which is then said."""
        try:
            values = [number_in(each) for each in fields]
        except WrongFieldError as error:
            self._problem.say(error.sentence)
            return None
        self._problem.say("")
        return values


def _show(field: QLineEdit, value: float | None) -> None:
    text = shown_number(value)
    if field.text() != text:
        field.setText(text)
        field.setCursorPosition(0)


def _beside(*widgets: QWidget) -> QWidget:
    holder = QWidget()
    line = QHBoxLayout(holder)
    line.setContentsMargins(0, 0, 0, 0)
    for each in widgets:
        line.addWidget(each, 1 if isinstance(each, QLineEdit) else 0)
    return holder


def _with_unit(field: QLineEdit, unit: str) -> QWidget:
    return _beside(field, QLabel(unit))


def _kinds_of_sheets(texts: list[tuple[str, str]]) -> QWidget:
    """Return a list of what can be printed: a name, and what it is."""
    holder = QWidget()
    column = QVBoxLayout(holder)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(2)
    for name, words in texts:
        column.addWidget(words_label(f"{name}: {words}."))
    return holder
