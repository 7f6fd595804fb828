"""Sentences in cards: a mark of their weight, what they mean, and the coupons they name, one click away."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from rustboard.findings.conclude.findings import Findings
from rustboard.findings.doubts.results import Doubt, Weight
from rustboard.findings.sentence import Sentence
from rustboard.ui.findings.figure_words import WEIGHTS
from rustboard.ui.findings.words import say, sentence_text
from rustboard.ui.forms.labels import words_label


class WeightMark(QLabel):
    """How much a caution weighs, in a word: never colour alone."""

    def __init__(self, weight: Weight) -> None:
        """Write the word."""
        super().__init__(say(WEIGHTS[weight]))
        self.setProperty("weight", weight)
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        font = self.font()
        font.setWeight(QFont.Weight.DemiBold)
        self.setFont(font)
        metrics = self.fontMetrics()
        self.setFixedWidth(max(metrics.horizontalAdvance(say(each)) for each in WEIGHTS.values()) + 18)
        edge = {"serious": "2px solid", "caution": "1px solid", "note": "1px dotted"}[weight]
        self.setStyleSheet(f"border: {edge} palette(text); border-radius: 4px; padding: 1px 5px;")


class Saying(QWidget):
    """One caution or doubt.

    Signals:
        coupons_asked(object): a frozenset of keys of coupons to show on the board.

    Attributes:
        words: the sentence. why: what it means for the result. show: the button; None where no coupon is named.
    """

    coupons_asked = Signal(object)

    def __init__(
        self, sentence: Sentence, weight: Weight, why: Sentence | None = None, coupons: Iterable[int] = ()
    ) -> None:
        """Build it."""
        super().__init__()
        self.coupons = frozenset(coupons)
        self.words = sentence_label(sentence_text(sentence))
        self.why = sentence_label("" if why is None else sentence_text(why), muted=True)
        self.why.setVisible(why is not None)
        self.show_button = QPushButton(self.tr("Show on the board"))
        self.show_button.setAccessibleName(self.tr("Show on the board: {0}").format(self.words.text()))
        self.show_button.setVisible(bool(self.coupons))
        texts = QVBoxLayout()
        texts.setSpacing(2)
        texts.addWidget(self.words)
        texts.addWidget(self.why)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 2, 0, 4)
        row.setSpacing(8)
        row.addWidget(WeightMark(weight), 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(texts, 1)
        row.addWidget(self.show_button, 0, Qt.AlignmentFlag.AlignTop)
        self._wire()

    def _wire(self) -> None:
        self.show_button.clicked.connect(self._ask)

    @Slot()
    def _ask(self) -> None:
        self.coupons_asked.emit(self.coupons)


def sentence_label(text: str, *, muted: bool = False, times: float = 1.0) -> QLabel:
    """Return a label for a sentence that can be marked and copied, ``times`` as large as usual."""
    label = words_label(text, muted=muted, narrow=True)
    label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    if times != 1.0:
        font = label.font()
        font.setPointSizeF(font.pointSizeF() * times)
        label.setFont(font)
    return label


def heading(text: str) -> QLabel:
    """Return a heading over sentences."""
    label = words_label(text, narrow=True)
    label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
    label.setProperty("heading", True)
    return label


def weighed(found: Findings) -> list[Doubt]:
    """Return the cautions with their weights and coupons; what is said of the model itself is a caution."""
    doubts = {each.sentence: each for each in found.doubts.doubts}
    notes = {note for each in found.comparing.compared for note in each.notes}
    return [
        doubts.get(each) or Doubt("spread", "note" if each in notes else "caution", each) for each in found.cautions
    ]
