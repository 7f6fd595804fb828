"""One open board in the window: tiles in the middle, timeline beside them, grading over the lower half."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal, Slot
from PySide6.QtGui import QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from rustboard.session.changes import ChangeSet
from rustboard.session.grading_round import next_ungraded
from rustboard.session.session import Session
from rustboard.support.settings import Settings
from rustboard.ui.board.screen import BoardScreen
from rustboard.ui.bridge import JobBridge
from rustboard.ui.coupon_pictures import CouponPictures
from rustboard.ui.doing import Do
from rustboard.ui.theme import Scheme
from rustboard.ui.weather_source import WeatherSource
from rustboard.ui.wording import day_text

if TYPE_CHECKING:
    from rustboard.ui.grading.panel import GradingPanel
    from rustboard.ui.timeline.panel import TimelinePanel

_TIMELINE_SHARE = 0.34
_NARROW = 860
_SHORT = 520


class BoardPage(QWidget):
    """The board, its timeline and its grading.

    Signals:
        state_changed(): what can be done may have changed.
        coupon_wanted(object): an empty `Position` was tapped.
        inspection_wanted(): an inspection must be added first.
        between_wanted(int): what happened before an inspection is to be shown.
        damage_wanted(): the damage of the coupon being graded is to be noted.
        round_finished(): every coupon of the inspection in view is graded.
        told(str): something to note.

    Attributes:
        session, tiles, pictures, weather: of this board. panel: grading, once opened. timeline: once built.
    """

    state_changed = Signal()
    coupon_wanted = Signal(object)
    inspection_wanted = Signal()
    between_wanted = Signal(int)
    damage_wanted = Signal()
    round_finished = Signal()
    told = Signal(str)

    def __init__(
        self,
        session: Session,
        bridge: JobBridge,
        do: Do,
        scheme: Scheme,
        settings: Settings,
        parent: QWidget | None = None,
    ) -> None:
        """Show a session."""
        super().__init__(parent)
        self._settings = settings
        self.session, self._bridge, self._do, self._scheme = session, bridge, do, scheme
        inspections = session.record.inspections_in_order()
        session.selection.look_at(inspections[-1].key if inspections else None)
        self._inspection = session.selection.inspection
        self.pictures = CouponPictures(session, bridge, self)
        self.weather = WeatherSource(session, bridge, self)
        self.tiles = BoardScreen(session, scheme)
        self.panel: GradingPanel | None = None
        self.timeline: TimelinePanel | None = None
        self._wide = QSplitter(Qt.Orientation.Horizontal)
        self._wide.setChildrenCollapsible(False)
        self._wide.addWidget(self.tiles)
        self._timeline_wanted = True
        self._painted = False
        self._tall = QSplitter(Qt.Orientation.Vertical)
        self._tall.setChildrenCollapsible(False)
        self._tall.addWidget(self._wide)
        column = QVBoxLayout(self)
        column.setContentsMargins(2, 0, 2, 2)
        column.addWidget(self._tall)
        self._wire()

    def _wire(self) -> None:
        self.tiles.coupon_tapped.connect(self.open_grading)
        self.tiles.empty_tapped.connect(self.state_changed)
        self.tiles.empty_tapped.connect(self.coupon_wanted)
        self.tiles.walked_to.connect(self._walk)
        self.tiles.add_inspection_asked.connect(self.inspection_wanted)
        self.tiles.inspection_chosen.connect(self.look_at)
        self.pictures.arrived.connect(self._show_pictures)
        self.session.feed.subscribe(self._apply)
        self.session.selection.subscribe(self._selection_changed)

    # ---- what changed

    def _apply(self, changes: ChangeSet) -> None:
        if changes.touches("coupon", "photo", "board"):
            self.pictures.follow_outlines()
            self._want_pictures()
        self.weather.apply(changes)
        self.tiles.apply(changes)
        for each in (self.timeline, self.panel):
            if each is not None:
                each.apply(changes)
        if self.session.selection.inspection is None:
            self._selection_changed()  # a first inspection may have come from a file, or back by redo
        self.state_changed.emit()

    def _selection_changed(self) -> None:
        inspections = self.session.record.inspections_in_order()
        if self.session.selection.inspection is None and inspections:
            # The one in view is gone, such as by undo; the newest takes its place, and this is called again.
            self.session.selection.look_at(inspections[-1].key)
            return
        if self.session.selection.inspection != self._inspection:
            self._inspection = self.session.selection.inspection
            self.tiles.reload()
            self._want_pictures()
            if self._inspection is None:
                self.close_grading()
            elif self.grading_coupon() is not None:
                self.open_grading(self.grading_coupon() or 0)
        self.tiles.selection_changed()
        if self.timeline is not None:
            self.timeline.selection_changed()
        self.state_changed.emit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the board before the timeline's library is fetched, the dearest of the first screen."""
        super().paintEvent(event)
        if not self._painted:
            self._painted = True
            QTimer.singleShot(0, self, self._after_first_paint)

    @Slot()
    def _after_first_paint(self) -> None:
        self.show_timeline(self.width() >= _NARROW)
        # Only now, because cutting beside the window would hold up the timeline.
        QTimer.singleShot(0, self, self._want_pictures)

    @Slot()
    def _want_pictures(self) -> None:
        inspection = self.session.record.inspections.get(self._inspection or 0)
        photo = self.session.record.newest_photo(inspection)
        self.pictures.want(photo)
        self._show_pictures()

    @Slot()
    def _show_pictures(self) -> None:
        record = self.session.record
        photo = record.newest_photo(record.inspections.get(self._inspection or 0))
        older = photo is not None and photo.inspection != self._inspection
        age = day_text(record.day_of_photo(photo)) if photo is not None and older else ""
        self.tiles.set_pictures(self.pictures.images(photo), age)

    # ---- timeline

    def show_timeline(self, shown: bool) -> None:
        """Show or hide the timeline; it is built when it is first shown."""
        if shown and self.timeline is None:
            from rustboard.ui.timeline.panel import TimelinePanel

            panel = TimelinePanel(self.session, self._scheme, self.weather, self._settings)
            self.timeline = panel
            self._wire_late(timeline=panel)
            self._wide.addWidget(panel)
            width = max(self._wide.width(), 900)
            self._wide.setSizes([round(width * (1 - _TIMELINE_SHARE)), round(width * _TIMELINE_SHARE)])
            self._wide.setStretchFactor(0, 2)
            self._wide.setStretchFactor(1, 1)
        self._timeline_wanted = shown
        self._share_room()
        self.state_changed.emit()

    def _share_room(self) -> None:
        """In a small window show one thing at a time: tiles or timeline, board or grading."""
        narrow = self.width() < _NARROW
        wanted = self._timeline_wanted and self.timeline is not None
        if self.timeline is not None:
            self.timeline.setVisible(wanted)
        self.tiles.setVisible(not (narrow and wanted))
        grading = self.grading_coupon() is not None
        self._wide.setVisible(not (grading and self.height() < _SHORT))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the room anew."""
        crossed = (event.oldSize().width() < _NARROW) != (event.size().width() < _NARROW)
        super().resizeEvent(event)
        if crossed:
            self._timeline_wanted = event.size().width() >= _NARROW
            if self._timeline_wanted and self.timeline is None and self._painted:
                QTimer.singleShot(0, self, self._after_first_paint)
        self._share_room()
        if crossed:
            # Asked for inside a resize it would be lost, and the window could not be made any smaller.
            QTimer.singleShot(0, self, self.updateGeometry)
            self.state_changed.emit()

    def has_timeline(self) -> bool:
        """Return whether the timeline is showing."""
        return self.timeline is not None and not self.timeline.isHidden()

    # ---- grading

    @Slot(int)
    def look_at(self, inspection: int) -> None:
        """Bring an inspection into view."""
        self.session.selection.look_at(inspection)

    @Slot(int)
    def open_grading(self, coupon: int) -> None:
        """Open grading on a coupon; without an inspection, ask for one first."""
        self.session.selection.choose({coupon}, coupon)
        if self.session.selection.inspection is None:
            self.inspection_wanted.emit()
            return
        self.tiles.canvas.put_back()  # a tap meant to grade must not let a carried coupon down
        panel = self.panel or self._build_panel()
        panel.show()
        panel.show_coupon(coupon)
        self._share_room()
        panel.setFocus()
        self.tiles.show_coupon(coupon)
        self.state_changed.emit()

    def grade_next(self) -> bool:
        """Open grading on the next ungraded coupon; return False when there is none."""
        inspection = self.session.selection.inspection
        if inspection is None:
            return False
        key, record = self.tiles.focused_coupon(), self.session.record
        if self.grading_coupon() is not None or key not in {each.key for each in record.ungraded(inspection)}:
            key = next_ungraded(record, inspection, self.grading_coupon() or key)
        if key is not None:
            self.open_grading(key)
        return key is not None

    def show_step(self, changes: ChangeSet) -> None:
        """Bring what undo or redo touched into view: the visit, and while grading the coupon."""
        inspections = self.session.record.inspections.keys()
        seen = (changes.inspections or changes.tables.get("inspection", frozenset())) & inspections
        if len(seen) == 1:
            self.look_at(*seen)
        if len(changes.coupons) == 1 and changes.inspections and self.grading_coupon() is not None:
            self.open_grading(*changes.coupons)

    def grading_coupon(self) -> int | None:
        """Return the coupon being graded, or None while grading is closed."""
        if self.panel is None or self.panel.isHidden():
            return None
        return self.panel.coupon

    @Slot()
    def close_grading(self) -> None:
        """Go back to the whole board."""
        if self.panel is not None and not self.panel.isHidden():
            self.panel.options.finish_note()
            self.panel.hide()
            self._share_room()
            self.tiles.show_table(self.tiles.is_table())
            self.state_changed.emit()

    def _build_panel(self) -> GradingPanel:
        from rustboard.ui.grading.panel import GradingPanel

        panel = GradingPanel(self.session, self.pictures, self._bridge, self._do, self._scheme, self._settings)
        self.panel = panel
        self._wire_late(panel)
        self._tall.addWidget(panel)
        panel.take_room()
        return panel

    def _wire_late(self, panel: GradingPanel | None = None, timeline: TimelinePanel | None = None) -> None:
        if timeline is not None:
            timeline.inspection_chosen.connect(self.look_at)
            timeline.weather.between_asked.connect(self.between_wanted)
        if panel is not None:
            panel.coupon_changed.connect(self._follow_grading)
            panel.finished.connect(self._finish_round)
            panel.close_asked.connect(self.close_grading)
            panel.told.connect(self.told)
            panel.damage_asked.connect(self.damage_wanted)

    @Slot()
    def _finish_round(self) -> None:
        # Left open, the next key pressed in haste would correct the last grade.
        self.close_grading()
        self.round_finished.emit()

    @Slot(object)
    def _walk(self, coupon: int | None) -> None:
        if coupon is not None and self.grading_coupon() is not None and self.panel is not None:
            self.panel.show_coupon(coupon)
        self.state_changed.emit()

    @Slot(int)
    def _follow_grading(self, coupon: int) -> None:
        self.session.selection.choose({coupon}, coupon)
        self.tiles.show_coupon(coupon)

    # ---- the rest

    def current_coupon(self) -> int | None:
        """Return the coupon that commands are about, or None."""
        return self.grading_coupon() or self.tiles.focused_coupon()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        for each in (self.tiles, self.timeline, self.panel):
            if each is not None:
                each.set_scheme(scheme)
