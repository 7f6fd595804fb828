"""All pages of one print."""

from __future__ import annotations

from rustboard.board.record import BoardRecord
from rustboard.report.paper.board_map import map_sheets
from rustboard.report.paper.choice import PaperChoice
from rustboard.report.paper.grading_sheets import grading_sheets
from rustboard.report.paper.labels import label_sheets
from rustboard.report.paper.markers import marker_sheets
from rustboard.report.paper.shapes import Page
from rustboard.report.paper.sheet import Sheet, finished

_MAKERS = {"map": map_sheets, "labels": label_sheets, "markers": marker_sheets, "grading": grading_sheets}


def compose(record: BoardRecord, choice: PaperChoice) -> tuple[Page, ...]:
    """Return the pages that were chosen: map, labels, markers, grading sheets.

    Raises:
        InputError: a number that cannot be, or something too large for the paper.
    """
    choice.check()
    sheets: list[Sheet] = []
    for kind, make in _MAKERS.items():
        if kind in choice.kinds:
            sheets += make(record, choice)
    return finished(sheets, record.board.name, choice.made_on)
