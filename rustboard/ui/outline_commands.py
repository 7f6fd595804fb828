"""What the user does to the outlines of coupons, to what of them does not count, and to the colour card."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.board.measured import CARD_KINDS, EXCLUDED_KINDS, Card, CardKind, ExcludedKind
from rustboard.board.model import Outline, Photo
from rustboard.operations.areas import set_card, set_excluded_areas, set_outlines
from rustboard.operations.given_shapes import give_shape
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.photo_in_view import photo_in_view
from rustboard.ui.refusals import refusal_in
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.session.outline_suggestions import Suggestions
    from rustboard.ui.outlines.dialog import OutlinesDialog
    from rustboard.ui.outlines.parts import Part

_PICTURE_PX = 2_600


class OutlineCommands(PageCommands):
    """Commands about outlines. The editor shows what changed; every gesture is one step to undo."""

    def __init__(self, window: QWidget, asker: Asker, do: Do, bridge: JobBridge, scheme: Scheme) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._bridge, self._scheme = bridge, scheme
        self._dialog: OutlinesDialog | None = None
        self._photo: Photo | None = None
        self._done: list[Summary] = []  # steps taken in the editor that is open, the newest last
        self._undone: list[Summary] = []

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme

    @Slot()
    def edit_outlines(self) -> None:
        """Show the outline editor on the newest placed photo, or the one in view."""
        from rustboard.ui.outlines.dialog import OutlinesDialog

        if self.page is None:
            return
        session = self.page.session
        board = session.record.board
        if not (board.width_mm and board.height_mm):
            self.failed.emit(
                self.tr("Outlines are drawn in mm: first enter the board's width and height (Describe the board).")
            )
            return
        self._photo = photo_in_view(self.page, placed=True)
        chosen = session.selection.focus or self.page.current_coupon()
        dialog = OutlinesDialog(
            session.record, self._scheme, chosen, self._window, read_only=bool(session.read_only_reason)
        )
        self._wire_dialog(dialog)
        self._dialog = dialog
        self._done, self._undone = [], []
        dialog.show_steps(back=False, on=False)
        self._fetch_picture(dialog)
        self._asker.dialog(dialog)
        self._dialog = None

    def _wire_dialog(self, dialog: OutlinesDialog) -> None:
        dialog.outline_wanted.connect(self._keep_outline)
        dialog.area_wanted.connect(self._keep_area)
        dialog.card_wanted.connect(self._keep_card)
        dialog.suggest_asked.connect(self._suggest)
        dialog.give_asked.connect(self._give)
        dialog.undo_asked.connect(self._undo)
        dialog.redo_asked.connect(self._redo)

    def _fetch_picture(self, dialog: OutlinesDialog) -> None:
        from rustboard.session.board_views import board_view, board_view_request

        if self.page is None:
            return
        request = None
        if self._photo is not None:
            width = min(
                _PICTURE_PX, max(self._photo.width_px, self._photo.height_px)
            )  # finer there is nothing to see
            request = board_view_request(self.page.session, self._photo, width)
        if request is None:
            dialog.complain(
                self.tr(
                    "No photo of this board is placed yet, so there is no picture to draw on; sizes can be typed."
                )
            )
            return
        self._bridge.start(
            ("outlines picture", id(self)), board_view, request,
            done=dialog.show_picture, failed=self._tell_dialog, owner=dialog,
        )  # fmt: skip

    def _tell_dialog(self, error: InputError) -> None:
        if self._dialog is not None:
            self._dialog.complain(str(error))

    # ---- every gesture one step

    def _keep(self, operation: object, *arguments: object) -> None:
        changes = self._do(operation, *arguments)
        if self.page is None or self._dialog is None:
            return
        if changes is not None and changes.tables:
            self._done.append(changes.summary)
            self._undone.clear()
        self._refresh(self._dialog)
        if changes is None:
            self._dialog.complain(refusal_in(self._window))

    @Slot(int, object)
    def _keep_outline(self, coupon: int, outline: Outline) -> None:
        self._keep(set_outlines, {coupon: outline})

    @Slot(object, object, str)
    def _keep_area(self, part: Part, outline: Outline, kind: str) -> None:
        from rustboard.ui.outlines.parts import areas_with

        if self.page is None:
            return
        chosen: ExcludedKind = next((each for each in EXCLUDED_KINDS if each == kind), "other")
        areas = areas_with(self.page.session.record, part, outline, chosen)
        if areas is not None:
            self._keep(set_excluded_areas, part.coupon, areas)

    @Slot(object, str)
    def _keep_card(self, outline: Outline, kind: str) -> None:
        card_kind: CardKind = next((each for each in CARD_KINDS if each == kind), "grey card")
        self._keep(set_card, Card(card_kind, outline) if outline else None)

    @Slot()
    def _undo(self) -> None:
        self._step(undo=True)

    @Slot()
    def _redo(self) -> None:
        self._step(undo=False)

    def _step(self, *, undo: bool) -> None:
        if self.page is None or self._dialog is None:
            return
        session = self.page.session
        steps, other_steps = (self._done, self._undone) if undo else (self._undone, self._done)
        if not steps:
            return  # what was done before, on other screens, is not undone out of sight
        if steps[-1] != (session.undo_summary() if undo else session.redo_summary()):
            self._done, self._undone = [], []
            self._refresh(self._dialog)
            self._dialog.complain(
                self.tr("Something else was recorded meanwhile, such as what was measured; close this and undo that.")
            )
            return
        try:
            _ = session.undo() if undo else session.redo()
        except InputError as error:
            self._dialog.complain(str(error))
            return
        other_steps.append(steps.pop())
        self._refresh(self._dialog)

    def _refresh(self, dialog: OutlinesDialog) -> None:
        if self.page is not None:
            dialog.refresh(self.page.session.record)
        dialog.show_steps(back=bool(self._done), on=bool(self._undone))

    # ---- giving and suggesting

    @Slot(int)
    def _give(self, key: int) -> None:
        from rustboard.ui.outlines.give_dialog import GiveDialog
        from rustboard.ui.outlines.parts import areas_given_to, given_to, same_shaped

        if self.page is None or self._dialog is None:
            return
        record = self.page.session.record
        source = record.coupons.get(key)
        if source is None or not source.outline_mm:
            return
        dialog = GiveDialog(record, source, same_shaped(record, source), self._dialog)
        if not self._asker.dialog(dialog):
            return
        outlines = given_to(record, source, dialog.coupons())
        areas = areas_given_to(record, key, list(outlines)) if dialog.with_areas() else {}
        if outlines:
            self._keep(give_shape, outlines, areas)
        if len(outlines) < len(dialog.coupons()) and self._dialog is not None:
            self._dialog.complain(
                self.tr(
                    "A coupon that is off the board and has no outline has no place to put the shape; it is left out."
                )
            )

    @Slot(object)
    def _suggest(self, coupons: Sequence[int]) -> None:
        from rustboard.session.outline_suggestions import suggest_outlines, suggestion_request

        if self.page is None or self._dialog is None:
            return
        request = None
        if self._photo is not None:
            request = suggestion_request(self.page.session, self._photo, tuple(coupons))
        if request is None:
            self._dialog.complain(
                self.tr("Outlines are suggested from a photo in which the board was found; place one first.")
            )
            return
        before = {key: each.outline_mm for key, each in self.page.session.record.coupons.items()}
        self._bridge.start(
            ("suggest outlines", id(self)), suggest_outlines, request,
            done=partial(self._take_suggestions, before), failed=self._tell_dialog, owner=self._dialog,
        )  # fmt: skip

    def _take_suggestions(self, before: Mapping[int, Outline], found: Suggestions) -> None:
        if self._dialog is None or self.page is None:
            return
        coupons = self.page.session.record.coupons
        outlines = {
            key: outline
            for key, outline in found.outlines.items()
            if key in coupons and coupons[key].outline_mm == before.get(key)  # else drawn by hand meanwhile
        }
        if outlines:
            self._keep(set_outlines, outlines)
        if found.missing and self._dialog is not None and not self._dialog.problem.text():
            text = self.tr(
                "Found {0} of {1} outlines in the picture; draw the others. Look closely at what was found."
            )
            self._dialog.complain(text.format(len(found.outlines), len(found.outlines) + len(found.missing)))
