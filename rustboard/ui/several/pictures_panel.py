"""Two boards by eye: histories one over the other, and the boards side by side."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QPushButton, QSplitter, QTabWidget, QVBoxLayout, QWidget

from rustboard.findings.boards.matching import Common
from rustboard.session.guest_board import GuestBoard, guest_board, matched_coupons
from rustboard.session.other_boards import PooledBoards
from rustboard.support.text import printable
from rustboard.ui.charts.view import ChartView
from rustboard.ui.matched.histories import histories_of
from rustboard.ui.several.forest_panel import in_scroll
from rustboard.ui.several.grade_boards import GradeBoard, GradedBoard
from rustboard.ui.theme import Scheme

_MOST_AT_ONCE = 8


class PicturesPanel(QWidget):
    """Which two boards, which treatment, and both pictures of them.

    Signals:
        laid_over(object): a `GuestBoard` is to be laid over the timeline of the open board.

    Attributes:
        first, second: which boards. treatment: which treatment, or all that both have.
        overlay: histories. boards: the two grids. lay: the button that lays one over the timeline.
    """

    laid_over = Signal(object)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._pooled: PooledBoards | None = None
        self._rows: list[Common] = []
        self._host: int | None = None
        self.lay = QPushButton(self.tr("Lay over the timeline"))
        self.lay.setToolTip(self.tr("Lay the other of these two boards over the timeline of the open board"))
        self.first, self.second, self.treatment = QComboBox(), QComboBox(), QComboBox()
        self.overlay = ChartView(scheme)
        self.boards = (GradeBoard(scheme), GradeBoard(scheme))
        self.tabs = QTabWidget()
        self.tabs.addTab(in_scroll(self.overlay), self.tr("Histories, one over the other"))
        pair = QSplitter(Qt.Orientation.Horizontal)
        pair.setChildrenCollapsible(False)
        for each in self.boards:
            pair.addWidget(each)
        self.tabs.addTab(pair, self.tr("Boards side by side"))
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 4, 4, 4)
        column.addLayout(self._choices())
        column.addWidget(self.tabs, 1)
        below = QHBoxLayout()
        below.addStretch(1)
        below.addWidget(self.lay)
        column.addLayout(below)
        self._wire()

    def _choices(self) -> QHBoxLayout:
        row = QHBoxLayout()
        for text, box in (
            (self.tr("Boards"), self.first),
            (self.tr("and"), self.second),
            (self.tr("Treatment"), self.treatment),
        ):
            label = QLabel(text)
            label.setBuddy(box)
            label.setMinimumWidth(label.sizeHint().width() + 4)
            box.setAccessibleName(text.replace("&", ""))
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            box.setMinimumContentsLength(8)
            row.addWidget(label)
            row.addWidget(box, 1)
        return row

    def _wire(self) -> None:
        self.first.activated.connect(self._choose_board)
        self.second.activated.connect(self._choose_board)
        self.treatment.activated.connect(self._choose_treatment)
        self.lay.clicked.connect(self._lay_over)

    def show_pooled(self, pooled: PooledBoards, host: int | None = None) -> None:
        """Show the boards of a result; ``host`` is the number of the open one, where it is among them."""
        self._host = host
        names = list(map(printable, pooled.findings.boards))
        known = [self.first.itemText(at) for at in range(self.first.count())]
        self._pooled = pooled
        if names != known:
            for box, at in ((self.first, 0), (self.second, 1)):
                box.clear()
                box.addItems(names)
                box.setCurrentIndex(min(at, len(names) - 1))
        self._fill_treatments()
        self._show()

    def chosen_boards(self) -> tuple[int, int]:
        """Return the numbers of the two boards."""
        return self.first.currentIndex(), self.second.currentIndex()

    def _fill_treatments(self) -> None:
        if self._pooled is None:
            return
        one, other = self.chosen_boards()
        rows = self._pooled.request.matching.common
        before = self.treatment.currentText()
        self._rows = [each for each in rows if each.treatments[one] and each.treatments[other]]
        self.treatment.clear()
        self.treatment.addItem(self.tr("All that both have") if self._rows else self.tr("They have none in common"))
        self.treatment.addItems([printable(each.name) for each in self._rows])
        self.treatment.setCurrentIndex(max(self.treatment.findText(before), 0))

    def _chosen(self) -> list[Common]:
        at = self.treatment.currentIndex()
        return self._rows[:_MOST_AT_ONCE] if at <= 0 else self._rows[at - 1 : at]

    def _show(self) -> None:
        pooled = self._pooled
        if pooled is None:
            return
        two, chosen = self.chosen_boards(), self._chosen()
        self.lay.setEnabled(self._host in two and two[0] != two[1])
        nothing = self.tr("Nothing that both boards have was graded on either.")
        self.overlay.show_chart(histories_of(pooled, chosen, two), nothing)
        matching = pooled.request.matching
        out = self.treatment.currentIndex() > 0
        for view, board in zip(self.boards, two, strict=True):
            coupons = {key for each in chosen for key in matched_coupons(pooled, each, board)} if out else set()
            view.show_board(
                GradedBoard(matching.boards[board], pooled.whole[board].record, matching.names_on(board), coupons)
            )

    @Slot(int)
    def _choose_board(self, at: int) -> None:
        self._fill_treatments()
        self._show()

    @Slot(int)
    def _choose_treatment(self, at: int) -> None:
        self._show()

    def guest(self) -> GuestBoard | None:
        """Return what can be laid over the timeline of the open board: the other one of the two, or None."""
        others = [each for each in self.chosen_boards() if each != self._host]
        if self._pooled is None or self._host is None or len(others) != 1:
            return None
        return guest_board(self._pooled, others[0], self._host)

    @Slot()
    def _lay_over(self) -> None:
        found = self.guest()
        if found is not None:
            self.laid_over.emit(found)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.overlay.set_scheme(scheme)
        for each in self.boards:
            each.set_scheme(scheme)
