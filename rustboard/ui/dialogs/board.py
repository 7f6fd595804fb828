"""The board itself: name, place, for whom, when it began, how large."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLabel, QLineEdit, QSpinBox, QWidget

from rustboard.board.model import Board
from rustboard.board.position import MOST_COLUMNS, MOST_ROWS
from rustboard.operations.boards import check_board_number, checked_board
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.text import many_lines
from rustboard.ui.forms.dates import DateTimeField, date_time_in
from rustboard.ui.forms.form import FormDialog, blamed_on, known_field, line_field, note_field, text_of
from rustboard.ui.forms.numbers import number_field, number_in


class BoardDialog(FormDialog):
    """Asks for a new board, or edits what is known of one."""

    def __init__(
        self, board: Board | None, parent: QWidget | None = None, *, new: bool, clock: Clock = wall_clock
    ) -> None:
        """Show a board, or an empty one; rows and columns are asked only for a new one."""
        super().__init__("", parent)
        self.setWindowTitle(self.tr("New board") if new else self.tr("Board"))
        self._is_new = new
        self._now = clock()
        self._before = board or Board("")
        self._value = self._before
        self._build()
        self._wire()
        self._follow_started()
        self._name.setFocus()

    def board(self) -> Board:
        """Return the board."""
        return self._value

    def _build(self) -> None:
        before = self._before
        self._name = line_field(before.name, hint=self.tr("such as: harbour wall, spring"))
        self.add_row(self.tr("&Name"), self._name)
        if self._is_new:
            self._build_grid()
        self._started = QCheckBox(self.tr("begun"))
        self._started.setChecked(before.started is not None)
        self._started_at = DateTimeField(before.started or self._now)
        self._started_at.setAccessibleName(self.tr("When exposure began"))
        self.add_row(self.tr("&Exposure"), _beside(self._started, self._started_at), self._started)
        self._site = line_field(before.site, hint=self.tr("such as: harbour wall"))
        self.add_row(self.tr("S&ite"), self._site)
        shelters = (self.tr("open"), self.tr("under a roof"), self.tr("indoors"))
        self._shelter = known_field(before.shelter, shelters)
        self.add_row(self.tr("S&helter"), self._shelter)
        self._incline = number_field(before.incline_deg, hint=self.tr("90 is upright"))
        self._facing = number_field(before.facing_deg, hint=self.tr("180 is south"))
        self.add_row(self.tr("Inc&line in degrees"), self._incline)
        self.add_row(self.tr("Faces, com&pass degrees"), self._facing)
        self._build_size()
        self._customer = line_field(before.customer)
        self.add_row(self.tr("&Customer"), self._customer)
        self._shop = line_field(before.shop)
        self.add_row(self.tr("&Workshop"), self._shop)
        self._note = note_field(before.note)
        self.add_row(self.tr("No&te"), self._note)

    def _build_grid(self) -> None:
        self._rows, self._columns = QSpinBox(), QSpinBox()
        for field, most, value, name in (
            (self._rows, MOST_ROWS, self._before.rows, self.tr("Rows")),
            (self._columns, MOST_COLUMNS, self._before.columns, self.tr("Columns")),
        ):
            field.setRange(1, most)
            field.setValue(value)
            field.setAccessibleName(name)
        grid = _beside(self._rows, QLabel("×"), self._columns, QLabel(self.tr("positions")))
        self.add_row(self.tr("&Rows × columns"), grid, self._rows)

    def _build_size(self) -> None:
        before = self._before
        self._width = number_field(before.width_mm or None, hint=self.tr("width"))
        self._height = number_field(before.height_mm or None, hint=self.tr("height"))
        self._width.setAccessibleName(self.tr("Width in mm"))
        self._height.setAccessibleName(self.tr("Height in mm"))
        size = _beside(self._width, QLabel("×"), self._height, QLabel(self.tr("mm")))
        self.add_row(self.tr("Si&ze, width × height"), size, self._width)
        self._margin = number_field(before.edge_margin_mm or None, hint=self.tr("strip that does not count"))
        self.add_row(self.tr("Edge &margin in mm"), self._margin)

    def _wire(self) -> None:
        self._started.toggled.connect(self._follow_started)

    @Slot()
    def _follow_started(self) -> None:
        self._started_at.setEnabled(self._started.isChecked())

    def read(self) -> None:
        """Read the fields into the board."""
        with blamed_on(self._name):
            name = checked_board(Board(text_of(self._name))).name
        wrong_year = self.tr("Exposure begins between the years 1900 and 2200; check the date.")
        started = date_time_in(self._started_at, wrong_year) if self._started.isChecked() else None
        board = replace(
            self._before,
            name=name,
            started=started,
            site=text_of(self._site),
            shelter=text_of(self._shelter),
            incline_deg=self._number("incline_deg", self._incline),
            facing_deg=self._number("facing_deg", self._facing),
            width_mm=self._number("width_mm", self._width) or 0.0,
            height_mm=self._number("height_mm", self._height) or 0.0,
            edge_margin_mm=self._number("edge_margin_mm", self._margin) or 0.0,
            customer=text_of(self._customer),
            shop=text_of(self._shop),
            note=many_lines(self._note.toPlainText()),
        )
        if self._is_new:
            board = replace(board, rows=self._rows.value(), columns=self._columns.value())
        self._value = checked_board(board)

    def _number(self, name: str, field: QLineEdit) -> float | None:
        value = number_in(field)
        with blamed_on(field):
            check_board_number(name, value)
        return value


def _beside(*widgets: QWidget) -> QWidget:
    """Return widgets side by side as one field; those that are typed into share the room."""
    field = QWidget()
    row = QHBoxLayout(field)
    row.setContentsMargins(0, 0, 0, 0)
    for each in widgets:
        row.addWidget(each, 0 if isinstance(each, QLabel | QCheckBox) else 1)
    return field
