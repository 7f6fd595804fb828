"""The row of choices while the brush is in use."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QButtonGroup, QLabel, QPushButton, QSizePolicy, QSlider, QVBoxLayout, QWidget

from rustboard.ui.flow_layout import flowing
from rustboard.ui.photos.brush import SIZES_MM
from rustboard.ui.photos.compare_row import switch
from rustboard.ui.wording import number


class BrushRow(QWidget):
    """What the brush does and how wide it is.

    Signals:
        changed(): another brush.
        strokes_back_asked(): all strokes on this coupon are to go.
    """

    changed = Signal()
    strokes_back_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the row."""
        super().__init__(parent)
        self._kinds = QButtonGroup(self)
        add = switch(self.tr("Add rust"), self.tr("Strokes add rust. The key R changes between adding and taking."))
        take = switch(
            self.tr("Take rust away"), self.tr("Strokes take rust away. The key R changes between adding and taking.")
        )
        for at, button in enumerate((add, take)):
            self._kinds.addButton(button, at)
        add.setChecked(True)
        self._size = QSlider(Qt.Orientation.Horizontal)
        self._size.setRange(0, len(SIZES_MM) - 1)
        self._size.setValue(4)
        self._size.setFixedWidth(110)
        self._size.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._size.setAccessibleName(self.tr("Width of the brush"))
        self._size.setToolTip(self.tr("Width of the brush. Keys: [ and ]"))
        self._label = QLabel()
        self._back = QPushButton(self.tr("Take all strokes back"))
        self._back.setToolTip(
            self.tr(
                "The measured mask of this coupon stands again. While painting: arrows move the brush, Space sets it "
                "down and lifts it, Esc gives the stroke up."
            )
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(flowing(add, take, self._size, self._label, self._back))
        self._show_label()
        self._wire()

    def _wire(self) -> None:
        self._kinds.idClicked.connect(self._tell)
        self._size.valueChanged.connect(self._tell)
        self._back.clicked.connect(self._ask_back)

    def adds(self) -> bool:
        """Return whether the brush adds rust."""
        return self._kinds.checkedId() == 0

    def radius_mm(self) -> float:
        """Return half the brush's width."""
        return SIZES_MM[self._size.value()]

    def step_size(self, steps: int) -> None:
        """Take a wider or a narrower brush."""
        self._size.setValue(self._size.value() + steps)

    def turn(self) -> None:
        """Add rust instead of taking it away, or the other way round."""
        self._kinds.button(1 if self.adds() else 0).click()

    def set_strokes(self, there: bool) -> None:
        """Say whether there are strokes to take back."""
        self._back.setEnabled(there)

    def _show_label(self) -> None:
        self._label.setText(self.tr("{0} mm wide").format(number(2 * self.radius_mm(), 1)))

    @Slot()
    def _tell(self) -> None:
        self._show_label()
        self.changed.emit()

    @Slot()
    def _ask_back(self) -> None:
        self.strokes_back_asked.emit()
