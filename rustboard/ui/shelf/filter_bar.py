"""What the shelf is asked for: a line of words, drop-downs of what there is, tags to press, and how many are left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from rustboard.session.shelf_filter import ARCHIVED, KINDS, Archived, Kind, Offer, ShelfFilter, ShelfIndex, plain
from rustboard.support.text import printable
from rustboard.ui.flow_layout import FlowLayout
from rustboard.ui.wording import tool_tip

_LONGEST_OFFER: Final = 60
_MOST_CHIPS: Final = 12
_NARROW: Final = 460
"""A window lower than this keeps its room for the cards: the drop-downs come when they are asked for."""


def say(text: str) -> str:
    """Return a text of this module's kind in the user's language."""
    return QCoreApplication.translate("shelf", text)


def any_of(kind: Kind) -> str:
    """Return what a drop-down says while it asks for nothing."""
    return {
        "treatment": say("Any treatment"),
        "steel": say("Any steel"),
        "site": say("Any site"),
        "year": say("Any year"),
        "customer": say("Any customer"),
        "tag": say("Any tag"),
    }[kind]


def archived_words(archived: Archived) -> str:
    """Return how much of the archive is shown, in words."""
    return {
        "hidden": say("Without the archive"),
        "also": say("Archive too"),
        "only": say("Only the archive"),
    }[archived]


class OfferBox(QComboBox):
    """One kind of value, with how many boards each would leave.

    Signals:
        chosen(): the user chose something.
    """

    chosen = Signal()

    def __init__(self, kind: Kind, parent: QWidget | None = None) -> None:
        """Start with nothing to choose from."""
        super().__init__(parent)
        self.kind = kind
        self.setAccessibleName(any_of(kind))
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(max(9, len(any_of(kind)) - 1))
        self.setMaxVisibleItems(14)
        self.activated.connect(self._tell)

    def value(self) -> str:
        """Return what is chosen, or an empty text."""
        found = self.currentData()
        return found if isinstance(found, str) else ""

    def offer(self, offers: Sequence[Offer], chosen: str) -> None:
        """Show what there is; ``chosen`` is asked for now."""
        self.clear()
        self.addItem(any_of(self.kind), "")
        for each in offers:
            shown = printable(each.value)[:_LONGEST_OFFER]
            self.addItem(say("{0} ({1})").format(shown, each.count), each.value)
            self.setItemData(self.count() - 1, printable(each.value), Qt.ItemDataRole.ToolTipRole)
            if plain(each.value) == plain(chosen):
                self.setCurrentIndex(self.count() - 1)
        widest = max(self.fontMetrics().horizontalAdvance(self.itemText(row)) for row in range(self.count()))
        self.view().setMinimumWidth(min(widest + 40, 420))

    @Slot()
    def _tell(self) -> None:
        self.chosen.emit()


class TagChip(QToolButton):
    """One tag that can be asked for.

    Signals:
        pressed_tag(str): the user pressed it.

    Attributes:
        word: the tag.
    """

    pressed_tag = Signal(str)

    def __init__(self, offer: Offer, *, checked: bool) -> None:
        """Show a tag and how many boards it leaves; ``checked``: it is asked for."""
        super().__init__()
        self.word = offer.value
        shown = printable(offer.value)
        self.setText(say("{0} ({1})").format(shown[:_LONGEST_OFFER].replace("&", "&&"), offer.count))
        self.setToolTip(tool_tip(say("Boards tagged “{0}”").format(shown)))
        self.setAccessibleName(say("Tag {0}").format(shown))
        self.setCheckable(True)
        self.setChecked(checked)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._wire()

    def _wire(self) -> None:
        self.clicked.connect(self._tell)

    @Slot()
    def _tell(self) -> None:
        self.pressed_tag.emit(self.word)


class FilterBar(QWidget):
    """The line of words and all that the shelf can be asked for.

    Signals:
        changed(): something else is asked for.
        left(): the user went on from the line of words to the boards.
    """

    changed = Signal()
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start with nothing asked for."""
        super().__init__(parent)
        self._filter = ShelfFilter()
        self._words = QLineEdit()
        self._words.setPlaceholderText(self.tr("Find boards by any word (Ctrl+F)"))
        self._words.setAccessibleName(self.tr("Find boards by any word"))
        self._words.setClearButtonEnabled(True)
        self._words.setMaxLength(200)
        self._words.installEventFilter(self)
        self._count = QLabel()
        self._more = QToolButton()
        self._more.setText(self.tr("Filters"))
        self._more.setCheckable(True)
        self._more.setChecked(True)
        self._clear = QPushButton(self.tr("Show all"))
        self._clear.setToolTip(self.tr("Ask for nothing in particular again"))
        self._boxes: dict[Kind, OfferBox] = {kind: OfferBox(kind) for kind in KINDS if kind != "tag"}
        self._archived = QComboBox()
        self._archived.setAccessibleName(self.tr("The archive"))
        for each in ARCHIVED:
            self._archived.addItem(archived_words(each), each)
        self._chips: list[TagChip] = []
        self._touched = False
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        line = QHBoxLayout()
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self._words, 1)
        for each in (self._count, self._clear, self._more):
            line.addWidget(each)
        self._row = QWidget()
        self._flow = FlowLayout(self._row)
        for box in (*self._boxes.values(), self._archived):
            self._flow.addWidget(box)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addLayout(line)
        column.addWidget(self._row)

    def _wire(self) -> None:
        self._words.textChanged.connect(self._take)
        self._more.toggled.connect(self._row.setVisible)
        self._more.clicked.connect(self._remember_touch)
        self._clear.clicked.connect(self.clear)
        for box in self._boxes.values():
            box.chosen.connect(self._take)
        self._archived.activated.connect(self._take)

    # ---- what is asked for

    def asked(self) -> ShelfFilter:
        """Return what is asked for now."""
        return self._filter

    @Slot()
    def clear(self) -> None:
        """Ask for nothing in particular; the archive goes out of view again."""
        for box in (*self._boxes.values(), self._archived):
            box.setCurrentIndex(0)
        self._words.clear()
        self._set(ShelfFilter())

    @Slot()
    def look_in_archive(self) -> None:
        """Show what is asked for among the boards of the archive too."""
        self._set(replace(self._filter, archived="also"))

    @Slot()
    def go_to_words(self) -> None:
        """Go to the line of words."""
        self._words.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self._words.selectAll()

    def show_room(self, height: int) -> None:
        """Show the drop-downs where the window is high enough, until the user says otherwise."""
        if not self._touched:
            self._more.setChecked(height >= _NARROW)

    def offer(self, index: ShelfIndex, left: int) -> None:
        """Show what there is to ask for, and how many boards are left."""
        for kind, box in self._boxes.items():
            box.offer(index.offers(self._filter, kind), getattr(self._filter, kind))
            box.setVisible(index.knows(kind))  # what no board says of itself is not asked for
        self._archived.setCurrentIndex(ARCHIVED.index(self._filter.archived))
        self._archived.setVisible(index.has_archived() or self._filter.archived != "hidden")
        self._offer_tags(index.offers(self._filter, "tag"))
        whole = len(index.entries)
        self._count.setText(self.tr("{0} of {1} boards").format(left, whole))
        self._count.setVisible(left != whole)
        self._clear.setVisible(self._filter != ShelfFilter())
        asked = sum(bool(self._filter.wanted(kind)) for kind in KINDS) + (self._filter.archived != "hidden")
        self._more.setText(self.tr("Filters: {0}").format(asked) if asked else self.tr("Filters"))

    def _offer_tags(self, offers: Sequence[Offer]) -> None:
        for chip in self._chips:
            self._flow.removeWidget(chip)
            chip.hide()
            chip.deleteLater()
        self._chips = []
        asked = self._filter.wanted("tag")
        by_use = sorted(offers, key=_often_first)
        chosen = [each for each in by_use if plain(each.value) in asked]
        others = [each for each in by_use if plain(each.value) not in asked]
        for each in (*chosen, *others)[: max(_MOST_CHIPS, len(chosen))]:
            self._add_chip(each, checked=plain(each.value) in asked)

    def _add_chip(self, offer: Offer, *, checked: bool) -> None:
        chip = TagChip(offer, checked=checked)
        self._wire_chip(chip)
        self._flow.addWidget(chip)
        self._chips.append(chip)
        chip.show()

    def _wire_chip(self, chip: TagChip) -> None:
        chip.pressed_tag.connect(self._press_chip)

    @Slot(str)
    def _press_chip(self, word: str) -> None:
        others = tuple(each for each in self._filter.tags if plain(each) != plain(word))
        self._set(replace(self._filter, tags=others if len(others) < len(self._filter.tags) else (*others, word)))
        again = next((each for each in self._chips if each.word == word), None)
        if again is not None:
            again.setFocus()  # the chips were made anew: the keys stay where they were

    @Slot()
    def _take(self) -> None:
        values = {kind: box.value() for kind, box in self._boxes.items()}
        self._set(
            ShelfFilter(
                words=self._words.text(),
                treatment=values["treatment"],
                steel=values["steel"],
                site=values["site"],
                year=values["year"],
                customer=values["customer"],
                tags=self._filter.tags,
                archived=ARCHIVED[max(0, self._archived.currentIndex())],
            )
        )

    def _set(self, asked: ShelfFilter) -> None:
        if asked != self._filter:
            self._filter = asked
            self.changed.emit()

    @Slot()
    def _remember_touch(self) -> None:
        self._touched = True

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let Escape empty the line of words, and Enter and the arrow down go on to the boards."""
        if watched is self._words and event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            if event.key() == Qt.Key.Key_Escape and self._words.text():
                self._words.clear()
                return True
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Down):
                self.left.emit()
                return True
        return super().eventFilter(watched, event)


def _often_first(offer: Offer) -> tuple[int, str]:
    return (-offer.count, plain(offer.value))
