"""Treatments: what is put on the coupons, how many of each, and what is left untreated to compare with."""

from __future__ import annotations

from collections import Counter
from statistics import median_low
from typing import Final

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from rustboard.board.model import Treatment
from rustboard.board.recipe_cost import recipe_cost, usual_area_mm2
from rustboard.operations.layouts import set_replicates
from rustboard.operations.roles import set_treatment_role
from rustboard.scales.cautions import safety_lines
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.support.text import printable
from rustboard.ui.doing import Do
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.form import WheelGuard
from rustboard.ui.forms.labels import words_label
from rustboard.ui.plan.treatment_card import CardContent, TreatmentCard
from rustboard.ui.recipe_wording import cost_line, minutes, minutes_line, money
from rustboard.ui.theme import Scheme
from rustboard.ui.treatment_colours import treatment_inks

_UNTREATED: Final = 0
"""Stands for coupons without a treatment where a key is wanted."""
_USUAL_CONTROLS: Final = 3
_LONGEST_TITLE: Final = 120


class TreatmentsPanel(QWidget):
    """The treatments of the board and how many coupons have each.

    Signals:
        treatment_asked(int): edit the treatment with this key; 0 = add one.
        recipe_asked(int): edit the steps of this treatment.
        library_asked(): add a treatment from the library.
        remove_asked(int): remove this treatment.
    """

    treatment_asked = Signal(int)
    recipe_asked = Signal(int)
    library_asked = Signal()
    remove_asked = Signal(int)

    def __init__(self, session: Session, do: Do, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Show a session's treatments."""
        super().__init__(parent)
        self._session, self._do, self._scheme = session, do, scheme
        self._wheel = WheelGuard(self)
        self._cards: dict[int, TreatmentCard] = {}
        self._sum = words_label(narrow=True)
        self._add = QPushButton(self.tr("&Add treatment…"))
        self._library = QPushButton(self.tr("From the &library…"))
        self._controls = QPushButton(self.tr("Add &untreated controls"))
        self._column = QVBoxLayout()
        self._build()
        self._wire()
        self.refresh()

    def _build(self) -> None:
        self._add.setProperty("primary", True)
        whole = QVBoxLayout(self)
        whole.addWidget(flowing(self._add, self._library, self._controls))
        whole.addWidget(self._sum)
        whole.addLayout(self._column)
        whole.addStretch(1)

    def _wire(self) -> None:
        self._add.clicked.connect(self._ask_new)
        self._library.clicked.connect(self.library_asked)
        self._controls.clicked.connect(self._add_controls)

    def _wire_card(self, card: TreatmentCard) -> None:
        card.count_asked.connect(self._set_count)
        card.control_asked.connect(self._set_control)
        card.details_asked.connect(self.treatment_asked)
        card.steps_asked.connect(self.recipe_asked)
        card.remove_asked.connect(self.remove_asked)

    # ---- what it shows

    def apply(self, changes: ChangeSet) -> None:
        """Show what changed."""
        if changes.touches("board", "treatment", "coupon", "recipe", "layout", "grading"):
            self.refresh()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        if scheme != self._scheme:
            self._scheme = scheme
            self.refresh()

    def refresh(self) -> None:
        """Show everything as it is now."""
        contents = self._contents()
        wanted = [each.key for each in contents]
        for key in [key for key in self._cards if key not in wanted]:
            card = self._cards.pop(key)
            self._column.removeWidget(card)
            card.hide()
            card.deleteLater()
        for place, content in enumerate(contents):
            known = self._cards.get(content.key)
            if known is not None:
                known.show_content(content)
                continue
            card = self._cards[content.key] = TreatmentCard(content, self._wheel)
            self._wire_card(card)
            self._column.insertWidget(place, card)
        self._show_sum()
        writable = not self._session.read_only_reason
        for button in (self._add, self._library):
            button.setEnabled(writable)
        self._controls.setEnabled(writable and _UNTREATED not in self._cards)

    def _contents(self) -> list[CardContent]:
        record = self._session.record
        coupons = Counter(each.treatment for each in record.coupons.values())
        controls = Counter(each.treatment for each in record.coupons.values() if each.role == "control")
        inks = treatment_inks(record, self._scheme)
        writable = not self._session.read_only_reason
        contents = []
        for key, treatment in sorted(record.treatments.items()):
            recipe = record.recipe_of(key)
            title, about = _words(treatment)
            contents.append(
                CardContent(
                    key=key,
                    title=title,
                    about=about,
                    costs=self._costs(treatment),
                    coupons=coupons[key],
                    controls=controls[key],
                    steps=len(recipe.steps),
                    ink=inks[key],
                    writable=writable,
                    care=tuple(line for line, _ in safety_lines([treatment], {key: recipe})),
                )
            )
        if coupons[None]:
            title = self.tr("No treatment")
            contents.append(
                CardContent(_UNTREATED, title, "", "", coupons[None], controls[None], 0, inks[None], writable)
            )
        return contents

    def _costs(self, treatment: Treatment) -> str:
        record = self._session.record
        recipe = record.recipe_of(treatment.key)
        if recipe.steps:
            cost = recipe_cost(recipe, usual_area_mm2(record, treatment.key))
            lines = [cost_line(cost), minutes_line(cost)]
            if cost.unknown or cost.untimed:
                lines.append(self.tr("Not all steps are counted; see the steps."))
            return "\n".join(lines)
        parts = []
        if treatment.cost_per_m2 is not None:
            parts.append(self.tr("Cost: {0} for a m²").format(money(treatment.cost_per_m2)))
        if treatment.minutes_per_m2 is not None:
            parts.append(self.tr("Work: {0}\N{NO-BREAK SPACE}min for a m²").format(minutes(treatment.minutes_per_m2)))
        return "\n".join(parts)

    def _show_sum(self) -> None:
        record = self._session.record
        room = record.board.rows * record.board.columns
        hanging = sum(1 for each in record.coupons.values() if each.position is not None)
        beside = len(record.coupons) - hanging
        if not record.treatments and not record.coupons:
            text = self.tr("No treatments yet. Add the first one, then say how many coupons get it.")
        else:
            text = self.tr("{0} coupons; {1} of {2} positions are taken.").format(len(record.coupons), hanging, room)
            if beside:
                text = f"{text} {self.tr('{0} are not on the board.').format(beside)}"
            if record.coupons and all(each.role == "test" for each in record.coupons.values()):
                bare = self.tr("No coupon is an untreated control: nothing will show how hard the place is.")
                text = f"{text}\n{bare}"
        self._sum.setText(text)

    # ---- what the user does

    @Slot()
    def _ask_new(self) -> None:
        self.treatment_asked.emit(0)

    @Slot(int, int)
    def _set_count(self, key: int, count: int) -> None:
        of_this = [each for each in self._session.record.coupons.values() if each.treatment == (key or None)]
        role = "control" if of_this and all(each.role == "control" for each in of_this) else "test"
        if self._do(set_replicates, key or None, count, role, origin=self) is None:
            self.refresh()

    @Slot(int, bool)
    def _set_control(self, key: int, control: bool) -> None:
        # Shown again in any case: a click has already changed the tick.
        self._do(set_treatment_role, key or None, "control" if control else "test", origin=self)
        self.refresh()

    @Slot()
    def _add_controls(self) -> None:
        """As many as the treatments usually have: fewer would tell less of the place than of any treatment."""
        counts = Counter(each.treatment for each in self._session.record.coupons.values())
        number_of_controls = median_low(counts.values()) if counts else _USUAL_CONTROLS
        self._do(set_replicates, None, number_of_controls, "control", origin=self)


def _words(treatment: Treatment) -> tuple[str, str]:
    title = f"{treatment.id}  {treatment.name}" if treatment.name not in ("", treatment.id) else treatment.id
    about = [treatment.family, treatment.preparation, treatment.finish, treatment.protectant]
    return printable(title)[:_LONGEST_TITLE], printable(" · ".join(filter(None, about)))[: 2 * _LONGEST_TITLE]
