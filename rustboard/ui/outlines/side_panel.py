"""Beside the board: which coupon, which part of it, what to draw, and the size in numbers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QCheckBox, QComboBox, QLabel, QPushButton, QVBoxLayout, QWidget

from rustboard.board.measured import EXCLUDED_KINDS, ExcludedKind
from rustboard.board.model import Outline
from rustboard.board.record import BoardRecord
from rustboard.support.text import one_line
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.form import WheelGuard, choice_field
from rustboard.ui.forms.labels import words_label
from rustboard.ui.outlines.parts import Part, areas_of, card_of
from rustboard.ui.outlines.shapes import SHAPE_KINDS, ShapeKind, kind_of
from rustboard.ui.outlines.size_fields import SizeFields
from rustboard.ui.wording import coupon_title

_LONGEST = 90


class SidePanel(QWidget):
    """The choices of the outline editor.

    Signals:
        part_chosen(object): edit this `Part`.
        tool_wanted(object): draw a `ShapeKind`, or None.
        kind_wanted(object): make the chosen shape another `ShapeKind`.
        remove_asked(): take the chosen part away.
        suggest_asked(bool): look for outlines in the picture; True for all coupons without one.
        give_asked(): give the chosen coupon's shape to others.
        free_changed(bool): corners of a rectangle move one by one.

    Attributes:
        sizes: place and size in numbers.
    """

    part_chosen = Signal(object)
    tool_wanted = Signal(object)
    kind_wanted = Signal(object)
    remove_asked = Signal()
    suggest_asked = Signal(bool)
    give_asked = Signal()
    free_changed = Signal(bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start without a board."""
        super().__init__(parent)
        self._filling = False
        self._parts: list[Part] = []
        self._coupon, self._part, self._kind = choice_field(), choice_field(), choice_field()
        self.sizes = SizeFields()
        self._tools = {kind: QPushButton() for kind in SHAPE_KINDS}
        self._free = QCheckBox(self.tr("Drag corners one by &one"))
        self._remove = QPushButton(self.tr("&Remove this part"))
        self._suggest = QPushButton(self.tr("&Suggest from the picture"))
        self._suggest_all = QPushButton(self.tr("Suggest all that are &missing"))
        self._give = QPushButton(self.tr("&Give this shape to…"))
        self._note = words_label(muted=True, narrow=True)
        self._wheel = WheelGuard(self)
        self._build()
        self._wire()

    def _build(self) -> None:
        names: dict[ShapeKind, tuple[str, str]] = {
            "rectangle": (self.tr("&Rectangle"), self.tr("Draw a rectangle from corner to corner")),
            "disc": (self.tr("&Disc"), self.tr("Draw a disc from rim to rim")),
            "polygon": (
                self.tr("&Polygon"),
                self.tr("Tap the corners one after another; tap the first again to end"),
            ),
        }
        for kind, button in self._tools.items():
            text, tip = names[kind]
            button.setText(text)
            button.setToolTip(tip)
            button.setCheckable(True)
            self._kind.addItem(text.replace("&", ""), kind)
        buttons = (*self._tools.values(), self._remove, self._suggest, self._suggest_all, self._give)
        for each in buttons:
            each.setAutoDefault(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 4, 0)
        column.setSpacing(5)
        for text, field in ((self.tr("&Coupon"), self._coupon), (self.tr("Par&t"), self._part)):
            self._wheel.watch(field)
            column.addWidget(_label(text, field))
            column.addWidget(field)
        column.addWidget(QLabel(self.tr("Draw anew")))
        column.addWidget(flowing(*self._tools.values()))
        self._wheel.watch(self._kind)
        column.addWidget(_label(self.tr("Shape &is"), self._kind))
        column.addWidget(self._kind)
        column.addWidget(self.sizes)
        column.addWidget(self._free)
        for button in (self._remove, self._suggest, self._suggest_all, self._give):
            column.addWidget(button)
        column.addWidget(self._note)
        column.addStretch(1)

    def _wire(self) -> None:
        self._coupon.activated.connect(self._coupon_chosen)
        self._part.activated.connect(self._part_picked)
        self._kind.activated.connect(self._kind_picked)
        for button in self._tools.values():
            button.clicked.connect(self._tool_clicked)
        self._free.toggled.connect(self.free_changed)
        self._remove.clicked.connect(self.remove_asked)
        self._suggest.clicked.connect(self._ask_one)
        self._suggest_all.clicked.connect(self._ask_all)
        self._give.clicked.connect(self.give_asked)

    # ---- what is shown

    def show_board(self, record: BoardRecord, chosen: Part | None, *, editable: bool) -> None:
        """Show which coupons and parts there are."""
        self._coupon.clear()
        for each in record.coupons_in_order():
            title = one_line(coupon_title(record, each), _LONGEST)
            self._coupon.addItem(title if each.outline_mm else self.tr("{0} – no outline").format(title), each.key)
        self._coupon.addItem(self.tr("Colour card on the board"), 0)
        self._coupon.setCurrentIndex(self._coupon.findData(chosen.coupon if chosen is not None else 0))
        self._show_parts(record, chosen, editable)
        self._note.setText(self._note_about(record))
        self._suggest_all.setEnabled(editable and any(not each.outline_mm for each in record.coupons.values()))

    def _show_parts(self, record: BoardRecord, chosen: Part | None, editable: bool) -> None:
        coupon = chosen.coupon if chosen is not None else 0
        self._parts = [Part("outline", coupon)] if coupon else [Part("card")]
        names = [self.tr("Outline")] if coupon else [self.tr("Grey card"), self.tr("White card")]
        if coupon:
            kinds = self._kind_names()
            for number, each in enumerate(areas_of(record, coupon), 1):
                self._parts.append(Part("area", coupon, each.key))
                names.append(self.tr("{0}. {1}, does not count").format(number, kinds[each.kind]))
            found = record.coupons.get(coupon)
            for kind in EXCLUDED_KINDS if editable and found is not None and found.outline_mm else ():
                self._parts.append(Part("area", coupon, -1 - EXCLUDED_KINDS.index(kind)))
                names.append(self.tr("Leave out a new {0}").format(kinds[kind]))
        self._part.clear()
        self._part.addItems(names)
        if coupon and chosen in self._parts:
            self._part.setCurrentIndex(self._parts.index(chosen))
        elif not coupon:
            card = card_of(record)
            self._part.setCurrentIndex(1 if card is not None and card.kind == "white card" else 0)

    def _kind_names(self) -> Mapping[ExcludedKind, str]:
        return {"hole": self.tr("hole"), "label": self.tr("label"), "other": self.tr("other area")}

    def _note_about(self, record: BoardRecord) -> str:
        margin = record.board.edge_margin_mm
        if not margin:
            return self.tr("No edge margin is set; the board's description has one.")
        return self.tr("The hatched strip of {0} mm along the edge does not count.").format(f"{margin:g}")

    def show_shape(self, part: Part | None, outline: Outline, *, editable: bool, tool: ShapeKind | None) -> None:
        """Show the chosen shape as it is on the screen."""
        for kind, button in self._tools.items():
            button.setChecked(kind == tool)
            button.setEnabled(editable and part is not None)
        if outline:
            self._kind.setCurrentIndex(SHAPE_KINDS.index(kind_of(outline)))
        self._kind.setEnabled(editable and bool(outline))
        self.sizes.show_outline(outline, editable=editable)
        coupon = part is not None and part.kind == "outline"
        self._free.setEnabled(editable and bool(outline))
        self._remove.setEnabled(editable and bool(outline))
        self._give.setEnabled(editable and coupon and bool(outline))
        self._suggest.setEnabled(editable and coupon)

    def set_free(self, free: bool) -> None:
        """Show whether corners move one by one."""
        self._free.blockSignals(True)
        self._free.setChecked(free)
        self._free.blockSignals(False)

    def card_kind(self) -> int:
        """Return the number of the chosen kind of card."""
        return max(0, self._part.currentIndex())

    # ---- what the user asks

    @Slot(int)
    def _coupon_chosen(self, index: int) -> None:
        key = int(self._coupon.itemData(index))
        self.part_chosen.emit(Part("outline", key) if key else Part("card"))

    @Slot(int)
    def _part_picked(self, index: int) -> None:
        self.part_chosen.emit(self._parts[index] if index < len(self._parts) else Part("card"))

    @Slot(int)
    def _kind_picked(self, index: int) -> None:
        self.kind_wanted.emit(SHAPE_KINDS[index])

    @Slot()
    def _tool_clicked(self) -> None:
        chosen: Sequence[ShapeKind] = [kind for kind, button in self._tools.items() if button is self.sender()]
        pressed = bool(chosen) and self._tools[chosen[0]].isChecked()
        self.tool_wanted.emit(chosen[0] if pressed else None)

    @Slot()
    def _ask_one(self) -> None:
        self.suggest_asked.emit(False)

    @Slot()
    def _ask_all(self) -> None:
        self.suggest_asked.emit(True)


def _label(text: str, field: QComboBox) -> QLabel:
    label = QLabel(text)
    label.setBuddy(field)
    return label
