"""A copied table of figures."""

from __future__ import annotations

from rustboard.ui.findings.figures_table import Column, FiguresTable, Row


def test_a_copied_name_cannot_run_as_a_formula_and_figures_stay_figures(qapp):
    figures = FiguresTable()
    try:
        figures.show_rows((Column("First", is_figure=False), Column("Difference")), [Row(1, ("=1+1", "+6.3"))])
        assert figures.text() == "First\tDifference\n'=1+1\t+6.3"
    finally:
        figures.deleteLater()
