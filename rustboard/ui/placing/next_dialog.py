"""Help to take the next photo from where an earlier one was taken."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSize, QSizeF, Qt, Signal, Slot
from PySide6.QtGui import QImage, QTransform
from PySide6.QtWidgets import QDialogButtonBox, QLabel, QPushButton, QSlider, QVBoxLayout, QWidget

from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.support.text import one_line
from rustboard.ui.coupon_pictures import image_of
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.form import ProblemLine, choice_field
from rustboard.ui.forms.labels import words_label
from rustboard.ui.photo_titles import photo_titles
from rustboard.ui.placing.move_words import advice, move_text
from rustboard.ui.placing.onion_view import OnionView, sheet_for_phone
from rustboard.ui.placing.overlay import Overlay, corners_in, overlay_of, placing_of
from rustboard.ui.theme import Scheme
from rustboard.ui.zooming.buttons import ZoomButtons

if TYPE_CHECKING:
    from rustboard.session.board_views import WholeView
    from rustboard.session.same_place import HeldAgainst

_WIDTH_IN_LETTERS: Final = 140
_HEIGHT_IN_LINES: Final = 42
_STEPS: Final = 100


class NextPhotoDialog(FittingDialog):
    """An earlier photo; a picture of it for the phone; and a new photo held against it.

    Signals:
        photo_wanted(int): show the photo with this key.
        sheet_asked(): write the picture for the phone.
        check_asked(): choose a new photo to hold against the one in view.

    Attributes:
        view: the photos. problem: the sentence for what went wrong.
    """

    photo_wanted = Signal(int)
    sheet_asked = Signal()
    check_asked = Signal()

    def __init__(
        self, record: BoardRecord, photos: Sequence[Photo], chosen: int, scheme: Scheme, parent: QWidget | None = None
    ) -> None:
        """Offer placed photos, one of them chosen; its picture comes by `show_picture`."""
        super().__init__(parent)
        self.setModal(True)
        self.setWindowTitle(self.tr("Next photo from the same place"))
        self._record, self._photos = record, {each.key: each for each in photos}
        self.view, self.problem = OnionView(scheme), ProblemLine()
        self.view.setAccessibleName(self.tr("The earlier photo, and the new one over it"))
        self._words = words_label(narrow=True)
        self._choice = choice_field()
        for each, title in zip(photos, photo_titles(record, photos), strict=True):
            self._choice.addItem(title, each.key)
        self._choice.setCurrentIndex(max(0, self._choice.findData(chosen)))
        self._slider = QSlider(Qt.Orientation.Horizontal)
        self._slider.setRange(0, _STEPS)
        self._slider.setValue(_STEPS // 2)
        self._slider.setMinimumWidth(self.fontMetrics().averageCharWidth() * 20)
        self._slider.setAccessibleName(self.tr("How much is seen of the new photo"))
        self._check = QPushButton(self.tr("&Check a new photo…"))
        self._sheet = QPushButton(self.tr("&Save a picture for the phone…"))
        self._buttons = QDialogButtonBox()
        self._close = self._buttons.addButton(self.tr("Close"), QDialogButtonBox.ButtonRole.RejectRole)
        self._build()
        self._wire()
        self._explain()
        self._follow()
        self._check.setFocus()

    def _build(self) -> None:
        self._check.setProperty("primary", True)
        for each in (self._check, self._sheet, self._close):
            each.setAutoDefault(False)
        label, amount = QLabel(self.tr("&Earlier photo")), QLabel(self.tr("&New photo seen"))
        label.setBuddy(self._choice)
        amount.setBuddy(self._slider)
        self._amount = amount
        column = QVBoxLayout(self)
        column.addWidget(flowing(label, self._choice, amount, self._slider, spacing=8))
        column.addWidget(self.view, 1)
        column.addWidget(self._words)
        column.addWidget(self.problem)
        column.addWidget(flowing(ZoomButtons(self.view), self._check, self._sheet, self._buttons))

    def _wire(self) -> None:
        self._choice.activated.connect(self._choose)
        self._slider.valueChanged.connect(self._slide)
        self._check.clicked.connect(self.check_asked)
        self._sheet.clicked.connect(self.sheet_asked)
        self._buttons.rejected.connect(self.reject)

    def photo(self) -> Photo:
        """Return the earlier photo."""
        return self._photos[int(self._choice.currentData())]

    def _explain(self) -> None:
        self._words.setText(
            self.tr(
                "Save the picture for the phone, or print it: stand so that the board fills the picture in "
                "the same way, its corners at the crosses. Afterwards check the new photo here before you go."
            )
        )

    def _follow(self) -> None:
        for each in (self._slider, self._amount):
            each.setEnabled(self.view.has_new())
        for button in (self._check, self._sheet):
            button.setEnabled(self.view.has_image())

    # ---- what comes from beside the window

    def show_picture(self, whole: WholeView) -> None:
        """Show the earlier photo."""
        photo = self.photo()
        self.view.overlay = overlay_of(self._record, photo, placing_of(photo))
        self.view.show_image(image_of(whole.rgb), QSizeF(photo.width_px, photo.height_px))
        self._follow()

    def sheet(self) -> QImage:
        """Return the picture for the phone."""
        photo = self.photo()
        placing = placing_of(photo)
        extent = QSizeF(photo.width_px, photo.height_px)
        corners = corners_in(photo, self._record, placing)
        return sheet_for_phone(self.view.image(), extent, overlay_of(self._record, photo, placing), corners)

    def show_held(self, held: HeldAgainst) -> None:
        """Lay a new photo over the earlier one and say how far the camera was moved."""
        image = image_of(held.view.rgb)
        quarters = 0 if held.move is None else round(held.move.turn_deg / 90)
        if quarters:  # the phone was turned; the photos are to lie the same way up
            image = image.transformed(QTransform().rotate(-90 * quarters))
        self.view.show_new(image)
        name = one_line(held.name, 60)
        if held.move is None:
            because = held.because or self.tr("The board was not found in it.")
            self._words.setText(self.tr("{0}: where it was taken cannot be told.").format(name))
            self.problem.say(because)
        else:
            text = self.tr("{0}: {1}. {2}")
            self._words.setText(text.format(name, move_text(held.move), advice(held)))
            self.problem.say("")
        self._follow()
        self._check.setEnabled(True)

    def say_checking(self) -> None:
        """Show that a new photo is being looked at."""
        self.problem.say("")
        self._words.setText(self.tr("Looking for the board in the new photo…"))
        self._check.setEnabled(False)

    def note(self, sentence: str) -> None:
        """Say that something went well."""
        self.problem.say("")
        self._words.setText(sentence)

    def complain(self, sentence: str) -> None:
        """Show what went wrong."""
        self.problem.say(sentence)
        self._explain()
        self._follow()

    @Slot(int)
    def _choose(self, index: int) -> None:
        # The lines of one photo must not be drawn over another, nor saved so for the phone.
        self.view.show_image(QImage(), self.view.extent())
        self.view.overlay = Overlay()
        self.view.show_new(QImage())
        self._explain()
        self.problem.say("")
        self._follow()
        self.photo_wanted.emit(int(self._choice.itemData(index)))

    @Slot(int)
    def _slide(self, value: int) -> None:
        self.view.set_share(value / _STEPS)

    def sizeHint(self) -> QSize:
        """Return a size in which a photo is seen well, or what the screen has room for."""
        letters = self.fontMetrics()
        wanted = QSize(letters.averageCharWidth() * _WIDTH_IN_LETTERS, letters.lineSpacing() * _HEIGHT_IN_LINES)
        return wanted.boundedTo(self._room())
