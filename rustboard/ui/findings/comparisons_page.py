"""Every comparison of the question, by the model and by the exact test."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from rustboard.findings.conclude.findings import Findings
from rustboard.ui.findings.figures_table import FiguresTable
from rustboard.ui.findings.tables_of import comparison_columns, comparison_rows
from rustboard.ui.theme import Scheme


class ComparisonsPage(FiguresTable):
    """The comparisons; the chosen one is told below in plain words."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self.describe(
            self.tr("Comparisons"),
            self.tr("Choose a figure to read how it was got."),
        )

    def show_findings(self, found: Findings) -> None:
        """Show the comparisons of findings."""
        self.show_rows(comparison_columns(found), comparison_rows(found), self._why_none(found))

    def _why_none(self, found: Findings) -> str:
        if found.subject.question.compared == "control":
            return self.tr(
                "There is nothing to compare: a treatment and a control must both have a graded coupon that counts. "
                "Compare all pairs instead (above)."
            )
        return self.tr("There is nothing to compare: two groups must have a graded coupon that counts.")

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours: those of the window are enough."""
