"""The line over the photo screen: which photo it is, what can be done with it, and how far measuring is."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QSizePolicy, QWidget

from rustboard.ui.photos.photo_words import Day
from rustboard.ui.wording import tool_tip


class PhotoHead(QWidget):
    """Says which photo is in view.

    Signals:
        place_asked(int): the board is to be found in this photo. find_asked(): missing photos are to be looked for.
        measure_asked(), stop_asked(), left(): the buttons.
    """

    place_asked = Signal(int)
    find_asked = Signal()
    measure_asked = Signal()
    stop_asked = Signal()
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the line."""
        super().__init__(parent)
        self._title = QLabel()
        self._title.setProperty("heading", True)
        self._title.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._place = QPushButton(self.tr("Place the board…"))
        self._place.setToolTip(self.tr("Find the board in this photo, or tap its four corners."))
        self._find = QPushButton(self.tr("Find missing photos…"))
        self._find.setToolTip(self.tr("Name a folder where the photos may be; they are known by what is in them."))
        self._find.hide()
        self._measure = QPushButton()
        self._measure.setProperty("primary", True)
        self._progress = QProgressBar()
        self._progress.setFixedWidth(130)
        self._progress.setAccessibleName(self.tr("Photos measured"))
        self._progress.hide()
        self._stop = QPushButton(self.tr("Stop"))
        self._stop.setToolTip(self.tr("Stop measuring; what is measured already is not worked out again."))
        self._stop.setEnabled(False)
        self._back = QPushButton(self.tr("Bac&k to the board"))
        self._day: Day | None = None
        self._narrow, self._elsewhere = False, False
        self._waiting, self._photo, self._writable, self._working = 0, 0, False, False
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self._title, 1)
        # The progress comes before the buttons, which so keep their places when it comes and goes.
        for each in (self._progress, self._find, self._place, self._measure, self._stop, self._back):
            row.addWidget(each)
        self._wire()

    def _wire(self) -> None:
        self._find.clicked.connect(self._ask_find)
        self._place.clicked.connect(self._ask_place)
        self._measure.clicked.connect(self._ask_measure)
        self._stop.clicked.connect(self._ask_stop)
        self._back.clicked.connect(self._leave)

    def show_day(self, day: Day | None, *, writable: bool, elsewhere: bool = False, missing: bool = False) -> None:
        """Show a photo; say when the board shows another inspection than the photo's (``elsewhere``).

        Where its file is ``missing``, there is a button to look for it.
        """
        self._writable, self._elsewhere = writable, elsewhere
        self._photo = 0 if day is None else day.photo
        self._day = day
        self._show_title()
        self._title.setToolTip("" if day is None else tool_tip(day.words()))
        self._place.setVisible(writable and day is not None and day.state in ("unplaced", "unsearched"))
        self._find.setVisible(writable and missing)

    def _show_title(self) -> None:
        day = self._day
        parts: tuple[str, ...] = ()
        if day is not None:
            other = self.tr("the board shows another day") if self._elsewhere else ""
            parts = (day.day, day.when, day.state_words(), other, "" if self._narrow else day.name)
        self._title.setText(" · ".join(each for each in parts if each))

    def show_waiting(self, waiting: int) -> None:
        """Show in how many photos something is to be measured, or to be measured again."""
        self._waiting = waiting
        if waiting:
            text = self.tr("Measure {0} photos").format(waiting) if waiting > 1 else self.tr("Measure 1 photo")
            tip = self.tr(
                "Measure the rust in the photos not measured yet, or changed since; you can go on grading meanwhile."
            )
        else:
            text = self.tr("Measure again")
            tip = self.tr("Every photo is measured. Measuring again looks at all of them anew.")
        if self._measure.property("primary") != bool(waiting):
            self._measure.setProperty("primary", bool(waiting))
            self._measure.style().unpolish(self._measure)
            self._measure.style().polish(self._measure)
        self._measure.setText(text)
        self._measure.setToolTip(tip)
        self._show_buttons()

    def show_progress(self, done: int, total: int) -> None:
        """Show how far measuring is; a total of 0 means that nothing is measured just now."""
        self._working = total > 0
        if total:
            self._progress.setRange(0, total)
            self._progress.setValue(done)
            self._progress.setFormat(self.tr("{0} of {1}").format(done, total))
        self._show_buttons()

    def _show_buttons(self) -> None:
        """Leave both buttons where they are, so that a second click does not do the opposite of the first."""
        for button, enabled in ((self._measure, not self._working), (self._stop, self._working)):
            if not enabled and self.window().focusWidget() is button:
                self.setFocus()  # or the next button would have the keyboard, and the same key press it
            button.setVisible(self._writable)
            button.setEnabled(enabled)
        self._progress.setVisible(self._working)

    def set_narrow(self, narrow: bool) -> None:
        """Leave the way back to the tool bar where room is dear."""
        self._back.setVisible(not narrow)
        self._narrow = narrow
        self._show_title()

    @Slot()
    def _ask_place(self) -> None:
        self.place_asked.emit(self._photo)

    @Slot()
    def _ask_find(self) -> None:
        self.find_asked.emit()

    @Slot()
    def _ask_measure(self) -> None:
        self.measure_asked.emit()

    @Slot()
    def _ask_stop(self) -> None:
        self.stop_asked.emit()

    @Slot()
    def _leave(self) -> None:
        self.left.emit()
