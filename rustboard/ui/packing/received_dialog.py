"""What a received board is, before anything of it is unpacked."""

from __future__ import annotations

from PySide6.QtCore import QLocale, Slot
from PySide6.QtWidgets import QPushButton, QWidget

from rustboard.session.packing import PackPreview
from rustboard.support.text import printable
from rustboard.ui.forms.form import FormDialog
from rustboard.ui.forms.labels import words_label
from rustboard.ui.wording import date_only, date_time, size_text

_LONGEST_NAME = 80
_MOST_DOUBTS = 6


class ReceivedDialog(FormDialog):
    """Shows what a packed board holds and what of it is amiss, and asks whether to open it.

    Attributes:
        wants_own: whether the board that is here already is to be opened instead.
    """

    width_in_letters = 84

    def __init__(self, preview: PackPreview, parent: QWidget | None = None) -> None:
        """Show a preview."""
        super().__init__("", parent)
        self.setWindowTitle(self.tr("A received board: {0}").format(_short(preview.board)))
        self.wants_own = False
        self._preview = preview
        self._own = QPushButton(self.tr("Open the one you &have"))
        self.ok_button().setText(self.tr("&Unpack and open"))
        for each in self._remarks():  # first, for on a small screen the end is out of sight
            self.add_text(words_label(each, narrow=True))
        if preview.same_as is not None:
            self.add_text(self._own)
        for label, value in (*self._who(), *self._what(), *self._where()):
            self.add_row(label, words_label(value, narrow=True))
        self.add_text(words_label(self._caution(), muted=True))
        self._wire()

    def _wire(self) -> None:
        if self._preview.same_as is not None:
            self._own.clicked.connect(self._choose_own)

    def read(self) -> None:
        """Nothing is asked that could be wrong."""

    @Slot()
    def _choose_own(self) -> None:
        self.wants_own = True
        self.accept()

    def _who(self) -> list[tuple[str, str]]:
        preview = self._preview
        lines = [(self.tr("Board"), _short(preview.board)), (self.tr("Packed"), date_time(preview.packed))]
        if preview.customer:
            lines.append((self.tr("Customer"), _short(preview.customer)))
        if preview.site:
            lines.append((self.tr("Site"), _short(preview.site)))
        if preview.tags:
            lines.append((self.tr("Tags"), _short(", ".join(preview.tags))))
        if preview.started is not None:
            lines.append((self.tr("Exposure began"), date_time(preview.started)))
        return lines

    def _what(self) -> list[tuple[str, str]]:
        preview, locale = self._preview, QLocale()
        looks = locale.toString(preview.inspections)
        if preview.first is not None and preview.last is not None:
            looks = self.tr("{0}, from {1} to {2}").format(looks, date_only(preview.first), date_only(preview.last))
        photos = locale.toString(preview.photos)
        if preview.missing:
            photos = self.tr("{0} of {1}").format(photos, locale.toString(preview.photos + preview.missing))
        return [
            (self.tr("Coupons"), locale.toString(preview.coupons)),
            (self.tr("Treatments"), locale.toString(preview.treatments)),
            (self.tr("Inspections"), looks),
            (self.tr("Photos"), photos),
            (self.tr("Size"), size_text(preview.size)),
        ]

    def _where(self) -> list[tuple[str, str]]:
        folder = self._preview.folder
        return [
            (
                self.tr("Becomes"),
                self.tr("“{0}” in {1}").format(printable(folder.name), printable(str(folder.parent))),
            )
        ]

    def _remarks(self) -> list[str]:
        preview = self._preview
        remarks: list[str] = []
        if preview.same_as is not None:
            same = self.tr("You have this very board already, with the same content: {0}.")
            remarks.append(same.format(printable(preview.same_as.name)))
        elif preview.taken:
            remarks.append(self.tr("You have a board of this name already, with other content; it stays as it is."))
        if preview.missing and preview.photos_wanted:
            remarks.append(self.tr("Some photos could not travel; they will be shown as missing."))
        elif preview.missing:
            remarks.append(self.tr("The sender left the photos out; they will be shown as missing."))
        remarks.extend(preview.doubts[:_MOST_DOUBTS])
        if len(preview.doubts) > _MOST_DOUBTS:
            remarks.append(self.tr("And {0} more of this kind.").format(len(preview.doubts) - _MOST_DOUBTS))
        return remarks

    def _caution(self) -> str:
        return self.tr(
            "The file was looked over: it is whole, its tables are those of a board, and nothing in it can run. "
            "Whether its grades are true only the sender knows."
        )

    def _fields_height(self, width: int) -> int:
        """Let the sentences be as high as their lines."""
        return self._form.heightForWidth(width - self._scroll.verticalScrollBar().sizeHint().width())


def _short(text: str) -> str:
    return printable(text)[:_LONGEST_NAME]
