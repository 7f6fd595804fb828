"""What to film of a board, with one picture of the film as it will be."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSize, QSizeF, Qt, Signal, Slot
from PySide6.QtGui import QImage
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSlider,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.ui.coupon_pictures import image_of
from rustboard.ui.films.choice import FilmChoice
from rustboard.ui.films.options import FilmOptions
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.theme import Scheme
from rustboard.ui.zooming.view import ZoomView

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_WIDTH_IN_LETTERS: Final = 150
_OPTIONS_IN_LETTERS: Final = 42
_HEIGHT_IN_LINES: Final = 36


class FilmDialog(FittingDialog):
    """Choices on the left, one picture of the film on the right.

    Signals:
        picture_wanted(): show `picture_photo` as the film will show it; what was asked before is no longer wanted.

    Attributes:
        options: the choices. view: the picture. problem: the sentence for what must be mended.
    """

    picture_wanted = Signal()

    def __init__(
        self,
        record: BoardRecord,
        photos: Sequence[Photo],
        coupons: Sequence[int],
        scheme: Scheme,
        parent: QWidget | None = None,
    ) -> None:
        """Offer photos (at least one, by time) and coupons; pictures come by `show_picture`."""
        super().__init__(parent)
        self.setModal(True)
        self.setWindowTitle(self.tr("Time-lapse film"))
        self.options = FilmOptions(record, photos, coupons)
        self.view, self.problem = ZoomView(scheme), ProblemLine()
        self.view.setAccessibleName(self.tr("One picture of the film"))
        self._place = QSlider(Qt.Orientation.Horizontal)
        self._place.setRange(0, 0)
        self._place.setAccessibleName(self.tr("Which picture of the film is shown"))
        self._label = QLabel(self.tr("&Picture shown"))
        self._label.setBuddy(self._place)
        self._shown: tuple[object, ...] = ()
        self._write = QPushButton(self.tr("&Make the film…"))
        self._buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.NoButton)
        self._build()
        self._wire()
        self._span()

    def choice(self) -> FilmChoice:
        """Return what is chosen."""
        return self.options.choice()

    def picture_photo(self) -> Photo:
        """Return the photo whose picture is wanted."""
        photos = self.choice().photos
        return photos[min(self._place.value(), len(photos) - 1)]

    def begin(self, coupon: int | None) -> None:
        """Choose a coupon or the whole board, and ask for the first picture."""
        self.options.choose_coupon(coupon)
        self._follow()

    def show_picture(self, rgb: NDArray[np.uint8]) -> None:
        """Show the picture that was asked for."""
        image = image_of(rgb)
        self.view.show_image(image, QSizeF(image.size()))
        self.problem.say("")
        self._write.setEnabled(True)

    def complain(self, sentence: str, *, fatal: bool) -> None:
        """Say why there is no picture; ``fatal``: there can be no film either."""
        self.view.show_image(QImage(), QSizeF())
        self._shown = ()
        self.problem.say(sentence)
        self._write.setEnabled(not fatal)

    def _build(self) -> None:
        cancel = QPushButton(self.tr("Cancel"))
        self._write.setProperty("primary", True)
        for button in (self._write, cancel):
            button.setAutoDefault(False)  # Enter in a field takes the number over, and nothing else
        self._buttons.addButton(self._write, QDialogButtonBox.ButtonRole.AcceptRole)
        self._buttons.addButton(cancel, QDialogButtonBox.ButtonRole.RejectRole)
        letter = self.fontMetrics().averageCharWidth()
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(self.options)
        bar = scroll.verticalScrollBar().sizeHint().width()
        scroll.setMinimumWidth(self.options.minimumSizeHint().width() + bar)
        scroll.setMaximumWidth(max(letter * _OPTIONS_IN_LETTERS, scroll.minimumWidth()))
        self._place.setMinimumWidth(letter * 20)
        right = QVBoxLayout()
        right.addWidget(self.view, 1)
        right.addWidget(flowing(self._label, self._place, spacing=8))
        halves = QHBoxLayout()
        halves.addWidget(scroll, 2)
        halves.addLayout(right, 3)
        column = QVBoxLayout(self)
        column.addLayout(halves, 1)
        column.addWidget(self.problem)
        column.addWidget(self._buttons)

    def _wire(self) -> None:
        self.options.changed.connect(self._follow)
        self._place.valueChanged.connect(self._follow)
        self._buttons.accepted.connect(self.accept)
        self._buttons.rejected.connect(self.reject)

    def _span(self) -> None:
        count = len(self.choice().photos)
        at_end = self._place.value() == self._place.maximum()
        self._place.blockSignals(True)  # whoever calls asks for the picture
        self._place.setRange(0, count - 1)
        if at_end:  # the newest photo shows most
            self._place.setValue(count - 1)
        self._place.blockSignals(False)
        for each in (self._label, self._place):
            each.setEnabled(count > 1)

    @Slot()
    def _follow(self) -> None:
        self._span()
        choice = self.choice()
        wanted = (choice.coupon, choice.stamped, self.picture_photo().key)
        if wanted != self._shown:
            self._shown = wanted
            self.picture_wanted.emit()

    def sizeHint(self) -> QSize:
        """Return a size in which the picture is seen well, or what the screen has room for."""
        letters = self.fontMetrics()
        wanted = QSize(letters.averageCharWidth() * _WIDTH_IN_LETTERS, letters.lineSpacing() * _HEIGHT_IN_LINES)
        return wanted.boundedTo(self._room())
