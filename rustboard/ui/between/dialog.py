"""The dialog that tells what happened before an inspection."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QPushButton, QTextBrowser, QVBoxLayout, QWidget

from rustboard.board.record import BoardRecord
from rustboard.session.between import Stretch
from rustboard.ui.between.page import page_of
from rustboard.ui.between.words import title

SIZE_PX = (680, 620)
LEAST_PX = (420, 260)
SCREEN_PART = 0.9


class BetweenDialog(QDialog):
    """One stretch of time at a time, with the way to the ones before and after.

    Signals:
        stretch_asked(int): show what happened before another inspection (its key).
    """

    stretch_asked = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build it empty; `show_stretch` fills it."""
        super().__init__(parent)
        self._stretch: Stretch | None = None
        self._heading = QLabel()
        self._heading.setTextFormat(Qt.TextFormat.PlainText)
        self._heading.setWordWrap(True)
        self._heading.setProperty("heading", True)
        self._place = QLabel()
        self._place.setProperty("muted", True)
        self._page = QTextBrowser()
        self._page.setOpenLinks(False)
        self._page.setAccessibleName(self.tr("What happened"))
        self._earlier = QPushButton(self.tr("◀ &Earlier"))
        self._later = QPushButton(self.tr("&Later ▶"))
        self._close = QPushButton(self.tr("Close"))
        self._earlier.setToolTip(self.tr("Show what happened before the inspection before this one"))
        self._later.setToolTip(self.tr("Show what happened before the next inspection"))
        for each in (self._earlier, self._later):
            each.setAutoDefault(False)
        self._close.setDefault(True)
        self._arrange()
        self._wire()

    def _arrange(self) -> None:
        foot = QHBoxLayout()
        for each in (self._earlier, self._later, self._place):
            foot.addWidget(each)
        foot.addStretch(1)
        foot.addWidget(self._close)
        column = QVBoxLayout(self)
        column.addWidget(self._heading)
        column.addWidget(self._page, 1)
        column.addLayout(foot)
        self.setMinimumSize(*LEAST_PX)
        room = self.screen().availableSize() * SCREEN_PART
        self.resize(min(SIZE_PX[0], room.width()), min(SIZE_PX[1], room.height()))

    def _wire(self) -> None:
        self._earlier.clicked.connect(self._ask_earlier)
        self._later.clicked.connect(self._ask_later)
        self._close.clicked.connect(self.accept)

    def show_stretch(self, record: BoardRecord, stretch: Stretch, *, working: bool) -> None:
        """Tell what happened; ``working``: the weather is still being worked out."""
        other = self._stretch is None or self._stretch.inspection.key != stretch.inspection.key
        self._stretch = stretch
        said = title(stretch)
        self.setWindowTitle(said)
        self._heading.setText(said)
        at = self._page.verticalScrollBar().value()
        self._page.setHtml(page_of(record, stretch, working=working))
        self._page.verticalScrollBar().setValue(0 if other else at)
        self._place.setText(self.tr("{0} of {1}").format(stretch.number, stretch.count))
        self._earlier.setEnabled(stretch.earlier is not None)
        self._later.setEnabled(stretch.later is not None)

    def inspection(self) -> int | None:
        """Return the key of the inspection at the end of what is told, or None."""
        return None if self._stretch is None else self._stretch.inspection.key

    def text(self) -> str:
        """Return all that it tells."""
        return self._page.toPlainText()

    @Slot()
    def _ask_earlier(self) -> None:
        if self._stretch is not None and self._stretch.earlier is not None:
            self.stretch_asked.emit(self._stretch.earlier)

    @Slot()
    def _ask_later(self) -> None:
        if self._stretch is not None and self._stretch.later is not None:
            self.stretch_asked.emit(self._stretch.later)
