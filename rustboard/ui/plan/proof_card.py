"""One card of what the board can prove: the comparisons, three figures, and what they mean."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QVBoxLayout, QWidget

from rustboard.findings.proof_groups import ProofGroup
from rustboard.findings.proof_table import Proof, Simulated
from rustboard.findings.proof_words import SMALLEST_SHOWN, rounded_p
from rustboard.findings.sentence import Part, PValue, Sentence, with_two_decimals
from rustboard.support.text import printable
from rustboard.ui.forms.labels import words_label
from rustboard.ui.wording import number, tool_tip

_MOST_NAMED: Final = 8
_LONGEST_NAME: Final = 36
_FIGURES: Final = 3


class ProofCard(QFrame):
    """Comparisons alike."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build an empty card."""
        super().__init__(parent)
        self.setProperty("card", True)
        self._title, self._names, self._words = (words_label(narrow=True) for _ in range(3))
        self._title.setProperty("heading", True)
        self._names.setProperty("muted", True)
        self._captions = [words_label(narrow=True) for _ in range(_FIGURES)]
        self._figures = [words_label(narrow=True) for _ in range(_FIGURES)]
        grid = QGridLayout()
        grid.setHorizontalSpacing(12)
        grid.setVerticalSpacing(0)
        for place, (caption, figure) in enumerate(zip(self._captions, self._figures, strict=True)):
            caption.setProperty("muted", True)
            caption.setAlignment(Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignLeft)
            figure.setProperty("heading", True)
            grid.addWidget(caption, 0, place)
            grid.addWidget(figure, 1, place)
            grid.setColumnStretch(place, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 8)
        column.addWidget(self._title)
        column.addWidget(self._names)
        column.addLayout(grid)
        column.addWidget(self._words)

    def show_group(self, group: ProofGroup, worthwhile: float, *, working: bool) -> None:
        """Show comparisons; while ``working``, what is still simulated is dots."""
        proof, count = group.first, len(group.proofs)
        self._title.setText(_pair(proof) if count == 1 else _say("{0} comparisons alike").format(count))
        self._names.setText(_listed(group.proofs))
        self._names.setToolTip(tool_tip("; ".join(map(_pair, group.proofs))))
        self._names.setVisible(count > 1)
        captions = (
            _say("Smallest exact p"),
            _say("Found 8 times in 10"),
            _needed_caption(proof, worthwhile),
        )
        for label, text in zip(self._captions, captions, strict=True):
            label.setText(text)
        texts = (
            p_text(proof.smallest_p),
            _detectable_text(proof.simulated, working=working),
            _needed_text(proof.simulated, working=working),
        )
        for label, caption, text in zip(self._figures, captions, texts, strict=True):
            label.setText(text)
            label.setAccessibleName(f"{caption}: {text}")
        self._words.setText(" ".join(sentence_text(each) for each in group.sentences))

    def text(self) -> str:
        """Return all that is read on the card, line by line."""
        shown = [self._title, self._names, *self._figures, self._words]
        return "\n".join(each.text() for each in shown if each.text() and not each.isHidden())


def _pair(proof: Proof) -> str:
    return printable(_say("{0} against {1}").format(proof.comparison.a, proof.comparison.b))


def _short_pair(proof: Proof) -> str:
    sides = (proof.comparison.a, proof.comparison.b)
    short = (each if len(each) <= _LONGEST_NAME else f"{each[:_LONGEST_NAME].rstrip()}…" for each in sides)
    return printable(_say("{0} against {1}").format(*short))


def _listed(proofs: Sequence[Proof]) -> str:
    lines = [_say("– {0}").format(_short_pair(each)) for each in proofs[:_MOST_NAMED]]
    if len(proofs) > _MOST_NAMED:
        lines.append(_say("and {0} more").format(len(proofs) - _MOST_NAMED))
    return "\n".join(lines)


def p_text(p: float) -> str:
    """Return a p value with two figures; a very small one as being below."""
    shown = _part(rounded_p(p))
    return _say("below {0}").format(shown) if p < SMALLEST_SHOWN else shown


def _detectable_text(simulated: Simulated | None, *, working: bool) -> str:
    if simulated is None:
        return "…" if working else "–"
    if simulated.detectable is None:
        return _say("nothing")
    if simulated.detectable == 1:
        return _say("1 grade")
    return _say("{0} grades").format(number(simulated.detectable, 1))


def _needed_caption(proof: Proof, worthwhile: float) -> str:
    if worthwhile == 1:
        return _say("Columns each for 1 grade") if proof.by_column else _say("Coupons each for 1 grade")
    text = _say("Columns each for {0} grades") if proof.by_column else _say("Coupons each for {0} grades")
    return text.format(number(worthwhile, 2))


def _needed_text(simulated: Simulated | None, *, working: bool) -> str:
    if simulated is None:
        return "…" if working else "–"
    if simulated.needed is None:
        return _say("over {0}").format(simulated.most)
    return str(simulated.needed)


def sentence_text(sentence: Sentence) -> str:
    """Return a sentence in the user's language and number format, safe to show."""
    return printable(sentence.text(QCoreApplication.translate("proof", sentence.pattern), _part))


def _part(part: Part) -> str:
    if isinstance(part, PValue):
        return with_two_decimals(number(part, 6))
    if isinstance(part, float):
        return number(part, 12)
    return str(part)


def _say(text: str) -> str:
    return QCoreApplication.translate("proof", text)
