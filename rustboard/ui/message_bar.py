"""Messages in the window: errors stay until read, notes say what was done and offer to undo it.

An error takes a line of its own above the screen. A note floats over the window's lower edge, so that nothing moves
under the pointer when it comes and goes.
"""

from __future__ import annotations

import re

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

NOTE_MILLISECONDS = 8_000
_EDGE = 2
_LONG_RUN = re.compile(r"\S{25,}")
_ZERO_WIDTH_SPACE = "\u200b"


class MessageBar(QFrame):
    """One line above the screen.

    Signals:
        undo_asked(): the user wants what the note tells of undone.
        stop_asked(): the user wants what goes on beside the window stopped.
        open_asked(), folder_asked(): the user wants to see what was written, or the folder it is in.
    """

    undo_asked = Signal()
    stop_asked = Signal()
    open_asked = Signal()
    folder_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the bar, hidden."""
        super().__init__(parent)
        self._sentence = ""
        self._home: QVBoxLayout | None = None
        self._working = False
        self._text = QLabel()
        self._text.setWordWrap(True)
        self._text.setTextFormat(Qt.TextFormat.PlainText)
        self._text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        # Ignored: a long word must not make the window wider than the screen.
        self._text.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._undo = QPushButton(self.tr("Undo"))
        self._stop = QPushButton(self.tr("Stop"))
        self._open, self._folder = QPushButton(self.tr("Open")), QPushButton(self.tr("Show folder"))
        self._close = QPushButton(self.tr("Got it"))
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._row = row = QHBoxLayout(self)
        row.setContentsMargins(10, 4, 6, 4)
        for each in (self._text, self._undo, self._stop, self._open, self._folder, self._close):
            row.addWidget(each)
        row.setStretchFactor(self._text, 1)
        self._wire()
        self.hide()

    def _wire(self) -> None:
        self._undo.clicked.connect(self._ask_undo)
        self._stop.clicked.connect(self.stop_asked)
        self._open.clicked.connect(self.open_asked)
        self._folder.clicked.connect(self.folder_asked)
        self._close.clicked.connect(self.hide)
        self._timer.timeout.connect(self._fade)

    def live_in(self, layout: QVBoxLayout, window: QWidget) -> None:
        """Show errors as the first line of ``layout`` and notes over the lower edge of ``window``."""
        self._home = layout
        layout.insertWidget(0, self)
        window.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay at the window's lower edge when it is resized."""
        if event.type() == QEvent.Type.Resize and self.property("message") == "note" and isinstance(watched, QWidget):
            self._float(watched)
        return super().eventFilter(watched, event)

    def _float(self, window: QWidget) -> None:
        if self._home is None:
            return
        if self._home.indexOf(self) >= 0:
            self._home.removeWidget(self)
        if self.parentWidget() is not window:
            self.setParent(window)
        self._row.setContentsMargins(10, 0, 4, 0)
        width = window.width() - 2 * _EDGE
        height = self._row.heightForWidth(width)
        self.setGeometry(_EDGE, window.height() - height - _EDGE, width, height)
        self.raise_()

    def _take_place(self, kind: str) -> None:
        if self._home is None:
            return
        if kind == "note":
            self._float(self.window())
        elif self._home.indexOf(self) < 0:
            self._row.setContentsMargins(10, 4, 6, 4)
            self._home.insertWidget(0, self)

    def hide_note(self) -> None:
        """Take a note away; an error stays, and so does what tells of work going on."""
        if not self.is_error() and not self._working:
            self.hide()

    def text(self) -> str:
        """Return what the bar says, or an empty text while it is hidden."""
        return self._sentence if not self.isHidden() else ""

    def is_error(self) -> bool:
        """Return whether an error is showing."""
        return not self.isHidden() and self.property("message") == "error"

    def show_error(self, sentence: str) -> None:
        """Show an error; it stays until the user has read it."""
        self._show(sentence, "error", undo=False)
        self._timer.stop()

    def show_note(self, sentence: str, *, undo: bool = False) -> None:
        """Show what was done for a few seconds; an error that was not read yet stays instead."""
        if self.is_error():
            return
        self._show(sentence, "note", undo=undo)
        self._timer.start(NOTE_MILLISECONDS)

    @Slot(str)
    def show_work(self, sentence: str) -> None:
        """Show what goes on beside the window, with a button that stops it; the next note takes its place."""
        if self.is_error():
            return
        self._show(sentence, "note", undo=False, stop=True)
        self._timer.stop()

    @Slot(str)
    def show_written(self, sentence: str) -> None:
        """Show what was written, with buttons that open it; it stays until it is read or another note comes."""
        if self.is_error():
            return
        self._show(sentence, "note", undo=False, written=True)
        self._timer.stop()

    def _show(self, sentence: str, kind: str, *, undo: bool, stop: bool = False, written: bool = False) -> None:
        self._sentence = sentence
        self._text.setText(_LONG_RUN.sub(_breakable, sentence))
        self.setAccessibleName(sentence)
        self._undo.setVisible(undo)
        self._stop.setVisible(stop)
        self._open.setVisible(written)
        self._folder.setVisible(written)
        self._working = stop
        if self.property("message") != kind:
            self.setProperty("message", kind)
            self.style().unpolish(self)
            self.style().polish(self)
        self._take_place(kind)
        self.show()

    def forget(self) -> None:
        """Hide the bar and let go of what it said, so that nobody finds it in the hidden bar either."""
        self.hide()
        self._sentence = ""
        self._text.clear()
        self.setAccessibleName("")

    @Slot()
    def _ask_undo(self) -> None:
        self.hide()
        self.undo_asked.emit()

    @Slot()
    def _fade(self) -> None:
        self.hide_note()


def _breakable(run: re.Match[str]) -> str:
    """Return a long name or path with places where a line may end."""
    text = run[0]
    return _ZERO_WIDTH_SPACE.join(text[at : at + 12] for at in range(0, len(text), 12))
