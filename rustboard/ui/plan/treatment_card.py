"""One treatment in the list of treatments: how many coupons, whether they are controls, what it costs."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import (
    QCheckBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from rustboard.operations.layouts import MOST_REPLICATES
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.form import WheelGuard
from rustboard.ui.forms.labels import words_label
from rustboard.ui.recipe_wording import care_lines, care_summary
from rustboard.ui.wording import tool_tip

_BAND_PX = 7


@dataclass(frozen=True, slots=True)
class CardContent:
    """What a card shows.

    Attributes:
        key: of the treatment; 0 = coupons without a treatment.
        title, about, costs: lines of text; those that are empty are left out.
        coupons: how many have the treatment. controls: how many of them are controls.
        steps: of its recipe.
        ink: ``#rrggbb``, as on the map.
        writable: whether the board may be changed.
        care: reminders that its recipe calls for.
    """

    key: int
    title: str
    about: str
    costs: str
    coupons: int
    controls: int
    steps: int
    ink: str
    writable: bool
    care: tuple[str, ...] = ()


class TreatmentCard(QFrame):
    """Shows one treatment. It changes nothing itself.

    Signals:
        count_asked(int, int): the treatment with this key is to have so many coupons.
        control_asked(int, bool): its coupons are to be controls, or test pieces.
        details_asked(int), steps_asked(int), remove_asked(int): by key.
    """

    count_asked = Signal(int, int)
    control_asked = Signal(int, bool)
    details_asked = Signal(int)
    steps_asked = Signal(int)
    remove_asked = Signal(int)

    def __init__(self, content: CardContent, wheel: WheelGuard, parent: QWidget | None = None) -> None:
        """Show a treatment."""
        super().__init__(parent)
        self.setProperty("card", True)
        self._content = content
        self._filling = False
        self._band = QFrame()
        self._band.setFixedWidth(_BAND_PX)
        self._title = words_label(narrow=True)
        self._title.setProperty("heading", True)
        self._about, self._costs = (words_label(muted=True, narrow=True) for _ in range(2))
        self._care = words_label(narrow=True)  # a reminder is not to be paler than what it is about
        self._count = QSpinBox()
        self._count.setRange(0, MOST_REPLICATES)
        self._count.setKeyboardTracking(False)
        self._count_label = QLabel(self.tr("Coupons"))
        self._count_label.setBuddy(self._count)
        self._control = QCheckBox(self.tr("Untreated control"))
        self._details = QPushButton(self.tr("Details…"))
        self._steps = QPushButton()
        self._remove = QPushButton(self.tr("Remove"))
        wheel.watch(self._count)
        self._build()
        self._wire()
        self.show_content(content)

    def _build(self) -> None:
        numbers = QHBoxLayout()
        numbers.addWidget(self._count_label)
        numbers.addWidget(self._count)
        numbers.addSpacing(10)
        numbers.addWidget(self._control)
        numbers.addStretch(1)
        actions = self._details, self._steps, self._remove
        for each in actions:
            each.setAutoDefault(False)
        column = QVBoxLayout()
        column.setSpacing(3)
        for part in (self._title, self._about, self._costs, self._care):
            column.addWidget(part)
        column.addLayout(numbers)
        column.addWidget(flowing(*actions))
        row = QHBoxLayout(self)
        row.setContentsMargins(6, 6, 6, 6)
        row.addWidget(self._band)
        row.addLayout(column, 1)

    def _wire(self) -> None:
        self._count.valueChanged.connect(self._ask_count)
        self._control.clicked.connect(self._ask_control)
        self._details.clicked.connect(self._ask_details)
        self._steps.clicked.connect(self._ask_steps)
        self._remove.clicked.connect(self._ask_remove)

    def show_content(self, content: CardContent) -> None:
        """Show the same treatment as it is now."""
        self._content = content
        self._filling = True
        self._band.setStyleSheet(f"background: {content.ink}; border: none; border-radius: 3px;")
        for label, text in ((self._title, content.title), (self._about, content.about), (self._costs, content.costs)):
            label.setText(text)
            label.setVisible(bool(text))
        self._show_care(content)
        self._count.setMaximum(max(MOST_REPLICATES, content.coupons))
        self._count.setValue(content.coupons)
        ticked = Qt.CheckState.Checked if content.controls == content.coupons else Qt.CheckState.PartiallyChecked
        self._control.setCheckState(ticked if content.controls else Qt.CheckState.Unchecked)
        some = 0 < content.controls < content.coupons
        mixed = self.tr("{0} of {1} are controls").format(content.controls, content.coupons)
        self._control.setToolTip(mixed if some else self.tr("Left without protection, to compare the others with"))
        self._steps.setText(self.tr("Steps ({0})…").format(content.steps) if content.steps else self.tr("Steps…"))
        self._filling = False
        self._enable(content)

    def _show_care(self, content: CardContent) -> None:
        summary = care_summary(len(content.care))
        reminders = care_lines(content.care)
        self._care.setText(summary)
        self._care.setToolTip("".join(map(tool_tip, reminders)))
        self._care.setAccessibleName("\n".join([summary, *reminders]))
        self._care.setVisible(bool(content.care))

    def _enable(self, content: CardContent) -> None:
        self._count.setEnabled(content.writable)
        self._control.setEnabled(content.writable and content.coupons > 0)
        self._details.setEnabled(content.writable)
        self._steps.setEnabled(content.writable)
        self._remove.setEnabled(content.writable and not content.coupons)
        self._remove.setToolTip(self.tr("Set its coupons to 0 first") if content.coupons else "")
        for each in (self._details, self._steps, self._remove):
            each.setVisible(content.key != 0)
        for field, name in (
            (self._count, self.tr("Coupons of {0}")),
            (self._control, self.tr("{0}: untreated control")),
            (self._details, self.tr("Details of {0}")),
            (self._steps, self.tr("Steps of {0}")),
            (self._remove, self.tr("Remove {0}")),
        ):
            field.setAccessibleName(name.format(content.title))

    @Slot(int)
    def _ask_count(self, count: int) -> None:
        if not self._filling:
            self.count_asked.emit(self._content.key, count)

    @Slot()
    def _ask_control(self) -> None:
        # From "some of them" a click makes all of them controls.
        self.control_asked.emit(self._content.key, self._content.controls < self._content.coupons)

    @Slot()
    def _ask_details(self) -> None:
        self.details_asked.emit(self._content.key)

    @Slot()
    def _ask_steps(self) -> None:
        self.steps_asked.emit(self._content.key)

    @Slot()
    def _ask_remove(self) -> None:
        self.remove_asked.emit(self._content.key)
