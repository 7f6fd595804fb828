"""A logger's file before its readings are taken over: how it is written, and what it says when it is read so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSize, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QLabel,
    QListWidget,
    QProgressBar,
    QPushButton,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.clock_names import is_zone
from rustboard.support.text import one_line
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.forms.labels import words_label
from rustboard.ui.forms.sentences import Sentences
from rustboard.ui.loggers.logger_words import count, repeated, standing, summary
from rustboard.ui.loggers.option_fields import OptionFields
from rustboard.ui.loggers.preview_table import MOST_COLUMNS_SHOWN, PreviewTable
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.session.weather_intake import LoggerReading
    from rustboard.weather.logger_file.options import FileOptions

_PAUSE_MS: Final = 300
"""So long nothing is typed or chosen before the file is read anew."""
_WIDTH_IN_LETTERS: Final = 170
_HEIGHT_IN_LINES: Final = 40


class LoggerFileDialog(FittingDialog):
    """Shows one file. It reads and adds nothing itself: whoever shows it does, when it is asked.

    Signals:
        read_asked(): read the file as `options` say.
        profile_chosen(str): read it by this profile, or by the guess when the name is empty.
        keep_asked(): keep `options` as a profile.
        stop_asked(): stop what goes on beside the window.
        add_asked(): add what the reading shown holds.

    Attributes:
        fields: how the file is written. table: its first rows. left_out: what could not be used, in words.
        problem: the sentence for what must be mended. reading: what is shown, or None before the first answer.
        options: how the file is to be read, or None before the first answer.
        is_skipped: whether the next file is wanted instead of this one.
    """

    read_asked = Signal()
    profile_chosen = Signal(str)
    keep_asked = Signal()
    stop_asked = Signal()
    add_asked = Signal()

    def __init__(
        self,
        name: str,
        scheme: Scheme,
        parent: QWidget | None = None,
        *,
        loggers: Sequence[str] = (),
        profiles: Sequence[str] = (),
        board_zone: str = "",
        more: int = 0,
    ) -> None:
        """Wait for a file to be read.

        Args:
            name: of the file.
            scheme: colours.
            parent: as Qt has it.
            loggers: names of loggers on the board.
            profiles: names of kept profiles.
            board_zone: zone of the board's clock, empty where it is not known.
            more: how many files come after this one.
        """
        super().__init__(parent)
        self.setModal(True)
        title = self.tr("Readings of {0}, {1} more to come") if more else self.tr("Readings of {0}")
        self.setWindowTitle(title.format(one_line(name, 80), count(more)))
        self._board_zone = board_zone
        self._busy, self._is_stale = False, False
        self._profile = ""
        self.is_skipped = False
        self.reading: LoggerReading | None = None
        self.options: FileOptions | None = None
        self.fields = OptionFields(loggers, profiles)
        self.table = PreviewTable(scheme)
        self.left_out = QListWidget()
        self.problem = ProblemLine()
        self._doubts = Sentences()
        self._tabs = QTabWidget()
        self._summary = words_label(narrow=True)
        self._bar = QProgressBar()
        self._stop = QPushButton(self.tr("&Stop"))
        self._skip = QPushButton(self.tr("Sk&ip this file"))
        self._skip.setVisible(more > 0)
        self._buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self._add = self._buttons.addButton(self.tr("&Add"), QDialogButtonBox.ButtonRole.ActionRole)
        self._pause = QTimer(self)
        self._build()
        self._wire()
        self._follow()

    def _build(self) -> None:
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE_MS)
        self._summary.setProperty("heading", True)
        self._bar.setAccessibleName(self.tr("Progress"))
        self._bar.hide()
        self.left_out.setAccessibleName(self.tr("Rows and cells that cannot be used"))
        self.left_out.setWordWrap(True)
        self.left_out.setAlternatingRowColors(True)
        self._tabs.addTab(self.table, self.tr("&First rows"))
        self._tabs.addTab(self.left_out, self.tr("Not &used"))
        cancel = self._buttons.button(QDialogButtonBox.StandardButton.Cancel)
        for each in (self._stop, self._skip, self._add, cancel):
            each.setAutoDefault(False)
            each.setIcon(QIcon())
        self._add.setProperty("primary", True)
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(self.fields)
        self._split.addWidget(self._tabs)
        self._split.setStretchFactor(1, 1)
        column = QVBoxLayout(self)
        column.addWidget(self._doubts)
        column.addWidget(self._split, 1)
        column.addWidget(self._summary)
        column.addWidget(self._bar)
        column.addWidget(self.problem)
        column.addWidget(flowing(self._stop, self._skip, QLabel(), self._buttons))

    def _wire(self) -> None:
        self.fields.laid_otherwise.connect(self._lay_anew)
        self.fields.changed.connect(self._take_fields)
        self.fields.profile_chosen.connect(self._choose_profile)
        self.fields.keep_asked.connect(self.keep_asked)
        self.table.column_changed.connect(self._take_column)
        self._pause.timeout.connect(self.read_asked)
        self._stop.clicked.connect(self.stop_asked)
        self._skip.clicked.connect(self._go_on)
        self._add.clicked.connect(self._ask_add)
        self._buttons.rejected.connect(self.reject)

    # ---- what is shown

    def show_reading(self, reading: LoggerReading, *, fill: bool = False) -> None:
        """Show what a file says; with ``fill`` the fields show how it was read, as after a guess."""
        self.say_busy("")
        if self._pause.isActive() and not fill:
            return  # it was changed again meanwhile, and is about to be read anew
        self._is_stale = False
        if self.options is None:
            self.table.setFocus()
        if fill or self.options is None:
            given = reading.given
            self.options, self._profile = reading.options, reading.profile
            self.fields.show_source(reading.options.logger or (given.logger if given else ""), reading.options.clock)
            self.fields.show_profile(reading.profile)
            self._show_layout()
        self._show(reading)

    def show_beginning(self, reading: LoggerReading) -> None:
        """Show how the beginning of a file seems to be written, while the whole is still read."""
        self.fields.show_source(reading.options.logger, reading.options.clock)
        options = reading.options
        self.fields.show_layout(options.delimiter, options.decimal_mark, options.date_order, options.header_rows)
        self._show(reading)

    def _show(self, reading: LoggerReading) -> None:
        self.reading = reading
        self.table.show_reading(reading)
        self._doubts.show_sentences(reading.doubts)
        self._show_told()
        self.problem.say("" if reading.problem is None else reading.problem.sentence())
        self._follow()

    def _show_layout(self) -> None:
        options = self.options
        if options is not None:
            marks = (options.delimiter, options.decimal_mark, options.date_order)
            self.fields.show_layout(*marks, options.header_rows)

    def _show_told(self) -> None:
        reading = self.reading
        told = () if reading is None or reading.read is None else reading.read.told
        self.left_out.clear()
        self.left_out.addItems([replace(each, file="").sentence() for each in told])
        title = self.tr("Not &used")
        self._tabs.setTabText(1, f"{title} ({count(len(told))})" if told else title)

    def say_busy(self, sentence: str, done: int = 0, total: int = 0) -> None:
        """Show what goes on beside the window, or that nothing does."""
        self._busy = bool(sentence)
        self._bar.setVisible(self._busy)
        share = round(1000 * done / total) if total else 0  # a file may have more bytes than a bar has steps
        self._bar.setRange(0, 1000 if total else 0)
        self._bar.setValue(share)
        self._bar.setFormat(sentence)
        self._follow()

    def complain(self, sentence: str) -> None:
        """Show what went wrong."""
        self.say_busy("")
        self.problem.say(sentence)

    def profile(self) -> str:
        """Return the name of the kept profile that the fields began with, or an empty text."""
        return self._profile

    def show_profiles(self, names: Sequence[str], chosen: str) -> None:
        """Show the kept profiles, one of which is how the file is read now."""
        self._profile = chosen
        self.fields.show_profiles(names, chosen)

    def zone(self) -> str:
        """Return the zone of the board's clock: the one that is known, or the one that was chosen here."""
        return self._board_zone or self.fields.zone.clock()

    def wants_zone(self) -> bool:
        """Return whether the zone of the board's clock must be told with this file."""
        return self.options is not None and bool(self.options.clock) and not self._board_zone

    @Slot()
    def _follow(self) -> None:
        reading = self.reading
        ready = not self._busy and not self._is_stale
        given = None if reading is None else reading.given
        self.fields.want_zone(self.wants_zone())
        self._stop.setEnabled(self._busy)  # it keeps its place, so that no other button comes under the pointer
        self._summary.setText(self._words())
        self._summary.setVisible(bool(self._summary.text()))
        may_add = given is not None and reading is not None and reading.standing != "same"
        text = self.tr("&Add {0} readings").format(count(given.count)) if given is not None else self.tr("&Add")
        self._add.setText(text)
        self._add.setEnabled(ready and may_add)
        self.fields.setEnabled(self.options is not None)
        self.table.setEnabled(self.options is not None)

    def _words(self) -> str:
        reading = self.reading
        if reading is None:
            return self.tr("The file is being read.") if self._busy else ""
        parts = [summary(reading), *standing(reading), repeated(reading)]
        if not reading.file.sha256:
            parts.append(self.tr("This is the beginning; the whole file is being read."))
        more = len(reading.options.columns) - MOST_COLUMNS_SHOWN
        if more > 0:
            parts.append(self.tr("{0} more columns are not shown.").format(count(more)))
        return " ".join(filter(None, parts))

    # ---- gestures

    @Slot()
    def _take_fields(self) -> None:
        if self.options is None:
            return
        fields = self.fields
        self._read_soon(
            replace(
                self.options,
                decimal_mark=fields.decimal.currentData(),
                date_order=fields.dates.currentData(),
                clock=fields.clock.clock(),
                logger=fields.logger_name(),
            )
        )

    @Slot()
    def _lay_anew(self) -> None:
        from rustboard.session.weather_columns import laid_anew

        if self.options is None or self.reading is None:
            return
        text = self.reading.file.text
        mark, rows = self.fields.delimiter.currentData(), self.fields.lines.value()
        self._read_soon(laid_anew(text, self.options, delimiter=mark, header_rows=rows))
        self._show_layout()

    @Slot(int, str, str)
    def _take_column(self, index: int, role: str, unit: str) -> None:
        from rustboard.session.weather_columns import with_role

        if self.options is not None:
            self._read_soon(with_role(self.options, index, role, unit))  # type: ignore[arg-type]

    def _read_soon(self, options: FileOptions) -> None:
        self.options = options
        self._is_stale = True
        self._pause.start()
        self._follow()

    @Slot(str)
    def _choose_profile(self, name: str) -> None:
        self._pause.stop()
        self._is_stale = True
        self.profile_chosen.emit(name)

    @Slot()
    def _ask_add(self) -> None:
        if self.wants_zone() and not is_zone(self.fields.zone.clock() or "-"):
            self.problem.say(self.tr("Choose the zone of the board's clock, such as Europe/Berlin."))
            self.fields.zone.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self.problem.say("")
        self.add_asked.emit()

    @Slot()
    def _go_on(self) -> None:
        self.is_skipped = True
        self.reject()

    @Slot()
    def reject(self) -> None:
        """Stop what goes on, and close."""
        if self._busy:
            self.stop_asked.emit()
        super().reject()

    # ---- size

    def sizeHint(self) -> QSize:
        """Return a size in which some rows are seen, or what the screen has room for."""
        letters = self.fontMetrics()
        wanted = QSize(letters.averageCharWidth() * _WIDTH_IN_LETTERS, letters.lineSpacing() * _HEIGHT_IN_LINES)
        return wanted.boundedTo(self._room())
