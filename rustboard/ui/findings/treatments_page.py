"""What every treatment came to, the best first."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from rustboard.findings.conclude.findings import Findings
from rustboard.ui.findings.figures_table import FiguresTable
from rustboard.ui.findings.tables_of import treatment_columns, treatment_rows
from rustboard.ui.theme import Scheme


class TreatmentsPage(FiguresTable):
    """The treatments and the controls."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self.describe(self.tr("Treatments"), self.tr("Choose a figure to read how it was got."))

    def show_findings(self, found: Findings) -> None:
        """Show the groups of findings."""
        self.show_rows(treatment_columns(found), treatment_rows(found), self.tr("No coupon hangs on the board."))

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours: those of the window are enough."""
