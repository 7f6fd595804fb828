"""Findings of small boards for the pages of tables, and clicks on them."""

from judged_boards import judged_board
from PySide6.QtCore import Qt

from rustboard.session.findings import FindingsAsked, first_findings, view_of, whole_findings
from rustboard.session.jobs import Progress


def first_of(record):
    return first_findings(FindingsAsked(record, view_of(record)), Progress())


def whole_of(record):
    return whole_findings(FindingsAsked(record, view_of(record)), Progress())


def wax_and_oil(**more):
    """Wax far better than oil, oil better than bare; with prices."""
    priced = {
        "wax": {"cost_per_m2": 4.0, "minutes_per_m2": 20.0},
        "oil": {"cost_per_m2": 2.0, "minutes_per_m2": 30.0},
    }
    return judged_board(
        {"wax": [[10, 9], [10, 8], [10, 9]], "oil": [[9, 5], [9, 6], [8, 5]]},
        control=[[4, 0], [3, 1], [4, 0]],
        days=(10, 30),
        **{**priced, **more},
    )


def column(figures, title):
    """The texts of a column as they stand."""
    table = figures.table
    heads = [table.horizontalHeaderItem(each).text() for each in range(table.columnCount())]
    return [table.item(row, heads.index(title)).text() for row in range(table.rowCount())]


def click_head(qtbot, figures, title):
    table = figures.table
    heads = [table.horizontalHeaderItem(each).text() for each in range(table.columnCount())]
    header = table.horizontalHeader()
    at = header.viewport().rect().center()
    at.setX(header.sectionViewportPosition(heads.index(title)) + 15)
    qtbot.mouseClick(header.viewport(), Qt.MouseButton.LeftButton, pos=at)
