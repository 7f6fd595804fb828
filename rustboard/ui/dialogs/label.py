"""What a row or a column is called; neighbours with one name make a zone."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from rustboard.board.model import Axis
from rustboard.board.position import row_letters
from rustboard.ui.forms.form import FormDialog, line_field, text_of
from rustboard.ui.forms.labels import words_label

_LONGEST = 200


class LabelDialog(FormDialog):
    """Asks for the name of a row or column; an empty one takes the name away."""

    def __init__(self, axis: Axis, number: int, label: str, parent: QWidget | None = None) -> None:
        """Show the name it has."""
        super().__init__("", parent)
        which = self.tr("Row {0}") if axis == "row" else self.tr("Column {0}")
        which = which.format(row_letters(number) if axis == "row" else number + 1)
        self.setWindowTitle(which)
        self._value = label
        self._label = line_field(label, hint=self.tr("such as: upper edge"), limit=_LONGEST)
        self.add_row(self.tr("&Name of it"), self._label)
        hint = self.tr("Neighbours with the same name make one zone. Leave it empty for no name.")
        self.add_text(words_label(hint, muted=True))
        self._label.setFocus()
        self._label.selectAll()

    def label(self) -> str:
        """Return the name, or an empty text."""
        return self._value

    def read(self) -> None:
        """Read the field."""
        self._value = text_of(self._label)
