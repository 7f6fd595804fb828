"""The screen that shows boards beside one another; it needs no board open in the window."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

from PySide6.QtCore import Qt, QTimer, Signal, Slot
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from rustboard.findings.boards.matching import Common, Matching
from rustboard.session.board_differences import differences
from rustboard.session.board_matchings import BoardMatchings
from rustboard.session.comparing import (
    BesideBoards,
    ClockedBoard,
    ClockedBoards,
    cell_at,
    on_clock,
    pictures_of,
    read_beside,
    rows_shown,
)
from rustboard.session.guest_board import coupons_of_row
from rustboard.session.jobs import Progress
from rustboard.session.other_boards import ReadRequest
from rustboard.support.problems import InputError
from rustboard.support.text import printable
from rustboard.ui.bridge import JobBridge
from rustboard.ui.charts.view import ChartView
from rustboard.ui.comparing.beside_pictures import LONGEST_PX, BesidePictures
from rustboard.ui.comparing.clock_line import ClockLine
from rustboard.ui.comparing.comparing_words import cell_note, cell_text
from rustboard.ui.comparing.coupon_tiles import CellView
from rustboard.ui.comparing.differences_table import DifferencesTable
from rustboard.ui.comparing.histories_of_row import histories_of_row
from rustboard.ui.comparing.tiles_table import TilesTable
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.matched.matching_table import MatchingTable
from rustboard.ui.matched.work_line import WorkLine
from rustboard.ui.own_screen import OwnScreen
from rustboard.ui.theme import Scheme
from rustboard.ui.turned_split import turn_split

_NARROW: Final = 900
_TILES_SHARE: Final = 0.6
_SETTLE_MS: Final = 120


class ComparingScreen(OwnScreen):
    """Boards, treatment by treatment, as of one place on a clock.

    Signals:
        left(): back to where the user came from. copied(str): what was copied.
        save_asked(object): the `ChartView` whose picture is to be saved.

    Attributes:
        back: the button. differences, line, tiles, histories, matching: the parts. work: what goes on.
        problem: what was refused. folders: of the boards.
    """

    left = Signal()
    copied = Signal(str)
    save_asked = Signal(object)

    def __init__(self, bridge: JobBridge, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Build it empty; `show_folders` fills it."""
        super().__init__(parent)
        self._bridge = bridge
        self._beside: BesideBoards | None = None
        self._clocked: ClockedBoards | None = None
        self._rows: tuple[Common, ...] = ()
        self._coupons: list[list[list[int]]] = []
        self._job: Progress | None = None
        self.folders: tuple[Path, ...] = ()
        self.back = QPushButton(self.tr("&Back"))
        self._title = QLabel()
        self._title.setTextFormat(Qt.TextFormat.PlainText)
        self._title.setProperty("heading", True)
        self.problem, self.work = ProblemLine(), WorkLine()
        self.differences, self.line = DifferencesTable(), ClockLine()
        self.tiles, self.histories, self.matching = TilesTable(scheme), ChartView(scheme), MatchingTable()
        self.tabs = QTabWidget()
        self._pictures = BesidePictures(bridge, self)
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(_SETTLE_MS)
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.back)
        head.addWidget(self._title, 1)
        beside = QWidget()
        column = QVBoxLayout(beside)
        column.setContentsMargins(4, 4, 4, 4)
        column.addWidget(self.line)
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(self.tiles)
        self._split.addWidget(_scrolling(self.histories))
        self.tiles.setMinimumHeight(self.fontMetrics().height() * 9)
        column.addWidget(self._split, 1)
        self.tabs.addTab(beside, self.tr("Side b&y side"))
        self.tabs.addTab(self.matching, self.tr("Treatments that are the sa&me"))
        self._parts = QSplitter(Qt.Orientation.Vertical)
        self._parts.setChildrenCollapsible(False)
        self._parts.addWidget(self.differences)
        self._parts.addWidget(self.tabs)
        self._parts.setStretchFactor(1, 1)
        line = self.fontMetrics().height()
        self._parts.setSizes([line * 9, line * 40])
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(8, 6, 8, 6)
        column.addLayout(head)
        column.addWidget(self.problem)
        column.addWidget(self.work)
        column.addWidget(self._parts, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(_scrolling(inside))
        self.setFocusProxy(self.tiles)

    def _wire(self) -> None:
        self.back.clicked.connect(self.left)
        self.work.stopped.connect(self._stop)
        self.line.clock_chosen.connect(self._ask_clock)
        self.line.moved.connect(self._show_cells)
        self.line.moved.connect(self._settle.start)
        self._settle.timeout.connect(self._show_pictures)
        self._pictures.arrived.connect(self._show_pictures)
        self.tiles.row_chosen.connect(self._show_history)
        self.matching.changed.connect(self._change_matching)
        self.matching.confirmed.connect(self._confirm)
        self.matching.refused.connect(self._refuse)
        self.histories.copied.connect(self.copied)
        self.histories.save_asked.connect(self._save_histories)

    # ---- which boards

    def show_folders(self, folders: tuple[Path, ...]) -> None:
        """Read boards and show them."""
        self.folders = folders
        self._forget()
        self._title.setText(self.tr("Boards beside one another"))
        self.look_again()

    def look_again(self) -> None:
        """Read the same boards anew."""
        if self.folders:
            self.problem.say("")
            self.work.say(self.tr("Reading the boards…"))
            request = ReadRequest(self.folders)
            self._start("read", read_beside, request, done=self._show_boards, failed=self._fail)

    def _show_boards(self, beside: BesideBoards) -> None:
        self._beside = beside
        names = map(printable, beside.read.matching.boards)
        self._title.setText(self.tr("Boards beside one another: {0}").format(" · ".join(names)))
        self._title.setToolTip(self._title.text())
        rows = differences(beside.read.records, beside.weather)
        self.differences.show_differences(beside.read.matching.boards, rows)
        self.matching.show_boards(beside.read)
        self.problem.say(beside.read.problem)
        self._ask_clock()

    def _forget(self) -> None:
        """Show nothing of any board."""
        self._beside = self._clocked = None
        self._rows, self._coupons = (), []
        self.differences.setRowCount(0)
        self.tiles.setRowCount(0)
        self.tiles.setColumnCount(0)
        self.histories.show_chart(None, "")
        self.matching.clear()
        self._title.setToolTip("")

    # ---- on a clock

    @Slot()
    def _ask_clock(self) -> None:
        if self._beside is not None:
            self.work.say(self.tr("Putting the boards on the clock…"))
            self._start(
                "clock", on_clock, self._beside, self.line.kind(), done=self._show_clocked, failed=self._refuse
            )

    def _show_clocked(self, clocked: ClockedBoards) -> None:
        self.work.say("")
        self._clocked = clocked
        self._lay_rows()
        self.line.show_clocked(clocked)
        missing = [each.problem for each in clocked.boards if each.problem]
        self.problem.say(" ".join(missing))

    def _lay_rows(self) -> None:
        """Take the treatments as they are matched now."""
        matching, beside, clocked = self.matching.matching(), self._beside, self._clocked
        if matching is None or beside is None or clocked is None:
            return
        self._rows = rows_shown(matching)
        records = beside.read.records
        self._coupons = [
            [coupons_of_row(record, row, board) for board, record in enumerate(records)] for row in self._rows
        ]
        self.tiles.show_boards(clocked, self._rows)
        self._show_history(max(self.tiles.currentRow(), 0))

    @Slot()
    def _show_cells(self) -> None:
        """Show the grades as of the place; pictures only where they are cut already."""
        clocked = self._clocked
        if clocked is None:
            return
        self.tiles.show_cells(
            [
                [self._view(row, board, keys[number], {}) for number, board in enumerate(clocked.boards)]
                for row, keys in zip(self._rows, self._coupons, strict=True)
            ]
        )

    @Slot()
    def _show_pictures(self) -> None:
        clocked, beside = self._clocked, self._beside
        if clocked is None or beside is None:
            return
        images = []
        for number, board in enumerate(clocked.boards):
            seen = cell_at(board, (), self.line.place(), self.line.slack()).seen
            request = pictures_of(beside.read.folders[number], board.record, seen, LONGEST_PX)
            images.append(self._pictures.images(number, request))
        self.tiles.show_cells(
            [
                [self._view(row, board, keys[number], images[number]) for number, board in enumerate(clocked.boards)]
                for row, keys in zip(self._rows, self._coupons, strict=True)
            ]
        )

    def _view(self, row: Common, board: ClockedBoard, keys: list[int], images: Any) -> CellView:
        kind = self.line.kind()
        cell = cell_at(board, keys, self.line.place(), self.line.slack())
        outlines = {key: board.record.coupons[key].outline_mm for key in keys}
        furthest = 1.0 if self._clocked is None else self._clocked.furthest
        return CellView(
            cell, cell_note(board, cell, kind), cell_text(row.name, board, cell, kind), outlines, images, furthest
        )

    @Slot(int)
    def _show_history(self, row: int) -> None:
        if self._clocked is None or not 0 <= row < len(self._rows):
            self.histories.show_chart(None, self.tr("Choose a treatment to see its histories."))
            return
        chart = histories_of_row(self._clocked, self._rows[row], self._coupons[row])
        self.histories.show_chart(chart, self.tr("Nothing of this treatment was graded on a board with this clock."))

    # ---- which treatments

    @Slot()
    def _change_matching(self) -> None:
        self.problem.say("")
        self._lay_rows()
        self._show_cells()
        self._settle.start()

    @Slot()
    def _confirm(self) -> None:
        matching: Matching | None = self.matching.matching()
        if self._beside is None or matching is None:
            return
        try:
            BoardMatchings().confirm(self._beside.read.folders, matching)
        except InputError as error:
            self._refuse(error)
            return
        self.matching.tell(confirmed=True)

    # ---- jobs

    def _start(
        self,
        what: str,
        function: Callable[..., Any],
        *arguments: object,
        done: Callable[[Any], None],
        failed: Callable[[InputError], None],
    ) -> None:
        key = ("comparing", what, id(self))
        self._job = self._bridge.start(
            key, function, *arguments, done=done, failed=failed, told=self.work.tell, owner=self
        )

    @Slot()
    def _stop(self) -> None:
        if self._job is not None:
            self._job.cancel()
        self.work.say("")

    def _fail(self, error: InputError) -> None:
        """Show what was refused, and nothing of the boards: one of them may not be told of any more."""
        self._forget()
        self._title.setText(self.tr("Boards beside one another"))
        self._refuse(error)

    @Slot(object)
    def _refuse(self, error: InputError) -> None:
        self.work.say("")
        self.problem.say(str(error))

    @Slot()
    def _save_histories(self) -> None:
        self.save_asked.emit(self.histories)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.tiles.set_scheme(scheme)
        self.histories.set_scheme(scheme)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go back by Esc."""
        if event.key() == Qt.Key.Key_Escape and not event.isAutoRepeat():
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the histories below the tiles where they have no room beside them."""
        super().resizeEvent(event)
        turn_split(self._split, event, _NARROW, _TILES_SHARE)


def _scrolling(widget: QWidget) -> QScrollArea:
    """Return a frame in which a part rolls where it has no room."""
    around = QScrollArea()
    around.setWidgetResizable(True)
    around.setFrameShape(QFrame.Shape.NoFrame)
    around.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    around.setWidget(widget)
    return around
