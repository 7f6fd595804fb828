"""The times of photos that are on the board already, put right for a chosen set."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSize, Signal, Slot
from PySide6.QtGui import QIcon, QImage
from PySide6.QtWidgets import QDialogButtonBox, QPushButton, QVBoxLayout, QWidget

from rustboard.board.record import BoardRecord
from rustboard.session.photo_days import photos_in_order
from rustboard.support.clock import Clock, wall_clock
from rustboard.ui.coupon_pictures import image_of
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.forms.labels import words_label
from rustboard.ui.intake.clock_row import ClockRow
from rustboard.ui.intake.photo_table import PhotoTable
from rustboard.ui.intake.rows import TimesInHand
from rustboard.ui.wording import date_time

if TYPE_CHECKING:
    from rustboard.session.looked_over import Rgb

_WIDTH_IN_LETTERS: Final = 120
_HEIGHT_IN_LINES: Final = 32


class TimesDialog(FittingDialog):
    """Lists the board's photos; those ticked get the shift. It changes nothing itself.

    Signals:
        times_asked(object, int): shift the photos with these keys by so many seconds.
        time_asked(int, object): this photo, which has no time, was taken at this `datetime`.

    Attributes:
        table: the photos. clock: the camera's clock. problem: the sentence for what must be mended.
    """

    times_asked = Signal(object, object)
    time_asked = Signal(int, object)

    def __init__(
        self,
        record: BoardRecord,
        chosen: Collection[int],
        parent: QWidget | None = None,
        *,
        clock: Clock = wall_clock,
    ) -> None:
        """Show a board's photos, ``chosen`` ticked."""
        super().__init__(parent)
        self.setModal(True)
        self.setWindowTitle(self.tr("When the photos were taken"))
        headers = [self.tr("Photo"), self.tr("Taken"), self.tr("Camera's clock"), self.tr("Inspection")]
        self.table = PhotoTable(headers, self.tr("Photos whose time is put right; space ticks one"))
        self.clock = ClockRow(clock(), on_board=True)
        self.problem = ProblemLine()
        self._keys: list[int] = []
        self._pictures: dict[int, QImage] = {}
        self._times = TimesInHand({})
        self._all, self._none = QPushButton(self.tr("Tick &all")), QPushButton(self.tr("Tick &none"))
        self._buttons = QDialogButtonBox()
        self._close = self._buttons.addButton(self.tr("Close"), QDialogButtonBox.ButtonRole.RejectRole)
        for each in (self._all, self._none, self._close):
            each.setAutoDefault(False)
            each.setIcon(QIcon())
        text = self.tr("Tick the photos that one camera took with a wrong clock, then shift them together.")
        column = QVBoxLayout(self)
        column.setSpacing(3)  # for a low screen at twice the usual scale
        column.setContentsMargins(8, 7, 8, 7)
        column.addWidget(words_label(text, narrow=True))
        column.addWidget(self.table, 1)
        column.addWidget(self.clock)
        column.addWidget(self.problem)
        column.addWidget(flowing(self._all, self._none, self._buttons))
        self._wire()
        self.refresh(record, chosen)
        self.table.setFocus()

    def _wire(self) -> None:
        self.table.itemSelectionChanged.connect(self._follow_choice)
        self.clock.shifted.connect(self._shift)
        self.clock.really.connect(self._really)
        self.clock.refused.connect(self.problem.say)
        self._all.clicked.connect(self._tick_all)
        self._none.clicked.connect(self._tick_none)
        self._buttons.rejected.connect(self.reject)

    def refresh(self, record: BoardRecord, chosen: Collection[int] | None = None) -> None:
        """Show the photos as they are now; the same ones stay ticked unless others are named."""
        ticked = set(self.ticked() if chosen is None else chosen)
        row = self.table.chosen()
        here = self._keys[row] if 0 <= row < len(self._keys) else min(ticked, default=0)
        photos = photos_in_order(record)
        self._keys = [each.key for each in photos]
        self._times = TimesInHand({number: each.taken for number, each in enumerate(photos)})
        rows = []
        for each in photos:
            inspection = record.inspections.get(each.inspection or 0)
            rows.append(
                (
                    each.name,
                    self.tr("not known") if each.taken is None else date_time(each.taken),
                    "–" if each.camera_time is None else date_time(each.camera_time),
                    self.tr("none") if inspection is None else date_time(inspection.at),
                )
            )
        small = [self._pictures.get(key, QImage()) for key in self._keys]
        self.table.show_photos(small, rows, [True] * len(rows))
        self.table.tick(number for number, key in enumerate(self._keys) if key in ticked)
        if here in self._keys:
            self.table.selectRow(self._keys.index(here))
        self.problem.say("")
        self.clock.show_shift(0)
        self._follow_choice()

    def show_pictures(self, pictures: Mapping[int, Rgb]) -> None:
        """Show small pictures of the photos, by key."""
        self._pictures = {key: image_of(rgb) for key, rgb in pictures.items()}
        for number, key in enumerate(self._keys):
            self.table.set_picture(number, self._pictures.get(key, QImage()))

    def ticked(self) -> list[int]:
        """Return the keys of the photos ticked."""
        return [self._keys[row] for row in self.table.ticked_rows()]

    def complain(self, sentence: str) -> None:
        """Show what was refused."""
        self.problem.say(sentence)

    @Slot()
    def _tick_all(self) -> None:
        self.table.tick(range(len(self._keys)))

    @Slot()
    def _tick_none(self) -> None:
        self.table.tick(())

    @Slot()
    def _follow_choice(self) -> None:
        number = self.table.chosen()
        there = 0 <= number < len(self._keys)
        taken = self._times.time_of(number) if there else None
        self.clock.show_chosen(taken, has_clock=taken is not None, there=there, counted_from=taken)

    @Slot(object)
    def _shift(self, seconds: int) -> None:
        self.problem.say("")
        timed = [self._keys[row] for row in self.table.ticked_rows() if self._times.time_of(row) is not None]
        if not timed:
            self.problem.say(self.tr("Tick at least one photo that has a time."))
        elif seconds:
            self.times_asked.emit(timed, seconds)

    @Slot(object)
    def _really(self, when: datetime) -> None:
        number = self.table.chosen()
        if number < 0:
            return
        taken = self._times.time_of(number)
        if taken is None:
            self.time_asked.emit(self._keys[number], when)
        elif self._keys[number] not in self.ticked():
            self.problem.say(self.tr("Tick this photo as well: its time is what all the ticked ones follow."))
        else:
            self._shift(round((when - taken).total_seconds()))

    def sizeHint(self) -> QSize:
        """Return a size in which some photos are seen, or what the screen has room for."""
        letters = self.fontMetrics()
        wanted = QSize(letters.averageCharWidth() * _WIDTH_IN_LETTERS, letters.lineSpacing() * _HEIGHT_IN_LINES)
        return wanted.boundedTo(self._room())
