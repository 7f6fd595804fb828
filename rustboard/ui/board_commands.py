"""What the user does to the board as a whole: inspections, rows and columns, its description."""

from __future__ import annotations

import contextlib
from datetime import timedelta

from PySide6.QtCore import QPoint, Qt, Signal, Slot
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from rustboard.board.model import Axis, Inspection
from rustboard.board.position import Position
from rustboard.operations.boards import add_line, edit_board, label_axis, remove_line
from rustboard.operations.inspections import add_inspection, edit_inspection, remove_inspection
from rustboard.support.clock import wall_clock
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings, save_settings
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands


class BoardCommands(PageCommands):
    """Commands about the board of the page in the window.

    Signals:
        blind_wanted(): the inspection just added is to be graded blind.
    """

    blind_wanted = Signal()

    def __init__(self, window: QWidget, asker: Asker, do: Do, settings: Settings) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._settings = settings
        self._header: tuple[Axis, int] = ("row", 0)

    def _wire_page(self, page: BoardPage) -> None:
        page.inspection_wanted.connect(self.add_inspection)
        page.tiles.canvas.header_menu_asked.connect(self.show_header_menu)

    def _inspection(self) -> Inspection | None:
        if self.page is None:
            return None
        return self.page.session.record.inspections.get(self.page.session.selection.inspection or 0)

    # ---- inspections

    @Slot()
    def add_inspection(self) -> None:
        """Add an inspection, bring it into view and go on with the coupon that was tapped, if one was."""
        if self.page is None or self.page.session.read_only_reason:
            return
        inspection, blind = self._ask_inspection(None)
        changes = self._do(add_inspection, inspection) if inspection is not None else None
        if changes is None:
            return
        if inspection is not None:
            self._remember_grader(inspection.grader)
        (key,) = changes.tables["inspection"]
        self.page.look_at(key)
        focus = self.page.session.selection.focus
        if blind:
            self.blind_wanted.emit()
        elif focus is not None:
            self.page.open_grading(focus)
        else:
            self.page.grade_next()
        self._doubt(key)

    def _doubt(self, key: int) -> None:
        """Ask back, in a note, when the time of an inspection is hard to believe."""
        if self.page is None:
            return
        record = self.page.session.record
        at = record.inspections[key].at
        if record.day_of(at) < 0:
            self.told.emit(self.tr("This inspection is before the exposure began; edit it if that is a slip."))
        elif at > wall_clock() + timedelta(days=1):
            self.told.emit(self.tr("This inspection is in the future; edit it if that is a slip."))

    def _remember_grader(self, name: str) -> None:
        if self.page is None or name in ("", self._settings.grader):
            return
        self._settings.grader = self.page.session.who = name
        # Only a convenience for the next inspection: a disk that refuses is no reason to interrupt.
        with contextlib.suppress(InputError):
            save_settings(self._settings)

    @Slot()
    def edit_inspection(self) -> None:
        """Edit the inspection in view."""
        before = self._inspection()
        after = self._ask_inspection(before)[0] if before is not None else None
        if after is not None:
            self._do(edit_inspection, after)

    def _ask_inspection(self, inspection: Inspection | None) -> tuple[Inspection | None, bool]:
        """Return a new or edited inspection, or None, and whether it is to be graded blind."""
        from rustboard.ui.dialogs.inspection import InspectionDialog

        if self.page is None:
            return None, False
        record = self.page.session.record
        dialog = InspectionDialog(record, inspection, self._settings.grader, wall_clock(), self._window)
        accepted = self._asker.dialog(dialog)
        return (dialog.inspection(), dialog.blind()) if accepted else (None, False)

    @Slot()
    def remove_inspection(self) -> None:
        """Remove the inspection in view, if nothing was graded at it."""
        inspection = self._inspection()
        if self.page is None or inspection is None or self._do(remove_inspection, inspection.key) is None:
            return
        rest = self.page.session.record.inspections_in_order()
        self.page.session.selection.look_at(rest[-1].key if rest else None)

    @Slot()
    def earlier(self) -> None:
        """Bring the inspection before into view."""
        self._step(-1)

    @Slot()
    def later(self) -> None:
        """Bring the inspection after into view."""
        self._step(1)

    def _step(self, by: int) -> None:
        if self.page is None:
            return
        keys = [each.key for each in self.page.session.record.inspections_in_order()]
        now = self.page.session.selection.inspection
        if now in keys and 0 <= keys.index(now) + by < len(keys):
            self.page.look_at(keys[keys.index(now) + by])

    # ---- the grid

    @Slot()
    def add_row(self) -> None:
        """Add a row at the bottom."""
        if self.page is not None:
            self._do(add_line, "row", self.page.session.record.board.rows)

    @Slot()
    def add_column(self) -> None:
        """Add a column at the right."""
        if self.page is not None:
            self._do(add_line, "column", self.page.session.record.board.columns)

    @Slot()
    def row_menu(self) -> None:
        """Show the menu of the row that the keyboard is on."""
        self._line_menu("row")

    @Slot()
    def column_menu(self) -> None:
        """Show the menu of the column that the keyboard is on."""
        self._line_menu("column")

    def _line_menu(self, axis: Axis) -> None:
        if self.page is None:
            return
        canvas = self.page.tiles.canvas
        position = canvas.focus_place().position or Position(0, 0)
        number = position.row if axis == "row" else position.column
        where = canvas.grid.header_rect(axis, number).center().toPoint()
        self.show_header_menu(axis, number, canvas.mapToGlobal(where))

    @Slot(str, int, object)
    def show_header_menu(self, axis: Axis, number: int, where: QPoint) -> None:
        """Show the menu of a row or column."""
        if self.page is None or self.page.session.read_only_reason:
            return
        self._header = (axis, number)
        menu = QMenu(self._window)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        row = axis == "row"
        self._add(menu, self.tr("Label this row…") if row else self.tr("Label this column…"), "label")
        menu.addSeparator()
        self._add(menu, self.tr("Add a row above") if row else self.tr("Add a column to the left"), "before")
        self._add(menu, self.tr("Add a row below") if row else self.tr("Add a column to the right"), "after")
        self._add(menu, self.tr("Remove this row") if row else self.tr("Remove this column"), "remove")
        self._wire_menu(menu)
        menu.popup(where)

    def _add(self, menu: QMenu, text: str, what: str) -> None:
        menu.addAction(text).setData(what)

    def _wire_menu(self, menu: QMenu) -> None:
        menu.triggered.connect(self._header_chosen)

    @Slot(QAction)
    def _header_chosen(self, action: QAction) -> None:
        axis, number = self._header
        what = action.data()
        if what == "label":
            self.label(axis, number)
        elif what == "remove":
            self._do(remove_line, axis, number)
        else:
            self._do(add_line, axis, number + (what == "after"))

    def label(self, axis: Axis, number: int) -> None:
        """Name a row or a column."""
        from rustboard.ui.dialogs.label import LabelDialog

        if self.page is None:
            return
        dialog = LabelDialog(axis, number, self.page.session.record.axis_label(axis, number), self._window)
        if self._asker.dialog(dialog):
            self._do(label_axis, axis, number, dialog.label())

    # ---- the board

    @Slot()
    def describe(self) -> None:
        """Edit the board's description."""
        from rustboard.ui.dialogs.board import BoardDialog

        if self.page is None:
            return
        dialog = BoardDialog(self.page.session.record.board, self._window, new=False)
        if self._asker.dialog(dialog):
            self._do(edit_board, dialog.board())
