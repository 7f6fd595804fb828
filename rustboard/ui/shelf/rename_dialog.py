"""Another name for a board, for its folder, or for both together."""

from __future__ import annotations

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QCheckBox, QWidget

from rustboard.session.new_board import folder_name
from rustboard.ui.forms.form import FormDialog, WrongFieldError, line_field, text_of


class RenameDialog(FormDialog):
    """Asks what a board and its folder are to be called."""

    def __init__(self, name: str, folder: str, parent: QWidget | None = None) -> None:
        """Show how they are called now."""
        super().__init__(self.tr("Rename the board"), parent)
        self._value = (name, folder)
        self._name = line_field(name)
        self._together = QCheckBox(self.tr("Call the folder like the board"))
        self._folder = line_field(folder)
        self.add_row(self.tr("Name of the &board"), self._name)
        self.add_row("", self._together)
        self.add_row(self.tr("Name of the &folder"), self._folder)
        self._wire()
        self._together.setChecked(folder == folder_name(name))
        self._name.setFocus()
        self._name.selectAll()

    def _wire(self) -> None:
        self._together.toggled.connect(self._follow)
        self._name.textChanged.connect(self._follow)

    @Slot()
    def _follow(self) -> None:
        together = self._together.isChecked()
        self._folder.setEnabled(not together)
        if together:
            self._folder.setText(folder_name(self._name.text()))

    def names(self) -> tuple[str, str]:
        """Return the name of the board and that of its folder."""
        return self._value

    def read(self) -> None:
        """Read the fields."""
        name, folder = text_of(self._name), text_of(self._folder)
        for text, field in ((name, self._name), (folder, self._folder)):
            if not text:
                raise WrongFieldError(self.tr("Write a name; this field is empty."), field)
        self._value = (name, folder)
