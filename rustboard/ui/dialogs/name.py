"""A name for something new, such as a copy of a board."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from rustboard.ui.forms.form import FormDialog, WrongFieldError, line_field, text_of


class NameDialog(FormDialog):
    """Asks for one name that is not empty."""

    def __init__(self, title: str, label: str, text: str, parent: QWidget | None = None) -> None:
        """Show a suggestion, chosen so that typing replaces it."""
        super().__init__(title, parent)
        self._value = text
        self._name = line_field(text)
        self.add_row(label, self._name)
        self._name.setFocus()
        self._name.selectAll()

    def text(self) -> str:
        """Return the name."""
        return self._value

    def read(self) -> None:
        """Read the field."""
        self._value = text_of(self._name)
        if not self._value:
            raise WrongFieldError(self.tr("Write a name; this field is empty."), self._name)
