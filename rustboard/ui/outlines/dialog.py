"""The outline editor: the straightened board, and beside it what is chosen, in numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSize, QSizeF, Qt, Signal, Slot
from PySide6.QtGui import QImage, QKeySequence, QShortcut
from PySide6.QtWidgets import QDialogButtonBox, QFrame, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

from rustboard.board.measured import CARD_KINDS, EXCLUDED_KINDS, ExcludedKind
from rustboard.board.model import Outline
from rustboard.board.outline import outline_fault
from rustboard.board.record import BoardRecord
from rustboard.support.text import one_line, printable
from rustboard.ui.coupon_pictures import image_of
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.forms.labels import words_label
from rustboard.ui.outlines.parts import Part, areas_of, card_of, shapes_on
from rustboard.ui.outlines.shapes import ShapeKind, as_kind
from rustboard.ui.outlines.side_panel import SidePanel
from rustboard.ui.outlines.view import OutlinesView
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import number
from rustboard.ui.zooming.buttons import ZoomButtons

if TYPE_CHECKING:
    from rustboard.session.board_views import BoardView

_WIDTH_IN_LETTERS: Final = 190
_HEIGHT_IN_LINES: Final = 48
_PANEL_IN_LETTERS: Final = 34
_NAME_LETTERS: Final = 18


class OutlinesDialog(FittingDialog):
    """Edits outlines. It changes nothing itself: whoever shows it does, and calls `refresh`.

    Signals:
        outline_wanted(int, object): this coupon has this outline (an empty one: none).
        area_wanted(object, object, str): this area `Part` has this outline (empty: none) and kind.
        card_wanted(object, str): the card of this kind has this outline (empty: there is none).
        suggest_asked(object): keys of coupons whose outlines are to be looked for in the picture.
        give_asked(int): give this coupon's shape to others.
        undo_asked(), redo_asked(): a step back, a step on.

    Attributes:
        view: the board. side: the choices. problem: the sentence for what must be mended.
    """

    outline_wanted = Signal(int, object)
    area_wanted = Signal(object, object, str)
    card_wanted = Signal(object, str)
    suggest_asked = Signal(object)
    give_asked = Signal(int)
    undo_asked = Signal()
    redo_asked = Signal()

    def __init__(
        self,
        record: BoardRecord,
        scheme: Scheme,
        chosen: int | None = None,
        parent: QWidget | None = None,
        *,
        read_only: bool = False,
    ) -> None:
        """Show a board whose size is known, and one of its coupons."""
        super().__init__(parent)
        self.setModal(True)
        self.setWindowTitle(self.tr("Outlines: {0}").format(one_line(record.board.name, 80)))
        self._record, self._read_only = record, read_only
        self._kind: ExcludedKind = "hole"
        self.view, self.side, self.problem = OutlinesView(scheme), SidePanel(), ProblemLine()
        self.view.editable = not read_only
        self._hint = words_label(muted=True, narrow=True)
        self._undo, self._redo = QPushButton(self.tr("&Undo")), QPushButton(self.tr("Redo"))
        self._buttons = QDialogButtonBox()
        self._close = self._buttons.addButton(self.tr("Close"), QDialogButtonBox.ButtonRole.RejectRole)
        self._build()
        self._wire()
        # The board itself is there to draw on, also before, and without, a picture of it.
        blank = QImage(1, 1, QImage.Format.Format_RGB32)
        blank.fill(Qt.GlobalColor.gray)
        self.view.show_image(blank, QSizeF(record.board.width_mm, record.board.height_mm))
        coupons = record.coupons_in_order()
        key = chosen if chosen in record.coupons else coupons[0].key if coupons else 0
        self._part = Part("outline", key or 0) if key else Part("card")
        self.refresh(record)
        self.view.setFocus()

    def _build(self) -> None:
        for each in (self._undo, self._redo, self._close):
            each.setAutoDefault(False)
        for each in (self._undo, self._redo):
            each.setVisible(not self._read_only)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(self.side)
        bar = scroll.verticalScrollBar().sizeHint().width()
        letters = self.fontMetrics().averageCharWidth() * _PANEL_IN_LETTERS
        scroll.setFixedWidth(max(self.side.minimumSizeHint().width(), letters) + bar + 6)
        halves = QHBoxLayout()
        halves.addWidget(self.view, 1)
        halves.addWidget(scroll)
        column = QVBoxLayout(self)
        column.addLayout(halves, 1)
        column.addWidget(self._hint)
        column.addWidget(self.problem)
        column.addWidget(flowing(ZoomButtons(self.view), self._undo, self._redo, self._buttons))

    def _wire(self) -> None:
        self.view.part_tapped.connect(self.choose)
        self.view.edited.connect(self._take)
        self.view.drawn.connect(self._take_drawn)
        self.view.moved_on.connect(self._follow)
        self.side.part_chosen.connect(self.choose)
        self.side.tool_wanted.connect(self._take_tool)
        self.side.kind_wanted.connect(self._make_kind)
        self.side.remove_asked.connect(self._remove)
        self.side.suggest_asked.connect(self._suggest)
        self.side.give_asked.connect(self._give)
        self.side.free_changed.connect(self._set_free)
        self.side.sizes.typed.connect(self._take)
        self.side.sizes.refused.connect(self.problem.say)
        self._undo.clicked.connect(self._step_back)
        self._redo.clicked.connect(self._step_on)
        self._buttons.rejected.connect(self.reject)
        for keys, slot in (("Ctrl+Z", self._step_back), ("Ctrl+Shift+Z", self._step_on), ("Ctrl+Y", self._step_on)):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.activated.connect(slot)

    # ---- what is shown

    def show_picture(self, board: BoardView) -> None:
        """Show the straightened board."""
        self.view.show_image(image_of(board.rgb), self.view.extent())

    def refresh(self, record: BoardRecord) -> None:
        """Show the outlines as they are now; the same part stays chosen, or its coupon's outline is."""
        self._record = record
        shapes = shapes_on(record)
        part = self._part
        if part.kind == "area" and part.area > 0 and part not in shapes:
            newest = [each.key for each in areas_of(record, part.coupon)]
            part = Part("area", part.coupon, newest[-1]) if newest else Part("outline", part.coupon)
        if part.coupon and part.coupon not in record.coupons:
            part = Part("card")
        self._part = part
        board, painter = record.board, self.view.painter
        painter.margin_mm, painter.size_mm = board.edge_margin_mm, (board.width_mm, board.height_mm)
        painter.lines = (
            tuple(board.width_mm * number / board.columns for number in range(1, board.columns)),
            tuple(board.height_mm * number / board.rows for number in range(1, board.rows)),
        )
        painter.names = {each: self._name_of(each) for each in shapes}
        self.view.show_shapes(shapes, part)
        self.side.show_board(record, part, editable=not self._read_only)
        self._follow()

    def show_steps(self, *, back: bool, on: bool) -> None:
        """Show whether there is a step to take back, or to take again."""
        self._undo.setEnabled(back)
        self._redo.setEnabled(on)

    def _name_of(self, part: Part) -> str:
        coupon = self._record.coupons.get(part.coupon)
        if part.kind == "outline" and coupon is not None:
            return printable(coupon.id)[:_NAME_LETTERS]
        if part.kind == "area":
            area = self._record.excluded_areas.get(part.area)
            names = {"hole": self.tr("hole"), "label": self.tr("label"), "other": self.tr("other area")}
            return "" if area is None else names[area.kind]
        card = card_of(self._record)
        return self.tr("white card") if card is not None and card.kind == "white card" else self.tr("grey card")

    @Slot()
    def _follow(self) -> None:
        outline, tool = self.view.outline(), self.view.tool()
        self.side.show_shape(self._part, outline, editable=not self._read_only, tool=tool)
        self.side.set_free(self.view.free)
        self._hint.setText(self._advice(outline, tool))
        self.view.setAccessibleName(self._spoken(outline))

    def _advice(self, outline: Outline, tool: ShapeKind | None) -> str:
        if self._read_only:
            return self.tr("This board is open for reading only; outlines are only shown.")
        if tool == "polygon":
            return self.tr("Tap the corners one after another; tap the first again, or press Enter, to end.")
        if tool is not None:
            return self.tr("Press in one corner and drag to the other. Esc puts the tool away.")
        if not outline:
            return self.tr("Nothing is drawn here yet: take a rectangle, disc or polygon and draw it.")
        return self.tr(
            "Drag points or the whole shape; the white knob turns it. Keys: Tab to a point, arrows 0.5 mm (Shift "
            "5 mm), [ ] turn, Ins adds a point, Del takes it away."
        )

    def _spoken(self, outline: Outline) -> str:
        name = self._name_of(self._part)
        if not outline:
            return self.tr("{0}: nothing is drawn").format(name)
        at = self.view.point
        if at < 0:
            return self.tr("{0}: the whole shape, {1} points").format(name, len(outline))
        x, y = outline[at]
        text = self.tr("{0}: point {1} of {2}, {3} mm across, {4} mm down")
        return text.format(name, at + 1, len(outline), number(x, 1), number(y, 1))

    def complain(self, sentence: str) -> None:
        """Show what was refused."""
        self.problem.say(sentence)

    # ---- what is wanted

    @Slot(object)
    def choose(self, part: Part) -> None:
        """Edit another part; an area that is not there yet is drawn first."""
        self.view.finish()
        self.problem.say("")
        tool: ShapeKind | None = None
        if part.kind == "area" and part.area < 0:
            self._kind = EXCLUDED_KINDS[-1 - part.area]
            tools: dict[ExcludedKind, ShapeKind] = {"hole": "disc", "label": "rectangle", "other": "polygon"}
            tool = tools[self._kind]
        elif part.kind == "card" and self._part.kind == "card" and self.view.outline():
            self._part = part
            self.card_wanted.emit(self.view.outline(), CARD_KINDS[self.side.card_kind()])
            return
        self._part = part
        self.refresh(self._record)
        self.view.take_tool(tool)
        if tool is not None:
            self.view.setFocus()

    @Slot(object)
    def _take_tool(self, kind: ShapeKind | None) -> None:
        self.view.take_tool(kind)
        self.view.setFocus()

    @Slot(object)
    def _take_drawn(self, outline: Outline) -> None:
        self.view.take_tool(None)
        self._take(outline)

    @Slot(object)
    def _take(self, outline: Outline) -> None:
        """Have the chosen part kept with another outline, if it can be one."""
        fault = outline_fault(outline, self._record.board)
        if fault and self._part.kind != "area":
            self.refresh(self._record)
            self.problem.say(fault)
            return
        self.problem.say("")
        self._want(outline)

    def _want(self, outline: Outline) -> None:
        part = self._part
        if part.kind == "outline":
            self.outline_wanted.emit(part.coupon, outline)
        elif part.kind == "area":
            new = part.area < 0
            kept = Part("area", part.coupon, 0 if new else part.area)
            self._part = Part("area", part.coupon, part.area if not new else 1 << 60)
            self.area_wanted.emit(kept, outline, self._kind)
        else:
            self.card_wanted.emit(outline, CARD_KINDS[self.side.card_kind()])

    @Slot()
    def _remove(self) -> None:
        self.problem.say("")
        self._want(())

    @Slot(object)
    def _make_kind(self, kind: ShapeKind) -> None:
        if self.view.outline():
            made = as_kind(self.view.outline(), kind)
            self.view.free = kind == "polygon"
            if made != self.view.outline():
                self._take(made)
            self._follow()

    @Slot(bool)
    def _set_free(self, free: bool) -> None:
        self.view.free = free

    @Slot(bool)
    def _suggest(self, missing: bool) -> None:
        self.problem.say("")
        record = self._record
        keys = [each.key for each in record.coupons_in_order() if not each.outline_mm and each.position is not None]
        self.suggest_asked.emit(keys if missing else [self._part.coupon])

    @Slot()
    def _give(self) -> None:
        self.give_asked.emit(self._part.coupon)

    @Slot()
    def _step_back(self) -> None:
        self.view.finish()
        self.problem.say("")
        self.undo_asked.emit()

    @Slot()
    def _step_on(self) -> None:
        self.view.finish()
        self.redo_asked.emit()

    def done(self, result: int) -> None:
        """Have what was nudged last kept, and close."""
        self.view.finish()
        super().done(result)

    def sizeHint(self) -> QSize:
        """Return a large size: the board is to be seen closely."""
        letters = self.fontMetrics()
        wanted = QSize(letters.averageCharWidth() * _WIDTH_IN_LETTERS, letters.lineSpacing() * _HEIGHT_IN_LINES)
        return wanted.boundedTo(self._room())
