"""One kind of damage in the dialog: whether it is there, how much, how severe, and the rating that follows."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.damage import SEVERITIES, Damage, DamageKind
from rustboard.board.damages_noted import read_widths
from rustboard.operations.damage import GivenDamage, check_damage
from rustboard.scales.damage_ratings import DamageRating, mean_creep_mm, rating_of
from rustboard.support.problems import InputError
from rustboard.support.text import many_lines, one_line
from rustboard.ui.damage_words import kind_meaning, kind_name, kind_title, rating_text, severity_name
from rustboard.ui.flow_layout import FlowLayout
from rustboard.ui.forms.form import WrongFieldError, blamed_on, line_field
from rustboard.ui.forms.labels import words_label
from rustboard.ui.forms.numbers import number_field, number_in, shown_number
from rustboard.ui.theme import px_of_mm

_TOUCH_MM = 9.0
_NUMBER_IN_LETTERS = 12
_NOTE_LIMIT = 20_000
_WIDTHS_LIMIT = 2_000


def low_label(text: str = "", *, muted: bool = False) -> QLabel:
    """Return a label for sentences that is no higher than its lines."""
    label = words_label(text, muted=muted, narrow=True)
    label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
    return label


def _short_field() -> QLineEdit:
    field = number_field(None)
    field.setFixedWidth(field.fontMetrics().averageCharWidth() * _NUMBER_IN_LETTERS)
    field.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
    return field


class DamageRow(QFrame):
    """One kind of damage; its fields are there while it is ticked.

    Signals:
        switched(): it was ticked, or no longer.
        edited(): something in it was changed.

    Attributes:
        kind: of damage. box: whether it is there. dirty: changed since it was noted.
        note: a field. lines: the fields for one line. rating: the label that says what a standard calls it.
    """

    switched = Signal()
    edited = Signal()

    def __init__(self, kind: DamageKind, parent: QWidget | None = None) -> None:
        """Build the row, unticked."""
        super().__init__(parent)
        self.kind = kind
        self.dirty = False
        self._noted: Damage | None = None
        self.setProperty("card", True)
        self.box = QCheckBox(kind_title(kind))
        self.box.setMinimumHeight(px_of_mm(self, _TOUCH_MM))
        self.box.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.box.setAccessibleDescription(kind_meaning(kind))
        self._state = QLabel()
        self._state.setProperty("muted", True)
        self._meaning = low_label(kind_meaning(kind), muted=True)
        self.rating = low_label()
        self._fields = QWidget()
        self._flow = FlowLayout(self._fields, 10)
        self.lines: list[QLineEdit] = []
        self._choices: list[QComboBox] = []
        self._add_fields()
        self.note = line_field(limit=_NOTE_LIMIT)
        self.note.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._add(self.tr("Note"), self.note)
        self._lay_out()
        self._wire()
        self._follow_box()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.box, 1)
        head.addWidget(self._state)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 2, 8, 6)
        column.setSpacing(2)
        column.addLayout(head)
        column.addWidget(self._meaning)
        column.addWidget(self._fields)
        column.addWidget(self.rating)

    def _wire(self) -> None:
        self.box.toggled.connect(self._follow_box)
        self.box.clicked.connect(self.switched)
        for line in self.lines:
            line.textEdited.connect(self._edit)
        for choice in self._choices:
            choice.activated.connect(self._edit)

    def _add_fields(self) -> None:
        """Make the fields of this kind."""
        raise NotImplementedError

    def _read(self, blank: GivenDamage) -> GivenDamage:
        """Return what the fields say; raises `WrongFieldError`."""
        raise NotImplementedError

    def _put(self, damage: Damage) -> None:
        """Show what is noted in the fields."""
        raise NotImplementedError

    def _rating(self) -> tuple[DamageRating | None, float | None]:
        """Return the rating of what is in the fields, and the mean creep; raises where they cannot be read."""
        return None, None

    def _add(self, text: str, field: QLineEdit | QComboBox) -> None:
        """Add a field behind its label."""
        field.setMinimumHeight(px_of_mm(self, _TOUCH_MM))
        field.setAccessibleName(self.tr("{0}: {1}").format(kind_name(self.kind), text))
        label = QLabel(text)
        label.setBuddy(field)
        pair = QWidget()
        pair.setSizePolicy(field.sizePolicy())
        line = QHBoxLayout(pair)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(label)
        line.addWidget(field, 1)
        self._flow.addWidget(pair)
        if isinstance(field, QLineEdit):
            self.lines.append(field)
        else:
            self._choices.append(field)

    def choices(self) -> tuple[QComboBox, ...]:
        """Return the lists to choose from."""
        return tuple(self._choices)

    # ---- what it holds

    def is_pending(self) -> bool:
        """Return whether it is ticked with something that is not noted yet."""
        return self.box.isChecked() and (self.dirty or self._noted is None)

    def has_content(self) -> bool:
        """Return whether anything is in its fields."""
        return any(each.text().strip() for each in self.lines) or any(
            each.currentIndex() > 0 for each in self._choices
        )

    def is_noted(self) -> bool:
        """Return whether this kind is noted of the coupon."""
        return self._noted is not None

    def show_noted(self, damage: Damage | None) -> None:
        """Show what is noted of this kind; without any the fields keep what was typed."""
        self._noted = damage
        self.dirty = False
        if damage is not None:
            self._put(damage)
            self.note.setText(one_line(damage.note, _NOTE_LIMIT))
            self.note.setCursorPosition(0)
        self.box.setChecked(damage is not None)
        self._follow_box()

    def given(self, coupon: int, inspection: int, grader: str) -> GivenDamage:
        """Return what the fields say.

        Raises:
            WrongFieldError: something in it must be mended, or there is too little to note.
        """
        given = self._read(GivenDamage(coupon, inspection, self.kind, grader=grader, note=self._note_text()))
        with blamed_on(self._to_blame(given)):
            check_damage(given)
        return given

    def _note_text(self) -> str:
        # A note of several lines, typed elsewhere, stays as it is until it is changed here.
        before = "" if self._noted is None else self._noted.note
        typed = self.note.text()
        return before if typed == one_line(before, _NOTE_LIMIT) else many_lines(typed)

    def _to_blame(self, given: GivenDamage) -> QLineEdit:
        """Return the field to go to where a rule refuses what was given."""
        return self.lines[0]

    # ---- what follows from it

    @Slot()
    def _follow_box(self) -> None:
        self._fields.setVisible(self.box.isChecked())
        if self.box.isChecked() and self._noted is None:
            self.dirty = True  # ticked again after it was withdrawn: what is in the fields counts again
        self._follow()

    @Slot()
    def _edit(self) -> None:
        self.dirty = True
        self._follow()
        self.edited.emit()

    def _follow(self) -> None:
        try:
            said = rating_text(*self._rating())
        except (InputError, WrongFieldError):
            said = ""  # on the way to a number; it is said when the row is left
        self.rating.setText(said)
        self.rating.setVisible(bool(said) and self.box.isChecked())
        for line in self.lines[:-1]:
            line.setAccessibleDescription(said)
        if not self.box.isChecked():
            self._state.setText("")
        else:
            self._state.setText(self.tr("not kept yet") if self.is_pending() else self.tr("kept"))


class ShareRow(DamageRow):
    """Damage that takes a part of the surface, or of the length of the edges.

    Attributes:
        percent, severity: its fields.
    """

    def _add_fields(self) -> None:
        self.percent = _short_field()
        edges = self.kind == "edge rust"
        self._add(self.tr("Part of the edges, %") if edges else self.tr("Part of the surface, %"), self.percent)
        self.severity = QComboBox()
        for each in SEVERITIES:
            self.severity.addItem(severity_name(each), each)
        self._add(self.tr("Severity"), self.severity)

    def _read(self, blank: GivenDamage) -> GivenDamage:
        chosen = self.severity.currentData()
        severity = next(each for each in SEVERITIES if each == chosen)
        return replace(blank, percent=number_in(self.percent), severity=severity)

    def _put(self, damage: Damage) -> None:
        self.percent.setText(shown_number(damage.percent))
        self.severity.setCurrentIndex(max(0, self.severity.findData(damage.severity)))

    def _rating(self) -> tuple[DamageRating | None, float | None]:
        return rating_of(self.kind, number_in(self.percent), str(self.severity.currentData())), None


class CreepRow(DamageRow):
    """Creep from a scribe.

    Attributes:
        scribe, widths: its fields.
    """

    def _add_fields(self) -> None:
        self.scribe = _short_field()
        self._add(self.tr("Scribe, mm"), self.scribe)
        hint = " ".join(shown_number(each) for each in (2.1, 3.0, 2.4))
        self.widths = line_field(hint=hint, limit=_WIDTHS_LIMIT)
        self.widths.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._add(self.tr("Full widths, mm"), self.widths)

    def _widths(self) -> tuple[float, ...]:
        with blamed_on(self.widths):
            return read_widths(self.widths.text())

    def _read(self, blank: GivenDamage) -> GivenDamage:
        return replace(blank, scribe_mm=number_in(self.scribe), widths_mm=self._widths())

    def _put(self, damage: Damage) -> None:
        self.scribe.setText(shown_number(damage.scribe_mm))
        self.widths.setText(" ".join(shown_number(each) for each in damage.widths_mm))
        self.widths.setCursorPosition(0)

    def _rating(self) -> tuple[DamageRating | None, float | None]:
        scribe, widths = number_in(self.scribe), self._widths()
        if scribe is None or not widths:
            return None, None
        return rating_of(self.kind, None, "", scribe, widths), mean_creep_mm(widths, scribe)

    def _to_blame(self, given: GivenDamage) -> QLineEdit:
        return self.scribe if given.scribe_mm is None else self.widths


def row_of(kind: DamageKind) -> DamageRow:
    """Return the row of a kind."""
    return CreepRow(kind) if kind == "creep" else ShareRow(kind)
