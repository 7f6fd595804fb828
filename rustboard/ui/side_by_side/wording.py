"""Sentences of the findings in the user's language and number format."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from rustboard.findings.sentence import Part, Sentence
from rustboard.support.text import printable
from rustboard.ui.wording import number


def sentence_text(sentence: Sentence) -> str:
    """Return a sentence as the window says it, safe to show."""
    return printable(sentence.text(QCoreApplication.translate("side by side", sentence.pattern), _part))


def _part(part: Part) -> str:
    return number(part, 2) if isinstance(part, float) else str(part)
