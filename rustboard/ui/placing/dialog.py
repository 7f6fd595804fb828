"""Four taps that say where a photo shows the board, or put right what was found by itself."""

from __future__ import annotations

from collections.abc import Callable
from math import isfinite
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSize, QSizeF, Signal, Slot
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QDialogButtonBox, QPushButton, QVBoxLayout, QWidget

from rustboard.board.measured import PhotoPlacing
from rustboard.board.model import Outline, Photo
from rustboard.board.record import BoardRecord
from rustboard.support.problems import InputError
from rustboard.support.text import one_line
from rustboard.ui.coupon_pictures import image_of
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.forms.labels import words_label
from rustboard.ui.placing.corners_view import CORNERS, CornersView
from rustboard.ui.placing.overlay import Overlay, corners_in, overlay_of, placing_of
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import number
from rustboard.ui.zooming.buttons import ZoomButtons

if TYPE_CHECKING:
    from rustboard.session.board_views import WholeView

Place = Callable[[Outline], PhotoPlacing]

_WIDTH_IN_LETTERS: Final = 150
_HEIGHT_IN_LINES: Final = 42


class PlacingDialog(FittingDialog):
    """The photo, its corners, and what follows from them.

    Signals:
        find_asked(): look for the board without taps.

    Attributes:
        view: the photo. problem: the sentence for what must be mended.
    """

    find_asked = Signal()

    def __init__(
        self,
        record: BoardRecord,
        photo: Photo,
        place: Place,
        scheme: Scheme,
        parent: QWidget | None = None,
        *,
        read_only: bool = False,
    ) -> None:
        """Show how a photo is placed now; ``place`` turns four corners into a placing, or refuses."""
        super().__init__(parent)
        self.setModal(True)
        self.setWindowTitle(self.tr("Where the board is: {0}").format(one_line(photo.name, 80)))
        self._record, self._photo, self._place = record, photo, place
        self._placing = placing_of(photo)
        self.view = CornersView(scheme)
        self.view.editable = not read_only
        self.problem = ProblemLine()
        self._hint = words_label(narrow=True)
        self._again = QPushButton(self.tr("Tap &anew"))
        self._find = QPushButton(self.tr("&Look for it without taps"))
        self._buttons = QDialogButtonBox()
        self._keep = self._buttons.addButton(self.tr("&Keep this place"), QDialogButtonBox.ButtonRole.AcceptRole)
        close = QDialogButtonBox.StandardButton.Close if read_only else QDialogButtonBox.StandardButton.Cancel
        self._cancel = self._buttons.addButton(close)
        for each in (self._again, self._find, self._keep):
            each.setVisible(not read_only)
        self._build()
        self._wire()
        self._show(self._placing)
        self.view.setFocus()

    def placing(self) -> PhotoPlacing:
        """Return the place to keep."""
        return self._placing

    def _build(self) -> None:
        for each in (self._again, self._find, self._keep, self._cancel):
            each.setAutoDefault(False)
            each.setIcon(QIcon())
        self._keep.setProperty("primary", True)
        foot = flowing(ZoomButtons(self.view, turning=True), self._again, self._find, self._buttons)
        column = QVBoxLayout(self)
        column.addWidget(self._hint)
        column.addWidget(self.view, 1)
        column.addWidget(self.problem)
        column.addWidget(foot)

    def _wire(self) -> None:
        self.view.corners_changed.connect(self._corners_moved)
        self._again.clicked.connect(self._start_again)
        self._find.clicked.connect(self.find_asked)
        self._buttons.accepted.connect(self.accept)
        self._buttons.rejected.connect(self.reject)

    # ---- what comes from beside the window

    def show_picture(self, whole: WholeView) -> None:
        """Show the photo."""
        self.view.show_image(image_of(whole.rgb), QSizeF(self._photo.width_px, self._photo.height_px))
        self._follow()

    def show_found(self, placing: PhotoPlacing) -> None:
        """Show where the board was found without taps, or why it was not."""
        self.say_looking(False)
        if placing.mm_to_px is None:
            self.problem.say(placing.because or self.tr("The board was not found; tap its four corners."))
            return
        self._show(placing)

    def _show(self, placing: PhotoPlacing) -> None:
        """Show a place that was not tapped: it keeps its lens and its error until a corner is moved."""
        self.view.set_corners(corners_in(self._photo, self._record, placing))
        self._placing = placing
        self.problem.say("")
        self._follow()

    def say_looking(self, looking: bool) -> None:
        """Show that the board is being looked for."""
        self._find.setEnabled(not looking)
        self._find.setText(self.tr("Looking…") if looking else self.tr("&Look for it without taps"))

    def complain(self, sentence: str) -> None:
        """Show what went wrong."""
        self.say_looking(False)
        self.problem.say(sentence)

    # ---- corners

    @Slot()
    def _start_again(self) -> None:
        self.view.set_corners(())
        self.view.setFocus()

    @Slot()
    def _corners_moved(self) -> None:
        corners = self.view.corners()
        complaint = ""
        self._placing = PhotoPlacing(self._photo.key, None)
        if len(corners) == CORNERS:
            try:
                self._placing = self._place(corners)
            except InputError as error:
                complaint = error.problem.what
            else:
                complaint = self._placing.because
        self.problem.say(complaint)
        self._follow()

    def _follow(self) -> None:
        placing = self._placing
        found = placing.mm_to_px is not None
        self.view.overlay = overlay_of(self._record, self._photo, placing) if found else Overlay()
        self._keep.setEnabled(found and self.view.has_image())
        self._hint.setText(self._advice())
        self.view.setAccessibleName(self._spoken())
        self.view.update()

    def _advice(self) -> str:
        put, names = len(self.view.corners()), self.view.names()
        if not self.view.has_image():
            return self.tr("Reading the photo…")
        if put < CORNERS and self.view.editable:
            text = self.tr(
                "Tap the board's {0} corner ({1} of 4), as the board hangs, not as the phone was held. "
                "Press and move: the magnifier shows what is under the finger. Without a mouse: Enter, then arrows."
            )
            return text.format(names[put], put + 1)
        if self._placing.mm_to_px is None:
            return self._photo.unplaced_because or self.tr("The board was not found in this photo.")
        return " ".join((self._how(), self.tr("The blue outlines must lie on the coupons; else drag a corner.")))

    def _how(self) -> str:
        """Say how the board was found, and how well that fits."""
        by = {
            "markers": self.tr("Found by the printed markers."),
            "view": self.tr("Found by comparing it with another photo."),
            "given": self.tr("The place was given with the photo."),
            "corners": self.tr("Placed by four corners."),
        }.get(self._placing.placed_by, "")
        error = self._placing.error_px
        if error is None or not isfinite(error):
            return by
        return " ".join((by, self.tr("On average it is off by {0} pixels.").format(number(error, 2))))

    def _spoken(self) -> str:
        chosen, corners = self.view.chosen(), self.view.corners()
        if not corners or not 0 <= chosen < len(corners):
            return self.tr("The photo; no corner is put yet")
        x, y = corners[chosen]
        text = self.tr("Corner {0} of {1}, {2}: {3} across, {4} down, in pixels of the photo")
        return text.format(chosen + 1, len(corners), self.view.names()[chosen], round(x), round(y))

    def sizeHint(self) -> QSize:
        """Return a size in which a photo can be tapped, or what the screen has room for."""
        letters = self.fontMetrics()
        wanted = QSize(letters.averageCharWidth() * _WIDTH_IN_LETTERS, letters.lineSpacing() * _HEIGHT_IN_LINES)
        return wanted.boundedTo(self._room())
