"""The buttons over the pictures: what is seen, the masks, comparing two days, the brush."""

from __future__ import annotations

from typing import Final, Literal

from PySide6.QtCore import QT_TRANSLATE_NOOP, Signal, Slot
from PySide6.QtWidgets import QButtonGroup, QPushButton, QVBoxLayout, QWidget

from rustboard.ui.flow_layout import flowing
from rustboard.ui.photos.brush_row import BrushRow
from rustboard.ui.photos.compare_row import CompareRow, switch
from rustboard.ui.photos.comparison import Way
from rustboard.ui.photos.mask_overlay import MaskLook
from rustboard.ui.photos.photo_words import say

Seen = Literal["board", "both", "coupon", "figures"]
SEEN: Final[tuple[tuple[Seen, str], ...]] = (
    ("board", str(QT_TRANSLATE_NOOP("photos", "Board"))),
    ("both", str(QT_TRANSLATE_NOOP("photos", "Both"))),
    ("coupon", str(QT_TRANSLATE_NOOP("photos", "Coupon"))),
    ("figures", str(QT_TRANSLATE_NOOP("photos", "Figures"))),
)
_NAMES: Final = tuple(name for name, _ in SEEN)


class PhotoTools(QWidget):
    """Rows of buttons; those of comparing and of the brush come when they are wanted.

    Signals:
        seen_changed(): other parts are to be seen.
        mask_changed(): masks shown or hidden, filled or outlined.
        compare_changed(): another way to compare, or another speed, or comparing began or ended.
        brush_changed(): the brush taken up or laid aside, or another brush.
        zoom_asked(int): 1 in, -1 out, 0 the whole picture.

    Attributes:
        masks, outlined, compare, brush: the switches. comparing, painting: the rows that belong to two of them.
    """

    seen_changed = Signal()
    mask_changed = Signal()
    compare_changed = Signal()
    brush_changed = Signal()
    zoom_asked = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the rows."""
        super().__init__(parent)
        self._seen = QButtonGroup(self)
        self._zooms = QButtonGroup(self)
        self.masks = switch(self.tr("Mask"), self.tr("Show what was found as rust, dirt and unseen. Key: M"))
        self.masks.setChecked(True)
        self.outlined = switch(self.tr("Edges"), self.tr("Show the edge of the rust alone. Key: Shift+M"))
        self.compare = switch(self.tr("Compare"), self.tr("Compare two days. Key: C"))
        self.brush = switch(self.tr("Brush"), self.tr("Add rust to the mask or take it away. Key: P"))
        self.comparing, self.painting = CompareRow(), BrushRow()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        column.addWidget(self._built_main())
        for row in (self.comparing, self.painting):
            row.hide()
            column.addWidget(row)
        self._wire()

    def _built_main(self) -> QWidget:
        buttons: list[QWidget] = []
        for at, (_, text) in enumerate(SEEN):
            button = switch(say(text), "")
            self._seen.addButton(button, at)
            buttons.append(button)
        self._seen.button(1).setChecked(True)
        self._seen.button(3).hide()
        buttons.extend((self.masks, self.outlined, self.compare, self.brush))
        for way, text, tip in (
            (-1, "−", self.tr("Smaller. Key: -")),
            (0, self.tr("Fit"), self.tr("See the whole picture. Key: 0")),
            (1, "+", self.tr("Larger. Key: +, or the wheel")),
        ):
            button = QPushButton(text)
            button.setToolTip(tip)
            button.setAccessibleName(tip)
            self._zooms.addButton(button, way + 1)
            buttons.append(button)
        return flowing(*buttons)

    def _wire(self) -> None:
        self._seen.idClicked.connect(self._tell_seen)
        self.masks.toggled.connect(self._tell_mask)
        self.outlined.toggled.connect(self._tell_mask)
        self.compare.toggled.connect(self._compare_toggled)
        self.comparing.changed.connect(self.compare_changed)
        self.brush.toggled.connect(self._brush_toggled)
        self.painting.changed.connect(self.brush_changed)
        self._zooms.idClicked.connect(self._tell_zoom)

    # ---- what is chosen

    def seen(self) -> Seen:
        """Return which parts are to be seen."""
        return _NAMES[self._seen.checkedId()]

    def show_seen(self, seen: Seen) -> None:
        """Show which parts are seen; nothing is told of it."""
        self._seen.button(_NAMES.index(seen)).setChecked(True)

    def set_narrow(self, narrow: bool) -> None:
        """Where there is room for one part alone, offer the figures as a part, not two at once, and no zoom."""
        self._seen.button(1).setVisible(not narrow)
        self._seen.button(3).setVisible(narrow)
        for button in self._zooms.buttons():
            button.setVisible(not narrow)  # wheel, fingers and keys zoom too

    def set_enabled(self, *, masks: bool, paints: bool, compares: bool, strokes: bool) -> None:
        """Enable what can be done with the photo in view; a brush or comparison that cannot be is laid aside."""
        self.masks.setEnabled(masks)
        self.outlined.setEnabled(masks and self.masks.isChecked())
        for each, can in ((self.brush, paints), (self.compare, compares)):
            if not can:
                each.setChecked(False)
            each.setEnabled(can)
        self.painting.set_strokes(strokes)

    def look(self) -> MaskLook:
        """Return how rust is shown."""
        return "outline" if self.outlined.isChecked() else "tint"

    def way(self) -> Way:
        """Return how two days are compared; ``one`` while they are not, or while one is held."""
        return self.comparing.way() if self.compare.isChecked() else "one"

    # ---- telling

    @Slot()
    def _tell_seen(self) -> None:
        self.seen_changed.emit()

    @Slot()
    def _tell_mask(self) -> None:
        self.outlined.setEnabled(self.masks.isChecked())
        self.mask_changed.emit()

    @Slot(bool)
    def _compare_toggled(self, on: bool) -> None:
        if on:
            self.brush.setChecked(False)
        self.comparing.setVisible(on)
        self.compare_changed.emit()

    @Slot(bool)
    def _brush_toggled(self, on: bool) -> None:
        if on:
            self.compare.setChecked(False)
            self.masks.setChecked(True)
        self.painting.setVisible(on)
        self.brush_changed.emit()

    @Slot(int)
    def _tell_zoom(self, button: int) -> None:
        self.zoom_asked.emit(button - 1)
