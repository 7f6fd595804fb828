"""Why a coupon is left out of the findings."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from rustboard.board.left_out import MOST_REASON, LeftOut
from rustboard.board.model import Coupon
from rustboard.support.text import printable
from rustboard.ui.forms.form import FormDialog, WrongFieldError, line_field, text_of
from rustboard.ui.forms.labels import words_label

_LONGEST_ID = 60


class LeavingOutDialog(FormDialog):
    """Asks for the reason, says what it is for, and which reasons are fair."""

    def __init__(self, coupon: Coupon, left_out: LeftOut | None, parent: QWidget | None = None) -> None:
        """Ask about a coupon; ``left_out`` is the reason it has already."""
        super().__init__("", parent)
        name = printable(coupon.id)[:_LONGEST_ID]
        self._value = "" if left_out is None else left_out.reason
        if left_out is None:
            self.setWindowTitle(self.tr("Leave {0} out of the findings").format(name))
            self.ok_button().setText(self.tr("Leave out"))
        else:
            self.setWindowTitle(self.tr("Why {0} is left out of the findings").format(name))
        what = self.tr(
            "Its grades stay as they are and are shown as before. In the findings no mean and no comparison counts "
            "it, and the report prints that it is left out, by whom and why. It can be taken back at any time."
        )
        self.add_text(words_label(what))
        self._reason = line_field(
            self._value, hint=self.tr("such as: fell off in the storm; scratched on day 3"), limit=MOST_REASON
        )
        self.add_row(self.tr("&Reason"), self._reason)
        fair = self.tr(
            "A fair reason is something you know from elsewhere: it fell off, was scratched, hung upside down, got "
            "another coat. That its grade is unlike those of its replicates is no reason: leaving it out for that "
            "makes the others look more alike, and the findings surer, than they are."
        )
        self.add_text(words_label(fair, muted=True))
        self._reason.setFocus()
        self._reason.selectAll()

    def reason(self) -> str:
        """Return the reason."""
        return self._value

    def _fields_height(self, width: int) -> int:
        """Let the sentences be as high as their lines."""
        return self._form.heightForWidth(width - self._scroll.verticalScrollBar().sizeHint().width())

    def read(self) -> None:
        """Read the field."""
        self._value = text_of(self._reason)
        if not self._value:
            raise WrongFieldError(self.tr("Write why it is left out; the report prints the reason."), self._reason)
