"""What can be learned from the boards that are chosen on the shelf, as further buttons beside those of one board."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QWidget

from rustboard.session.shelf import ShelfEntry


class PastActions(QObject):
    """The actions of several boards; `follow` says which are chosen.

    Signals:
        compare_asked(object): show the boards in these folders (a list of `Path`) beside one another.
        learn_asked(): ask all boards about a treatment.
        next_asked(object): make the next board after the one in this folder, with one thing changed.
    """

    compare_asked = Signal(object)
    learn_asked = Signal()
    next_asked = Signal(object)

    def __init__(self, parent: QWidget) -> None:
        """Make the actions, for no board yet."""
        super().__init__(parent)
        self._chosen: list[ShelfEntry] = []
        self._compare = QAction(self.tr("Compare…"), parent)
        self._compare.setIconText(self.tr("Compare…"))
        self._compare.setToolTip(
            self.tr("Show the chosen boards beside one another; choose several with Ctrl or Shift")
        )
        self._learn = QAction(self.tr("What did we learn about…"), parent)
        self._learn.setIconText(self.tr("What did we learn…"))
        self._learn.setToolTip(self.tr("Ask all boards about one treatment, or about a finish, a protectant, a step"))
        self._next = QAction(self.tr("Next board, one thing changed…"), parent)
        self._next.setIconText(self.tr("Next board…"))
        self._next.setToolTip(
            self.tr("Repeat the best treatments of this board on a new one, and change one single thing")
        )
        self._wire()

    def _wire(self) -> None:
        self._compare.triggered.connect(self._ask_compare)
        self._learn.triggered.connect(self.learn_asked)
        self._next.triggered.connect(self._ask_next)

    def actions(self) -> list[QAction]:
        """Return the actions."""
        return [self._next, self._compare, self._learn]

    def follow(self, chosen: Sequence[ShelfEntry]) -> None:
        """Act on these boards from now on, those that can be read."""
        self._chosen = [each for each in chosen if not each.problem]
        self._compare.setEnabled(len(self._chosen) > 1)
        self._next.setEnabled(len(self._chosen) == 1)

    @Slot()
    def _ask_next(self) -> None:
        for each in self._chosen[:1]:
            self.next_asked.emit(each.folder)

    @Slot()
    def _ask_compare(self) -> None:
        self.compare_asked.emit([each.folder for each in self._chosen])
