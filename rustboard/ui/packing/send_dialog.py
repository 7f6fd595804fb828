"""What goes along when a board is packed to send, told before anything is written."""

from __future__ import annotations

from PySide6.QtCore import QLocale
from PySide6.QtWidgets import QCheckBox, QWidget

from rustboard.session.packing import Travels
from rustboard.support.text import printable, some_of
from rustboard.ui.forms.form import FormDialog
from rustboard.ui.forms.labels import words_label
from rustboard.ui.wording import size_text

_MOST_NAMED = 8
_LONGEST_NAME = 60


class SendDialog(FormDialog):
    """Says what travels, and asks whether the photos do.

    Attributes:
        with_photos: the choice; there without photos too, but not to be changed.
    """

    width_in_letters = 84

    def __init__(self, travels: Travels, parent: QWidget | None = None) -> None:
        """Tell what of a board travels."""
        super().__init__("", parent)
        self.setWindowTitle(self.tr("Pack {0} to send").format(_short(travels.board)))
        self.ok_button().setText(self.tr("&Choose a file…"))
        self.add_text(
            words_label(self.tr("One file will hold the whole board. Whoever gets it can read all of this:"))
        )
        for label, value in self._lines(travels):
            self.add_row(label, words_label(value, narrow=True))
        self.with_photos = QCheckBox(self._photos_text(travels))
        self.with_photos.setChecked(travels.photos > 0)
        self.with_photos.setEnabled(travels.photos > 0)
        self.add_text(self.with_photos)
        told = self.tr(
            "A photo also holds what the camera wrote into it, often the place where it was taken. Without photos "
            "the grades and the measured figures still go along, and the photos are shown as missing there."
        )
        self.add_text(words_label(told, muted=True))
        kept = self.tr(
            "Not sent: steps that can be undone and what only they still hold, backups, and photos that were removed."
        )
        self.add_text(words_label(kept, muted=True))

    def read(self) -> None:
        """Take the choice as it is; nothing of it can be wrong."""

    def _lines(self, travels: Travels) -> list[tuple[str, str]]:
        record = self.tr(
            "grades, also those that were superseded; treatments with recipes and costs; measurements; weather"
        )
        lines = [(self.tr("Results"), record)]
        if travels.customer:
            lines.append((self.tr("Customer"), _short(travels.customer)))
        if travels.graders:
            lines.append((self.tr("Graders"), some_of([_short(each) for each in travels.graders], _MOST_NAMED)))
        if travels.notes:
            lines.append((self.tr("Notes"), QLocale().toString(travels.notes)))
        if travels.tags:
            lines.append((self.tr("Tags"), some_of([_short(each) for each in travels.tags], _MOST_NAMED)))
        changes = self.tr("every line: who did what and when. It always goes along, for it is part of the proof.")
        return [*lines, (self.tr("Record of changes"), changes)]

    def _photos_text(self, travels: Travels) -> str:
        if travels.photos == 0:
            return self.tr("&Photos: this board has none")
        size = size_text(travels.photo_bytes)
        return self.tr("Send the &photos too ({0}, {1})").format(QLocale().toString(travels.photos), size)

    def _fields_height(self, width: int) -> int:
        """Let the sentences be as high as their lines."""
        return self._form.heightForWidth(width - self._scroll.verticalScrollBar().sizeHint().width())


def _short(text: str) -> str:
    return printable(text)[:_LONGEST_NAME]
