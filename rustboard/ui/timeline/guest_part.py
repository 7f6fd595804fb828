"""Another board laid over the timeline: which of its lines are shown, what is said of them, and taking it off."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, Qt, Signal, Slot
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from rustboard.board.comparisons import CONTROL
from rustboard.board.record import BoardRecord
from rustboard.support.text import printable
from rustboard.ui import wording
from rustboard.ui.theme import Scheme
from rustboard.ui.timeline.content import Track
from rustboard.ui.timeline.drawing import Drawing
from rustboard.ui.timeline.guest_item import GuestItem, GuestLine

if TYPE_CHECKING:
    from rustboard.session.guest_board import GuestBoard


class GuestPart(QWidget):
    """The line that names the other board, and its lines on the plot.

    A line is shown for every treatment (or the controls) that both boards have and that is drawn for the open one, in
    the ink of that line.

    Signals:
        changed(): another board is laid over, or none any more.

    Attributes:
        board: what is laid over, or None. off: the button that takes it off.
    """

    changed = Signal()

    def __init__(self, item: GuestItem, parent: QWidget | None = None) -> None:
        """Start without another board; ``item`` draws it."""
        super().__init__(parent)
        self._item = item
        self.board: GuestBoard | None = None
        self._words = QLabel()
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setWordWrap(True)
        self._words.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.off = QPushButton(self.tr("Take off"))
        self.off.setToolTip(self.tr("Show this board alone again"))
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 0, 6, 2)
        row.addWidget(self._words, 1)
        row.addWidget(self.off)
        self.hide()
        self._wire()

    def _wire(self) -> None:
        self.off.clicked.connect(self._take_off)

    def lay_over(self, board: GuestBoard | None) -> None:
        """Lay a board over the timeline, or none."""
        self.board = board
        self.setVisible(board is not None)
        self.changed.emit()

    def show_over(self, record: BoardRecord, drawing: Drawing, scheme: Scheme) -> str:
        """Show the lines that belong to what is drawn; return what is said of them to those who hear the screen."""
        lines, said = self._lines(record, drawing, scheme)
        self._item.show_lines(lines, QColor(scheme.base))
        if self.board is None:
            return ""
        self._words.setText(self._told(drawing, len(lines)))
        return " ".join(said)

    def text(self) -> str:
        """Return what the line says."""
        return "" if self.isHidden() else self._words.text()

    def _lines(self, record: BoardRecord, drawing: Drawing, scheme: Scheme) -> tuple[list[GuestLine], list[str]]:
        lines: list[GuestLine] = []
        said: list[str] = []
        places = None if self.board is None else self.board.places.get(drawing.clock.kind)
        if self.board is None or places is None:
            return lines, said
        seen: set[str] = set()
        for track, style in zip(drawing.content.tracks, drawing.styles, strict=True):
            for each in self.board.tracks:
                if each.own in _owned_by(record, track) - seen:
                    seen.add(each.own)
                    lines.append(GuestLine(each.series, places, style.colour(scheme)))
                    last = each.series.points[-1]
                    where = wording.day_text(last.day)
                    text = _say("{0} on {1}: {2} at {3}.")
                    name, board = printable(each.name), printable(self.board.name)
                    said.append(text.format(name, board, wording.number(last.median), where))
        return lines, said

    def _told(self, drawing: Drawing, lines: int) -> str:
        name = "" if self.board is None else printable(self.board.name)
        if lines and self._goes_on(drawing):
            return self.tr("Dashed: the same on {0}, medians; it goes on beyond this board's last inspection").format(
                name
            )
        if lines:
            return self.tr("Dashed: the same on {0}, medians").format(name)
        if self.board is not None and drawing.clock.kind not in self.board.places:
            return self.tr("{0} is not known by what this axis counts; choose another axis.").format(name)
        return self.tr("{0} has nothing of what is shown here.").format(name)

    def _goes_on(self, drawing: Drawing) -> bool:
        places = () if self.board is None else self.board.places.get(drawing.clock.kind, ())
        return bool(places) and bool(len(drawing.days)) and max(places) > float(drawing.days[-1])

    @Slot()
    def _take_off(self) -> None:
        self.lay_over(None)


def _say(text: str) -> str:
    return QCoreApplication.translate("timeline", text)


def _owned_by(record: BoardRecord, track: Track) -> set[str]:
    """Return the ids of the treatments of a line's coupons, and of the controls where it has some."""
    found = set()
    for key in track.coupons:
        coupon = record.coupons.get(key)
        treatment = None if coupon is None else record.treatment_of(coupon)
        if coupon is not None and coupon.role == "control":
            found.add(CONTROL)
        elif treatment is not None:
            found.add(treatment.id)
    return found
