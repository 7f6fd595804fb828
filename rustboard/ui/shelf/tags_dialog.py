"""The tags of one board: words typed by hand, and those that other boards have, to be pressed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QLabel, QToolButton, QWidget

from rustboard.operations.shelving import checked_tags
from rustboard.session.shelf_filter import plain
from rustboard.support.text import printable
from rustboard.ui.flow_layout import FlowLayout
from rustboard.ui.forms.form import FormDialog, blamed_on, line_field

_MOST_OFFERED: Final = 40
_LONGEST: Final = 40


class KnownTag(QToolButton):
    """A tag that some board has.

    Signals:
        pressed_tag(str): the user pressed it.

    Attributes:
        word: the tag.
    """

    pressed_tag = Signal(str)

    def __init__(self, word: str) -> None:
        """Show a tag."""
        super().__init__()
        self.word = word
        self.setText(printable(word)[:_LONGEST].replace("&", "&&"))
        self.setAccessibleName(printable(word))
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._wire()

    def _wire(self) -> None:
        self.clicked.connect(self._tell)

    @Slot()
    def _tell(self) -> None:
        self.pressed_tag.emit(self.word)


class TagsDialog(FormDialog):
    """Asks for a board's tags."""

    def __init__(self, board: str, tags: Sequence[str], known: Sequence[str], parent: QWidget | None = None) -> None:
        """Show the tags of a board, and those of all boards to choose from."""
        super().__init__(self.tr("Tags of {0}").format(printable(board)), parent)
        self._value = list(tags)
        self._line = line_field(", ".join(tags))
        self._line.setPlaceholderText(self.tr("wax, winter"))
        self.add_row(self.tr("&Tags"), self._line)
        self._known = [KnownTag(each) for each in known[:_MOST_OFFERED]]
        hint = QLabel(self.tr("Words of your own, with commas between them."))
        if self._known:
            hint.setText(self.tr("Words of your own, with commas between them. Press those that your boards have:"))
        hint.setWordWrap(True)
        hint.setProperty("muted", True)
        self.add_text(hint)
        holder = QWidget()
        flow = FlowLayout(holder)
        for each in self._known:
            flow.addWidget(each)
        holder.setVisible(bool(self._known))
        self.add_text(holder)
        self._wire()
        self._mark()
        self._line.setFocus()

    def _wire(self) -> None:
        self._line.textChanged.connect(self._mark)
        for each in self._known:
            each.pressed_tag.connect(self._press)

    def _words(self) -> list[str]:
        return [each.strip() for each in self._line.text().split(",") if each.strip()]

    @Slot()
    def _mark(self) -> None:
        """Show which of the known tags stand in the line."""
        there = {plain(each) for each in self._words()}
        for each in self._known:
            each.setChecked(plain(each.word) in there)

    @Slot(str)
    def _press(self, word: str) -> None:
        """Put a tag into the line, or take it out."""
        words = self._words()
        others = [each for each in words if plain(each) != plain(word)]
        self._line.setText(", ".join(others if len(others) < len(words) else [*words, word]))

    def _fields_height(self, width: int) -> int:
        """Return how high the fields are; the known tags take as many lines as they need."""
        return self._inside.heightForWidth(width)

    def tags(self) -> list[str]:
        """Return the tags."""
        return self._value

    def read(self) -> None:
        """Read the line."""
        with blamed_on(self._line):
            self._value = checked_tags(self._words())
