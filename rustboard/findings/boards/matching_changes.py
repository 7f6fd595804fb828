"""A matching of treatments changed by the user, and judged again by what the boards say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rustboard.board.record import BoardRecord
from rustboard.findings.boards.matching import (
    ALONE,
    LONGEST_NAME,
    Common,
    Matching,
    check_names,
    match_of,
    named_apart,
    sureness,
)
from rustboard.findings.sentence import Sentence
from rustboard.support.text import one_line


def changed(matching: Matching, row: int, board: int, treatment: str) -> Matching:
    """Return the matching with another treatment of one board (its number) in a row; the two rows change places.

    What the treatment's former row had on that board is then what this row had; a row that is left empty is gone, and
    a treatment that is in no row then gets one of its own.

    Args:
        matching: as it is.
        row: number of the row in ``matching.common``.
        board: number of the board.
        treatment: id there; empty = this board does not have it.
    """
    rows = list(matching.common)
    before = rows[row].treatments[board]
    if before == treatment or rows[row].controls:
        return matching
    former = next((at for at, each in enumerate(rows) if each.treatments[board] == treatment != ""), None)
    rows[row] = _with(rows[row], board, treatment)
    if former is not None:
        rows[former] = _with(rows[former], board, before)
    elif before:
        alone = tuple(before if at == board else "" for at in range(len(matching.boards)))
        rows.insert(row + 1, Common(before, alone, "none", Sentence(ALONE)))
    controls = [each for each in rows if each.controls]
    kept = [each for each in rows if not each.controls and each.boards]
    return replace(matching, common=(*named_apart(kept), *controls))


def _with(row: Common, board: int, treatment: str) -> Common:
    treatments = tuple(treatment if at == board else each for at, each in enumerate(row.treatments))
    if sum(map(bool, treatments)) > 1:
        return replace(row, treatments=treatments, sure="chosen", why=Sentence("You said that they are the same."))
    return replace(row, treatments=treatments, sure="none", why=Sentence(ALONE))


def renamed(matching: Matching, row: int, name: str) -> Matching:
    """Return the matching with another name for a row.

    Raises:
        InputError: the name is empty or another row has it.
    """
    rows = list(matching.common)
    rows[row] = replace(rows[row], name=one_line(name, LONGEST_NAME))
    found = replace(matching, common=tuple(rows))
    check_names(found)
    return found


def judged(matching: Matching, records: Sequence[BoardRecord]) -> Matching:
    """Return the matching with every row as sure as its treatments now make it: certain, likely, or by your word."""
    return replace(matching, common=tuple(_judged(each, records) for each in matching.common))


def _judged(row: Common, records: Sequence[BoardRecord]) -> Common:
    own = [
        (record, each)
        for record, wanted in zip(records, row.treatments, strict=True)
        for each in record.treatments.values()
        if wanted and each.id == wanted
    ]
    if row.controls:
        return row
    if len(own) < 2:
        return replace(row, sure="none", why=Sentence(ALONE))
    first, one = own[0]
    weakest = min((match_of(first, one, record, each) for record, each in own[1:]), key=sureness)
    if weakest.sure == "none":
        return replace(row, sure="chosen", why=Sentence("You said that they are the same."))
    return replace(row, sure=weakest.sure, why=weakest.why)


def certain_only(matching: Matching) -> Matching:
    """Return the matching with only what is certain put together, and the controls; for want of anybody to ask."""
    rows: list[Common] = []
    for each in matching.common:
        if each.controls or each.boards < 2 or each.sure == "certain":
            rows.append(each)
            continue
        for number, own in enumerate(each.treatments):
            if own:
                alone = tuple(own if at == number else "" for at in range(len(each.treatments)))
                rows.append(replace(each, treatments=alone, sure="none", why=Sentence("It is not certain.")))
    controls = [each for each in rows if each.controls]
    return replace(matching, common=(*named_apart([each for each in rows if not each.controls]), *controls))
