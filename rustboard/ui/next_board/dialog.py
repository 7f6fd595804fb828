"""What of a board is repeated on the next one, and the one thing that is changed."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QSize, Qt, Slot
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialogButtonBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.next_board import BOARD_THINGS, RECIPE_THINGS, NextChoice, Thing, changes, told
from rustboard.board.record import BoardRecord
from rustboard.session.next_board import Suggested
from rustboard.support.text import NAME_LIMIT, one_line, printable
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.labels import words_label
from rustboard.ui.wording import tool_tip

_KEY: Final = Qt.ItemDataRole.UserRole
_CONTROLS: Final = -1
_NUMBERS: Final[frozenset[Thing]] = frozenset({"coats", "incline", "coupons each"})
_NAMES: Final[dict[Thing, str]] = {
    "protectant": str(QT_TRANSLATE_NOOP("next board", "Protectant")),
    "finish": str(QT_TRANSLATE_NOOP("next board", "Finish")),
    "preparation": str(QT_TRANSLATE_NOOP("next board", "Preparation")),
    "coats": str(QT_TRANSLATE_NOOP("next board", "Coats")),
    "steel": str(QT_TRANSLATE_NOOP("next board", "Steel of all coupons")),
    "site": str(QT_TRANSLATE_NOOP("next board", "Site")),
    "shelter": str(QT_TRANSLATE_NOOP("next board", "Shelter")),
    "incline": str(QT_TRANSLATE_NOOP("next board", "Incline, degrees")),
    "coupons each": str(QT_TRANSLATE_NOOP("next board", "Coupons of each treatment")),
}


def _say(text: str) -> str:
    return QCoreApplication.translate("next board", text)


class NextBoardDialog(FittingDialog):
    """Asks what is kept and what is changed; more than one change needs a check mark of its own.

    Attributes:
        name: of the new board. kept: the treatments. target: whose recipe is changed. fields: what is to be, by
            what. said: what differs, in a sentence. anyway: that more than one thing may differ. buttons: make it, or
            not.
    """

    def __init__(self, record: BoardRecord, suggested: Suggested, name: str, parent: QWidget | None = None) -> None:
        """Suggest the best treatment, its rival and the controls."""
        super().__init__(parent)
        self.setWindowTitle(self.tr("Next board, one thing changed"))
        self._record = record
        self.name = QLineEdit(name)
        self.name.setMaxLength(NAME_LIMIT)
        self.kept, self.target = QListWidget(), QComboBox()
        self.fields: dict[Thing, QLineEdit] = {}
        self._before: dict[Thing, QLabel] = {}
        self.said = words_label(narrow=True)
        self.anyway = QCheckBox(self.tr("&Make it so all the same; the record of the board will say so"))
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self._ok = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        self._ok.setText(self.tr("Make the &board"))
        for each in self.buttons.buttons():
            each.setIcon(QIcon())
        self._fill_kept(suggested)
        self._lay_out()
        self._wire()
        self._offer_targets(suggested.best)
        self._follow()

    def _fill_kept(self, suggested: Suggested) -> None:
        record = self._record
        marks = {suggested.best: self.tr("best so far"), suggested.rival: self.tr("next to it")}
        tested = {each.treatment for each in record.coupons.values() if each.role == "test" and each.position}
        for key in (each for each in record.treatments if each in tested):
            title = printable(record.treatments[key].title)
            mark = marks.get(key, "")
            nothing_known = suggested.best is None
            self._put(
                self.tr("{0} ({1})").format(title, mark) if mark else title, key, on=bool(mark) or nothing_known
            )
        if any(each.role == "control" and each.position for each in record.coupons.values()):
            self._put(self.tr("the controls"), _CONTROLS, on=True)
        self.kept.setAccessibleName(self.tr("Repeat these"))
        self.kept.setMaximumHeight(self.fontMetrics().height() * 7)

    def _put(self, text: str, key: int, *, on: bool) -> None:
        item = QListWidgetItem(text)
        item.setData(_KEY, key)
        item.setToolTip(tool_tip(text))
        item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsUserCheckable)
        item.setCheckState(Qt.CheckState.Checked if on else Qt.CheckState.Unchecked)
        self.kept.addItem(item)

    def _lay_out(self) -> None:
        name = QLabel(self.tr("&Name of the new board"))
        name.setBuddy(self.name)
        kept = QLabel(self.tr("&Repeat these"))
        kept.setBuddy(self.kept)
        top = QHBoxLayout()
        top.addWidget(name)
        top.addWidget(self.name, 1)
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.addLayout(top)
        column.addWidget(kept)
        column.addWidget(self.kept)
        column.addLayout(self._grid())
        note = self.tr("Lots are drawn anew; the question and the visits go along, dates, grades and photos do not.")
        if self._record.layout.method == "hand":
            note = self.tr("{0} The old board was hung without lots; the new one gets lots within its rows.").format(
                note
            )
        column.addWidget(words_label(note, muted=True, narrow=True))
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setWidget(inside)
        whole = QVBoxLayout(self)
        whole.addWidget(scroll, 1)
        whole.addWidget(self.said)
        whole.addWidget(self.anyway)
        whole.addWidget(self.buttons)

    def _grid(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(2, 1)
        for column, text in enumerate((self.tr("Change one thing"), self.tr("Old board"), self.tr("New board"))):
            head = QLabel(text)
            head.setProperty("heading", True)
            grid.addWidget(head, 0, column)
        of = QLabel(self.tr("Recipe o&f"))
        of.setBuddy(self.target)
        self.target.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        grid.addWidget(of, 1, 0)
        grid.addWidget(self.target, 1, 1, 1, 2)
        for row, thing in enumerate((*RECIPE_THINGS, *BOARD_THINGS), 2):
            text = _say(_NAMES[thing])
            before, field = words_label(muted=True, narrow=True), QLineEdit()
            field.setAccessibleName(text)
            field.setMaxLength(NAME_LIMIT)
            self.fields[thing], self._before[thing] = field, before
            grid.addWidget(QLabel(text), row, 0)
            grid.addWidget(before, row, 1)
            grid.addWidget(field, row, 2)
        return grid

    def _wire(self) -> None:
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        self.kept.itemChanged.connect(self._keep)
        self.target.activated.connect(self._aim)
        self.anyway.toggled.connect(self._allow)
        self.name.textChanged.connect(self._type)
        for field in self.fields.values():
            field.textEdited.connect(self._type)

    def _offer_targets(self, wanted: int | None) -> None:
        self.target.clear()
        for key in self._kept():
            self.target.addItem(printable(self._record.treatments[key].title), key)
        if self.target.count() > 1:
            self.target.addItem(self.tr("all that are repeated"), None)
        self.target.setCurrentIndex(max(self.target.findData(wanted), 0))

    def _kept(self) -> list[int]:
        items = (self.kept.item(at) for at in range(self.kept.count()))
        keys = (int(each.data(_KEY)) for each in items if each.checkState() == Qt.CheckState.Checked)
        return [key for key in keys if key != _CONTROLS]

    def _controls(self) -> bool:
        items = (self.kept.item(at) for at in range(self.kept.count()))
        return any(each.data(_KEY) == _CONTROLS and each.checkState() == Qt.CheckState.Checked for each in items)

    def board_name(self) -> str:
        """Return the name of the new board."""
        return one_line(self.name.text())

    def choice(self) -> NextChoice:
        """Return what was chosen; what cannot be read as a number is left as it was."""
        values: list[tuple[Thing, str | float]] = []
        for thing, field in self.fields.items():
            text = field.text()
            if not field.isModified():
                continue
            if thing not in _NUMBERS:
                values.append((thing, text))
            elif (number := _number(text)) is not None:
                values.append((thing, number))
        target = self.target.currentData()
        return NextChoice(tuple(self._kept()), self._controls(), target, tuple(values))

    @Slot()
    def _follow(self) -> None:
        """Show what was, what is to be, and in what the boards differ."""
        choice = self.choice()
        for thing, field in self.fields.items():
            before = told(self._record, choice, thing)
            self._before[thing].setText(printable(before) or self.tr("none"))
            if not field.isModified():
                field.setText(before)
                field.setCursorPosition(0)
        found = changes(self._record, choice)
        unread = [_say(_NAMES[each]) for each in _NUMBERS if self._is_unread(each)]
        if unread:
            sentence = self.tr("Type a number: {0}.").format(", ".join(sorted(unread)))
        elif not choice.kept:
            sentence = self.tr("Keep at least one treatment.")
        elif not found:
            sentence = self.tr("Nothing is changed yet: this would be the same board again.")
        elif len(found) == 1:
            sentence = self.tr("One thing is changed: {0}.").format(printable(found[0].text()))
        else:
            told_changes = "; ".join(printable(each.text()) for each in found)
            sentence = self.tr(
                "{0} things would differ: {1}. What then makes the difference cannot be told; change only one."
            ).format(len(found), told_changes)
        self.said.setText(sentence)
        self.anyway.setVisible(len(found) > 1)
        allowed = len(found) == 1 or (len(found) > 1 and self.anyway.isChecked())
        self._ok.setEnabled(allowed and bool(choice.kept) and not unread and bool(self.board_name()))

    def _is_unread(self, thing: Thing) -> bool:
        field = self.fields[thing]
        return field.isModified() and _number(field.text()) is None

    @Slot(QListWidgetItem)
    def _keep(self, item: QListWidgetItem) -> None:
        self._offer_targets(self.target.currentData())
        self._follow()

    @Slot(int)
    def _aim(self, at: int) -> None:
        self._follow()

    @Slot(bool)
    def _allow(self, on: bool) -> None:
        self._follow()

    @Slot(str)
    def _type(self, text: str) -> None:
        self._follow()

    def sizeHint(self) -> QSize:
        """Return a size that shows all of it where the screen has room."""
        letter = self.fontMetrics()
        return QSize(letter.averageCharWidth() * 84, letter.height() * 40).boundedTo(self._room())


def _number(text: str) -> float | None:
    try:
        found = float(text.strip().replace(",", "."))
    except ValueError:
        return None
    return found if -1e6 < found < 1e6 else None
