"""Two boards by eye: histories one over the other, and the boards side by side."""

from __future__ import annotations

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QSplitter, QTabWidget, QVBoxLayout, QWidget

from rustboard.findings.boards.matching import Common
from rustboard.session.other_boards import PooledBoards
from rustboard.support.text import printable
from rustboard.ui.several.grade_boards import GradeBoard, GradedBoard
from rustboard.ui.several.overlay import OverlayPicture, coupons_in, tracks_of
from rustboard.ui.theme import Scheme

_MOST_AT_ONCE = 8


class PicturesPanel(QWidget):
    """Which two boards, which treatment, and both pictures of them.

    Attributes:
        first, second: which boards. treatment: which treatment, or all that both have.
        overlay: histories. boards: the two grids.
    """

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._pooled: PooledBoards | None = None
        self._rows: list[Common] = []
        self.first, self.second, self.treatment = QComboBox(), QComboBox(), QComboBox()
        self.overlay = OverlayPicture(scheme)
        self.boards = (GradeBoard(scheme), GradeBoard(scheme))
        self.tabs = QTabWidget()
        self.tabs.addTab(self.overlay, self.tr("Histories, one over the ot&her"))
        pair = QSplitter(Qt.Orientation.Horizontal)
        pair.setChildrenCollapsible(False)
        for each in self.boards:
            pair.addWidget(each)
        self.tabs.addTab(pair, self.tr("Boards &side by side"))
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 4, 4, 4)
        column.addLayout(self._choices())
        column.addWidget(self.tabs, 1)
        self._wire()

    def _choices(self) -> QHBoxLayout:
        row = QHBoxLayout()
        for text, box in (
            (self.tr("B&oards"), self.first),
            (self.tr("an&d"), self.second),
            (self.tr("&Treatment"), self.treatment),
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

    def show_pooled(self, pooled: PooledBoards) -> None:
        """Show the boards of a result."""
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
        request = pooled.request
        self.overlay.show_tracks(tracks_of(pooled, chosen, two), request.clock, request.failing_grade)
        matching = request.matching
        out = self.treatment.currentIndex() > 0
        for view, board in zip(self.boards, two, strict=True):
            coupons = {key for each in chosen for key in coupons_in(pooled, each, board)} if out else set()
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

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.overlay.set_scheme(scheme)
        for each in self.boards:
            each.set_scheme(scheme)
