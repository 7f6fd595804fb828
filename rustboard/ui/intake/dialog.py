"""Photos before they are added: what they are, when they were taken, which inspection they join."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Final

from PySide6.QtCore import QSize, Signal, Slot
from PySide6.QtGui import QIcon, QImage
from PySide6.QtWidgets import QDialogButtonBox, QLabel, QProgressBar, QPushButton, QVBoxLayout, QWidget

from rustboard.board.record import BoardRecord
from rustboard.support.clock import Clock, wall_clock
from rustboard.ui.dropped_photos import DroppedPhotos
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.forms.labels import words_label
from rustboard.ui.intake.clock_row import ClockRow
from rustboard.ui.intake.joining import joined
from rustboard.ui.intake.photo_table import PhotoTable
from rustboard.ui.intake.rows import LookedAt, TimesInHand
from rustboard.ui.wording import date_time

_WIDTH_IN_LETTERS: Final = 130
_HEIGHT_IN_LINES: Final = 34
_TIME, _FROM, _WHERE = 1, 2, 3


class IntakeDialog(FittingDialog):
    """Lists photos. It adds nothing itself: whoever shows it does, when `add_asked` comes.

    Signals:
        more_asked(): choose more files.
        folder_asked(): choose a folder.
        add_asked(): add what is ticked, with the times in hand.
        stop_asked(): stop looking, or adding.
        dropped(object): files and folders, a list of `Path`, were dropped here.

    Attributes:
        table: the photos. clock: the camera's clock. problem: the sentence for what must be mended.
    """

    more_asked = Signal()
    folder_asked = Signal()
    add_asked = Signal()
    stop_asked = Signal()
    dropped = Signal(object)

    def __init__(self, record: BoardRecord, parent: QWidget | None = None, *, clock: Clock = wall_clock) -> None:
        """Start without photos."""
        super().__init__(parent)
        self.setModal(True)
        self.setWindowTitle(self.tr("Add photos"))
        self._record = record
        self._photos: list[LookedAt] = []
        self._times = TimesInHand({})
        self._busy = False
        headers = [self.tr("Photo"), self.tr("Taken"), self.tr("Time from"), self.tr("Inspection")]
        self.table = PhotoTable(headers, self.tr("Photos to add; space ticks one"))
        self.clock = ClockRow(clock())
        self.problem = ProblemLine()
        self._words = words_label(narrow=True)
        self._bar = QProgressBar()
        self._bar.setAccessibleName(self.tr("Progress"))
        self._bar.hide()
        self._more, self._folder = QPushButton(self.tr("More &files…")), QPushButton(self.tr("A f&older…"))
        self._stop = QPushButton(self.tr("&Stop"))
        self._buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self._add = self._buttons.addButton(self.tr("&Add"), QDialogButtonBox.ButtonRole.ActionRole)
        self._drops = DroppedPhotos(self)
        self._drops.watch(self)
        self._build()
        self._wire()
        self._follow()
        self.table.setFocus()

    def _build(self) -> None:
        cancel = self._buttons.button(QDialogButtonBox.StandardButton.Cancel)
        for each in (self._more, self._folder, self._stop, self._add, cancel):
            each.setAutoDefault(False)
            each.setIcon(QIcon())
        self._add.setProperty("primary", True)
        column = QVBoxLayout(self)
        column.addWidget(self._words)
        column.addWidget(self.table, 1)
        column.addWidget(self.clock)
        column.addWidget(self._bar)
        column.addWidget(self.problem)
        column.addWidget(flowing(self._more, self._folder, self._stop, QLabel(), self._buttons))

    def _wire(self) -> None:
        self.table.ticked.connect(self._follow)
        self.table.itemSelectionChanged.connect(self._follow_choice)
        self.clock.shifted.connect(self._shift)
        self.clock.really.connect(self._really)
        self.clock.refused.connect(self.problem.say)
        self._more.clicked.connect(self.more_asked)
        self._folder.clicked.connect(self.folder_asked)
        self._stop.clicked.connect(self.stop_asked)
        self._add.clicked.connect(self._ask_add)
        self._buttons.rejected.connect(self.reject)
        self._drops.dropped.connect(self.dropped)

    # ---- what is shown

    def show_photos(self, photos: Sequence[LookedAt]) -> None:
        """Show the photos that were looked at; times that were put right before stay so, and what was unticked."""
        self.say_busy("")
        ticked = self.table.ticked_rows()
        unticked = {
            each.mark for row, each in enumerate(self._photos) if row not in ticked and each.mark and not each.refused
        }
        own = {self._photos[row].mark: when for row, when in self._times.own.items()}
        self._photos = list(photos)
        self._times.own = {row: own[each.mark] for row, each in enumerate(photos) if each.mark in own}
        self._times.given = {number: each.taken for number, each in enumerate(photos)}
        pictures: list[QImage] = [each.thumbnail for each in photos]
        rows = [(each.name, "", "", each.refused) for each in photos]
        self.table.show_photos(pictures, rows, [not each.refused for each in photos])
        self.table.tick(row for row, each in enumerate(photos) if each.mark not in unticked)

    def say_busy(self, sentence: str, done: int = 0, total: int = 0) -> None:
        """Show what goes on beside the window, or that nothing does."""
        self._busy = bool(sentence)
        self._bar.setVisible(self._busy)
        self._stop.setEnabled(self._busy)  # it keeps its place, so that no other button comes under the pointer
        self._bar.setRange(0, total)
        self._bar.setValue(done)
        self._bar.setFormat(f"{sentence} {done} / {total}" if total else sentence)
        for each in (self._more, self._folder, self.clock, self.table):
            each.setEnabled(not self._busy)
        self._follow_buttons()

    def complain(self, sentence: str) -> None:
        """Show what went wrong."""
        self.say_busy("")
        self.problem.say(sentence)

    def wanted(self) -> list[tuple[int, datetime | None]]:
        """Return number and time of each photo to add."""
        return [(row, self._times.time_of(row)) for row in self.table.ticked_rows()]

    @Slot()
    def _follow(self) -> None:
        wanted = dict(self.wanted())
        where = joined(self._record, wanted)
        for number, photo in enumerate(self._photos):
            if photo.refused:
                continue
            taken = self._times.time_of(number)
            self.table.set_text(number, _TIME, self.tr("not known") if taken is None else date_time(taken))
            self.table.set_text(number, _FROM, self._from(number, photo))
            self.table.set_text(number, _WHERE, where.get(number, self.tr("is not added")))
        self._words.setText(self._summary(len(wanted)))
        self._follow_choice()
        self._follow_buttons()

    def _from(self, number: int, photo: LookedAt) -> str:
        if number in self._times.own:
            return self.tr("you")
        shifted = self.tr(", shifted") if self._times.shift_seconds and photo.taken is not None else ""
        return {"camera": self.tr("camera"), "name": self.tr("file name")}.get(photo.time_from, "–") + shifted

    def _summary(self, count: int) -> str:
        if not self._photos:
            return self.tr(
                "Choose the photos of this board: JPEG, PNG, TIFF or HEIC. Their files are kept unchanged."
            )
        refused = sum(bool(each.refused) for each in self._photos)
        text = self.tr("{0} of {1} photos will be added.").format(count, len(self._photos))
        if refused:
            text += " " + self.tr("{0} cannot be; the reason stands beside each.").format(refused)
        return text

    def _follow_buttons(self) -> None:
        count = len(self.table.ticked_rows())
        self._add.setText(self.tr("&Add {0}").format(count) if count else self.tr("&Add"))
        self._add.setEnabled(bool(count) and not self._busy)

    @Slot()
    def _follow_choice(self) -> None:
        number = self.table.chosen()
        there = 0 <= number < len(self._photos) and not self._photos[number].refused
        camera = self._photos[number].taken if there else None
        time = self._times.time_of(number) if there else None
        self.clock.show_chosen(time, has_clock=camera is not None, there=there, counted_from=camera)

    # ---- times

    @Slot(object)
    def _shift(self, seconds: int) -> None:
        self.problem.say("")
        self._times.shift_seconds = seconds
        self.clock.show_shift(seconds)
        self._follow()

    @Slot(object)
    def _really(self, when: datetime) -> None:
        self.problem.say("")
        number = self.table.chosen()
        if number >= 0:
            if not self._times.really_at(number, when, ()):
                self._next_without_time(number)
            self.clock.show_shift(self._times.shift_seconds)
            self._follow()

    def _next_without_time(self, after: int) -> None:
        """Choose the next photo whose time is not known, to be asked for it."""
        for number in range(after + 1, len(self._photos)):
            if not self._photos[number].refused and self._times.time_of(number) is None:
                self.table.selectRow(number)
                return

    @Slot()
    def _ask_add(self) -> None:
        without = [number for number, taken in self.wanted() if taken is None]
        if without:
            self.table.selectRow(without[0])
            text = self.tr("When was this photo taken? Give {0} photos a time below, or untick them.")
            one = self.tr("When was this photo taken? Give it a time below, or untick it.")
            self.problem.say(one if len(without) == 1 else text.format(len(without)))
            return
        self.problem.say("")
        self.add_asked.emit()

    @Slot()
    def reject(self) -> None:
        """Stop what goes on, and close."""
        if self._busy:
            self.stop_asked.emit()
        super().reject()

    def sizeHint(self) -> QSize:
        """Return a size in which some photos are seen, or what the screen has room for."""
        letters = self.fontMetrics()
        wanted = QSize(letters.averageCharWidth() * _WIDTH_IN_LETTERS, letters.lineSpacing() * _HEIGHT_IN_LINES)
        return wanted.boundedTo(self._room())
