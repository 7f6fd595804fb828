"""What is looked at while grading: the coupon and its past, and the eleven keys or the slider of percents."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QImage, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from rustboard.board.model import Coupon, Grading, Inspection, Photo
from rustboard.session.coupon_frames import excluded_on_board
from rustboard.session.pictures import CutRequest, GuideRequest, outline_on_board, same_cut
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.ui.ahead import Ahead
from rustboard.ui.bridge import JobBridge
from rustboard.ui.coupon_pictures import CouponPictures, cut_images
from rustboard.ui.grading.compare import CompareDialog, prepare_large
from rustboard.ui.grading.coupon_views import CouponViews, Shot
from rustboard.ui.guide.options import GradingOptions
from rustboard.ui.guide.strip import GuideStrip
from rustboard.ui.percent.picker import PercentPicker
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import coupon_title, day_text

_WIDE = 888
_GAP = 8
_GROUND_PX = 640  # longer side of the coupon that the guide is painted on
_PLATE = ((0.0, 0.0), (60.0, 0.0), (60.0, 120.0), (0.0, 120.0))  # stands for a coupon of unknown size


class GradingBody(QWidget):
    """Shows one coupon with one of the two ways to grade it, and makes the next one's pictures meanwhile.

    Signals:
        given(int): a grade's key was pressed.
        percent_given(float): a percent was given.
        left(): the keyboard should go back to the panel.
        refused(str): what was typed cannot be; one sentence.

    Attributes:
        views, guide, picker: the pictures of the coupon, the eleven keys, the slider. ahead: keeps their pictures.
    """

    given = Signal(int)
    percent_given = Signal(float)
    left = Signal()
    refused = Signal(str)

    def __init__(
        self, session: Session, pictures: CouponPictures, bridge: JobBridge, options: GradingOptions, scheme: Scheme
    ) -> None:
        """Build it without a coupon."""
        super().__init__()
        self._session, self._pictures, self._options, self._scheme = session, pictures, options, scheme
        self._coupon: Coupon | None = None
        self._inspection: Inspection | None = None
        self._stands_for: tuple[object, ...] = ()
        self._following: Coupon | None = None
        self._soon = QTimer(self)  # when this coupon is painted, which work in the pool would hold up
        self._soon.setSingleShot(True)
        self._by_percent, self._looked_large, self._least_height = False, False, 0
        self.ahead = Ahead(bridge, self)
        self.views = CouponViews(scheme)
        self.guide = GuideStrip(bridge, scheme, ahead=self.ahead)
        self.picker = PercentPicker(bridge, scheme, ahead=self.ahead)
        self.picker.hide()
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(_GAP)
        self._row.addWidget(self.views, 2)
        self._row.addWidget(self.guide, 5)
        self._row.addWidget(self.picker, 7)
        self._wire()

    def _wire(self) -> None:
        self._soon.timeout.connect(self._make_next)
        self.guide.given.connect(self.given)
        self.picker.given.connect(self.percent_given)
        self.picker.left.connect(self.left)
        self.picker.refused.connect(self.refused)

    # ---- the two ways

    def show_way(self, by_percent: bool, large: bool, least_height: int) -> None:
        """Grade by the slider or by the keys, large or as usual.

        Args:
            by_percent: by the slider.
            large: keys for gloves.
            least_height: of buttons, px; 0 where they are as usual, as on a screen without room for larger ones.
        """
        self._least_height = least_height
        self._by_percent = by_percent
        self.guide.setVisible(not by_percent)
        self.picker.setVisible(by_percent)
        self.guide.set_large(large)
        self.picker.set_large(least_height > 0)
        self._share_room()

    def allow_giving(self, allowed: bool) -> None:
        """Let grades be given, or only be looked at."""
        for key in self.guide.keys.values():
            key.setEnabled(allowed)
        self.picker.allow_giving(allowed)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        for each in (self.views, self.guide, self.picker):
            each.set_scheme(scheme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the room to the keys where the window is narrow."""
        super().resizeEvent(event)
        self._share_room()

    def _share_room(self) -> None:
        photographed = self._session.record.first_photo() is not None
        self.views.setVisible(photographed and self.width() >= _WIDE and not self._by_percent)
        room, least = self.width() - _GAP, self.guide.width_of_a_row()
        # Large keys in one row keep their pictures; the coupon's own make do with what is left, if that is enough.
        crowded = room * 5 / 7 < least <= room - self.views.minimumSizeHint().width()
        self._row.setStretch(0, room - least if crowded else 2)
        self._row.setStretch(1, least if crowded else 5)

    # ---- the coupon

    def show_coupon(self, coupon: Coupon, inspection: Inspection, grading: Grading | None) -> None:
        """Show a coupon at an inspection, and the grade it has there."""
        self._coupon, self._inspection = coupon, inspection
        self.guide.mark_given(grading.grade if grading is not None else None)
        stands_for = (coupon.key, inspection.key, grading)
        if stands_for != self._stands_for:  # else the slider stays where it was moved to
            self._stands_for = stands_for
            self._place_slider(grading)
        self.show_pictures()

    def _place_slider(self, grading: Grading | None) -> None:
        """Begin at the percent given; at nothing where there is none, for no other coupon's may sway the eye."""
        if grading is None:
            self.picker.show_percent(0.0)
        elif grading.percent is not None:
            self.picker.show_percent(grading.percent)
        else:
            self.picker.show_grade(grading.grade)

    def show_pictures(self) -> None:
        """Show the coupon's pictures, as far as they are there."""
        coupon, inspection = self._coupon, self._inspection
        if coupon is None or inspection is None:
            return
        record = self._session.record
        now, before, first = record.newest_photo(inspection), record.photo_before(inspection), record.first_photo()
        for photo in (now, before, first):
            self._pictures.want(photo)
        shots = [Shot(None, _say("now"))] if now is None else []
        shots.extend(
            Shot(self._pictures.image(photo, coupon.key), self.when(photo))
            for photo in dict.fromkeys((now, before, first))
            if photo is not None
        )
        self._share_room()
        self.views.show_shots(tuple(shots), coupon.outline_mm)
        if self._by_percent:
            self._show_own(coupon, now)
        self.show_guide()

    def _show_own(self, coupon: Coupon, now: Photo | None) -> None:
        """Show the coupon beside the painted one: at once as it was cut for the board, then cut large."""
        cut = self.large_cut(coupon, now)
        if cut is None:
            self.picker.show_own(None, "")
            return
        if not self.ahead.is_ready("large coupon", same_cut(cut)):
            self.picker.show_own(self._pictures.image(now, coupon.key), self.when(now))
        self.ahead.ask(
            "large coupon", same_cut(cut), cut_images, cut, done=self._own_cut, failed=self._keep, owner=self
        )

    def _own_cut(self, images: dict[int, QImage]) -> None:
        coupon, inspection = self._coupon, self._inspection
        if coupon is not None and coupon.key in images:
            self.picker.show_own(images[coupon.key], self.when(self._session.record.newest_photo(inspection)))

    def _keep(self, error: InputError) -> None:
        """Keep the smaller picture; what is wrong with the photo is told where photos are."""

    def show_guide(self) -> None:
        """Ask for the reference pictures that the options want."""
        if self._by_percent and self._coupon is not None:
            self.picker.ask_for(self._request(self._coupon, 0))
        else:
            self.guide.ask_for(self.guide_request(self.guide.picture_height()))

    def guide_request(self, height_px: int) -> GuideRequest:
        """Return which reference pictures the options ask for."""
        return self._request(self._coupon, height_px)

    def _request(self, coupon: Coupon | None, height_px: int) -> GuideRequest:
        """Return the reference pictures for a coupon; by percent they are always painted on the coupon itself."""
        pattern, at = self._options.pattern(), self._options.place()
        if coupon is None or not (self._by_percent or self._options.on_coupon()):
            return GuideRequest(pattern, at, height_px)
        record = self._session.record
        if self._by_percent:
            cut = self._pictures.request_for(record.first_photo(), coupon.key)
        else:
            cut = self._pictures.request_for(record.first_photo(), coupon.key, _GROUND_PX)
        outline = outline_on_board(record, coupon) or coupon.outline_mm or _PLATE
        excluded = excluded_on_board(record, coupon)
        return GuideRequest(pattern, at, height_px, cut, outline, record.board.edge_margin_mm, excluded)

    def large_cut(self, coupon: Coupon, photo: Photo | None) -> CutRequest | None:
        """Return how to cut a coupon large from a photo; None when the photo does not have it."""
        return self._pictures.request_for(photo, coupon.key)

    def start_grade(self, coupon: Coupon) -> int:
        """Return the grade at which the large comparison of a coupon begins."""
        latest = self._session.record.latest(coupon.key, self._inspection)
        return latest.grade if latest is not None else 10

    def prepare(self, following: Coupon | None) -> None:
        """Make the pictures of the coupon that is graded next while this one is looked at."""
        self._following = following if following != self._coupon else None
        self._soon.start()

    @Slot()
    def _make_next(self) -> None:
        following = self._following
        if following is None:
            return
        request = self._request(following, 0)
        if self._by_percent:
            self.picker.prepare(request)
        else:
            self.guide.prepare(request)
        if not (self._by_percent or self._looked_large):
            return  # a whole photo is read for it: only for those who look at coupons large
        now = self._session.record.newest_photo(self._inspection)
        prepare_large(self.ahead, request, self.start_grade(following), self.large_cut(following, now))

    @Slot()
    def open_large(self) -> None:
        """Compare the coupon, large, with one reference picture after the other."""
        coupon = self._coupon
        if coupon is None:
            return
        self._looked_large = True
        self._soon.start()  # from now on the next one is made ready too
        photo = self._session.record.newest_photo(self._inspection)
        title = coupon_title(self._session.record, coupon)
        dialog = CompareDialog(title, self.guide_request(0), self.ahead, self._scheme, self)
        dialog.show_coupon(self._pictures.image(photo, coupon.key), self.large_cut(coupon, photo), self.when(photo))
        dialog.start_at(self.start_grade(coupon))
        dialog.set_least_height(self._least_height)
        self._wire_large(dialog)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()

    def _wire_large(self, dialog: CompareDialog) -> None:
        if self._session.read_only_reason:
            dialog.forbid_giving()
        dialog.given.connect(self.given)

    def when(self, photo: Photo | None) -> str:
        """Return of when a picture is: now, or the day of an older one."""
        if photo is None or photo.inspection == self._session.selection.inspection:
            return _say("now")
        return day_text(self._session.record.day_of_photo(photo))


def _say(text: str) -> str:
    return QCoreApplication.translate("grading", text)
