"""The middle of the photo screen: the board, one coupon large, the figures, and the buttons over them."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QEvent, Qt, Slot
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from rustboard.board.measured import Stroke
from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.session.mask_views import percent_of, strokes_on, with_stroke
from rustboard.session.photo_days import hidden_until_graded
from rustboard.session.session import Session
from rustboard.support.settings import Settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.photos.board_picture import BoardPicture, marks_of
from rustboard.ui.photos.coupon_picture import CouponPicture
from rustboard.ui.photos.figures import FiguresPanel
from rustboard.ui.photos.photo_words import Day
from rustboard.ui.photos.tool_rows import PhotoTools
from rustboard.ui.photos.views import PhotoViews
from rustboard.ui.theme import Scheme

_SHARES = (40, 38, 22)
_WIDEST = 46  # letters in a line of the figures
_ANY_WIDTH = 16_777_215  # Qt's own largest


class PhotoStage(QWidget):
    """Shows one photo, and another to compare it with.

    Attributes:
        tools, board, coupon, figures: its parts. views: where the pictures come from.
    """

    def __init__(
        self, session: Session, bridge: JobBridge, scheme: Scheme, settings: Settings, parent: QWidget | None = None
    ) -> None:
        """Start without a photo."""
        super().__init__(parent)
        self._session, self._settings = session, settings
        self.views = PhotoViews(session, bridge, self)
        self.tools = PhotoTools()
        self.board, self.coupon = BoardPicture(scheme), CouponPicture(scheme)
        self.figures = FiguresPanel(session, settings)
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._photo: Photo | None = None
        self._other: Photo | None = None
        self._days: dict[int, Day] = {}
        self._narrow = False
        self._painted: tuple[int, int] | None = None
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        self._split.setChildrenCollapsible(False)
        for at, each in enumerate((self.board, self.coupon, self.figures)):
            self._split.addWidget(each)
            self._split.setStretchFactor(at, _SHARES[at])
        self._split.setSizes([each * 10 for each in _SHARES])
        self.figures.setMinimumWidth(self.fontMetrics().averageCharWidth() * 28)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.tools)
        column.addWidget(self._split, 1)

    def _wire(self) -> None:
        self.views.arrived.connect(self.show_pictures)
        self.tools.seen_changed.connect(self._change_seen)
        self.tools.mask_changed.connect(self._show_mask)
        self.tools.comparing.held.connect(self.hold)
        self.tools.brush_changed.connect(self._take_brush)
        self.tools.zoom_asked.connect(self._zoom)
        self.coupon.size_asked.connect(self.tools.painting.step_size)

    def subject(self) -> tuple[int, int]:
        """Return the photo and the coupon in view, by key; 0 where there is none."""
        return (0 if self._photo is None else self._photo.key, self._session.selection.focus or 0)

    # ---- what is shown

    def show_photo(self, photo: Photo | None, other: Photo | None, days: list[Day]) -> None:
        """Show a photo, and another to compare it with; ``days`` are those of all photos."""
        if photo != self._photo:
            self._painted = None
        self._photo, self._other = photo, other
        record = self._session.record
        self._days = {each.photo: each for each in days}
        self.board.set_board_size(record.board.width_mm, record.board.height_mm)
        self.show_coupon()

    def show_coupon(self) -> None:
        """Show the coupon that is chosen."""
        record, photo, (_, coupon) = self._session.record, self._photo, self.subject()
        self.board.set_coupon(coupon)
        self.figures.show_figures(
            photo, record.coupons.get(coupon), _hidden(self._session.record, self._settings, photo)
        )
        self.tools.set_enabled(
            masks=photo is not None and photo.key in record.measured and not self.is_hidden(),
            paints=self._can_paint(),
            compares=len(record.photos) > 1,
            strokes=photo is not None and bool(strokes_on(self._session, photo.key, coupon)),
        )
        self.show_pictures()

    def is_hidden(self) -> bool:
        """Return whether the coupon in view hides what the photo, or the one to compare with, says of it."""
        _, coupon = self.subject()
        return any(
            coupon in _hidden(self._session.record, self._settings, each) for each in (self._photo, self._other)
        )

    def _can_paint(self) -> bool:
        photo, coupon = self.subject()
        found = self._session.record.measured.get(photo, {}).get(coupon)
        return (
            not self._session.read_only_reason
            and not self.is_hidden()
            and found is not None
            and found.percent is not None
        )

    @Slot()
    def show_pictures(self) -> None:
        """Show what is there, and ask for what is to be seen and is not."""
        photo, (_, coupon) = self._photo, self.subject()
        if photo is None:
            return
        self._want(photo, self._other, coupon)
        record, views, caption = self._session.record, self.views, self._caption(photo)
        marks = marks_of(record, photo, _hidden(self._session.record, self._settings, photo))
        self._show_mask()
        self.board.show_board(views.board(photo.key), marks, caption, self._missing(photo, None))
        image = views.coupon(photo.key, coupon)
        self.coupon.show_coupon((photo.key, coupon), image, caption, self._missing(photo, coupon))
        self._show_other(self._other, coupon)
        measured = record.measured.get(photo.key, {}).get(coupon)
        told = measured is not None and measured.percent is not None and not self.is_hidden()
        if image is not None and image.view.rust is None and told and self.figures.fits:
            self.figures.say_masks_gone()
        if self._painted == self.subject() and image is not None:
            self.figures.show_painted(percent_of(image.view))

    def _want(self, photo: Photo, other: Photo | None, coupon: int) -> None:
        seen = self.tools.seen()
        for slot, each in (("this", photo), ("other", other)):
            if each is None or each.mm_to_px is None or not self.isVisible():
                continue
            if seen == "board" or (seen == "both" and slot == "this"):
                self.views.want_board(slot, each)
            if seen in ("coupon", "both") and coupon:
                self.views.want_coupon(slot, each, coupon)

    def _show_other(self, other: Photo | None, coupon: int) -> None:
        if other is None:
            self.board.show_other(None, (), "", "", compares=False)
            self.coupon.show_other(None, "", "", compares=False)
            return
        caption = self._caption(other)
        marks = marks_of(self._session.record, other, _hidden(self._session.record, self._settings, other))
        # Beside the coupon the board is small: there only the coupon is compared.
        alone = self.tools.seen() == "board"
        board, image = self.views.board(other.key), self.views.coupon(other.key, coupon)
        self.board.show_other(board, marks, caption, self._missing(other, None), compares=alone)
        self.coupon.show_other(image, caption, self._missing(other, coupon), compares=True)

    def _caption(self, photo: Photo) -> str:
        day = self._days.get(photo.key)
        return "" if day is None else day.short()

    def _missing(self, photo: Photo, coupon: int | None) -> str:
        """Return why there is no picture to be seen (yet)."""
        if self._session.photo_file(photo.key) is None:
            return _say("The photo's file is missing from the board's folder.")
        if photo.mm_to_px is None:
            day = self._days.get(photo.key)
            reason = "" if day is None else day.because
            return reason or _say("The board was not looked for in this photo yet. Measure it, or place the board.")
        if coupon == 0:
            return _say("Tap a coupon on the board.")
        board = self._session.record.board
        if coupon is None and not (board.width_mm and board.height_mm):
            return _say("The board has no width and height yet; describe the board to see it whole.")
        return self.views.problem(photo.key, coupon) or _say("One moment…")

    def note_painted(self, stroke: Stroke) -> None:
        """Show a stroke that is on the disk now; say what the mask shows until the coupon is measured with it."""
        self._painted = (stroke.photo, stroke.coupon)
        held = self.views.coupon(stroke.photo, stroke.coupon)
        if held is not None:
            self.views.put_preview(stroke.photo, stroke.coupon, with_stroke(held.view, stroke))
        self.show_coupon()

    def forget_painted(self) -> None:
        """Say what was measured again."""
        self._painted = None

    # ---- tools

    @Slot()
    def _change_seen(self) -> None:
        self.share_room(narrow=self._narrow)
        self.show_pictures()

    def share_room(self, *, narrow: bool) -> None:
        """In a narrow window show one part at a time."""
        self._narrow = narrow
        self.tools.set_narrow(narrow)
        seen = self.tools.seen()
        if narrow and seen == "both":
            self.tools.show_seen("coupon")
        elif not narrow and seen == "figures":
            self.tools.show_seen("both")
        seen = self.tools.seen()
        self.board.setVisible(seen in ("board", "both"))
        self.coupon.setVisible(seen in ("coupon", "both"))
        self.figures.setVisible(seen == "figures" if narrow else True)
        letter = self.fontMetrics().averageCharWidth()
        self.figures.setMaximumWidth(_ANY_WIDTH if narrow else letter * _WIDEST)

    @Slot()
    def _show_mask(self) -> None:
        self.coupon.set_mask(self.tools.masks.isChecked() and not self.is_hidden(), self.tools.look())

    def compare(self) -> None:
        """Compare as the buttons say."""
        for each in (self.board, self.coupon):
            each.comparison.set_rate(self.tools.comparing.rate())
            each.comparison.choose(self.tools.way())
            if not each.isVisible():
                each.comparison.pause()  # it goes on when it is shown

    @Slot(bool)
    def hold(self, held: bool) -> None:
        """Show the other day for as long as a button or key is held down."""
        for each in (self.board, self.coupon):
            each.comparison.hold(held)

    def hideEvent(self, event: QHideEvent) -> None:
        """Let go of the other day: nobody would tell of the key's release."""
        super().hideEvent(event)
        self.hold(False)

    def changeEvent(self, event: QEvent) -> None:
        """Let go of the other day when another window gets the keys."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and not self.isActiveWindow():
            self.hold(False)

    @Slot()
    def _take_brush(self) -> None:
        on, row = self.tools.brush.isChecked(), self.tools.painting
        if on and self.tools.seen() in ("board", "figures"):
            self.tools.show_seen("coupon")
            self._change_seen()
        self.coupon.use_brush(on, adds=row.adds(), radius_mm=row.radius_mm())
        if on:
            self.coupon.setFocus()

    @Slot(int)
    def _zoom(self, way: int) -> None:
        for each in (self.board, self.coupon):
            if each.isVisible() and (each is self.coupon or self.tools.seen() == "board"):
                (each.fit, each.zoom_in, each.zoom_out)[way]()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        for each in (self.board, self.coupon):
            each.set_scheme(scheme)


def _say(text: str) -> str:
    return QCoreApplication.translate("photos", text)


def _hidden(record: BoardRecord, settings: Settings, photo: Photo | None) -> frozenset[int]:
    """Return the coupons of which a photo says nothing yet, because the person grades blind."""
    return hidden_until_graded(record, photo) if settings.hide_suggestion else frozenset()
