"""Cautions: what to know before the verdict is trusted, the weightiest first."""

from __future__ import annotations

from rustboard.findings.compare.results import Comparing
from rustboard.findings.doubts.results import Doubts
from rustboard.findings.sentence import Sentence


def caution_words(comparing: Comparing, doubts: Doubts) -> tuple[Sentence, ...]:
    """Return what speaks against the model, then the doubts about the board; each sentence once."""
    found = list(comparing.doubts)
    found += [each.sentence for each in doubts.doubts if each.weight != "note"]
    found += [note for each in comparing.compared for note in each.notes]
    found += [each.sentence for each in doubts.doubts if each.weight == "note"]
    return tuple(dict.fromkeys(found))
