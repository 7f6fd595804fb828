"""What more exposure may settle, as a table."""

from __future__ import annotations

from typing import Final

from rustboard.findings.conclude.findings import Findings
from rustboard.findings.growth.results import Expected, Outlook
from rustboard.ui.findings.figure_words import DASH, OUTLOOKS, group_name, interval, shown, signed, unit_text
from rustboard.ui.findings.figures_table import Column, Row
from rustboard.ui.findings.words import say

_OUTLOOK_ORDER: Final[tuple[Outlook, ...]] = ("settled", "likely", "open", "unlikely")


def expected_columns(found: Findings) -> list[Column]:
    """Return the columns of what more exposure may settle."""
    unit = unit_text(found.subject) if found.growth is None else say("grades")
    return [
        Column(say("Comparison"), "", is_figure=False),
        Column(say("Now"), say("difference seen so far, first less second, in {0}.").format(unit)),
        Column(say("Then"), say("what the growth curves lead one to expect after the further exposure.")),
        Column(say("90 % band"), say("in which that forecast lies 9 times in 10, if the weather goes on as before.")),
        Column(say("Needed"), say("the difference that would be told from luck then.")),
        Column(say("Chance"), say("that it is told from luck then, by simulation.")),
        Column(say("Outlook"), "", is_figure=False),
    ]


def expected_rows(found: Findings) -> list[Row]:
    """Return a row a comparison."""
    return [] if found.growth is None else [_expected(each) for each in found.growth.expected]


def _expected(each: Expected) -> Row:
    comparison = each.comparison
    name = say("{0} against {1}").format(group_name(comparison.a), group_name(comparison.b))
    cells = (
        name,
        signed(each.now),
        signed(each.then),
        interval(each.low, each.high) if each.low is not None else DASH,
        shown(each.needed),
        DASH if each.chance is None else say("{0} %").format(shown(100 * each.chance, 0)),
        say(OUTLOOKS[each.outlook]),
    )
    order = None if each.outlook == "unknown" else float(_OUTLOOK_ORDER.index(each.outlook))
    values = (name, each.now, each.then, each.low, each.needed, each.chance, order)
    return Row((comparison.kind, each.id_a, each.id_b), cells, (), frozenset(), values)
