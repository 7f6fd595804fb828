"""Another program has the file open that a report was to be written into: another name is offered."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QDialogButtonBox, QPushButton, QVBoxLayout, QWidget

from rustboard.session.report_targets import Held, held_sentence
from rustboard.support.files import shown_name
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.labels import words_label

_WIDTH_IN_LETTERS = 60


class HeldDialog(FittingDialog):
    """Enter writes under the free name.

    Attributes:
        replace: whether the file is to be replaced all the same; only where a lock beside it is all that is known.
    """

    def __init__(self, held: Held, free: Path, parent: QWidget | None = None) -> None:
        """Offer a free name."""
        super().__init__(parent)
        self.setModal(True)
        self.setWindowTitle(self.tr("The file is open elsewhere"))
        self.replace = False
        self._other = QPushButton(self.tr("Write “{0}”").format(shown_name(free)))
        self._replace = QPushButton(self.tr("&Replace it all the same"))
        self._cancel = QPushButton(self.tr("Cancel"))
        self._other.setProperty("primary", True)
        self._other.setDefault(True)
        lines = [f"{shown_name(held.path)}: {held_sentence(held)}"]
        if held.lock:
            lines.append(
                self.tr(
                    "If nobody has it open any more, the lock was left behind, and the file can be replaced all the "
                    "same. Replaced while it is open, it may be overwritten by what the other program saves next."
                )
            )
        column = QVBoxLayout(self)
        for line in lines:
            label = words_label(line)
            label.setMinimumWidth(self.fontMetrics().averageCharWidth() * _WIDTH_IN_LETTERS)
            column.addWidget(label)
        buttons = QDialogButtonBox()
        buttons.addButton(self._other, QDialogButtonBox.ButtonRole.AcceptRole)
        if held.lock:
            buttons.addButton(self._replace, QDialogButtonBox.ButtonRole.ActionRole)
        else:
            self._replace.setParent(self)
            self._replace.hide()
        buttons.addButton(self._cancel, QDialogButtonBox.ButtonRole.RejectRole)
        column.addWidget(buttons)
        self._wire()

    def _wire(self) -> None:
        self._other.clicked.connect(self.accept)
        self._replace.clicked.connect(self._accept_replacing)
        self._cancel.clicked.connect(self.reject)

    @Slot()
    def _accept_replacing(self) -> None:
        self.replace = True
        self.accept()
